#include "plan/cuts.hpp"

#include <algorithm>
#include <numbers>

#include "plan/drill_point.hpp"
#include "plan/vector.hpp"

namespace fitup::plan {
namespace {

struct Reach {
    double z_low_mm = 0.0;
    double z_high_mm = 0.0;
    bool opens_a = false;
    bool opens_b = false;
};

/// What a cut of `depth_mm` from a face spans; one that gets to the far face opens that too.
Reach reach(Side from, double depth_mm, double thickness_mm) {
    if (depth_mm >= thickness_mm - same_point_mm) return {0.0, thickness_mm, true, true};
    if (from == Side::A) return {0.0, depth_mm, true, false};
    return {thickness_mm - depth_mm, thickness_mm, false, true};
}

/// Makes the cuts of one hole.
class HoleCuts {
  public:
    HoleCuts(const Hole& hole, std::size_t owner, double thickness_mm, std::vector<Cut>& result)
        : hole_(hole), owner_(owner), thickness_mm_(thickness_mm), result_(result) {}

    void make() {
        add_shaft();
        add_point();
        add_recess();
        add_countersink();
    }

  private:
    bool is_slot() const { return hole_.slot_length_mm && *hole_.slot_length_mm > hole_.diameter_mm; }

    Reach shaft_reach() const {
        return reach(hole_.from, hole_.through ? thickness_mm_ : hole_.depth_mm, thickness_mm_);
    }

    Contour circle(double diameter_mm) const { return Contour(Circle{hole_.at_mm, diameter_mm / 2}); }

    Cut& add(CutRole role, Contour contour, const Reach& span) {
        result_.push_back({hole_.id, role, owner_, Area{std::move(contour), {}}, span.z_low_mm,
                           span.z_high_mm, span.opens_a, span.opens_b, std::nullopt});
        return result_.back();
    }

    void add_shaft() {
        add(hole_.kind == HoleKind::bore ? CutRole::bore : CutRole::hole, shaft_contour(hole_),
            shaft_reach());
    }

    /// The cone that the drill's tip leaves below the full diameter of a blind hole.
    void add_point() {
        const Reach shaft = shaft_reach();
        if (!hole_.point_angle || is_slot() || (shaft.opens_a && shaft.opens_b)) return;
        const double radius = hole_.diameter_mm / 2;
        const double height = point_height_mm(hole_.diameter_mm, *hole_.point_angle);
        if (!(height > same_point_mm)) return;
        if (hole_.from == Side::A) {
            const double end = shaft.z_high_mm;
            add(CutRole::point, circle(hole_.diameter_mm), {end, end + height, false, false}).cone = {radius,
                                                                                                      0.0};
        } else {
            const double end = shaft.z_low_mm;
            add(CutRole::point, circle(hole_.diameter_mm), {end - height, end, false, false}).cone = {0.0,
                                                                                                      radius};
        }
    }

    void add_recess() {
        if (!hole_.recess) return;
        const Recess& recess = *hole_.recess;
        add(CutRole::recess, circle(recess.diameter_mm), reach(recess.side, recess.depth_mm, thickness_mm_));
    }

    /// From its diameter on the face down to the hole's diameter, or to the far face if that comes first.
    void add_countersink() {
        if (!hole_.countersink || hole_.countersink->diameter_mm <= hole_.diameter_mm) return;
        const Countersink& sink = *hole_.countersink;
        const double slope = (sink.angle * 0.5).tan();
        const double wide = sink.diameter_mm / 2;
        const double depth = (wide - hole_.diameter_mm / 2) / slope;
        if (!(depth > same_point_mm)) return;
        const bool goes_through = depth > thickness_mm_ + same_point_mm;
        const double narrow = goes_through ? wide - thickness_mm_ * slope : hole_.diameter_mm / 2;
        Cut& cut =
            add(CutRole::countersink, circle(sink.diameter_mm), reach(sink.side, depth, thickness_mm_));
        cut.cone = sink.side == Side::A ? Cut::Cone{wide, narrow} : Cut::Cone{narrow, wide};
    }

    const Hole& hole_;
    std::size_t owner_;
    double thickness_mm_;
    std::vector<Cut>& result_;
};

void add_pocket(const Pocket& pocket, std::size_t owner, double thickness_mm, std::vector<Cut>& result) {
    const Reach span = reach(pocket.side, pocket.through ? thickness_mm : pocket.depth_mm, thickness_mm);
    for (const Area& area : pocket.areas) {
        result.push_back({pocket.id, CutRole::pocket, owner, area, span.z_low_mm, span.z_high_mm,
                          span.opens_a, span.opens_b, std::nullopt});
    }
}

}  // namespace

Contour shaft_contour(const Hole& hole) {
    if (!hole.slot_length_mm) return Contour(Circle{hole.at_mm, hole.diameter_mm / 2});
    const double half_mm = (*hole.slot_length_mm - hole.diameter_mm) / 2;
    const Point along{half_mm * hole.slot_direction.cos(), half_mm * hole.slot_direction.sin()};
    return slot(hole.at_mm - along, hole.at_mm + along, hole.diameter_mm);
}

std::vector<Cut> cuts(const Plan& plan) {
    std::vector<Cut> result;
    const double thickness = plan.body.thickness_mm;
    for (std::size_t k = 0; k < plan.holes.size(); ++k) HoleCuts(plan.holes[k], k, thickness, result).make();
    for (std::size_t k = 0; k < plan.pockets.size(); ++k) add_pocket(plan.pockets[k], k, thickness, result);
    return result;
}

double volume_mm3(const Cut& cut) {
    const double height = cut.z_high_mm - cut.z_low_mm;
    if (!cut.cone) return area_mm2(cut.area) * height;
    const double low = cut.cone->radius_low_mm;
    const double high = cut.cone->radius_high_mm;
    return std::numbers::pi / 3 * (low * low + low * high + high * high) * height;
}

}  // namespace fitup::plan
