#pragma once

#include <cstddef>
#include <numeric>
#include <utility>
#include <vector>

namespace fitup {

/// Numbers 0 to n - 1 in sets that can be joined; the least number of a set stands for it.
class UnionFind {
  public:
    explicit UnionFind(std::size_t count) : above_(count) {
        std::iota(above_.begin(), above_.end(), std::size_t{0});
    }
    std::size_t find(std::size_t k) {
        while (above_[k] != k) k = above_[k] = above_[above_[k]];
        return k;
    }
    void join(std::size_t a, std::size_t b) {
        a = find(a);
        b = find(b);
        if (a > b) std::swap(a, b);
        above_[b] = a;
    }

  private:
    std::vector<std::size_t> above_;
};

}  // namespace fitup
