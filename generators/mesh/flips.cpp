#include <cmath>
#include <utility>

#include "mesh/triangulation.hpp"

namespace fitup::mesh {

namespace {

/// Four points of one circle (those of every round hole) must not flip for ever: below this sine of an angle
/// sum the two diagonals are equally good. Well over the rounding of long double, well under any real
/// difference.
constexpr long double indifferent = 1e-12L;

struct Vector {
    long double x;
    long double y;
};

Vector between(plan::Point from, plan::Point to) {
    return {static_cast<long double>(to.x_mm) - from.x_mm, static_cast<long double>(to.y_mm) - from.y_mm};
}

long double cross(Vector a, Vector b) { return a.x * b.y - a.y * b.x; }
long double dot(Vector a, Vector b) { return a.x * b.x + a.y * b.y; }

class Flipper {
  public:
    Flipper(std::span<const plan::Point> points, std::vector<Triangle>& triangles)
        : points_(points), triangles_(triangles), twin_(adjacency_of(triangles).twin) {}

    void run() {
        for (std::uint32_t edge = 0; edge < twin_.size(); ++edge) push(edge);
        while (!stack_.empty()) {
            const std::uint32_t edge = stack_.back();
            stack_.pop_back();
            waiting_[edge] = false;
            if (twin_[edge] != no_twin && is_better_flipped(edge)) flip(edge);
        }
    }

  private:
    std::uint32_t origin(std::uint32_t edge) const { return triangles_[edge / 3][edge % 3]; }
    plan::Point point(std::uint32_t edge) const { return points_[origin(edge)]; }

    void push(std::uint32_t edge) {
        if (twin_[edge] == no_twin || waiting_[edge]) return;
        waiting_[edge] = true;
        stack_.push_back(edge);
    }

    /// Edge ab with the apexes c on its left and d on its right: the angles at c and d add up to over 180
    /// degrees, and the quadrangle a, d, b, c is convex.
    bool is_better_flipped(std::uint32_t edge) const {
        const std::uint32_t twin = twin_[edge];
        const plan::Point a = point(edge);
        const plan::Point b = point(twin);
        const plan::Point c = point(next_in_triangle(next_in_triangle(edge)));
        const plan::Point d = point(next_in_triangle(next_in_triangle(twin)));
        const Vector ca = between(c, a);
        const Vector cb = between(c, b);
        const Vector da = between(d, a);
        const Vector db = between(d, b);
        const long double sine_of_sum = cross(ca, cb) * dot(db, da) + dot(ca, cb) * cross(db, da);
        const long double scale = std::sqrt(dot(ca, ca) * dot(cb, cb) * dot(da, da) * dot(db, db));
        const Vector cd = between(c, d);
        return sine_of_sum < -indifferent * scale && cross(ca, cd) > 0 && cross(cd, cb) > 0;
    }

    /// abc and bad become adc and dbc.
    void flip(std::uint32_t edge) {
        const std::uint32_t twin = twin_[edge];
        const std::uint32_t bc = next_in_triangle(edge);
        const std::uint32_t ca = next_in_triangle(bc);
        const std::uint32_t ad = next_in_triangle(twin);
        const std::uint32_t db = next_in_triangle(ad);
        const std::uint32_t a = origin(edge);
        const std::uint32_t b = origin(twin);
        const std::uint32_t c = origin(ca);
        const std::uint32_t d = origin(db);
        const auto [beyond_ad, beyond_db, beyond_bc, beyond_ca] =
            std::array{twin_[ad], twin_[db], twin_[bc], twin_[ca]};
        const std::uint32_t first = edge - edge % 3;
        const std::uint32_t second = twin - twin % 3;
        triangles_[first / 3] = {a, d, c};
        triangles_[second / 3] = {d, b, c};
        join(first, beyond_ad);
        join(first + 1, second + 2);
        join(first + 2, beyond_ca);
        join(second, beyond_db);
        join(second + 1, beyond_bc);
        for (const std::uint32_t side : {first, first + 2, second, second + 1}) push(side);
    }

    void join(std::uint32_t one, std::uint32_t other) {
        twin_[one] = other;
        if (other != no_twin) twin_[other] = one;
    }

    std::span<const plan::Point> points_;
    std::vector<Triangle>& triangles_;
    std::vector<std::uint32_t> twin_;
    std::vector<std::uint32_t> stack_;
    std::vector<bool> waiting_ = std::vector<bool>(twin_.size(), false);
};

}  // namespace

void flip_to_delaunay(std::span<const plan::Point> points, std::vector<Triangle>& triangles) {
    Flipper(points, triangles).run();
}

}  // namespace fitup::mesh
