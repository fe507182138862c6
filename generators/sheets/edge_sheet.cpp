#include "sheets/edge_sheet.hpp"

#include <algorithm>
#include <array>
#include <numbers>

#include "sheets/bend_sheet.hpp"
#include "sheets/edge_lines.hpp"
#include "sheets/hole_rows.hpp"
#include "sheets/size_text.hpp"

namespace fitup::sheets {

namespace {

constexpr Pen edge_pen{wide_mm}, thin{0.18}, axis{0.18, Dash::chain, 0.3};
constexpr double picture_width_mm = 120.0, picture_height_mm = 48.0, round_it_mm = 12.0;

/// The part seen on the edge at +Y or -Y, heights upwards. From +Y its X then goes to the left.
class EdgePicture {
  public:
    EdgePicture(SheetPages& pages, const plan::Plan& plan, const HoleNumbers& numbers, bool is_from_plus_y)
        : pages_(pages), plan_(plan), numbers_(numbers), way_(is_from_plus_y ? -1.0 : 1.0) {
        measure();
    }

    void draw(const std::string& edge) {
        for (const std::array<double, 4>& block : blocks()) add_block(block);
        add_axes();
        for (const plan::CrossHole& hole : plan_.cross_holes) {
            if ((hole.direction[1] < 0.0) == (edge == "+Y")) add_hole(hole);
        }
        pages_.advance(picture_height_mm + 2.0);
    }

  private:
    /// x from and to, height from and to: the leg at the pivot, as far as it is straight, and what stands on
    /// it.
    std::vector<std::array<double, 4>> blocks() const {
        const plan::Box2 box = plan_.body.outline.box();
        const double to = plan_.body.joggle ? plan_.body.joggle->start_mm : box.most.x_mm;
        const double thick = plan_.body.thickness_mm;
        std::vector<std::array<double, 4>> all{{box.least.x_mm, to, 0.0, thick}};
        for (const plan::Raised& ring : plan_.raised) {
            const plan::Box2 own = ring.outer.box();
            if (ring.side == plan::Side::B)
                all.push_back({own.least.x_mm, own.most.x_mm, thick, thick + ring.height_mm});
            else
                all.push_back({own.least.x_mm, own.most.x_mm, -ring.height_mm, 0.0});
        }
        return all;
    }

    void measure() {
        for (const auto& [from, to, low, high] : blocks()) {
            least_ = {std::min(least_[0], std::min(way_ * from, way_ * to)), std::min(least_[1], low)};
            most_ = {std::max(most_[0], std::max(way_ * from, way_ * to)), std::max(most_[1], high)};
        }
        scale_ = std::min((picture_width_mm - 2.0 * round_it_mm) / (most_[0] - least_[0]),
                          (picture_height_mm - 2.0 * round_it_mm) / (most_[1] - least_[1]));
        top_mm_ = pages_.y_mm();
    }

    Place to_page(double x, double height) const {
        return {SheetPages::left_mm + round_it_mm + scale_ * (way_ * x - least_[0]),
                top_mm_ + picture_height_mm - round_it_mm - scale_ * (height - least_[1])};
    }

    void add_block(const std::array<double, 4>& block) {
        const auto [from, to, low, high] = block;
        const Place one = to_page(from, high), other = to_page(to, high);
        pages_.rectangle({std::min(one[0], other[0]), one[1]}, scale_ * (to - from), scale_ * (high - low),
                         edge_pen);
    }

    void add_axes() {
        const Place zero = to_page(0.0, 0.0);
        const double end = way_ > 0.0 ? to_page(most_[0], 0.0)[0] : to_page(-least_[0], 0.0)[0];
        const double tip = way_ * 6.0 + end, up = to_page(0.0, most_[1])[1] - 5.0;
        pages_.line({zero[0] - way_ * 2.0, zero[1]}, {tip, zero[1]}, axis);
        pages_.line({zero[0], zero[1] + 2.0}, {zero[0], up}, axis);
        add_head({tip, zero[1]}, {way_, 0.0});
        add_head({zero[0], up}, {0.0, -1.0});
        pages_.text({tip + way_ * 1.0, zero[1] + side_text_mm + 1.5}, "+X", side_text_mm,
                    way_ > 0.0 ? Anchor::right : Anchor::left);
        pages_.text({zero[0] + 1.2, up + 1.6}, "+Y (height)", side_text_mm);
        pages_.page().items.emplace_back(
            RoundLine{zero, 1.3, 0.0, 2.0 * std::numbers::pi, Pen{narrow_mm}, 1.0});
        pages_.page().items.emplace_back(RoundLine{zero, 0.4, 0.0, 2.0 * std::numbers::pi, {}, 0.0});
    }

    void add_head(Place tip, Place along) {
        const Place back{tip[0] - 2.2 * along[0], tip[1] - 2.2 * along[1]};
        pages_.page().items.emplace_back(Line{{tip,
                                               {back[0] - 0.4 * along[1], back[1] + 0.4 * along[0]},
                                               {back[0] + 0.4 * along[1], back[1] - 0.4 * along[0]}},
                                              true,
                                              {},
                                              0.0});
    }

    /// Holes on one axis, one behind the other, share their numbers' place.
    void add_hole(const plan::CrossHole& hole) {
        const Place at = to_page(hole.at_mm[0], hole.at_mm[2]);
        pages_.page().items.emplace_back(
            RoundLine{at, scale_ * hole.diameter_mm / 2.0, 0.0, 2.0 * std::numbers::pi, thin, {}});
        std::string names;
        for (const plan::CrossHole& one : plan_.cross_holes) {
            const bool is_behind = one.at_mm[0] == hole.at_mm[0] && one.at_mm[2] == hole.at_mm[2] &&
                                   one.direction[1] == hole.direction[1];
            if (is_behind && &one < &hole && names.empty()) return;
            if (is_behind) names += (names.empty() ? "" : ", ") + std::to_string(numbers_.at(one.id));
        }
        pages_.text({at[0], to_page(0.0, least_[1])[1] + side_text_mm + 1.5}, names, side_text_mm,
                    Anchor::middle);
    }

    SheetPages& pages_;
    const plan::Plan& plan_;
    const HoleNumbers& numbers_;
    double way_;
    Place least_{1e300, 1e300}, most_{-1e300, -1e300};
    double scale_ = 1.0, top_mm_ = 0.0;
};

std::vector<std::string> words_of(const plan::Plan& plan, const std::string& edge) {
    return {"Edge " + edge + " up, underside (face A) towards you. X reads to the " +
                (edge == "+Y" ? "left" : "right") + "; Y is the height above the underside.",
            plan.material.name +
                ". Zero is the bore's axis on the underside. Depths count from where each hole "
                "enters."};
}

}  // namespace

void add_edge_pages(SheetPages& pages, const plan::Plan& plan) {
    const std::vector<HoleLine> lines = edge_lines(plan);
    HoleNumbers numbers;
    for (const plan::CrossHole& hole : plan.cross_holes)
        numbers[hole.id] = plan.holes.size() + numbers.size() + 1;
    for (const std::string edge : {"+Y", "-Y"}) {
        std::vector<HoleLine> own;
        std::copy_if(lines.begin(), lines.end(), std::back_inserter(own),
                     [&](const HoleLine& line) { return line.edge == edge; });
        if (own.empty()) continue;
        pages.begin({part_words(plan), "edge " + edge + " up", words_of(plan, edge)});
        EdgePicture(pages, plan, numbers, edge == "+Y").draw(edge);
        HoleRows rows(pages, plan.units, numbers);
        int step = 0;
        for (const Round& round : rounds_of(own)) rows.add_round(++step, round);
    }
}

}  // namespace fitup::sheets
