#include "sheets/size_text.hpp"

#include "base/both_units.hpp"
#include "base/text.hpp"
#include "base/units.hpp"

namespace fitup::sheets {

namespace {

std::string depth_text(const plan::Plan& plan, bool through, double depth_mm) {
    return through && depth_mm >= plan.body.thickness_mm ? "through" : short_text(depth_mm, 2) + " mm deep";
}

}  // namespace

std::string over_all_text(const plan::Box& box) {
    std::string mm, inch;
    for (std::size_t axis = 0; axis < 3; ++axis) {
        const double size_mm = box.most[axis] - box.least[axis];
        mm += (axis > 0 ? " x " : "") + short_text(size_mm, 3);
        inch += (axis > 0 ? " x " : "") + short_text(size_mm / mm_per_inch, 4);
    }
    return mm + " mm (" + inch + " in)";
}

std::string limits_text(const plan::Fit& fit) {
    const double least_mm = fit.nominal_mm + fit.lower_um / 1000.0;
    const double most_mm = fit.nominal_mm + fit.upper_um / 1000.0;
    return fit.tolerance_class + ": " + fixed_text(least_mm, 3) + " to " + fixed_text(most_mm, 3) + " mm, " +
           fixed_text(least_mm / mm_per_inch, 4) + " to " + fixed_text(most_mm / mm_per_inch, 4) + " in";
}

std::string readout_mm(double length_mm) { return fixed_text(length_mm, 2); }
std::string readout_in(double length_mm) { return fixed_text(length_mm / mm_per_inch, 4); }

std::string readout_text(double length_mm) {
    return readout_mm(length_mm) + " mm (" + readout_in(length_mm) + " in)";
}

std::string hole_text(const plan::Plan& plan, const plan::Hole& hole) {
    std::string text;
    if (hole.slot_length_mm) {
        text = "slot " + both_units(hole.diameter_mm) + " wide, " + both_units(*hole.slot_length_mm) +
               " long over all";
    } else if (hole.thread) {
        const plan::Thread& thread = *hole.thread;
        text = thread.designation + (thread.hand == plan::Hand::left ? " left-hand" : "") + ", thread " +
               depth_text(plan, hole.through, thread.depth_mm) + ", drilled " +
               (hole.through ? "through" : short_text(hole.depth_mm, 2) + " mm deep") + "; modelled " +
               short_text(hole.diameter_mm, 3) + " mm";
    } else {
        text = std::string(plan::to_text(hole.kind)) + " " + both_units(hole.diameter_mm) + " " +
               depth_text(plan, hole.through, hole.depth_mm);
    }
    if (hole.fit) text += "; " + limits_text(*hole.fit);
    if (hole.finish_diameter_mm)
        text += "; pilot only, reamed to " + both_units(*hole.finish_diameter_mm) + " at assembly";
    if (hole.recess)
        text += "; counterbore " + both_units(hole.recess->diameter_mm) + ", " +
                short_text(hole.recess->depth_mm, 2) + " mm deep on side " + plan::to_text(hole.recess->side);
    if (hole.countersink)
        text += "; countersink " + both_units(hole.countersink->diameter_mm) + ", " +
                short_text(hole.countersink->angle.degrees(), 1) + " degrees, on side " +
                plan::to_text(hole.countersink->side);
    return text + ", from side " + plan::to_text(hole.from);
}

}  // namespace fitup::sheets
