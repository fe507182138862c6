#include "plan/rod_strength.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/vector3.hpp"

namespace fitup::plan {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double mpa_per_gpa = 1000.0;  // N/mm2, with forces in N and lengths in mm

double area_mm2(double diameter_mm) { return pi / 4.0 * diameter_mm * diameter_mm; }

/// The line through both pins.
struct PinLine {
    Vector from{};
    Vector along{};
    double length_mm = 0.0;

    double off_mm(const Vector& point) const {
        const Vector to = point - from;
        return length(to - along * dot(to, along));
    }
};

PinLine pin_line(const Rod& rod) {
    const auto [first, second] = pins(rod);
    return {first, unit(second - first), length(second - first)};
}

/// The greatest value of a smooth f on an interval: the best of some samples, closed in on by thirds.
template <typename Function>
double greatest(double from, double to, const Function& f) {
    constexpr int samples = 32;  // an arc under 180 degrees strays from a line by two humps at most
    const double step = (to - from) / samples;
    double best = from;
    for (int i = 1; i <= samples; ++i) {
        if (f(from + i * step) > f(best)) best = from + i * step;
    }
    double low = std::max(from, best - step), high = std::min(to, best + step);
    for (int i = 0; i < 100; ++i) {
        const double third = (high - low) / 3.0;
        if (f(low + third) < f(high - third)) {
            low += third;
        } else {
            high -= third;
        }
    }
    return std::max(f(best), f((low + high) / 2.0));
}

/// On a straight the distance from a line is convex, so its ends are farthest off; on an arc between them.
double farthest_off_mm(const RodPath& path, const PinLine& line) {
    double most_mm = 0.0;
    for (const RodStraight& straight : path.straights)
        most_mm = std::max({most_mm, line.off_mm(straight.from), line.off_mm(straight.to)});
    for (const RodBend& bend : path.bends) {
        const auto off_mm = [&](double along_mm) { return line.off_mm(path.place_at(along_mm).at); };
        most_mm = std::max(most_mm, greatest(bend.mark_mm, bend.mark_mm + bend.length_mm(), off_mm));
    }
    return most_mm;
}

/// Integral of f over a piece of the centreline by Gauss' rule of eight points; exact for polynomials to the
/// 15th degree, so on straights always, on arcs under 180 degrees to about 1e-12.
template <typename Function>
double integral(double from_mm, double length_mm, const Function& f) {
    constexpr std::array<double, 4> place{0.1834346424956498, 0.5255324099163290, 0.7966664774136267,
                                          0.9602898564975363};
    constexpr std::array<double, 4> weight{0.3626837833783620, 0.3137066458778873, 0.2223810344533745,
                                           0.1012285362903763};
    const double half_mm = length_mm / 2.0, middle_mm = from_mm + half_mm;
    double sum = 0.0;
    for (std::size_t i = 0; i < place.size(); ++i)
        sum += weight[i] * (f(middle_mm - place[i] * half_mm) + f(middle_mm + place[i] * half_mm));
    return sum * half_mm;
}

/// L / (2 r) sqrt(P / (E A)), which is pi/2 sqrt(P / Euler's load).
double half_wave_rad(double diameter_mm, double length_mm, double youngs_modulus_gpa, double push_n) {
    const double stiffness_n = youngs_modulus_gpa * mpa_per_gpa * area_mm2(diameter_mm);
    return length_mm / (diameter_mm / 2.0) * std::sqrt(push_n / stiffness_n);
}

double secant(double angle_rad) {
    return angle_rad < pi / 2.0 ? 1.0 / std::cos(angle_rad) : std::numeric_limits<double>::infinity();
}

/// Stress in one end's thread, with the moment of where it lies off the pins' line at its worst.
double thread_stress_mpa(const Rod& rod, const RodPath& path, const PinLine& line, std::size_t end,
                         double force_n) {
    const RodEnd& made = rod.ends[end];
    if (!made.thread) return 0.0;
    const double minor_mm = made.thread->minor_mm;
    const double outer_mm = end == 0 ? 0.0 : path.length_mm;
    const double inner_mm = end == 0 ? made.length_mm : path.length_mm - made.length_mm;
    const double off_mm =
        std::max(line.off_mm(path.place_at(outer_mm).at), line.off_mm(path.place_at(inner_mm).at));
    return force_n / area_mm2(minor_mm) * (1.0 + 8.0 * off_mm / minor_mm);
}

/// Shortening of the whole from pin to pin, x E A / P: cos^2 of the slope for the direct force, and
/// offset^2 / r^2 for the moment. The fittings are taken as stiff as the rod.
double give_sum_mm(const Rod& rod, const RodPath& path, const PinLine& line) {
    const double gyration_square = rod.diameter_mm * rod.diameter_mm / 16.0;
    const auto share = [&](const Vector& at, const Vector& along) {
        const double slope = dot(along, line.along), off_mm = line.off_mm(at);
        return slope * slope + off_mm * off_mm / gyration_square;
    };
    const auto on_straight = [&](const Vector& from, const Vector& to) {
        const Vector along = unit(to - from);
        return integral(0.0, length(to - from), [&](double s) { return share(from + along * s, along); });
    };
    const auto [first, second] = pins(rod);
    double sum_mm = on_straight(first, rod.corners.front()) + on_straight(rod.corners.back(), second);
    for (const RodStraight& straight : path.straights) sum_mm += on_straight(straight.from, straight.to);
    for (const RodBend& bend : path.bends) {
        sum_mm += integral(bend.mark_mm, bend.length_mm(), [&](double s) {
            const RodPath::Place place = path.place_at(s);
            return share(place.at, place.along);
        });
    }
    return sum_mm;
}

}  // namespace

Buckling round_column(double diameter_mm, double length_mm, double youngs_modulus_gpa,
                      std::optional<double> yield_mpa) {
    const double modulus_mpa = youngs_modulus_gpa * mpa_per_gpa;
    const double area = area_mm2(diameter_mm);
    Buckling column;
    column.slenderness = length_mm / (diameter_mm / 4.0);
    const double square = column.slenderness * column.slenderness;
    if (yield_mpa) column.change_over = std::sqrt(2.0 * pi * pi * modulus_mpa / *yield_mpa);
    column.is_euler = !column.change_over || column.slenderness >= *column.change_over;
    column.load_n = column.is_euler
                        ? pi * pi * modulus_mpa * area / square
                        : area * *yield_mpa * (1.0 - *yield_mpa * square / (4.0 * pi * pi * modulus_mpa));
    return column;
}

std::optional<Buckling> buckling(const Rod& rod, const Material& material) {
    const double length_mm = pin_line(rod).length_mm;
    if (!material.youngs_modulus_gpa || !(length_mm > 0.0)) return {};
    return round_column(rod.diameter_mm, length_mm, *material.youngs_modulus_gpa, material.yield_mpa);
}

BentShare bent_share(const Rod& rod, const RodPath& path) {
    const PinLine line = pin_line(rod);
    BentShare share;
    share.eccentricity_mm = path.bends.empty() ? 0.0 : farthest_off_mm(path, line);
    const double ratio = share.eccentricity_mm / rod.diameter_mm;
    share.stress_times = 1.0 + 8.0 * ratio;
    share.even_moment_times = 1.0 + 16.0 * ratio * ratio;
    // Pins in one place leave no straight rod to compare with.
    if (path.bends.empty() || line.length_mm < same_point_mm) return share;
    share.give_times = give_sum_mm(rod, path, line) / line.length_mm;
    return share;
}

double secant_stress_mpa(double diameter_mm, double length_mm, double eccentricity_mm,
                         double youngs_modulus_gpa, double push_n) {
    const double wave = half_wave_rad(diameter_mm, length_mm, youngs_modulus_gpa, push_n);
    if (wave >= pi / 2.0) return std::numeric_limits<double>::infinity();
    return push_n / area_mm2(diameter_mm) * (1.0 + 8.0 * eccentricity_mm / diameter_mm * secant(wave));
}

double secant_deflection_mm(double diameter_mm, double length_mm, double eccentricity_mm,
                            double youngs_modulus_gpa, double push_n) {
    const double wave = half_wave_rad(diameter_mm, length_mm, youngs_modulus_gpa, push_n);
    if (wave >= pi / 2.0) return std::numeric_limits<double>::infinity();
    return eccentricity_mm * (secant(wave) - 1.0);
}

double LoadedRod::most_mpa() const { return std::max({pull_mpa, push_mpa.value_or(0.0), thread_mpa}); }

std::optional<LoadedRod> loaded(const Rod& rod, const RodPath& path, const Material& material) {
    if (!rod.load) return {};
    const PinLine line = pin_line(rod);
    const BentShare share = bent_share(rod, path);
    const double greater_n = std::max(rod.load->push_n, rod.load->pull_n);
    LoadedRod result;
    result.direct_mpa = greater_n / area_mm2(rod.diameter_mm);
    result.pull_mpa = rod.load->pull_n / area_mm2(rod.diameter_mm) * share.stress_times;
    if (material.youngs_modulus_gpa) {
        const double modulus_gpa = *material.youngs_modulus_gpa;
        result.push_mpa = secant_stress_mpa(rod.diameter_mm, line.length_mm, share.eccentricity_mm,
                                            modulus_gpa, rod.load->push_n);
        result.push_deflection_mm = secant_deflection_mm(
            rod.diameter_mm, line.length_mm, share.eccentricity_mm, modulus_gpa, rod.load->push_n);
    }
    for (const std::size_t end : {std::size_t{0}, std::size_t{1}})
        result.thread_mpa = std::max(result.thread_mpa, thread_stress_mpa(rod, path, line, end, greater_n));
    return result;
}

std::optional<double> yield_push_n(const Rod& rod, const RodPath& path, const Material& material) {
    if (!material.youngs_modulus_gpa || !material.yield_mpa) return {};
    const double length_mm = pin_line(rod).length_mm;
    const double eccentricity_mm = bent_share(rod, path).eccentricity_mm;
    double low_n = 0.0, high_n = area_mm2(rod.diameter_mm) * *material.yield_mpa;
    // The stress grows with the push, so halving finds the one place.
    for (int i = 0; i < 200 && high_n - low_n > 1e-10 * high_n; ++i) {
        const double middle_n = (low_n + high_n) / 2.0;
        const bool holds = secant_stress_mpa(rod.diameter_mm, length_mm, eccentricity_mm,
                                             *material.youngs_modulus_gpa, middle_n) <= *material.yield_mpa;
        (holds ? low_n : high_n) = middle_n;
    }
    return low_n;
}

}  // namespace fitup::plan
