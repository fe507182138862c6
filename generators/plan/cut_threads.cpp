#include "plan/cut_threads.hpp"

#include <algorithm>

#include "plan/drill_point.hpp"
#include "plan/rod_path.hpp"
#include "plan/thread_form.hpp"

namespace fitup::plan {

namespace {

bool is_modelled(const Hole& hole) { return hole.thread && hole.thread->modelled; }

/// How much less deep the full width goes where the same cone begins at a wider hole.
double point_moves_up_mm(const Hole& hole, double wider_mm) {
    if (!hole.point_angle) return 0.0;
    return point_height_mm(wider_mm - hole.diameter_mm, *hole.point_angle);
}

void cut_away(Hole& hole) {
    const double major_mm = hole.thread->major_mm;
    if (!hole.through) hole.depth_mm -= point_moves_up_mm(hole, major_mm);
    hole.diameter_mm = major_mm;
    hole.thread->modelled = false;
    const double wider_mm = major_mm + same_point_mm;
    if (hole.recess && hole.recess->diameter_mm < wider_mm) hole.recess.reset();
    if (hole.countersink && hole.countersink->diameter_mm < wider_mm) hole.countersink.reset();
}

RodEnd turned_down(const ThreadedLength& thread) {
    return {.diameter_mm = 2.0 * thread.form.minor_radius_mm(),
            .length_mm = thread.end_mm(),
            .thread = std::nullopt};
}

/// What was a collar of no length between the shoulders is gone; a chamfer keeps its cone.
void take_away_shank(Rod& rod, const std::array<bool, 2>& is_cut) {
    double core_mm = 0.0;
    for (std::size_t end = 0; end < rod.ends.size(); ++end) {
        if (is_cut[end]) core_mm = std::max(core_mm, rod.ends[end].diameter_mm);
    }
    for (std::size_t end = 0; end < rod.ends.size(); ++end) {
        if (is_cut[end]) continue;
        RodEnd& plain = rod.ends[end];
        plain.chamfer_mm = std::max(0.0, plain.chamfer_mm - (rod.diameter_mm - core_mm) / 2.0);
        plain.diameter_mm = core_mm;
    }
    rod.diameter_mm = core_mm;
}

void cut_away(Rod& rod) {
    // Half of what is left between shoulders on purpose.
    constexpr double least_shank_mm = 5e-4;
    std::array<bool, 2> is_cut{};
    for (std::size_t end = 0; end < rod.ends.size(); ++end) {
        const auto thread = modelled_thread(rod, end);
        is_cut[end] = thread.has_value();
        if (thread) rod.ends[end] = turned_down(*thread);
    }
    const bool is_straight = rod.corners.size() == 2;
    const double shank_mm = rod_path(rod).length_mm - stepped_length_mm(rod, 0) - stepped_length_mm(rod, 1);
    if (is_straight && shank_mm < least_shank_mm && (is_cut[0] || is_cut[1])) take_away_shank(rod, is_cut);
}

}  // namespace

ModelledThreads modelled_threads(const Plan& plan) {
    ModelledThreads count;
    count.holes = std::size_t(std::count_if(plan.holes.begin(), plan.holes.end(), is_modelled));
    for (std::size_t end = 0; plan.rod && end < plan.rod->ends.size(); ++end)
        count.rod_ends += modelled_thread(*plan.rod, end) ? 1 : 0;
    return count;
}

Plan with_threads_cut_away(Plan plan) {
    for (Hole& hole : plan.holes) {
        if (is_modelled(hole)) cut_away(hole);
    }
    if (plan.rod && has_modelled_thread(*plan.rod)) cut_away(*plan.rod);
    return plan;
}

}  // namespace fitup::plan
