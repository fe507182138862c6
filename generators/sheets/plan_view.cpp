#include "sheets/plan_view.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "plan/vector.hpp"
#include "sheets/metal_map.hpp"
#include "sheets/rims.hpp"
#include "sheets/view_lines.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;
using plan::Side;

class PlanView {
  public:
    PlanView(const plan::Plan& plan, Side side, const PlanViewOptions& options)
        : plan_(plan), side_(side), options_(options), metal_(plan) {}

    View draw() {
        view_.name = std::string("side ") + plan::to_text(side_);
        add_rims();
        for (const plan::Hole& hole : plan_.holes) add_thread(hole);
        if (options_.with_bolt_circles) add_bolt_circles();
        if (options_.with_centres) add_centres();
        add_marks();
        return side_ == Side::A ? mirrored_x(view_) : std::move(view_);
    }

  private:
    /// Hidden ones first, so that what is in sight lies over them.
    void add_rims() {
        const auto rims = rims_seen(metal_, side_);
        if (options_.with_hidden) {
            for (const Rim& rim : rims) {
                if (!rim.is_visible) add_stroke(view_, LineKind::hidden, rim.curve);
            }
        }
        for (const Rim& rim : rims) {
            if (rim.is_visible) add_stroke(view_, LineKind::visible, rim.curve);
        }
    }

    /// Whether the hole is open towards this side, and how far its thread is from coming out there.
    bool is_open(const plan::Hole& hole) const { return hole.through || hole.from == side_; }
    bool shows_thread(const plan::Hole& hole) const {
        const bool is_whole = hole.thread->depth_mm >= plan_.body.thickness_mm - plan::same_point_mm;
        return hole.from == side_ || (hole.through && is_whole);
    }

    void add_thread(const plan::Hole& hole) {
        if (!hole.thread) return;
        const bool is_seen = shows_thread(hole);
        if (!is_seen && !options_.with_hidden) return;
        if (!is_seen && hole.through) return;  // the plain hole is in sight, the thread is deep in it
        // The open quarter is the upper right one of the view.
        const double from_rad = side_ == Side::B ? std::numbers::pi / 2.0 : std::numbers::pi;
        view_.items.push_back(ViewArc{is_seen ? LineKind::thread : LineKind::hidden, hole.at_mm,
                                      hole.thread->major_mm / 2.0, from_rad, 1.5 * std::numbers::pi});
    }

    void add_bolt_circles() {
        for (const plan::Pattern& pattern : plan_.patterns) {
            const auto circle = bolt_circle(plan_, pattern);
            if (!circle) continue;
            const bool is_drawn = std::any_of(circles_.begin(), circles_.end(), [&](const plan::Circle& one) {
                return plan::distance_mm(one.centre, circle->centre) < plan::same_point_mm &&
                       std::abs(one.radius_mm - circle->radius_mm) < plan::same_point_mm;
            });
            if (!is_drawn) add_circle(view_, LineKind::circle, circle->centre, circle->radius_mm);
            circles_.push_back(*circle);
            for (const std::size_t k : pattern.holes) on_circle_.push_back({k, circle->centre});
        }
    }

    double radius_mm(const plan::Hole& hole) const {
        double radius_mm = std::max(hole.diameter_mm, hole.thread ? hole.thread->major_mm : 0.0) / 2.0;
        if (hole.recess && (hole.recess->side == side_ || !is_open(hole)))
            radius_mm = std::max(radius_mm, hole.recess->diameter_mm / 2.0);
        if (hole.countersink && (hole.countersink->side == side_ || !is_open(hole)))
            radius_mm = std::max(radius_mm, hole.countersink->diameter_mm / 2.0);
        return radius_mm;
    }

    void add_centres() {
        std::vector<Point> done;
        if (const plan::Circle* round = plan_.body.outline.circle()) {
            add_reaching_cross(round->centre, {1.0, 0.0}, round->radius_mm, round->radius_mm);
            done.push_back(round->centre);
        }
        for (std::size_t k = 0; k < plan_.holes.size(); ++k) {
            const plan::Hole& hole = plan_.holes[k];
            const bool is_done = std::any_of(done.begin(), done.end(), [&](Point at) {
                return plan::distance_mm(at, hole.at_mm) < plan::same_point_mm;
            });
            if (is_done || (!options_.with_hidden && !is_open(hole))) continue;
            done.push_back(hole.at_mm);
            add_centre(k);
        }
    }

    void add_reaching_cross(Point at, Point along, double first_mm, double second_mm) {
        add_cross(view_, at, along, first_mm + options_.overshoot_mm, second_mm + options_.overshoot_mm);
    }

    /// The way that a hole's first centre line runs: along its slot, along the arm that it lies on, else
    /// level.
    Point way_of(const plan::Hole& hole) const {
        if (hole.slot_length_mm) return {hole.slot_direction.cos(), hole.slot_direction.sin()};
        if (plan_.crank) {
            for (const plan::CrankArm& arm : plan_.crank->arms) {
                const Point way{arm.angle.cos(), arm.angle.sin()};
                const bool is_on = std::abs(plan::cross(way, hole.at_mm)) < plan::same_point_mm;
                if (is_on && plan::dot(way, hole.at_mm) > plan::same_point_mm) return way;
            }
        }
        return {1.0, 0.0};
    }

    void add_centre(std::size_t k) {
        const plan::Hole& hole = plan_.holes[k];
        const double reach_mm = radius_mm(hole);
        const auto round = std::find_if(on_circle_.begin(), on_circle_.end(),
                                        [&](const auto& one) { return one.first == k; });
        if (round != on_circle_.end()) {
            const Point radial = plan::unit(hole.at_mm - round->second) * (reach_mm + options_.overshoot_mm);
            return add_line(view_, LineKind::centre, hole.at_mm - radial, hole.at_mm + radial);
        }
        const Point along = way_of(hole);
        add_reaching_cross(hole.at_mm, along, std::max(reach_mm, hole.slot_length_mm.value_or(0.0) / 2.0),
                           reach_mm);
    }

    void add_marks() {
        for (const plan::Hole& hole : plan_.holes)
            view_.marks.push_back({hole.at_mm, hole.id, radius_mm(hole), is_open(hole)});
    }

    const plan::Plan& plan_;
    Side side_;
    PlanViewOptions options_;
    MetalMap metal_;
    View view_;
    std::vector<plan::Circle> circles_;
    std::vector<std::pair<std::size_t, Point>> on_circle_;  ///< holes, and their circles' centres
};

/// The two points that lie so far from both others.
std::vector<Point> centres_through(Point a, Point b, double radius_mm) {
    const Point half = (b - a) * 0.5;
    const double square = radius_mm * radius_mm - plan::dot(half, half);
    if (square < 0.0 || plan::length(half) == 0.0) return {};
    const Point aside = plan::left_of(plan::unit(half)) * std::sqrt(square);
    return {a + half + aside, a + half - aside};
}

}  // namespace

std::optional<plan::Circle> bolt_circle(const plan::Plan& plan, const plan::Pattern& pattern) {
    if (!pattern.circle_diameter_mm || pattern.holes.empty()) return std::nullopt;
    const double radius_mm = *pattern.circle_diameter_mm / 2.0;
    std::vector<Point> candidates{Point{}};
    const Point first = plan.holes[pattern.holes.front()].at_mm;
    if (pattern.holes.size() > 2) {
        const Point other = plan.holes[pattern.holes[pattern.holes.size() / 2]].at_mm;
        for (const Point centre : centres_through(first, other, radius_mm)) candidates.push_back(centre);
    }
    for (const Point centre : candidates) {
        const bool fits = std::all_of(pattern.holes.begin(), pattern.holes.end(), [&](std::size_t k) {
            return std::abs(plan::distance_mm(plan.holes[k].at_mm, centre) - radius_mm) < 1e-6;
        });
        if (fits) return plan::Circle{centre, radius_mm};
    }
    return std::nullopt;
}

View plan_view(const plan::Plan& plan, Side side, const PlanViewOptions& options) {
    return PlanView(plan, side, options).draw();
}

}  // namespace fitup::sheets
