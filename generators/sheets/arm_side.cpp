// An offset arm from the side: what the metal of its two legs shows, moved to their levels, and the joggle
// between them.
#include "sheets/arm_side.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "plan/cuts.hpp"
#include "plan/joggle.hpp"
#include "plan/stroke.hpp"
#include "plan/vector.hpp"
#include "sheets/metal_map.hpp"
#include "sheets/sight.hpp"
#include "sheets/view_lines.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;

constexpr Point along_x{1.0, 0.0}, along_z{0.0, 1.0};

/// Half of what a hole takes along X.
double half_along_x_mm(const plan::Contour& contour) {
    const plan::Box2 box = contour.box();
    return (box.most.x_mm - box.least.x_mm) / 2.0;
}

class SideView {
  public:
    SideView(const plan::Plan& plan, double overshoot_mm)
        : plan_(plan), overshoot_mm_(overshoot_mm), thickness_mm_(plan.body.thickness_mm) {
        if (plan.body.joggle) shape_ = plan::joggle_shape(*plan.body.joggle, thickness_mm_);
    }

    KeyedView draw() {
        keyed_.view.name = "from the side";
        for (const plan::Hole& hole : plan_.holes) add_hole(hole);
        for (const plan::CrossHole& hole : plan_.cross_holes) add_cross_hole(hole);
        add_legs();
        if (shape_) add_joggle();
        add_keys();
        return std::move(keyed_);
    }

  private:
    View& view() { return keyed_.view; }

    /// Each leg as it is seen where it lies, at its own level.
    void add_legs() {
        const MetalMap metal(plan_);
        plan::Box2 box = plan_.body.outline.box();
        for (const plan::Raised& ring : plan_.raised) box = plan::joined(box, ring.outer.box());
        const double before_mm = box.least.y_mm - 1.0;
        const auto add_leg = [&](double from_mm, double to_mm, double level_mm) {
            const CutPiece plane{{from_mm, before_mm}, {to_mm, before_mm}, from_mm};
            for (auto [from, to] : edges_behind(metal, plane))
                add_line(view(), LineKind::visible, from + along_z * level_mm, to + along_z * level_mm);
        };
        if (!shape_) return add_leg(box.least.x_mm, box.most.x_mm, 0.0);
        const plan::Joggle& joggle = *plan_.body.joggle;
        add_leg(box.least.x_mm, joggle.start_mm, 0.0);
        add_leg(joggle.start_mm + joggle.run_mm, box.most.x_mm, joggle.rise_mm);
    }

    void add_joggle() {
        const auto profile = plan::joggle_profile(*plan_.body.joggle, thickness_mm_, *shape_);
        const bool is_up = plan_.body.joggle->rise_mm > 0.0;
        const auto first = is_up ? plan::Turn::anticlockwise : plan::Turn::clockwise;
        const auto second = is_up ? plan::Turn::clockwise : plan::Turn::anticlockwise;
        for (const auto& face : {profile.lower, profile.upper}) {
            add_stroke(view(), LineKind::visible,
                       plan::arc_stroke(face[0], face[1], profile.centre[0], first));
            if (plan::distance_mm(face[1], face[2]) > plan::same_point_mm)
                add_line(view(), LineKind::visible, face[1], face[2]);
            add_stroke(view(), LineKind::visible,
                       plan::arc_stroke(face[2], face[3], profile.centre[1], second));
        }
    }

    double level_mm(Point at) const { return plan::level_mm(plan_, at); }

    /// Height of what stands on face B at a place.
    double standing_mm(Point at) const {
        double height_mm = 0.0;
        for (const plan::Raised& ring : plan_.raised) {
            if (ring.side == plan::Side::B && ring.outer.contains(at))
                height_mm = std::max(height_mm, ring.height_mm);
        }
        return height_mm;
    }

    /// Every cut of a hole as it lies hidden in the metal, and its axis.
    void add_hole(const plan::Hole& hole) {
        const double level = level_mm(hole.at_mm), top_mm = thickness_mm_ + standing_mm(hole.at_mm);
        for (const plan::Cut& cut : plan::cuts(plan_)) {
            if (cut.id != hole.id || cut.cone) continue;
            const double half_mm = half_along_x_mm(cut.area.outer);
            add_hidden(hole.at_mm.x_mm, half_mm, level + cut.z_low_mm,
                       level + (cut.opens_b ? top_mm : cut.z_high_mm));
        }
        if (hole.thread) add_hidden(hole.at_mm.x_mm, hole.thread->major_mm / 2.0, level, level + top_mm);
        add_line(view(), LineKind::centre, {hole.at_mm.x_mm, level - overshoot_mm_},
                 {hole.at_mm.x_mm, level + top_mm + overshoot_mm_});
        view().marks.push_back({{hole.at_mm.x_mm, level + top_mm}, hole.id, hole.diameter_mm / 2.0, false});
    }

    void add_hidden(double x_mm, double half_mm, double low_mm, double high_mm) {
        for (const double side : {-1.0, 1.0})
            add_line(view(), LineKind::hidden, {x_mm + side * half_mm, low_mm},
                     {x_mm + side * half_mm, high_mm});
    }

    /// Seen end-on; from -Y the one that ends there is in sight.
    void add_cross_hole(const plan::CrossHole& hole) {
        const Point at{hole.at_mm[0], hole.at_mm[2]};
        const auto reach_mm = [](const plan::CrossHole& one) {
            return std::min(one.at_mm[1], one.at_mm[1] + one.direction[1] * one.depth_mm);
        };
        const bool is_seen =
            std::all_of(plan_.cross_holes.begin(), plan_.cross_holes.end(),
                        [&](const plan::CrossHole& other) { return reach_mm(hole) <= reach_mm(other); });
        add_circle(view(), is_seen ? LineKind::visible : LineKind::hidden, at, hole.diameter_mm / 2.0);
        if (hole.thread)
            view().items.push_back(ViewArc{is_seen ? LineKind::thread : LineKind::hidden, at,
                                           hole.thread->major_mm / 2.0, std::numbers::pi / 2.0,
                                           1.5 * std::numbers::pi});
        const double radius_mm = std::max(hole.diameter_mm, hole.thread ? hole.thread->major_mm : 0.0) / 2.0;
        if (is_seen) add_cross(view(), at, along_x, radius_mm + overshoot_mm_, radius_mm + overshoot_mm_);
        view().marks.push_back({at, hole.id, radius_mm, is_seen});
    }

    void add_keys() {
        const plan::Box2 box = plan_.body.outline.box();
        const double far_level = level_mm({plan_.arm->length_mm, 0.0});
        add_length(keyed_.keys, "thickness", {box.most.x_mm, far_level},
                   {box.most.x_mm, far_level + thickness_mm_}, along_z);
        const double standing =
            standing_mm({0.0, plan_.holes.front().diameter_mm / 2.0 + plan::same_point_mm});
        if (standing > 0.0)
            add_length(keyed_.keys, "boss height", {box.least.x_mm, 0.0},
                       {box.least.x_mm, thickness_mm_ + standing}, along_z);
        if (!plan_.cross_holes.empty()) {
            const auto& at = plan_.cross_holes.front().at_mm;
            add_length(keyed_.keys, "pinch bolt height", {at[0], 0.0}, {at[0], at[2]}, along_z);
        }
        if (shape_) add_joggle_keys();
    }

    void add_joggle_keys() {
        const plan::Joggle& joggle = *plan_.body.joggle;
        const auto profile = plan::joggle_profile(joggle, thickness_mm_, *shape_);
        const double end_mm = joggle.start_mm + joggle.run_mm;
        add_length(keyed_.keys, "rise", {joggle.start_mm, 0.0}, {end_mm, joggle.rise_mm}, along_z);
        add_length(keyed_.keys, "bend start", {}, {joggle.start_mm, 0.0}, along_x);
        add_length(keyed_.keys, "run", {joggle.start_mm, 0.0}, {end_mm, joggle.rise_mm}, along_x);
        for (const std::size_t bend : {std::size_t{0}, std::size_t{1}}) {
            // The inside of a bend is the face nearer to its centre.
            const Point centre = profile.centre[bend];
            const Point lower = profile.lower[2 * bend], upper = profile.upper[2 * bend];
            const auto& inside = plan::distance_mm(centre, lower) < plan::distance_mm(centre, upper)
                                     ? profile.lower
                                     : profile.upper;
            const Point middle = (inside[2 * bend] + inside[2 * bend + 1]) * 0.5;
            const Point out = plan::unit(middle - centre);
            keyed_.keys.radii.push_back(
                {"inside radius", centre, centre + out * joggle.inside_radius_mm, joggle.inside_radius_mm});
        }
        add_bend_angle(profile);
    }

    /// Between the first leg, run on, and the straight piece; where there is none, at the bends' meeting.
    void add_bend_angle(const plan::JoggleProfile& profile) {
        const bool is_up = plan_.body.joggle->rise_mm > 0.0;
        const auto& outside = is_up ? profile.lower : profile.upper;
        const double bend_rad = shape_->bend.radians();
        // Both tangents of the first bend meet at its radius times the tangent of half the angle.
        const double radius_mm = plan_.body.joggle->inside_radius_mm + thickness_mm_;
        const Point corner = outside[0] + along_x * (radius_mm * std::tan(bend_rad / 2.0));
        keyed_.keys.angles.push_back({"bend", corner, is_up ? 0.0 : -bend_rad, bend_rad, shape_->bend});
    }

    const plan::Plan& plan_;
    double overshoot_mm_;
    double thickness_mm_;
    std::optional<plan::JoggleShape> shape_;
    KeyedView keyed_;
};

}  // namespace

KeyedView arm_side(const plan::Plan& plan, double overshoot_mm) {
    return SideView(plan, overshoot_mm).draw();
}

}  // namespace fitup::sheets
