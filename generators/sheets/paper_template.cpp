#include "sheets/paper_template.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/text.hpp"
#include "base/units.hpp"
#include "plan/stroke.hpp"
#include "plan/vector.hpp"
#include "sheets/contour_lines.hpp"
#include "sheets/label_room.hpp"
#include "sheets/paper_tiles.hpp"
#include "sheets/template_views.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;

/// Printers leave about 5 mm blank (common practice, no source); twice that, so that every line prints.
constexpr double edge_mm = 10.0;
/// Beside the picture a check bar, under it the other and words.
constexpr double left_strip_mm = 10.0, strip_mm = 24.0;
constexpr double overlap_mm = 12.0;
/// Round the part, for the joined bar and the marks.
constexpr double room_mm = 14.0;
constexpr double small_text_mm = 2.5, text_mm = 3.0;
constexpr Pen thin{0.18, Dash::solid, 0.0}, hidden{0.18, Dash::dashed, 0.0};
/// The middle that a punch goes through stays clear.
constexpr double clear_mm = 0.8, cross_mm = 6.0, most_arm_mm = 12.0;
/// A cut keeps this far from a hole's edge.
constexpr double off_hole_mm = 2.0;

plan::Box2 box_of(const TemplateView& sheet) {
    plan::Box2 box = sheet.curves.front().curve.box();
    for (const plan::ProfileCurve& curve : sheet.curves) box = plan::joined(box, curve.curve.box());
    return box;
}

/// One sheet of paper: the stretch of the part between its cuts, what overlaps, marks, bars and words.
class PageDrawer {
  public:
    struct Tile {
        double left_mm, right_mm, bottom_mm, top_mm;  ///< between cuts, of the part
        int column, row;
    };

    PageDrawer(const TemplateView& sheet, const plan::Plan& plan, const plan::Paper& paper,
               const plan::Box2& whole)
        : sheet_(sheet), plan_(plan), paper_(paper), whole_(whole) {
        const double bar_mm = check_bar_mm(plan.units);
        for (std::size_t axis = 0; axis < 2; ++axis)
            scale_[axis] = paper.measured_mm[axis] > 0.0 ? bar_mm / paper.measured_mm[axis] : 1.0;
    }

    Drawing draw(const Tile& tile, int columns, int rows) {
        tile_ = tile;
        page_ = {};
        page_.width_mm = paper_.size.width_mm;
        page_.height_mm = paper_.size.height_mm;
        page_.title = sheet_.title;
        clip_to_tile();
        add_part();
        add_joined_bar();
        page_.items.emplace_back(Clip{});
        add_cuts(columns, rows);
        add_bars();
        add_words(columns, rows);
        return std::move(page_);
    }

  private:
    double content_left() const { return edge_mm + left_strip_mm; }
    double content_bottom() const { return page_.height_mm - edge_mm - strip_mm; }

    Place to_page(Point point) const {
        return {content_left() + overlap_mm / 2.0 + (point.x_mm - tile_.left_mm) * scale_[0],
                content_bottom() - overlap_mm / 2.0 - (point.y_mm - tile_.bottom_mm) * scale_[1]};
    }

    void line(Place from, Place to, const Pen& pen = thin) {
        page_.items.emplace_back(Line{{from, to}, false, pen, {}});
    }

    void text(Place at, const std::string& words, double size_mm, Anchor anchor = Anchor::left,
              double turn_rad = 0.0) {
        page_.items.emplace_back(Text{at, words, size_mm, anchor, turn_rad});
    }

    void add_part() {
        for (const plan::ProfileCurve& one : sheet_.curves)
            add_curve(one.curve, one.layer == "OUTLINE" ? Pen{0.35} : thin);
        for (const plan::ProfileLine& one : sheet_.lines)
            line(to_page(one.ends[0]), to_page(one.ends[1]), hidden);
        for (const TemplateSpot& spot : sheet_.spots) {
            if (reaches_in(to_page(spot.at), std::max(most_arm_mm, 1.1 * spot.radius_mm))) add_spot(spot);
        }
        add_names();
    }

    /// Whether a square about a place reaches into what shows of the part.
    bool reaches_in(Place middle, double half_mm) const {
        const auto [left, top, right, bottom] = clip_;
        return middle[0] + half_mm > left && middle[0] - half_mm < right && middle[1] + half_mm > top &&
               middle[1] - half_mm < bottom;
    }

    /// Whether all that shows of the part lies within a circle, so that nothing of its line does.
    bool runs_outside(const plan::Circle& circle) const {
        constexpr double pen_mm = 1.0;
        const auto [left, top, right, bottom] = clip_;
        const Place middle = to_page(circle.centre);
        const double x_mm = std::max(right - middle[0], middle[0] - left) / scale_[0],
                     y_mm = std::max(bottom - middle[1], middle[1] - top) / scale_[1];
        return std::hypot(x_mm, y_mm) + pen_mm < circle.radius_mm;
    }

    /// A circle stays one where a print's correction leaves it round; what lies on other sheets is left out.
    void add_curve(const plan::Contour& curve, const Pen& pen) {
        const plan::Box2 box = curve.box();
        const Place low = to_page(box.least), high = to_page(box.most);
        const auto [left, top, right, bottom] = clip_;
        if (high[0] < left || low[0] > right || low[1] < top || high[1] > bottom) return;
        const plan::Circle* circle = curve.circle();
        if (circle != nullptr && runs_outside(*circle)) return;
        if (circle != nullptr && scale_[0] == scale_[1])
            page_.items.emplace_back(RoundLine{to_page(circle->centre),
                                               scale_[0] * circle->radius_mm,
                                               0.0,
                                               2.0 * std::numbers::pi,
                                               pen,
                                               {}});
        else
            page_.items.emplace_back(contour_line(
                curve, [this](Point point) { return to_page(point); }, pen));
    }

    void add_spot(const TemplateSpot& spot) {
        if (!spot.is_open) add_curve(plan::Contour(plan::Circle{spot.at, spot.radius_mm}), hidden);
        const Place centre = to_page(spot.at);
        const double arm_mm = std::max(cross_mm, spot.radius_mm + 2.0);
        for (const auto& [x, y] : {Place{1, 0}, Place{-1, 0}, Place{0, 1}, Place{0, -1}})
            line({centre[0] + x * clear_mm, centre[1] + y * clear_mm},
                 {centre[0] + x * std::min(arm_mm, most_arm_mm),
                  centre[1] + y * std::min(arm_mm, most_arm_mm)});
    }

    bool shows(Place place) const {
        const auto [left, top, right, bottom] = clip_;
        return place[0] > left && place[0] < right && place[1] > top && place[1] < bottom;
    }

    /// Upper right where that is free; off every hole and every other name.
    void add_names() {
        LabelRoom room(page_.width_mm);
        for (const TemplateSpot& spot : sheet_.spots) {
            const Place at = to_page(spot.at);
            const double off_mm = std::max(0.71 * spot.radius_mm, 1.5);
            // A name reaches no further than this from its hole.
            constexpr double furthest_name_mm = 100.0;
            if (spot.id != "bore" && reaches_in(at, off_mm + furthest_name_mm))
                room.keep_off({at[0] - off_mm, at[1] - off_mm, at[0] + off_mm, at[1] + off_mm});
        }
        for (const TemplateSpot& spot : sheet_.spots) {
            const Place at = to_page(spot.at);
            if (!shows(at)) continue;
            const double near_mm = spot.id == "bore" ? cross_mm : spot.radius_mm + 1.0;
            const Text name = room.beside(at, spot.id, small_text_mm, near_mm, -std::numbers::pi / 4.0);
            room.take(name);
            page_.items.emplace_back(name);
        }
    }

    /// Under the part, across all sheets: a round length between two ticks.
    void add_joined_bar() {
        const double unit_mm = plan_.units == plan::Units::in ? mm_per_inch : 50.0;
        const double width_mm = whole_.most.x_mm - whole_.least.x_mm - 2.0 * room_mm;
        const double length_mm = unit_mm * std::max(1.0, std::floor(width_mm / unit_mm));
        const double middle_mm = (whole_.most.x_mm + whole_.least.x_mm) / 2.0;
        const double y_mm = whole_.least.y_mm + room_mm / 2.0;
        const Place from = to_page({middle_mm - length_mm / 2.0, y_mm}),
                    to = to_page({middle_mm + length_mm / 2.0, y_mm});
        line(from, to);
        for (const Place& end : {from, to}) line({end[0], end[1] - 2.0}, {end[0], end[1] + 2.0});
        text({from[0] + 3.0, from[1] - 1.0}, "joined: " + length_text(length_mm) + " between the ticks",
             small_text_mm);
    }

    std::string length_text(double length_mm) const {
        return plan_.units == plan::Units::in ? short_text(length_mm / mm_per_inch, 3) + " in"
                                              : short_text(length_mm, 2) + " mm";
    }

    /// What belongs to other sheets is left out.
    void clip_to_tile() {
        const double right =
            std::min(to_page({tile_.right_mm, 0})[0] + overlap_mm / 2.0, page_.width_mm - edge_mm);
        const double top = std::max(to_page({0, tile_.top_mm})[1] - overlap_mm / 2.0, edge_mm);
        clip_ = {content_left(), top, right, content_bottom()};
        page_.items.emplace_back(Clip{clip_});
    }

    /// Where sheets meet: a chain line to cut along, a cross at each end to lay on the neighbour's.
    void add_cuts(int columns, int rows) {
        const Place low = to_page({tile_.left_mm, tile_.bottom_mm}),
                    high = to_page({tile_.right_mm, tile_.top_mm});
        const auto mark = [this](double x, double y) {
            page_.items.emplace_back(RoundLine{{x, y}, 1.5, 0.0, 6.283185307179586, thin, {}});
            line({x - 3, y}, {x + 3, y});
            line({x, y - 3}, {x, y + 3});
        };
        const Pen cut{0.18, Dash::chain, 0.3};
        const auto upright = [&](double x) {
            line({x, low[1]}, {x, high[1]}, cut);
            mark(x, low[1] - 8.0);
            mark(x, high[1] + 8.0);
        };
        const auto level = [&](double y) {
            line({low[0], y}, {high[0], y}, cut);
            mark(low[0] + 8.0, y);
            mark(high[0] - 8.0, y);
        };
        if (tile_.column > 0) upright(low[0]);
        if (tile_.column + 1 < columns) upright(high[0]);
        if (tile_.row > 0) level(low[1]);
        if (tile_.row + 1 < rows) level(high[1]);
    }

    /// Both bars are corrected as the part is, so that they show whether the correction is right.
    void add_bars() {
        const double bar_mm = check_bar_mm(plan_.units);
        const double y = page_.height_mm - edge_mm - 1.5, x = edge_mm + 3.5;
        const double across = bar_mm * scale_[0], up = bar_mm * scale_[1];
        line({edge_mm, y}, {edge_mm + across, y});
        for (const double end : {edge_mm, edge_mm + across}) line({end, y - 3}, {end, y + 1.5});
        text({edge_mm + across / 2.0, y - 1.0}, length_text(bar_mm) + " across", small_text_mm,
             Anchor::middle);
        const double foot = page_.height_mm - edge_mm - strip_mm - 2.0;
        line({x, foot}, {x, foot - up});
        for (const double end : {foot, foot - up}) line({x - 1.5, end}, {x + 3, end});
        text({x + 3.5, foot - up / 2.0}, length_text(bar_mm) + " up", small_text_mm, Anchor::middle,
             -std::numbers::pi / 2.0);
    }

    void add_words(int columns, int rows) {
        const double x = content_left() + 1.0, y = page_.height_mm - edge_mm - strip_mm + 3.5;
        const std::string place = "Sheet " + std::string(1, char('A' + tile_.row)) +
                                  std::to_string(tile_.column + 1) + " of " + std::to_string(columns) +
                                  " across, " + std::to_string(rows) + " up (A1 lower left). ";
        std::string words = place + "Print at 100 %, no fitting, no rotation; then measure both bars.";
        for (const std::string& more : sheet_.words) words += " " + more;
        const auto lines = broken_lines(words, page_.width_mm - edge_mm - x, small_text_mm);
        for (std::size_t i = 0; i < lines.size(); ++i)
            text({x, y + 1.4 * small_text_mm * double(i)}, lines[i], small_text_mm);
        text({content_left() + 1.0, edge_mm - 3.0}, sheet_.title, text_mm);
    }

    const TemplateView& sheet_;
    const plan::Plan& plan_;
    const plan::Paper& paper_;
    plan::Box2 whole_;
    std::array<double, 2> scale_{1.0, 1.0};
    Tile tile_{};
    Drawing page_;
    std::array<double, 4> clip_{};  ///< left, top, right, bottom of what shows of the part
};

std::vector<Kept> kept_along(const std::vector<TemplateSpot>& spots, std::size_t axis) {
    std::vector<Kept> kept;
    for (const TemplateSpot& spot : spots) {
        const double at = axis == 0 ? spot.at.x_mm : spot.at.y_mm, room = spot.radius_mm + off_hole_mm;
        // The bore is larger than a sheet.
        if (spot.id != "bore") kept.push_back({at - room, at + room});
    }
    return kept;
}

/// Ends of the stretches along one axis, cuts between them.
std::vector<double> edges_of(double from_mm, double to_mm, double most_mm, const std::vector<Kept>& kept) {
    std::vector<double> edges{from_mm};
    for (const double cut : cuts_between(from_mm, to_mm, most_mm, kept)) edges.push_back(cut);
    edges.push_back(to_mm);
    return edges;
}

std::vector<std::string> cut_holes(const TemplateView& sheet, const std::vector<double>& xs,
                                   const std::vector<double>& ys) {
    std::vector<std::string> ids;
    const auto is_cut = [](double at, double radius, const std::vector<double>& edges) {
        return std::any_of(edges.begin() + 1, edges.end() - 1,
                           [&](double edge) { return std::abs(edge - at) < radius; });
    };
    for (const TemplateSpot& spot : sheet.spots) {
        if (spot.id != "bore" &&
            (is_cut(spot.at.x_mm, spot.radius_mm, xs) || is_cut(spot.at.y_mm, spot.radius_mm, ys)))
            ids.push_back(spot.id);
    }
    return ids;
}

plan::Profile profile_of(const TemplateView& sheet) {
    constexpr double half_mm = 3.0;
    plan::Profile profile{sheet.suffix, sheet.curves, sheet.lines};
    for (const TemplateSpot& spot : sheet.spots) {
        for (const plan::Point& half : {plan::Point{half_mm, 0.0}, plan::Point{0.0, half_mm}})
            profile.lines.push_back({"CENTRE", {{spot.at - half, spot.at + half}}});
    }
    return profile;
}

PaperTemplate template_of(const TemplateView& sheet, const plan::Plan& plan, const plan::Paper& paper) {
    plan::Box2 whole = box_of(sheet);
    whole.least = {whole.least.x_mm - room_mm, whole.least.y_mm - room_mm};
    whole.most = {whole.most.x_mm + room_mm, whole.most.y_mm + room_mm};
    PageDrawer drawer(sheet, plan, paper, whole);
    const double across_mm = paper.size.width_mm - 2.0 * edge_mm - left_strip_mm - overlap_mm;
    const double up_mm = paper.size.height_mm - 2.0 * edge_mm - strip_mm - overlap_mm;
    // Room for a print that comes out up to 3 per cent small and is corrected.
    constexpr double correctable = 1.03;
    const auto xs =
        edges_of(whole.least.x_mm, whole.most.x_mm, across_mm / correctable, kept_along(sheet.spots, 0));
    const auto ys =
        edges_of(whole.least.y_mm, whole.most.y_mm, up_mm / correctable, kept_along(sheet.spots, 1));
    PaperTemplate result;
    result.suffix = sheet.suffix;
    result.profile = profile_of(sheet);
    result.columns = int(xs.size()) - 1;
    result.rows = int(ys.size()) - 1;
    result.cut_holes = cut_holes(sheet, xs, ys);
    for (int row = 0; row < result.rows; ++row) {
        for (int column = 0; column < result.columns; ++column)
            result.pages.push_back(drawer.draw({xs[std::size_t(column)], xs[std::size_t(column) + 1],
                                                ys[std::size_t(row)], ys[std::size_t(row) + 1], column, row},
                                               result.columns, result.rows));
    }
    return result;
}

}  // namespace

double check_bar_mm(plan::Units units) { return units == plan::Units::in ? 7.0 * mm_per_inch : 180.0; }

std::vector<PaperTemplate> paper_templates(const plan::Plan& plan, const plan::Paper& paper) {
    std::vector<PaperTemplate> templates;
    for (const TemplateView& sheet : template_views(plan))
        templates.push_back(template_of(sheet, plan, paper));
    return templates;
}

}  // namespace fitup::sheets
