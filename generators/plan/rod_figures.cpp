// A rod's volume, area and box in closed form.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/vector3.hpp"
#include "plan/rod_path.hpp"

namespace fitup::plan {

namespace {

constexpr double pi = std::numbers::pi;

double disc_mm2(double radius_mm) { return pi * radius_mm * radius_mm; }

/// What a step holds and shows: a cylinder, a frustum, or a plane ring.
void add_step(RodFigures& figures, const RodStep& step) {
    const double a = step.from_radius_mm, b = step.to_radius_mm, along_mm = step.to_mm - step.from_mm;
    figures.volume_mm3 += pi / 3.0 * along_mm * (a * a + a * b + b * b);
    figures.area_mm2 += pi * (a + b) * std::hypot(along_mm, b - a);
}

class Extent {
  public:
    /// A disc of the rod, square to `along`.
    void take_disc(const Vector& centre, const Vector& along, double radius_mm) {
        for (std::size_t i = 0; i < 3; ++i) {
            const double reach_mm = radius_mm * std::sqrt(std::max(0.0, 1.0 - along[i] * along[i]));
            take(i, centre[i] - reach_mm, centre[i] + reach_mm);
        }
    }

    /// A bend bulges out farthest where the direction to its outside is the coordinate axis' own, if it
    /// passes there.
    void take_bend(const RodBend& bend, double radius_mm) {
        const Vector ahead = cross(bend.axis, bend.outward);
        for (std::size_t i = 0; i < 3; ++i) {
            const double amplitude = std::hypot(bend.outward[i], ahead[i]);
            const double most = std::atan2(ahead[i], bend.outward[i]);
            const double reach_mm = bend.radius_mm * amplitude + radius_mm;
            if (passes(bend, most)) take(i, bend.centre[i] + reach_mm, bend.centre[i] + reach_mm);
            if (passes(bend, most + pi)) take(i, bend.centre[i] - reach_mm, bend.centre[i] - reach_mm);
        }
    }

    Box box() const { return box_; }

  private:
    static bool passes(const RodBend& bend, double angle) {
        const double ahead = angle - 2.0 * pi * std::floor(angle / (2.0 * pi));
        return ahead <= bend.angle.radians();
    }
    void take(std::size_t axis, double least_mm, double most_mm) {
        box_.least[axis] = std::min(box_.least[axis], least_mm);
        box_.most[axis] = std::max(box_.most[axis], most_mm);
    }
    Box box_{{1e300, 1e300, 1e300}, {-1e300, -1e300, -1e300}};
};

/// The discs at which an end's radius changes, and its face.
void take_end(Extent& extent, const Rod& rod, const RodPath& path, std::size_t end) {
    const RodStraight& straight = end == 0 ? path.straights.front() : path.straights.back();
    const Vector face = end == 0 ? straight.from : straight.to;
    const Vector inward = straight.along * (end == 0 ? 1.0 : -1.0);
    const auto thread = modelled_thread(rod, end);
    extent.take_disc(face, inward, thread ? thread->form.major_radius_mm() : face_radius_mm(rod, end));
    for (const RodStep& step : end_steps(rod, end))
        extent.take_disc(face + inward * step.to_mm, inward, step.to_radius_mm);
}

Box box_of(const Rod& rod, const RodPath& path) {
    Extent extent;
    take_end(extent, rod, path, 0);
    take_end(extent, rod, path, 1);
    for (const RodBend& bend : path.bends) {
        const Vector along_at_start = cross(bend.axis, bend.outward);
        extent.take_disc(bend.from, along_at_start, rod.diameter_mm / 2.0);
        extent.take_disc(bend.to, unit(path.place_at(bend.mark_mm + bend.length_mm()).along),
                         rod.diameter_mm / 2.0);
        extent.take_bend(bend, rod.diameter_mm / 2.0);
    }
    return extent.box();
}

}  // namespace

RodFigures rod_figures(const Rod& rod, const RodPath& path) {
    RodFigures figures;
    double shank_mm = path.length_mm;
    for (const std::size_t end : {std::size_t{0}, std::size_t{1}}) {
        if (const auto thread = modelled_thread(rod, end)) {
            figures.volume_mm3 += thread->enclosed_mm3();
            figures.area_mm2 += pi * thread->form.major_mm * thread->end_mm();
        }
        for (const RodStep& step : end_steps(rod, end)) add_step(figures, step);
        figures.area_mm2 += disc_mm2(face_radius_mm(rod, end));
        shank_mm -= stepped_length_mm(rod, end);
    }
    // Pappus: a round section swept along a line or arc square to it holds area times length, and shows
    // circumference times length.
    figures.volume_mm3 += disc_mm2(rod.diameter_mm / 2.0) * shank_mm;
    figures.area_mm2 += pi * rod.diameter_mm * shank_mm;
    figures.box = box_of(rod, path);
    return figures;
}

double volume_within(const Rod& rod) { return has_modelled_thread(rod) ? 1e-6 : 1e-9; }

}  // namespace fitup::plan
