#pragma once

#include <cmath>
#include <cstdint>

namespace fitup {

/// splitmix64, a published generator of 64-bit numbers (Steele, Lea, Flood 2014; from memory): as good a
/// stream from every seed, and quick. The same numbers on every machine.
class Random {
  public:
    /// @param block  of blocks that share a seed each has a stream of its own
    Random(std::uint64_t seed, std::uint64_t block) : state_(seed * 0x9E3779B97F4A7C15ULL ^ mix(block + 1)) {}

    /// From -1 to 1, evenly.
    double either_way() { return double(next() >> 11) * 0x1.0p-52 - 1.0; }

    /// Normal, of mean 0 and standard deviation 1 (Marsaglia's polar method).
    double normal() {
        if (has_spare_) {
            has_spare_ = false;
            return spare_;
        }
        double u = 0.0, v = 0.0, square = 0.0;
        do {
            u = either_way();
            v = either_way();
            square = u * u + v * v;
        } while (square >= 1.0 || square == 0.0);
        const double factor = std::sqrt(-2.0 * std::log(square) / square);
        spare_ = v * factor;
        has_spare_ = true;
        return u * factor;
    }

  private:
    static std::uint64_t mix(std::uint64_t z) {
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
        return z ^ (z >> 31);
    }
    std::uint64_t next() { return mix(state_ += 0x9E3779B97F4A7C15ULL); }

    std::uint64_t state_;
    double spare_ = 0.0;
    bool has_spare_ = false;
};

}  // namespace fitup
