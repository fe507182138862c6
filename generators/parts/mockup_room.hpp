#pragma once

#include <vector>

#include "parts/mockup_flat.hpp"

/// Where on a mock-up there is still room for words and marks. Both faces share it: what is sunk from one
/// side must not cross what is sunk from the other in plan view, so that the whole part stays a pile of
/// prisms.
namespace fitup::parts {

class Room {
  public:
    explicit Room(const Region& region);

    /// Nothing else over or within it.
    void take(const plan::Contour& shape) { taken_.push_back({shape, shape.box(), true}); }
    /// Nothing else over its curve.
    void take_edge(const plan::Contour& curve) { taken_.push_back({curve, curve.box(), false}); }

    /// Whether a shape lies on the metal, this far from its edge and from all that is taken.
    bool is_free(const plan::Contour& shape, double margin_mm) const;
    /// The same for an upright rectangle; quick where the answer is no.
    bool is_free(const plan::Box2& shape, double margin_mm) const;

    plan::Box2 box() const { return outline_.box(); }

  private:
    bool is_plainly_taken(const plan::Box2& shape, double margin_mm) const;

    struct Taken {
        plan::Contour curve;
        plan::Box2 box;
        bool is_solid;
    };
    plan::Contour outline_;
    std::vector<Taken> taken_;
};

}  // namespace fitup::parts
