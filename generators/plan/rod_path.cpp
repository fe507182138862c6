#include "plan/rod_path.hpp"

#include <algorithm>
#include <cmath>

#include "base/vector3.hpp"

namespace fitup::plan {

namespace {

/// Between two directions, well-conditioned for small angles and for those near 180 degrees.
Angle angle_between(const Vector& a, const Vector& b) {
    return Angle::from_radians(std::atan2(length(cross(a, b)), dot(a, b)));
}

Vector direction(const Rod& rod, std::size_t straight) {
    return unit(rod.corners[straight + 1] - rod.corners[straight]);
}

/// The direction seen along `along`: how far the second normal is turned from the first.
Angle turn_between(const Vector& first, const Vector& second, const Vector& along) {
    return Angle::from_radians(std::atan2(dot(along, cross(first, second)), dot(first, second)));
}

RodBend bend_at(const Rod& rod, std::size_t corner) {
    const Vector in = direction(rod, corner - 1), out = direction(rod, corner);
    const double setback = setback_mm(rod, corner);
    RodBend bend;
    bend.from = rod.corners[corner] - in * setback;
    bend.to = rod.corners[corner] + out * setback;
    bend.axis = unit(cross(in, out));
    bend.outward = cross(in, bend.axis);
    bend.centre = bend.from - bend.outward * rod.bend_radius_mm;
    bend.angle = corner_angle(rod, corner);
    bend.radius_mm = rod.bend_radius_mm;
    return bend;
}

void add_straight(RodPath& path, const Rod& rod, std::size_t index, const Point3& from, double setbacks_mm) {
    RodStraight straight{from, from, direction(rod, index), 0.0};
    const double between_mm = length(rod.corners[index + 1] - rod.corners[index]);
    straight.length_mm = between_mm - setbacks_mm;
    // Two bends that just touch: no sliver of a straight between them.
    if (straight.length_mm < same_point_mm) straight.length_mm = 0.0;
    straight.to = straight.from + straight.along * straight.length_mm;
    path.length_mm += straight.length_mm;
    path.straights.push_back(straight);
}

void add_bend(RodPath& path, const Rod& rod, std::size_t corner) {
    RodBend bend = bend_at(rod, corner);
    bend.mark_mm = path.length_mm;
    bend.middle_mm = path.length_mm + bend.length_mm() / 2.0;
    if (!path.bends.empty())
        bend.turn = turn_between(path.bends.back().axis, bend.axis, path.straights.back().along);
    path.length_mm += bend.length_mm();
    path.bends.push_back(bend);
}

RodPath::Place place_on(const RodBend& bend, double along_mm) {
    const double angle = along_mm / bend.radius_mm;
    const Vector ahead = cross(bend.axis, bend.outward);
    const Vector out = bend.outward * std::cos(angle) + ahead * std::sin(angle);
    return {bend.centre + out * bend.radius_mm, cross(bend.axis, out)};
}

}  // namespace

double RodBend::length_mm() const { return radius_mm * angle.radians(); }

Angle corner_angle(const Rod& rod, std::size_t corner) {
    if (corner == 0 || corner + 1 >= rod.corners.size()) return {};
    return angle_between(direction(rod, corner - 1), direction(rod, corner));
}

double setback_mm(const Rod& rod, std::size_t corner) {
    return rod.bend_radius_mm * (corner_angle(rod, corner) * 0.5).tan();
}

RodPath rod_path(const Rod& rod) {
    RodPath path;
    const std::size_t last = rod.corners.size() - 1;
    double before_mm = 0.0;
    for (std::size_t i = 0; i < last; ++i) {
        const double after_mm = setback_mm(rod, i + 1);
        const Point3 from = i == 0 ? rod.corners.front() : path.bends.back().to;
        add_straight(path, rod, i, from, before_mm + after_mm);
        if (i + 1 < last) add_bend(path, rod, i + 1);
        before_mm = after_mm;
    }
    // The ends lie where the file says, to the last bit.
    path.straights.back().to = rod.corners.back();
    return path;
}

RodPath::Place RodPath::place_at(double along_mm) const {
    const double at_mm = std::clamp(along_mm, 0.0, length_mm);
    const auto next = std::upper_bound(bends.begin(), bends.end(), at_mm,
                                       [](double mm, const RodBend& bend) { return mm < bend.mark_mm; });
    if (next == bends.begin()) return {straights[0].from + straights[0].along * at_mm, straights[0].along};
    const RodBend& bend = *(next - 1);
    const double beyond_mm = at_mm - bend.mark_mm - bend.length_mm();
    if (beyond_mm <= 0.0) return place_on(bend, at_mm - bend.mark_mm);
    const RodStraight& straight = straights[static_cast<std::size_t>(next - bends.begin())];
    return {straight.from + straight.along * std::min(beyond_mm, straight.length_mm), straight.along};
}

std::optional<ThreadedLength> modelled_thread(const Rod& rod, std::size_t end) {
    const RodEnd& made = rod.ends[end];
    if (!made.thread || !made.thread_modelled) return {};
    return ThreadedLength{thread_form(*made.thread), ThreadSide::external, made.thread->hand, made.length_mm,
                          ThreadEnd::run_out};
}

bool has_modelled_thread(const Rod& rod) { return modelled_thread(rod, 0) || modelled_thread(rod, 1); }

std::vector<RodStep> end_steps(const Rod& rod, std::size_t end) {
    if (const auto thread = modelled_thread(rod, end)) {
        const double major_mm = thread->form.major_radius_mm(), at_mm = thread->end_mm();
        if (rod.diameter_mm / 2.0 - major_mm < same_point_mm) return {};
        return {{at_mm, at_mm, major_mm, rod.diameter_mm / 2.0}};
    }
    const RodEnd& made = rod.ends[end];
    const double shank_mm = rod.diameter_mm / 2.0;
    const double turned_mm = made.length_mm > 0.0 ? made.diameter_mm / 2.0 : shank_mm;
    std::vector<RodStep> steps;
    if (made.chamfer_mm > 0.0)
        steps.push_back({0.0, made.chamfer_mm, turned_mm - made.chamfer_mm, turned_mm});
    if (shank_mm - turned_mm < same_point_mm) return steps;
    if (made.chamfer_mm < made.length_mm)
        steps.push_back({made.chamfer_mm, made.length_mm, turned_mm, turned_mm});
    steps.push_back({made.length_mm, made.length_mm, turned_mm, shank_mm});
    return steps;
}

double stepped_length_mm(const Rod& rod, std::size_t end) {
    if (const auto thread = modelled_thread(rod, end)) return thread->end_mm();
    const std::vector<RodStep> steps = end_steps(rod, end);
    return steps.empty() ? 0.0 : steps.back().to_mm;
}

double face_radius_mm(const Rod& rod, std::size_t end) {
    if (const auto thread = modelled_thread(rod, end)) return thread->start_radius_mm();
    const std::vector<RodStep> steps = end_steps(rod, end);
    return steps.empty() ? rod.diameter_mm / 2.0 : steps.front().from_radius_mm;
}

}  // namespace fitup::plan
