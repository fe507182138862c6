#include "plan/joggle.hpp"

#include <algorithm>
#include <cmath>

namespace fitup::plan {

namespace {

/// Relative rounding of s^2 where rise and run are just possible, as for the least run to the last digit.
constexpr double rounding = 1e-12;

double middle_radius_mm(const Joggle& joggle, double thickness_mm) {
    return joggle.inside_radius_mm + thickness_mm / 2.0;
}

/// Least run for a rise of `rise_mm` that is not negative: up to two radii the bends meet without a straight
/// between them, beyond that they are quarter turns.
double least_run_mm(double rise_mm, double radius_mm) {
    return rise_mm < 2.0 * radius_mm ? std::sqrt(rise_mm * (4.0 * radius_mm - rise_mm)) : 2.0 * radius_mm;
}

}  // namespace

double bend_allowance_mm(Angle bend, double inside_radius_mm, double thickness_mm, double k_factor) {
    return bend.radians() * (inside_radius_mm + k_factor * thickness_mm);
}

std::optional<JoggleShape> joggle_shape(const Joggle& joggle, double thickness_mm) {
    const double rise_mm = std::abs(joggle.rise_mm);
    const double radius_mm = middle_radius_mm(joggle, thickness_mm);
    if (!(rise_mm > 0.0) || !(joggle.run_mm >= least_run_mm(rise_mm, radius_mm) * (1.0 - rounding)))
        return std::nullopt;
    const double square = joggle.run_mm * joggle.run_mm + rise_mm * rise_mm - 4.0 * radius_mm * rise_mm;
    JoggleShape shape;
    shape.straight_mm = square > rounding * radius_mm * radius_mm ? std::sqrt(square) : 0.0;
    // The run and the rise less two radii are the straight and two radii, turned by the bend angle.
    const double angle_rad =
        std::atan2(rise_mm - 2.0 * radius_mm, joggle.run_mm) + std::atan2(2.0 * radius_mm, shape.straight_mm);
    shape.bend = Angle::from_radians(angle_rad);
    shape.mid_line_mm = 2.0 * radius_mm * angle_rad + shape.straight_mm;
    shape.allowance_mm =
        bend_allowance_mm(shape.bend, joggle.inside_radius_mm, thickness_mm, joggle.k_factor);
    shape.developed_mm = 2.0 * shape.allowance_mm + shape.straight_mm;
    return shape;
}

JoggleLimits joggle_limits(const Joggle& joggle, double thickness_mm) {
    const double rise_mm = std::abs(joggle.rise_mm);
    const double run_mm = joggle.run_mm;
    const double radius_mm = middle_radius_mm(joggle, thickness_mm);
    JoggleLimits limits{least_run_mm(rise_mm, radius_mm), std::nullopt, std::nullopt};
    if (run_mm < 2.0 * radius_mm)
        limits.most_rise_mm = 2.0 * radius_mm - std::sqrt(4.0 * radius_mm * radius_mm - run_mm * run_mm);
    const double most_mm =
        run_mm < rise_mm ? run_mm / 2.0 : (run_mm * run_mm + rise_mm * rise_mm) / (4.0 * rise_mm);
    if (most_mm > thickness_mm / 2.0) limits.most_inside_radius_mm = most_mm - thickness_mm / 2.0;
    return limits;
}

JoggleProfile joggle_profile(const Joggle& joggle, double thickness_mm, const JoggleShape& shape) {
    const double inside_mm = joggle.inside_radius_mm;
    const double outside_mm = inside_mm + thickness_mm;
    const double rise_mm = std::abs(joggle.rise_mm);
    const double end_mm = joggle.start_mm + joggle.run_mm;
    const Point first{joggle.start_mm, outside_mm};
    const Point second{end_mm, rise_mm - inside_mm};
    const double sine = shape.bend.sin();
    const double cosine = shape.bend.cos();
    const auto after_first = [&](double radius_mm) {
        return Point{first.x_mm + radius_mm * sine, first.y_mm - radius_mm * cosine};
    };
    const auto before_second = [&](double radius_mm) {
        return Point{second.x_mm - radius_mm * sine, second.y_mm + radius_mm * cosine};
    };
    JoggleProfile profile{{Point{joggle.start_mm, 0.0}, after_first(outside_mm), before_second(inside_mm),
                           Point{end_mm, rise_mm}},
                          {Point{joggle.start_mm, thickness_mm}, after_first(inside_mm),
                           before_second(outside_mm), Point{end_mm, rise_mm + thickness_mm}},
                          {first, second}};
    if (joggle.rise_mm > 0.0) return profile;
    // Down is up turned over about the middle of the first leg.
    const auto turn_over = [&](Point& point) { point.y_mm = thickness_mm - point.y_mm; };
    for (auto* points : {&profile.lower, &profile.upper})
        std::for_each(points->begin(), points->end(), turn_over);
    std::for_each(profile.centre.begin(), profile.centre.end(), turn_over);
    std::swap(profile.lower, profile.upper);
    return profile;
}

bool is_in_joggle(const Joggle& joggle, double x_mm) {
    return x_mm > joggle.start_mm && x_mm < joggle.start_mm + joggle.run_mm;
}

}  // namespace fitup::plan
