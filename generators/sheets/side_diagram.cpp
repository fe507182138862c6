#include "sheets/side_diagram.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "plan/seen_from.hpp"
#include "plan/stroke.hpp"
#include "sheets/contour_lines.hpp"
#include "sheets/label_room.hpp"
#include "sheets/profile.hpp"
#include "sheets/size_text.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;
using plan::Side;

constexpr Pen edge{wide_mm}, thin{0.18}, far_side{0.18, Dash::solid, 0.55}, axis{0.18, Dash::chain, 0.3},
    bend_pen{0.25, Dash::dashed};
/// Room round the part for arrows, their letters and the axes' names.
constexpr double before_mm = 11.0, after_mm = 9.0;
constexpr double number_mm = 2.5, arrow_mm = 2.2;
/// Numbers keep this far off lines, whose places are taken this far apart.
constexpr double off_line_mm = 0.35, apart_mm = 1.0;
/// Numbers stand this near to their holes, else with a line to them, else not at all.
constexpr double near_mm = 0.6, step_mm = 0.8, leader_from_mm = 3.5, furthest_mm = 12.0;

plan::Box2 box_of(const plan::Plan& plan, Side side) {
    return plan::seen_from(side, plan.body.outline).box();
}

/// Lines that would lie on another one at this scale.
bool is_drawn(const std::string& layer) {
    return layer != "TAP" && layer != "REAM" && layer != "REAM_AT_ASSEMBLY";
}

class SideDiagram {
  public:
    SideDiagram(Drawing& page, const plan::Plan& plan, Side side, const Frame& frame)
        : page_(page), plan_(plan), side_(side), box_(box_of(plan, side)), room_(page.width_mm) {
        const double width = box_.most.x_mm - box_.least.x_mm, height = box_.most.y_mm - box_.least.y_mm;
        const double across = frame[2] - frame[0] - before_mm - after_mm,
                     up = frame[3] - frame[1] - before_mm - after_mm;
        scale_ = std::min(across / width, up / height);
        left_ = frame[0] + before_mm + (across - scale_ * width) / 2.0;
        bottom_ = frame[3] - before_mm - (up - scale_ * height) / 2.0;
        keep_inside(frame);
    }

    std::size_t draw(const HoleNumbers& numbers, std::span<const std::array<double, 2>> bends_mm) {
        add_curves();
        for (std::size_t i = 0; i < bends_mm.size(); ++i) add_bend(bends_mm[i], std::to_string(i + 1));
        add_axes();
        add_arrows();
        std::size_t left_out = 0;
        for (const plan::Hole& hole : plan_.holes) {
            const auto number = numbers.find(hole.id);
            if (number != numbers.end() && !add_number(hole, std::to_string(number->second))) ++left_out;
        }
        return left_out;
    }

  private:
    Place to_page(Point at) const {
        return {left_ + scale_ * (at.x_mm - box_.least.x_mm), bottom_ - scale_ * (at.y_mm - box_.least.y_mm)};
    }

    void keep_inside(const Frame& frame) {
        const auto [left, top, right, bottom] = frame;
        room_.keep_off({0.0, 0.0, left, page_.height_mm});
        room_.keep_off({right, 0.0, page_.width_mm, page_.height_mm});
        room_.keep_off({0.0, 0.0, page_.width_mm, top});
        room_.keep_off({0.0, bottom, page_.width_mm, page_.height_mm});
    }

    void line(Place from, Place to, const Pen& pen = thin) {
        page_.items.emplace_back(Line{{from, to}, false, pen, {}});
    }

    void text(Text one) {
        room_.take(one);
        page_.items.emplace_back(std::move(one));
    }

    void keep_off(Place at, double by_mm = off_line_mm) {
        room_.keep_off({at[0] - by_mm, at[1] - by_mm, at[0] + by_mm, at[1] + by_mm});
    }

    void add_curves() {
        for (const plan::ProfileCurve& one : side_profile(plan_, side_).curves) {
            if (!is_drawn(one.layer)) continue;
            const Pen pen = one.layer == "OUTLINE" ? edge : one.layer == "THROUGH" ? far_side : thin;
            if (const plan::Circle* circle = one.curve.circle())
                page_.items.emplace_back(RoundLine{to_page(circle->centre),
                                                   scale_ * circle->radius_mm,
                                                   0.0,
                                                   2.0 * std::numbers::pi,
                                                   pen,
                                                   {}});
            else
                page_.items.emplace_back(contour_line(
                    one.curve, [this](Point at) { return to_page(at); }, pen, 0.02 / scale_));
            keep_off(one.curve);
        }
    }

    /// Where it starts and ends, across the strip.
    void add_bend(const std::array<double, 2>& ends_mm, const std::string& number) {
        const double low = to_page(box_.least)[1], high = to_page(box_.most)[1];
        double middle = 0.0;
        for (const double x_mm : ends_mm) {
            const double x = to_page({x_mm, 0.0})[0];
            line({x, low}, {x, high}, bend_pen);
            room_.keep_off({x - off_line_mm, high, x + off_line_mm, low});
            middle += x / 2.0;
        }
        text({{middle, high - 2.0}, "bend " + number, number_mm, Anchor::middle, 0.0});
    }

    /// Of a small one the inside too.
    void keep_off(const plan::Contour& curve) {
        const plan::Box2 box = curve.box();
        const double size = scale_ * std::max(box.most.x_mm - box.least.x_mm, box.most.y_mm - box.least.y_mm);
        if (curve.circle() != nullptr && size < 8.0)
            return keep_off(to_page(curve.circle()->centre), 0.71 * size / 2.0 + off_line_mm);
        for (const plan::Stroke& stroke : plan::strokes_of(curve)) {
            const int steps = 1 + int(scale_ * plan::length_mm(stroke) / apart_mm);
            for (int i = 0; i < steps; ++i) keep_off(to_page(plan::point_at(stroke, double(i) / steps)));
        }
    }

    /// A filled head at `tip`; `along` is the unit vector towards it.
    void head(Place tip, Place along) {
        const Place back{tip[0] - arrow_mm * along[0], tip[1] - arrow_mm * along[1]};
        const double half = arrow_mm / 6.0;
        page_.items.emplace_back(Line{{tip,
                                       {back[0] - half * along[1], back[1] + half * along[0]},
                                       {back[0] + half * along[1], back[1] - half * along[0]}},
                                      true,
                                      {},
                                      0.0});
    }

    void add_axes() {
        const Place zero = to_page({}), low = to_page(box_.least), high = to_page(box_.most);
        const Place right{std::max(high[0], zero[0]) + 4.5, zero[1]},
            top{zero[0], std::min(high[1], zero[1]) - 4.5};
        line({std::min(low[0], zero[0]) - 2.0, zero[1]}, right, axis);
        line({zero[0], std::max(low[1], zero[1]) + 2.0}, top, axis);
        head(right, {1.0, 0.0});
        head(top, {0.0, -1.0});
        for (double x = low[0]; x < right[0]; x += apart_mm) keep_off(Place{x, zero[1]});
        for (double y = top[1]; y < low[1]; y += apart_mm) keep_off(Place{zero[0], y});
        text({{right[0] - 1.5, right[1] - 1.2}, "+X", number_mm, Anchor::left, 0.0});
        text({{top[0] + 1.2, top[1] + 1.6}, "+Y", number_mm, Anchor::left, 0.0});
        page_.items.emplace_back(RoundLine{zero, 1.3, 0.0, 2.0 * std::numbers::pi, Pen{narrow_mm}, 1.0});
        page_.items.emplace_back(RoundLine{zero, 0.4, 0.0, 2.0 * std::numbers::pi, {}, 0.0});
        keep_off(zero, 1.5);
    }

    /// From the outline's left and lowest edges to zero.
    void add_arrows() {
        const Place zero = to_page({}), low = to_page(box_.least);
        const double y = low[1] + 6.5, x = low[0] - 6.5;
        line({low[0], zero[1] + 1.0}, {low[0], y + 1.5});
        line({zero[0], low[1] + 3.0}, {zero[0], y + 1.5});
        arrow({low[0], y}, {zero[0], y});
        text({{(low[0] + zero[0]) / 2.0, y - 1.0}, "a", number_mm, Anchor::middle, 0.0});
        line({zero[0] - 1.0, low[1]}, {x - 1.5, low[1]});
        line({low[0] - 3.0, zero[1]}, {x - 1.5, zero[1]});
        arrow({x, low[1]}, {x, zero[1]});
        text({{x - 1.0, (low[1] + zero[1]) / 2.0 + number_mm / 2.0}, "b", number_mm, Anchor::right, 0.0});
    }

    void arrow(Place from, Place to) {
        const double length = std::hypot(to[0] - from[0], to[1] - from[1]);
        line(from, to);
        if (length < 2.5 * arrow_mm) return;
        const Place along{(to[0] - from[0]) / length, (to[1] - from[1]) / length};
        head(to, along);
        head(from, {-along[0], -along[1]});
    }

    double reach_mm(const plan::Hole& hole) const {
        double radius = hole.slot_length_mm.value_or(hole.diameter_mm) / 2.0;
        if (hole.recess && hole.recess->side == side_)
            radius = std::max(radius, hole.recess->diameter_mm / 2.0);
        if (hole.countersink && hole.countersink->side == side_)
            radius = std::max(radius, hole.countersink->diameter_mm / 2.0);
        return scale_ * radius;
    }

    /// Round the hole, nearest first, to the upper right before anywhere else; in a large one within it.
    bool add_number(const plan::Hole& hole, const std::string& number) {
        const Place centre = to_page(plan::seen_from(side_, hole.at_mm));
        const double reach = reach_mm(hole), half = text_width_mm(number, number_mm) / 2.0;
        constexpr int directions = 16;
        const double start = reach > 10.0 ? 3.0 : reach + near_mm;
        for (double off = start; off < start + furthest_mm; off += step_mm) {
            for (int k = 0; k < directions; ++k) {
                const double turn = -std::numbers::pi / 4.0 + (k % 2 == 0 ? 1 : -1) * ((k + 1) / 2) * 2.0 *
                                                                  std::numbers::pi / directions;
                const Place middle{centre[0] + (off + half) * std::cos(turn),
                                   centre[1] + (off + number_mm / 2.0) * std::sin(turn)};
                const Text one{
                    {middle[0], middle[1] + number_mm / 2.0}, number, number_mm, Anchor::middle, 0.0};
                if (!room_.is_free(one)) continue;
                if (off > start + leader_from_mm) add_leader(centre, reach, middle, half);
                text(one);
                return true;
            }
        }
        return false;
    }

    void add_leader(Place centre, double reach, Place middle, double half) {
        const double length = std::hypot(middle[0] - centre[0], middle[1] - centre[1]);
        const Place along{(middle[0] - centre[0]) / length, (middle[1] - centre[1]) / length};
        const double end = length - half - 1.0;
        if (end > reach)
            line({centre[0] + reach * along[0], centre[1] + reach * along[1]},
                 {centre[0] + end * along[0], centre[1] + end * along[1]});
    }

    Drawing& page_;
    const plan::Plan& plan_;
    Side side_;
    plan::Box2 box_;
    LabelRoom room_;
    double scale_ = 1.0, left_ = 0.0, bottom_ = 0.0;
};

}  // namespace

std::size_t draw_side_diagram(Drawing& page, const plan::Plan& plan, Side side, const HoleNumbers& numbers,
                              const Frame& frame, std::span<const std::array<double, 2>> bends_mm) {
    return SideDiagram(page, plan, side, frame).draw(numbers, bends_mm);
}

double diagram_height_mm(const plan::Plan& plan, double width_mm, double most_mm) {
    const plan::Box2 box = plan.body.outline.box();
    const double width = box.most.x_mm - box.least.x_mm, height = box.most.y_mm - box.least.y_mm,
                 round_it = before_mm + after_mm;
    return std::min(most_mm, round_it + (width_mm - round_it) * height / width);
}

std::vector<std::string> edge_distances(const plan::Plan& plan, Side side) {
    const plan::Box2 box = box_of(plan, side);
    return {"a " + readout_text(-box.least.x_mm) + " from the left edge to zero",
            "b " + readout_text(-box.least.y_mm) + " from the lowest edge to zero"};
}

}  // namespace fitup::sheets
