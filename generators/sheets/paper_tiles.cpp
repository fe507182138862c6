#include "sheets/paper_tiles.hpp"

#include <algorithm>

namespace fitup::sheets {

namespace {

/// The farthest place up to `most` that lies in nothing kept; `least` where there is none.
double farthest_free(double least, double most, const std::vector<Kept>& kept) {
    double at = most;
    for (bool moved = true; moved;) {
        moved = false;
        for (const Kept& one : kept) {
            if (at <= one.from_mm || at >= one.to_mm) continue;
            at = one.from_mm;
            moved = true;
        }
    }
    return std::max(at, least);
}

}  // namespace

std::vector<double> cuts_between(double from_mm, double to_mm, double most_mm,
                                 const std::vector<Kept>& kept) {
    // A sheet that is filled less than a third wastes paper and makes joints.
    const double least_step_mm = most_mm / 3.0;
    std::vector<double> cuts;
    for (double at = from_mm; to_mm - at > most_mm;) {
        const double free_mm = farthest_free(at + least_step_mm, at + most_mm, kept);
        const bool is_free = free_mm > at + least_step_mm;
        at = is_free ? free_mm : at + most_mm;
        cuts.push_back(at);
    }
    return cuts;
}

}  // namespace fitup::sheets
