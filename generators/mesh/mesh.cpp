#include "mesh/mesh.hpp"

#include <algorithm>
#include <cmath>

#include "mesh/adjacency.hpp"

namespace fitup::mesh {

namespace {

using Vector = std::array<long double, 3>;

Vector from_to(const plan::Point3& from, const plan::Point3& to) {
    return {static_cast<long double>(to[0]) - from[0], static_cast<long double>(to[1]) - from[1],
            static_cast<long double>(to[2]) - from[2]};
}

Vector cross(const Vector& a, const Vector& b) {
    return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}

long double dot(const Vector& a, const Vector& b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }

}  // namespace

double volume_mm3(const Mesh& mesh) {
    if (mesh.vertices.empty()) return 0.0;
    const plan::Point3 origin = mesh.vertices.front();
    long double sum = 0.0L;
    for (const auto& t : mesh.triangles) {
        const Vector a = from_to(origin, mesh.vertices[t[0]]);
        sum += dot(a, cross(from_to(origin, mesh.vertices[t[1]]), from_to(origin, mesh.vertices[t[2]])));
    }
    return static_cast<double>(sum / 6.0L);
}

double area_mm2(const Mesh& mesh) {
    long double sum = 0.0L;
    for (const auto& t : mesh.triangles) {
        const Vector normal = cross(from_to(mesh.vertices[t[0]], mesh.vertices[t[1]]),
                                    from_to(mesh.vertices[t[0]], mesh.vertices[t[2]]));
        sum += std::sqrt(dot(normal, normal));
    }
    return static_cast<double>(sum / 2.0L);
}

plan::Box box(const Mesh& mesh) {
    if (mesh.vertices.empty()) return {};
    plan::Box result{mesh.vertices.front(), mesh.vertices.front()};
    for (const plan::Point3& vertex : mesh.vertices) {
        for (std::size_t i = 0; i < 3; ++i) {
            result.least[i] = std::min(result.least[i], vertex[i]);
            result.most[i] = std::max(result.most[i], vertex[i]);
        }
    }
    return result;
}

bool is_watertight(const Mesh& mesh) {
    return !mesh.triangles.empty() && adjacency_of(mesh.triangles).is_closed();
}

}  // namespace fitup::mesh
