#include "mesh/adjacency.hpp"

#include <algorithm>
#include <bit>

namespace fitup::mesh {

namespace {

constexpr std::uint32_t shared = 0xfffffffeU;  ///< an edge used twice the same way: nobody's twin

/// Open addressing: an edge (both ways) to the half-edge that ran along it first in each way.
class EdgeTable {
  public:
    explicit EdgeTable(std::size_t edges) : slots_(std::bit_ceil(2 * edges + 2)), mask_(slots_.size() - 1) {}

    struct Slot {
        std::uint64_t key = 0;
        std::array<std::uint32_t, 2> run{no_twin, no_twin};
    };

    Slot& at(std::uint64_t key) {
        std::size_t i = (key * 0x9e3779b97f4a7c15ULL >> 32) & mask_;
        while (slots_[i].key != key && slots_[i].key != 0) i = (i + 1) & mask_;
        slots_[i].key = key;
        return slots_[i];
    }

  private:
    std::vector<Slot> slots_;
    std::size_t mask_;
};

}  // namespace

bool Adjacency::is_closed() const {
    return each_way_once && std::find(twin.begin(), twin.end(), no_twin) == twin.end();
}

Adjacency adjacency_of(std::span<const Triangle> triangles) {
    Adjacency result{std::vector<std::uint32_t>(3 * triangles.size(), no_twin), true};
    EdgeTable table(3 * triangles.size() / 2);
    for (std::uint32_t t = 0; t < triangles.size(); ++t) {
        for (std::uint32_t k = 0; k < 3; ++k) {
            const std::uint32_t from = triangles[t][k];
            const std::uint32_t to = triangles[t][(k + 1) % 3];
            const std::uint32_t half_edge = 3 * t + k;
            const std::size_t way = from < to ? 0 : 1;
            // One added to both, so that no key is 0.
            auto& slot = table.at((std::uint64_t{std::min(from, to)} + 1) << 32 |
                                  (std::uint64_t{std::max(from, to)} + 1));
            if (from == to || slot.run[way] != no_twin) {
                result.each_way_once = false;
                for (const std::uint32_t run : slot.run) {
                    if (run < shared) result.twin[run] = no_twin;
                }
                slot.run = {shared, shared};
                continue;
            }
            slot.run[way] = half_edge;
            const std::uint32_t back = slot.run[1 - way];
            if (back < shared) {
                result.twin[half_edge] = back;
                result.twin[back] = half_edge;
            }
        }
    }
    return result;
}

}  // namespace fitup::mesh
