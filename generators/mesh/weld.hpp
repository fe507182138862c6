#pragma once

#include <array>
#include <bit>
#include <cstdint>
#include <vector>

namespace fitup::mesh {

/// Gives equal points one number, in the order in which they come first. -0 equals 0.
template <class Number>
class Welder {
  public:
    using Point = std::array<Number, 3>;

    explicit Welder(std::size_t expected_points) : slots_(std::bit_ceil(2 * expected_points + 2), none) {}

    std::uint32_t number_of(Point point) {
        for (Number& coordinate : point) coordinate += Number{0};
        if (2 * (points_.size() + 1) > slots_.size()) grow();
        std::uint32_t& slot = slot_of(point);
        if (slot == none) {
            slot = static_cast<std::uint32_t>(points_.size());
            points_.push_back(point);
        }
        return slot;
    }

    std::vector<Point> take() { return std::move(points_); }

  private:
    static constexpr std::uint32_t none = 0xffffffffU;

    std::uint32_t& slot_of(const Point& point) {
        std::uint64_t hash = 0;
        for (const Number coordinate : point) {
            hash ^= std::bit_cast<std::uint64_t>(static_cast<double>(coordinate));
            hash *= 0x9e3779b97f4a7c15ULL;
            hash ^= hash >> 32;
        }
        std::size_t i = hash & (slots_.size() - 1);
        while (slots_[i] != none && points_[slots_[i]] != point) i = (i + 1) & (slots_.size() - 1);
        return slots_[i];
    }

    void grow() {
        slots_.assign(2 * slots_.size(), none);
        for (std::uint32_t i = 0; i < points_.size(); ++i) slot_of(points_[i]) = i;
    }

    std::vector<std::uint32_t> slots_;
    std::vector<Point> points_;
};

}  // namespace fitup::mesh
