#pragma once

#include <vector>

#include "plan/rod_path.hpp"
#include "sheets/rod_frame.hpp"

namespace fitup::sheets {

/// A rod's shank as balls in a row, to ask what hides what as seen in a frame. Its ends, as far as they are
/// worked on and a radius at least, hide nothing.
class RodBalls {
  public:
    RodBalls(const plan::Rod& rod, const plan::RodPath& path, const ViewFrame& frame);

    /// Whether metal lies before a place on the rod's surface, by more than a hundredth of its radius.
    bool hide(const Vector& on_surface) const;

  private:
    struct Ball {
        plan::Point at;
        double depth_mm = 0.0;  ///< towards the eye
        double radius_mm = 0.0;
    };
    ViewFrame frame_;
    std::vector<Ball> balls_;
};

}  // namespace fitup::sheets
