// The finest mesh that is still made, for whoever asked for a finer one.
#include <cmath>

#include "mesh/mesh.hpp"

namespace fitup::mesh {

namespace {

/// Below these a limit means nothing: single-precision corners are coarser, and counts leave an int.
constexpr double least_share_of_widest = 1e-9;

/// The next number up with two digits that count.
double two_digits_up(double value) {
    const double unit = std::pow(10.0, std::floor(std::log10(value)) - 1.0);
    // Divided where it can be: 21 / 1000 is the double nearest to 0.021, 21 * 0.001 is not.
    const double digits = std::ceil(value / unit - 1e-9);
    return unit < 1.0 ? digits / std::round(1.0 / unit) : digits * unit;
}

/// The least value up to `widest` that `will_do`; a larger one does wherever a smaller one does.
template <typename Test>
std::optional<double> least(double widest, const Test& will_do) {
    if (!will_do(widest)) return {};
    double low = std::log(widest * least_share_of_widest);
    double high = std::log(widest);
    // 21 halvings narrow nine powers of ten to a hundred thousandth, far under the two digits that are told.
    for (int i = 0; i < 21; ++i) {
        const double middle = 0.5 * (low + high);
        (will_do(std::exp(middle)) ? high : low) = middle;
    }
    return two_digits_up(std::exp(high));
}

}  // namespace

std::optional<double> least_chord_mm(const CountOfTriangles& count, Angle angle) {
    return least(widest_chord_mm, [&](double chord_mm) {
        return count({chord_mm, angle}) <= most_triangles;
    });
}

std::optional<Angle> least_angle(const CountOfTriangles& count, double chord_mm) {
    const auto degrees = least(widest_angle_deg, [&](double angle_deg) {
        return count({chord_mm, Angle::from_degrees(angle_deg)}) <= most_triangles;
    });
    if (!degrees) return {};
    return Angle::from_degrees(*degrees);
}

}  // namespace fitup::mesh
