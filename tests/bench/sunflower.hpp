#pragma once

#include <cmath>
#include <string>
#include <vector>

/// The plate that the benchmarks make: a disc of 800 mm, 40 thick, a bore of 150, and `count - 1` through
/// holes of 9 mm spread like the seeds of a sunflower, so that any number of them lies evenly.
namespace fitup::bench {

inline constexpr double disc_mm = 800.0, thickness_mm = 40.0, bore_mm = 150.0, hole_mm = 9.0;

struct Seed {
    double x_mm = 0.0;
    double y_mm = 0.0;
};

inline std::vector<Seed> seeds(int count) {
    std::vector<Seed> list;
    for (int i = 1; i < count; ++i) {
        const double turn = 2.39996322972865332 * i;  // golden angle
        const double radius = 100.0 + 280.0 * std::sqrt(static_cast<double>(i) / count);
        list.push_back({radius * std::cos(turn), radius * std::sin(turn)});
    }
    return list;
}

}  // namespace fitup::bench
