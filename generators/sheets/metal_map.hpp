#pragma once

#include <string>
#include <vector>

#include "plan/cuts.hpp"
#include "plan/plan.hpp"

/// Where metal is along Z at any place of a part made of prisms: what sections and views are worked out on.
namespace fitup::sheets {

/// One simple piece that adds or takes metal: over an area, between two heights that may slope.
struct Feature {
    /// `cone`: of a circle's area, narrower at one end. `barrel`: round, lying. `chamfered`: the slab, its
    /// edges broken.
    enum class Shape { flat, cone, barrel, chamfered };
    std::string id;  ///< of the hole, pocket or raised ring; "" for the slab
    bool takes = false;
    bool is_mark = false;  ///< shallow lettering
    Shape shape = Shape::flat;
    plan::Area area;
    double low_mm = 0.0;  ///< minus infinity where the cut opens downwards
    double high_mm = 0.0;
    plan::Box2 box{};
    /// Of a cone: its own two heights, and the radius at each.
    double cone_low_mm = 0.0, cone_high_mm = 0.0;
    double radius_low_mm = 0.0, radius_high_mm = 0.0;
    /// Of a barrel: a place of its axis, the way it runs, its height and radius.
    plan::Point axis_at{}, axis_along{};
    double axis_mm = 0.0, radius_mm = 0.0;
    double break_mm = 0.0;  ///< of the chamfered slab

    bool holds(plan::Point at) const;
    bool is_sloped() const { return shape != Shape::flat; }
    struct Heights {
        double low_mm = 0.0, high_mm = 0.0;
    };
    /// What it spans at a place in or on the edge of its area.
    Heights heights_at(plan::Point at) const;
    /// Every curve that bounds it, seen along Z.
    std::vector<const plan::Contour*> contours() const;
};

/// An end of metal: its height at two places, so that a sloped one may be followed from one to the other;
/// equal when one place is asked for.
struct MetalEnd {
    double from_mm = 0.0, to_mm = 0.0;
    bool is_sloped = false;
    double middle_mm() const { return (from_mm + to_mm) / 2.0; }
};
struct Stretch {
    MetalEnd low, high;
};

/// The metal of a plan: slab, raised rings, and all cuts, holes from the side among them. A joggle counts as
/// flat. Heights nearer than `plan::same_point_mm` are equal to the last bit.
class MetalMap {
  public:
    explicit MetalMap(const plan::Plan& plan);

    const std::vector<Feature>& features() const { return features_; }
    /// Metal at a place, from the lowest up.
    std::vector<Stretch> at(plan::Point place) const;
    /// Which features hold a place, as indices.
    std::vector<std::size_t> holding(plan::Point place) const;
    /// The metal that these features leave between two places that all of them hold, their heights taken as
    /// straight between.
    std::vector<Stretch> between(const std::vector<std::size_t>& held, plan::Point from,
                                 plan::Point to) const;

  private:
    void add(Feature feature);
    void add_slab(const plan::Plan& plan);
    void add_cut(const plan::Cut& cut, bool is_mark);
    void add_cross_hole(const plan::CrossHole& hole);
    std::vector<Feature> features_;
    std::vector<double> levels_;  ///< of flat ends, sorted
    double level(double z_mm) const;
};

}  // namespace fitup::sheets
