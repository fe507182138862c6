#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

namespace fitup::mesh {

using Triangle = std::array<std::uint32_t, 3>;

/// Half-edge 3 t + k runs from corner k of triangle t to its next corner.
inline constexpr std::uint32_t no_twin = 0xffffffffU;

constexpr std::uint32_t next_in_triangle(std::uint32_t half_edge) {
    return half_edge % 3 == 2 ? half_edge - 2 : half_edge + 1;
}

struct Adjacency {
    /// For each half-edge the one that runs back along it, or no_twin.
    std::vector<std::uint32_t> twin;
    /// No edge runs the same way twice. Where one does, it has no twin.
    bool each_way_once = true;

    bool is_closed() const;
};

/// Cost: linear (a hash table of the edges); 600,000 half-edges about 30 ms.
Adjacency adjacency_of(std::span<const Triangle> triangles);

}  // namespace fitup::mesh
