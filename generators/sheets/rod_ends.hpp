#pragma once

#include <array>
#include <optional>
#include <vector>

#include "plan/rod_path.hpp"

namespace fitup::sheets {

/// A rod's end as rings about its axis, from the face inwards.
struct RodEndShape {
    struct Ring {
        double from_face_mm = 0.0;
        double radius_mm = 0.0;
    };
    std::vector<Ring> rings;  ///< the face, where the chamfer ends, both edges of a shoulder: what is there
    double reach_mm = 0.0;    ///< where the rod's own diameter begins
    /// Of a thread: full form up to here, and the radius of its root.
    std::optional<double> thread_mm;
    double root_radius_mm = 0.0;
};

RodEndShape end_shape(const plan::Rod& rod, std::size_t end);

}  // namespace fitup::sheets
