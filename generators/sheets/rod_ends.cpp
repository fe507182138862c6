#include "sheets/rod_ends.hpp"

#include "plan/thread_form.hpp"

namespace fitup::sheets {

RodEndShape end_shape(const plan::Rod& rod, std::size_t end) {
    const plan::RodEnd& made = rod.ends[end];
    const double shank_mm = rod.diameter_mm / 2.0;
    const bool is_worked = made.thread || made.length_mm > 0.0;
    const double outer_mm = is_worked ? made.diameter_mm / 2.0 : shank_mm;
    const double face_mm = plan::face_radius_mm(rod, end);
    RodEndShape shape;
    shape.rings.push_back({0.0, face_mm});
    if (outer_mm - face_mm > plan::same_point_mm) {
        shape.reach_mm = outer_mm - face_mm;  // chamfers are of 45 degrees
        shape.rings.push_back({shape.reach_mm, outer_mm});
    }
    if (shank_mm - outer_mm > plan::same_point_mm) {
        shape.reach_mm = plan::stepped_length_mm(rod, end);
        shape.rings.push_back({shape.reach_mm, outer_mm});
        shape.rings.push_back({shape.reach_mm, shank_mm});
    }
    if (made.thread) {
        shape.thread_mm = made.length_mm;
        shape.root_radius_mm = plan::thread_form(*made.thread).minor_radius_mm();
    }
    return shape;
}

}  // namespace fitup::sheets
