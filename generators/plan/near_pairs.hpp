#pragma once

#include <algorithm>
#include <cstddef>
#include <numeric>
#include <span>
#include <vector>

#include "plan/stroke.hpp"

namespace fitup::plan {

/// Calls `visit(i, j)` with i < j once for every two boxes nearer than `reach_mm` in both directions; where
/// it returns true, the walk ends.
/// @returns whether it was ended.
/// Cost: a sort, then only boxes that overlap in x are compared.
template <typename Visit>
bool any_near_pair(std::span<const Box2> boxes, double reach_mm, const Visit& visit) {
    std::vector<std::size_t> order(boxes.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return boxes[a].least.x_mm != boxes[b].least.x_mm ? boxes[a].least.x_mm < boxes[b].least.x_mm : a < b;
    });
    for (std::size_t a = 0; a < order.size(); ++a) {
        const Box2& one = boxes[order[a]];
        for (std::size_t b = a + 1; b < order.size(); ++b) {
            const Box2& other = boxes[order[b]];
            if (other.least.x_mm - one.most.x_mm >= reach_mm) break;
            if (other.least.y_mm - one.most.y_mm >= reach_mm || one.least.y_mm - other.most.y_mm >= reach_mm)
                continue;
            const auto [i, j] = std::minmax(order[a], order[b]);
            if (visit(i, j)) return true;
        }
    }
    return false;
}

}  // namespace fitup::plan
