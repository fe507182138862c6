#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/text.hpp"
#include "base/units.hpp"
#include "calculations/chain.hpp"
#include "sheets/chart.hpp"
#include "sheets/linkage_chart.hpp"

namespace fitup::sheets {

using namespace calculations;

namespace {

constexpr double page_mm = 210.0, margin_mm = 12.0, gap_mm = 8.0, heading_mm = 9.0, text_mm = 2.5;

/// Joints and pivots of the chain at one position, in space.
struct Posed {
    struct LeverPlaces {
        Vector pivot{};
        std::vector<Vector> feet;    ///< on the axis, at each joint's height
        std::vector<Vector> joints;  ///< in-joint, out-joint as far as there are
    };
    std::vector<LeverPlaces> levers;
};

/// As the chain itself has it: a circle's centre is its joint's foot on the axis.
Posed posed_as(const Linkage& linkage, const Chain& chain, const Pose& pose) {
    Posed posed;
    for (std::size_t i = 0; i < linkage.levers.size(); ++i) {
        Posed::LeverPlaces places{linkage.levers[i].pivot_mm, {}, {}};
        const auto add = [&](const Circle& circle) {
            places.joints.push_back(circle.at(pose.turns[i]));
            places.feet.push_back(circle.centre);
        };
        if (i > 0) add(chain.loops[i - 1]);
        if (i < chain.driving.size() && !(i > 0 && linkage.levers[i].single_arm)) add(chain.driving[i]);
        posed.levers.push_back(std::move(places));
    }
    return posed;
}

/// Two directions on the page and the one towards the eye.
struct View {
    Vector right{}, up{}, towards{};
    Place flat(const Vector& v) const { return {dot(v, right), dot(v, up)}; }
};

/// From above: along the first axis, the last pivot to the right of the first or above it. From the side:
/// square to that.
std::array<View, 2> views_of(const Linkage& linkage) {
    const Vector up = linkage.levers.front().axis;
    Vector right = linkage.levers.back().pivot_mm - linkage.levers.front().pivot_mm;
    right = right - up * dot(right, up);
    if (length(right) < 1e-9) right = linkage.levers.front().rest;
    right = unit(right);
    return {View{right, cross(up, right), up}, View{right, up, cross(right, up)}};
}

struct Extent {
    Place low{1e300, 1e300}, high{-1e300, -1e300};
    void add(const Place& place) {
        for (std::size_t i = 0; i < 2; ++i) {
            low[i] = std::min(low[i], place[i]);
            high[i] = std::max(high[i], place[i]);
        }
    }
    double width() const { return high[0] - low[0]; }
    double height() const { return high[1] - low[1]; }
};

class Picture {
  public:
    explicit Picture(const LinkageResult& result)
        : result_(result), chain_(chain_of(result.exact, result.branches)), views_(views_of(result.exact)) {
        for (const PositionResult& position : result.positions)
            posed_.push_back(posed_as(result.exact, chain_, pose_at_input(position.input_deg)));
        measure();
    }

    Drawing draw() {
        drawing_.title = result_.exact.name;
        drawing_.width_mm = page_mm;
        double top = margin_mm + 8.0;
        add_text({margin_mm, margin_mm}, result_.exact.name + ": the linkage at each position", Anchor::left,
                 3.5);
        for (std::size_t k = 0; k < posed_.size(); ++k) {
            add_text({margin_mm, top + 3.0}, heading(result_.positions[k]), Anchor::left, 3.0);
            for (const std::size_t view : {std::size_t(0), std::size_t(1)}) {
                const Place origin{margin_mm + 6.0 + double(view) * (column_mm() + gap_mm),
                                   top + heading_mm + 4.0};
                draw_view(k, view, origin);
            }
            top += heading_mm + row_height_mm() + 12.0;
        }
        draw_scale(top);
        drawing_.height_mm = top + 16.0;
        return std::move(drawing_);
    }

  private:
    Pose pose_at_input(double input_deg) const { return pose_at(chain_, input_deg / deg_per_rad); }

    void measure() {
        for (const Posed& posed : posed_) {
            for (std::size_t view = 0; view < 2; ++view) {
                for (const auto& lever : posed.levers) {
                    extents_[view].add(views_[view].flat(lever.pivot));
                    for (const Vector& joint : lever.joints) extents_[view].add(views_[view].flat(joint));
                    for (const Vector& foot : lever.feet) extents_[view].add(views_[view].flat(foot));
                }
            }
        }
        const double widest = std::max(extents_[0].width(), extents_[1].width());
        // A picture a row: as large as the column lets it, and no taller than a third of a page.
        scale_ = std::min((column_mm() - 12.0) / std::max(widest, 1.0),
                          90.0 / std::max({extents_[0].height(), extents_[1].height(), 1.0}));
    }

    double column_mm() const { return (page_mm - 2.0 * margin_mm - gap_mm) / 2.0; }
    double row_height_mm() const {
        return scale_ * std::max(extents_[0].height(), extents_[1].height()) + 6.0;
    }

    std::string heading(const PositionResult& position) const {
        return position.name + " " + to_text(position.verdict) + "   " + result_.exact.levers.front().name +
               " " + short_text(position.input_deg, 2) + ", " + result_.exact.levers.back().name + " " +
               short_text(position.got_deg, 2) + " degrees";
    }

    Place on_page(std::size_t view, const Place& origin, const Vector& v) const {
        const Place flat = views_[view].flat(v);
        return {origin[0] + scale_ * (flat[0] - extents_[view].low[0]),
                origin[1] + scale_ * (extents_[view].high[1] - flat[1])};
    }

    void add_text(Place at, const std::string& text, Anchor anchor, double size = text_mm) {
        drawing_.items.emplace_back(Text{at, text, size, anchor, 0.0});
    }
    void add_line(Place from, Place to, const Pen& pen) {
        drawing_.items.emplace_back(Line{{from, to}, false, pen, std::nullopt});
    }
    void add_round(Place at, double radius_mm, const Pen& pen, std::optional<double> fill = 1.0) {
        drawing_.items.emplace_back(RoundLine{at, radius_mm, 0.0, 2.0 * std::numbers::pi, pen, fill});
    }

    void draw_view(std::size_t k, std::size_t view, const Place& origin) {
        const Posed& posed = posed_[k];
        const auto at = [&](const Vector& v) { return on_page(view, origin, v); };
        for (std::size_t i = 0; i + 1 < posed.levers.size(); ++i)
            add_line(at(posed.levers[i].joints.back()), at(posed.levers[i + 1].joints.front()),
                     {0.35, Dash::solid, 0.0});
        for (const auto& lever : posed.levers) {
            for (std::size_t j = 0; j < lever.joints.size(); ++j) {
                if (length(lever.feet[j] - lever.pivot) > 1e-9)
                    add_line(at(lever.pivot), at(lever.feet[j]), {0.7, Dash::solid, 0.55});
                add_line(at(lever.feet[j]), at(lever.joints[j]), {1.0, Dash::solid, 0.0});
            }
        }
        for (std::size_t i = 0; i < posed.levers.size(); ++i) {
            for (const Vector& joint : posed.levers[i].joints)
                add_round(at(joint), 0.9, {0.3, Dash::solid, 0.0});
            draw_pivot(view, at(posed.levers[i].pivot));
            if (view == 0) draw_turn(k, i, at(posed.levers[i].pivot));
        }
        if (k == 0) draw_names(view, posed, origin);
        if (k == 0)
            add_text({origin[0], origin[1] - 4.0}, view == 0 ? "seen along the first axis" : "from the side",
                     Anchor::left, 2.2);
    }

    void draw_pivot(std::size_t view, const Place& at) {
        add_round(at, 1.3, {0.4, Dash::solid, 0.0});
        if (view != 0) return;
        add_line({at[0] - 2.2, at[1]}, {at[0] + 2.2, at[1]}, {0.18, Dash::chain, 0.0});
        add_line({at[0], at[1] - 2.2}, {at[0], at[1] + 2.2}, {0.18, Dash::chain, 0.0});
    }

    /// Which way the lever turns as the input grows, seen as drawn.
    void draw_turn(std::size_t k, std::size_t lever, const Place& at) {
        const double way = turned(k, lever) * dot(result_.exact.levers[lever].axis, views_[0].towards);
        if (way == 0.0) return;
        const double radius = 4.0, start = -0.5, sweep = 1.4;
        // On the page angles grow clockwise; anticlockwise about an axis towards the eye is against that.
        const bool clockwise = way < 0.0;
        const double from = clockwise ? start : start + sweep, turn = clockwise ? sweep : -sweep;
        drawing_.items.emplace_back(
            RoundLine{at, radius, from, turn, Pen{0.25, Dash::solid, 0.0}, std::nullopt});
        draw_arrow_head(at, radius, from + turn, clockwise);
    }

    /// How far a lever turns while the input goes from a little before a position to a little after it.
    double turned(std::size_t k, std::size_t lever) const {
        constexpr double little_deg = 0.01;
        const double input_deg = result_.positions[k].input_deg;
        const Turn before = pose_at_input(input_deg - little_deg).turns[lever];
        const Turn after = pose_at_input(input_deg + little_deg).turns[lever];
        return std::atan2(after.sin * before.cos - after.cos * before.sin,
                          after.cos * before.cos + after.sin * before.sin);
    }

    void draw_arrow_head(const Place& centre, double radius, double at_rad, bool clockwise) {
        const double size = 1.3, back = clockwise ? -1.0 : 1.0;
        const Place tip{centre[0] + radius * std::cos(at_rad), centre[1] + radius * std::sin(at_rad)};
        const Place along{-std::sin(at_rad) * -back, std::cos(at_rad) * -back};
        const Place out{std::cos(at_rad), std::sin(at_rad)};
        drawing_.items.emplace_back(Line{{tip,
                                          {tip[0] - size * along[0] + 0.45 * size * out[0],
                                           tip[1] - size * along[1] + 0.45 * size * out[1]},
                                          {tip[0] - size * along[0] - 0.45 * size * out[0],
                                           tip[1] - size * along[1] - 0.45 * size * out[1]}},
                                         true,
                                         std::nullopt,
                                         0.0});
    }

    /// Beside the pivots of the first row, pushed apart.
    void draw_names(std::size_t view, const Posed& posed, const Place& origin) {
        std::vector<Text> placed;
        for (std::size_t i = 0; i < posed.levers.size(); ++i) {
            const Place at = on_page(view, origin, posed.levers[i].pivot);
            Text text{{at[0] + 3.0, at[1] + 5.5}, result_.exact.levers[i].name, text_mm, Anchor::left, 0.0};
            const double most_x = margin_mm + 6.0 + double(view) * (column_mm() + gap_mm) + column_mm() - 6.0;
            if (text.at[0] + text_width_mm(text.text, text_mm) > most_x) {
                text.at[0] = at[0] - 3.0;
                text.anchor = Anchor::right;
            }
            const auto overlaps = [&](const Text& other) { return overlap(text, other); };
            while (std::any_of(placed.begin(), placed.end(), overlaps)) text.at[1] += text_mm * 1.2;
            placed.push_back(text);
        }
        for (const Text& text : placed) drawing_.items.emplace_back(text);
    }

    void draw_scale(double top) {
        const double length_mm = ticks(0.0, 60.0 / scale_, 3).back();
        const double width = length_mm * scale_, x = margin_mm + 6.0, y = top + 4.0;
        add_line({x, y}, {x + width, y}, {0.5, Dash::solid, 0.0});
        for (const double end : {x, x + width})
            add_line({end, y - 1.0}, {end, y + 1.0}, {0.25, Dash::solid, 0.0});
        add_text({x + width + 2.0, y + 1.0},
                 short_text(length_mm, 3) + " mm (" + short_text(length_mm / mm_per_inch, 2) + " in)",
                 Anchor::left);
        add_text({x, y + 6.0},
                 "arrows: how each lever turns as " + result_.exact.levers.front().name + " grows",
                 Anchor::left, 2.2);
    }

    const LinkageResult& result_;
    Chain chain_;
    std::array<View, 2> views_;
    std::vector<Posed> posed_;
    std::array<Extent, 2> extents_;
    double scale_ = 1.0;
    Drawing drawing_;
};

}  // namespace

Drawing linkage_picture(const LinkageResult& result) { return Picture(result).draw(); }

}  // namespace fitup::sheets
