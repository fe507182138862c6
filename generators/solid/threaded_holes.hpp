#pragma once

#include <string>

#include "plan/finding.hpp"
#include "plan/plan.hpp"
#include "solid/skin_solid.hpp"

namespace fitup::solid {

/// A body with real threads in the holes that want them.
struct Threaded {
    SkinSolids part;
    plan::Findings findings;  ///< final stops: threads that another cut runs into; `part` is then as it was
    double taken_mm3 = 0.0;   ///< room of the grooves beyond the holes at their minor diameter
};

/// Puts a helix in place of the wall of every hole whose thread is modelled, with a chamfer where it starts;
/// a part without such holes stays as it is.
///
/// @param part  one body, its holes at the threads' minor diameter, walls named after their holes.
/// @throws KernelError when the faces do not close.
/// Cost: about 10 ms a hole. Nothing is cut: the faces are sewn to the edges that are there.
Threaded with_threads(SkinSolids part, const plan::Plan& plan, const std::string& making);

/// The kernel integrates a thread's faces to this share of its grooves; measured at most 3e-7.
inline constexpr double thread_relative = 1e-5;

}  // namespace fitup::solid
