#include "parts/mockup_room.hpp"

#include <algorithm>

#include "plan/cuts.hpp"
#include "plan/stroke.hpp"
#include "plan/vector.hpp"

namespace fitup::parts {

namespace {

bool is_near(const plan::Contour& first, const plan::Box2& first_box, const plan::Contour& second,
             const plan::Box2& second_box, double margin_mm) {
    return plan::distance_mm(first_box, second_box) < margin_mm &&
           plan::gap(first, second).distance_mm < margin_mm;
}

}  // namespace

Room::Room(const Region& region) : outline_(region.outline) {
    for (const Opening& opening : region.openings) take(opening.curve);
    for (const plan::Hole& hole : region.holes) take(plan::shaft_contour(hole));
}

bool Room::is_free(const plan::Contour& shape, double margin_mm) const {
    const plan::Box2 box = shape.box();
    const auto is_in_the_way = [&](const Taken& one) {
        if (is_near(shape, box, one.curve, one.box, margin_mm)) return true;
        return one.is_solid && (one.curve.contains(start_of(shape)) || shape.contains(start_of(one.curve)));
    };
    if (!outline_.contains(start_of(shape))) return false;
    if (std::any_of(taken_.begin(), taken_.end(), is_in_the_way)) return false;
    return plan::gap(outline_, shape).distance_mm >= margin_mm;
}

bool Room::is_plainly_taken(const plan::Box2& shape, double margin_mm) const {
    const plan::Point middle = (shape.least + shape.most) * 0.5;
    for (const plan::Point& corner :
         {middle, shape.least, shape.most, plan::Point{shape.least.x_mm, shape.most.y_mm},
          plan::Point{shape.most.x_mm, shape.least.y_mm}}) {
        if (!outline_.contains(corner)) return true;
    }
    return std::any_of(taken_.begin(), taken_.end(), [&](const Taken& one) {
        if (!one.is_solid || plan::distance_mm(shape, one.box) >= margin_mm) return false;
        const plan::Circle* round = one.curve.circle();
        return round != nullptr ? plan::distance_mm(shape, round->centre) < round->radius_mm + margin_mm
                                : one.curve.contains(middle);
    });
}

bool Room::is_free(const plan::Box2& shape, double margin_mm) const {
    if (is_plainly_taken(shape, margin_mm)) return false;
    const plan::Point size = shape.most - shape.least;
    return is_free(plan::rectangle((shape.least + shape.most) * 0.5, size.x_mm, size.y_mm, 0.0, {}),
                   margin_mm);
}

}  // namespace fitup::parts
