#pragma once

#include <array>
#include <functional>
#include <string>
#include <vector>

#include "mesh/mesh.hpp"

/// The part as the report's page shows it: triangles for its script, pictures without one.
namespace fitup::sheets {

struct StillPicture {
    std::string words;  ///< "side B"
    std::string png;
};

struct ReportView {
    mesh::Mesh mesh;
    mesh::Fineness fineness;             ///< of the mesh
    std::array<double, 3> metal_srgb{};  ///< from 0 to 1
    std::vector<StillPicture> stills;    ///< at least one; the first prints large
};

/// Makes a part's triangles at a fineness.
using MeshMaker = std::function<mesh::Mesh(const mesh::Fineness& fineness)>;

/// Mesh, its fineness and pictures: the finest of a few grades that keeps the page small enough for a phone.
ReportView report_view(const MeshMaker& mesh_at, bool is_rod);

/// Pictures of the part from the sides it is worked from.
std::vector<StillPicture> still_pictures(const mesh::Mesh& mesh, bool is_rod);

/// The mesh as text in a page: a script element of no script type, positions as whole steps of the box's size
/// over 65535 in two bytes each, then triangles, little-endian, in base64.
std::string mesh_element(const mesh::Mesh& mesh);

/// Its centre of gravity as closely as its triangles tell. REQUIRES: a closed mesh.
plan::Point3 centre_of_gravity_mm(const mesh::Mesh& mesh);

}  // namespace fitup::sheets
