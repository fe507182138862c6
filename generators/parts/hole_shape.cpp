#include "parts/hole_shape.hpp"

#include <algorithm>

#include "parts/recess.hpp"

namespace fitup::parts {

namespace {

/// Pitches below a thread that its drill goes by default: settled in the file format.
constexpr double usual_pitches_below = 5.0;

/// True where `depth_mm` stays inside the plate; else a fault.
bool is_inside_plate(Reader& reader, const Field& field, double depth_mm, double thickness_mm) {
    if (depth_mm < thickness_mm) return true;
    reader.wrong(field, "less than the thickness, " + reader.length_text(thickness_mm), "or \"through\"");
    return false;
}

void make_through(plan::Hole& hole, double thickness_mm) {
    hole.through = true;
    hole.depth_mm = thickness_mm;
    hole.point_angle.reset();
}

void make_blind(plan::Hole& hole, double depth_mm, std::optional<Angle> point) {
    hole.through = false;
    hole.depth_mm = depth_mm;
    hole.point_angle = point;
}

double tap_drill_depth_mm(Reader& reader, const HoleParameters& parameters, double thickness_mm) {
    const double thread_mm = *parameters.depth_mm;
    const plan::Hole& hole = parameters.hole;
    if (!parameters.drill_depth_mm) {
        const double point_mm =
            parameters.point_angle ? point_height_mm(hole.diameter_mm, *parameters.point_angle) : 0.0;
        return usual_drill_depth_mm(thread_mm, hole.thread->pitch_mm, point_mm, thickness_mm);
    }
    const Field field = parameters.field["drill_depth"];
    if (*parameters.drill_depth_mm < thread_mm) {
        reader.wrong(field, "at least the thread's depth, " + reader.length_text(thread_mm));
    }
    is_inside_plate(reader, field, *parameters.drill_depth_mm, thickness_mm);
    return *parameters.drill_depth_mm;
}

void set_depth(Reader& reader, const HoleParameters& parameters, double thickness_mm, plan::Hole& hole) {
    if (hole.thread) hole.thread->depth_mm = parameters.depth_mm.value_or(thickness_mm);
    if (!parameters.depth_mm) return make_through(hole, thickness_mm);
    if (!is_inside_plate(reader, parameters.field["depth"], *parameters.depth_mm, thickness_mm)) return;
    if (parameters.is_drilled_through) return make_through(hole, thickness_mm);
    const double depth_mm =
        hole.thread ? tap_drill_depth_mm(reader, parameters, thickness_mm) : *parameters.depth_mm;
    make_blind(hole, depth_mm, parameters.point_angle);
}

/// The widest the hole itself gets, once finished.
double widest_mm(const plan::Hole& hole) {
    return std::max(
        {hole.diameter_mm, hole.finish_diameter_mm.value_or(0.0), hole.slot_length_mm.value_or(0.0)});
}

/// A widening (recess, countersink) is wider than the hole and lies at the mouth of a blind one.
void check_widening(Reader& reader, const Field& field, const plan::Hole& hole, plan::Side side,
                    double diameter_mm) {
    if (!hole.through && side != hole.from) {
        reader.wrong(field["side"],
                     std::string(plan::to_text(hole.from)) + ", the face the blind hole is made from");
    }
    if (diameter_mm <= widest_mm(hole)) {
        reader.wrong(field["diameter"], "more than the hole's " + reader.length_text(widest_mm(hole)));
    }
}

/// What a widening must be less deep than.
std::string depth_limit(const Reader& reader, const plan::Hole& hole) {
    return (hole.through ? "the thickness, " : "the hole's depth, ") + reader.length_text(hole.depth_mm);
}

void check_recess(Reader& reader, const Field& field, const plan::Hole& hole) {
    const plan::Recess& recess = *hole.recess;
    check_widening(reader, field, hole, recess.side, recess.diameter_mm);
    if (recess.depth_mm < hole.depth_mm) return;
    const bool is_stated = reader.length_mm(field["depth"]).has_value();
    reader.wrong(field["depth"], "less than " + depth_limit(reader, hole),
                 is_stated ? "" : "flush comes out at " + reader.length_text(recess.depth_mm));
}

void check_countersink(Reader& reader, const Field& field, const plan::Hole& hole) {
    const plan::Countersink& countersink = *hole.countersink;
    check_widening(reader, field, hole, countersink.side, countersink.diameter_mm);
    const double cone_mm = depth_mm(countersink, hole.diameter_mm);
    if (cone_mm < hole.depth_mm) return;
    reader.wrong(field["diameter"], "a cone less deep than " + depth_limit(reader, hole),
                 "it comes out " + reader.length_text(cone_mm) + " deep");
}

}  // namespace

double usual_drill_depth_mm(double thread_depth_mm, double pitch_mm, double point_mm, double thickness_mm) {
    const double allowed_mm = thickness_mm - least_floor_mm - point_mm;
    return std::max(thread_depth_mm, std::min(thread_depth_mm + usual_pitches_below * pitch_mm, allowed_mm));
}

plan::Hole shaped_hole(Reader& reader, const HoleParameters& parameters, double thickness_mm) {
    plan::Hole hole = parameters.hole;
    set_depth(reader, parameters, thickness_mm, hole);
    if (parameters.slot) hole.slot_length_mm = parameters.slot->length_mm;
    if (hole.recess) check_recess(reader, parameters.field["recess"], hole);
    if (hole.countersink) check_countersink(reader, parameters.field["countersink"], hole);
    return hole;
}

}  // namespace fitup::parts
