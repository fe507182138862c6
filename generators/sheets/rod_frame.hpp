#pragma once

#include <vector>

#include "base/vector3.hpp"
#include "plan/rod_path.hpp"

/// Which way a bent rod is looked at.
namespace fitup::sheets {

/// Axes of a view, unit and square to each other: right, up, and towards the eye.
struct ViewFrame {
    Vector right{1, 0, 0}, up{0, 1, 0}, towards{0, 0, 1};
    plan::Point of(const Vector& place) const { return {dot(place, right), dot(place, up)}; }
    /// Whether what runs along this direction shows in its true length.
    bool shows_true(const Vector& along) const;
    /// Whether a bend about this axis shows in its true radius and angle.
    bool shows_true_bend(const Vector& axis) const;
};

/// One view where the rod lies in a plane; else a front and the top view over it (from the front's up side),
/// chosen so that the most of the straights show true in one of the two. The part's own axes are kept where
/// they serve as well: front is then its XY plane.
std::vector<ViewFrame> frames_of(const plan::RodPath& path);

}  // namespace fitup::sheets
