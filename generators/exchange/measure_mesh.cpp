#include <algorithm>

#include "base/union_find.hpp"
#include "exchange/measurement.hpp"
#include "exchange/round_walls.hpp"

namespace fitup::exchange {

namespace {

/// Pieces of mesh joined by vertices, each with its volume: a hollow within a body has a negative one and is
/// no body.
int count_bodies(const mesh::Mesh& mesh) {
    UnionFind pieces(mesh.vertices.size());
    for (const auto& t : mesh.triangles) {
        pieces.join(t[1], t[0]);
        pieces.join(t[2], t[0]);
    }
    std::vector<double> volumes(mesh.vertices.size(), 0.0);
    for (const auto& t : mesh.triangles) {
        const std::size_t piece = pieces.find(t[0]);
        const Vector& origin = mesh.vertices[piece];
        volumes[piece] += dot(mesh.vertices[t[0]] - origin,
                              cross(mesh.vertices[t[1]] - origin, mesh.vertices[t[2]] - origin));
    }
    return static_cast<int>(std::count_if(volumes.begin(), volumes.end(), [](double v) { return v > 0.0; }));
}

}  // namespace

Measurement measure(const mesh::Mesh& mesh) {
    Measurement found;
    found.is_mesh = true;
    if (mesh.triangles.empty()) return found;
    const Facets facets(mesh);
    found.volume_mm3 = mesh::volume_mm3(mesh);
    found.area_mm2 = mesh::area_mm2(mesh);
    found.box = mesh::box(mesh);
    found.bodies = count_bodies(mesh);
    found.closed = facets.adjacency().is_closed();
    const std::vector<RoundWall> walls = round_walls(facets);
    found.cones = cones_beside(facets, walls);
    std::vector<Cylinder> cylinders;
    for (const RoundWall& wall : walls) {
        found.doubt_mm = std::max(found.doubt_mm, wall.sagitta_mm);
        cylinders.push_back(wall.cylinder);
    }
    found.cylinders = joined(std::move(cylinders), 20.0 * facets.rounding_mm() + 1e-6);
    return found;
}

}  // namespace fitup::exchange
