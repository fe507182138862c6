#include "mesh/triangulation.hpp"

#include <GL/glu.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <new>
#include <numeric>
#include <set>

namespace fitup::mesh {

namespace {

using Loops = std::span<const std::vector<plan::Point>* const>;

/// What the tessellator's callbacks collect. They are called from C, so nothing may be thrown: memory is
/// reserved before.
struct Collected {
    std::vector<std::uint32_t> corners;
    std::array<std::uint32_t, 32> at_crossings{};
    std::size_t crossing_points = 0;
    bool failed = false;
};

void* as_pointer(std::size_t index) { return reinterpret_cast<void*>(index + 1); }
std::uint32_t as_index(void* pointer) {
    return static_cast<std::uint32_t>(reinterpret_cast<std::size_t>(pointer) - 1);
}

void on_vertex(void* vertex, void* data) {
    auto& collected = *static_cast<Collected*>(data);
    if (vertex == nullptr || collected.corners.size() == collected.corners.capacity())
        collected.failed = true;
    else
        collected.corners.push_back(as_index(vertex));
}

/// Called where edges cross or points coincide: the loops' points are noted, the triangles are worth nothing.
void on_combine(GLdouble*, void* vertices[4], GLfloat*, void** result, void* data) {
    auto& collected = *static_cast<Collected*>(data);
    for (int i = 0; i < 4; ++i) {
        if (vertices[i] == nullptr || collected.crossing_points == collected.at_crossings.size()) continue;
        collected.at_crossings[collected.crossing_points++] = as_index(vertices[i]);
    }
    collected.failed = true;
    *result = vertices[0];
}

void on_error(GLenum, void* data) { static_cast<Collected*>(data)->failed = true; }

/// Its presence alone makes the tessellator give plain triangles, no fans and strips.
void on_edge_flag(GLboolean) {}

using AnyCallback = void (*)();

void set_callbacks(GLUtesselator* tess) {
    gluTessCallback(tess, GLU_TESS_VERTEX_DATA, reinterpret_cast<AnyCallback>(on_vertex));
    gluTessCallback(tess, GLU_TESS_COMBINE_DATA, reinterpret_cast<AnyCallback>(on_combine));
    gluTessCallback(tess, GLU_TESS_ERROR_DATA, reinterpret_cast<AnyCallback>(on_error));
    gluTessCallback(tess, GLU_TESS_EDGE_FLAG, reinterpret_cast<AnyCallback>(on_edge_flag));
    gluTessProperty(tess, GLU_TESS_WINDING_RULE, GLU_TESS_WINDING_ODD);
    gluTessNormal(tess, 0.0, 0.0, 1.0);
}

/// @returns false when memory ran out.
bool sweep(Loops loops, Collected& collected) {
    const std::unique_ptr<GLUtesselator, decltype(&gluDeleteTess)> tess(gluNewTess(), gluDeleteTess);
    if (!tess) return false;
    set_callbacks(tess.get());
    gluTessBeginPolygon(tess.get(), &collected);
    std::size_t index = 0;
    for (const auto* loop : loops) {
        gluTessBeginContour(tess.get());
        for (const plan::Point point : *loop) {
            std::array<GLdouble, 3> at{point.x_mm, point.y_mm, 0.0};
            gluTessVertex(tess.get(), at.data(), as_pointer(index++));
        }
        gluTessEndContour(tess.get());
    }
    gluTessEndPolygon(tess.get());
    return true;
}

std::vector<plan::Point> joined(Loops loops) {
    std::vector<plan::Point> points;
    for (const auto* loop : loops) points.insert(points.end(), loop->begin(), loop->end());
    return points;
}

long double doubled_area(std::span<const plan::Point> points) {
    long double sum = 0.0L;
    const plan::Point origin = points.empty() ? plan::Point{} : points.front();
    for (std::size_t i = 0; i < points.size(); ++i) {
        const plan::Point a = points[i];
        const plan::Point b = points[(i + 1) % points.size()];
        sum += (static_cast<long double>(a.x_mm) - origin.x_mm) *
                   (static_cast<long double>(b.y_mm) - origin.y_mm) -
               (static_cast<long double>(b.x_mm) - origin.x_mm) *
                   (static_cast<long double>(a.y_mm) - origin.y_mm);
    }
    return sum;
}

/// A hole of the plan may lie between a curve and its chord: nothing crosses then, but the areas do not add
/// up.
bool fills(const std::vector<plan::Point>& points, const std::vector<Triangle>& triangles, Loops loops) {
    if (triangles.size() + 4 != points.size() + 2 * loops.size()) return false;
    const long double whole = doubled_area(*loops.front());
    long double wanted = 2.0L * whole;
    for (const auto* loop : loops) wanted -= doubled_area(*loop);
    long double found = 0.0L;
    for (const Triangle& t : triangles)
        found += doubled_area(std::array{points[t[0]], points[t[1]], points[t[2]]});
    // Sums of some 1e5 terms in long double, each rounded to 1e-19.
    return std::abs(found - wanted) <= 1e-12L * whole;
}

std::vector<std::size_t> loops_of(std::span<const std::uint32_t> points, Loops loops) {
    std::set<std::size_t> found;
    for (const std::uint32_t point : points) {
        std::size_t loop = 0;
        for (std::size_t first = 0; loop < loops.size() && first + loops[loop]->size() <= point; ++loop) {
            first += loops[loop]->size();
        }
        found.insert(loop);
    }
    return {found.begin(), found.end()};
}

std::vector<std::size_t> all_of(Loops loops) {
    std::vector<std::size_t> all(loops.size());
    std::iota(all.begin(), all.end(), std::size_t{0});
    return all;
}

std::vector<Triangle> triples(const std::vector<std::uint32_t>& corners) {
    std::vector<Triangle> triangles(corners.size() / 3);
    for (std::size_t i = 0; i < triangles.size(); ++i) {
        triangles[i] = {corners[3 * i], corners[3 * i + 1], corners[3 * i + 2]};
    }
    return triangles;
}

}  // namespace

Triangulation triangulate(Loops loops) {
    const std::vector<plan::Point> points = joined(loops);
    Collected collected;
    collected.corners.reserve(3 * (points.size() + 2 * loops.size()));
    if (!sweep(loops, collected)) throw std::bad_alloc();
    Triangulation result;
    if (collected.crossing_points > 0) {
        result.crossing_loops =
            loops_of(std::span(collected.at_crossings).first(collected.crossing_points), loops);
        return result;
    }
    result.triangles = triples(collected.corners);
    if (collected.failed || !fills(points, result.triangles, loops)) return {{}, all_of(loops)};
    flip_to_delaunay(points, result.triangles);
    return result;
}

}  // namespace fitup::mesh
