#include "exchange/kernel_side/walls.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <numeric>

#include "base/union_find.hpp"

namespace fitup::exchange {
namespace {

constexpr double full_turn = 2.0 * std::numbers::pi;
/// Coordinates of one wall's faces repeat to the last digits of the file; neighbouring walls differ by far
/// more.
constexpr double same_wall_mm = 1e-6;
constexpr double same_direction = 1e-9;

double distance(const plan::Point3& a, const plan::Point3& b) {
    return std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

bool belong_together(const WallPiece& a, const WallPiece& b) {
    return a.is_hole == b.is_hole && std::abs(a.radius_mm - b.radius_mm) < same_wall_mm &&
           distance(a.foot, b.foot) < same_wall_mm && distance(a.axis, b.axis) < same_direction &&
           a.low_mm < b.high_mm + same_wall_mm && b.low_mm < a.high_mm + same_wall_mm;
}

/// For each piece the first piece of its wall. Sorted by x, only pieces with nearly the same x need be
/// compared.
std::vector<std::size_t> walls_of(const std::vector<WallPiece>& pieces) {
    std::vector<std::size_t> order(pieces.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    UnionFind walls(pieces.size());
    std::sort(order.begin(), order.end(), [&](auto a, auto b) { return pieces[a].foot < pieces[b].foot; });
    for (std::size_t i = 0; i < order.size(); ++i) {
        for (std::size_t j = i + 1; j < order.size(); ++j) {
            if (pieces[order[j]].foot[0] - pieces[order[i]].foot[0] > same_wall_mm) break;
            if (belong_together(pieces[order[i]], pieces[order[j]])) walls.join(order[i], order[j]);
        }
    }
    std::vector<std::size_t> first(pieces.size());
    for (std::size_t i = 0; i < first.size(); ++i) first[i] = walls.find(i);
    return first;
}

/// How much of the turn at least one piece covers, in degrees.
double covered_deg(const std::vector<const WallPiece*>& pieces) {
    std::vector<std::pair<double, double>> ranges;
    for (const auto* piece : pieces) {
        for (const Turn& turn : piece->turns) {
            const double start = turn.from_rad - full_turn * std::floor(turn.from_rad / full_turn);
            const double end = start + std::min(turn.sweep_rad, full_turn);
            ranges.emplace_back(start, std::min(end, full_turn));
            if (end > full_turn) ranges.emplace_back(0.0, end - full_turn);
        }
    }
    std::sort(ranges.begin(), ranges.end());
    double covered = 0.0;
    double reached = 0.0;
    for (const auto& [start, end] : ranges) {
        covered += std::max(0.0, end - std::max(start, reached));
        reached = std::max(reached, end);
    }
    const double degrees = covered * 360.0 / full_turn;
    return degrees > 360.0 - 1e-6 ? 360.0 : degrees;
}

Cylinder wall_of(const std::vector<const WallPiece*>& pieces) {
    const WallPiece& first = *pieces.front();
    Cylinder wall;
    wall.axis = first.axis;
    wall.radius_mm = first.radius_mm;
    wall.is_hole = first.is_hole;
    wall.low_mm = first.low_mm;
    wall.high_mm = first.high_mm;
    for (const auto* piece : pieces) {
        wall.low_mm = std::min(wall.low_mm, piece->low_mm);
        wall.high_mm = std::max(wall.high_mm, piece->high_mm);
        const bool is_new = std::find(wall.names.begin(), wall.names.end(), piece->name) == wall.names.end();
        if (!piece->name.empty() && is_new) wall.names.push_back(piece->name);
    }
    for (std::size_t i = 0; i < 3; ++i) wall.axis_point[i] = first.foot[i] + first.axis[i] * wall.low_mm;
    wall.sweep_deg = covered_deg(pieces);
    return wall;
}

}  // namespace

std::vector<Cylinder> joined_walls(std::vector<WallPiece> pieces) {
    const auto first_of = walls_of(pieces);
    std::map<std::size_t, std::vector<const WallPiece*>> walls;
    for (std::size_t i = 0; i < pieces.size(); ++i) walls[first_of[i]].push_back(&pieces[i]);
    std::vector<Cylinder> result;
    for (const auto& [first, wall] : walls) result.push_back(wall_of(wall));
    return result;
}

}  // namespace fitup::exchange
