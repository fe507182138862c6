#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/angle.hpp"
#include "plan/skin.hpp"

namespace fitup::mesh {

/// How far a facet may stray from the true surface, and the most that one facet may turn.
struct Fineness {
    double chord_mm = 0.01;
    Angle angle = Angle::from_degrees(10.0);
};

/// Triangles with outward normals (right-hand rule), vertices shared. Lengths in mm.
struct Mesh {
    std::vector<plan::Point3> vertices;
    std::vector<std::array<std::uint32_t, 3>> triangles;
};

double volume_mm3(const Mesh& mesh);
double area_mm2(const Mesh& mesh);
plan::Box box(const Mesh& mesh);
/// Every directed edge exactly once each way, no triangle with two equal corners.
bool is_watertight(const Mesh& mesh);

/// Sides of the polygon that stands for a circle: a multiple of 4, so that it is as wide as the circle, and
/// at least 8, so that a round hole can be told from a square one.
int sides_of_circle(double radius_mm, const Fineness& fineness);

/// More triangles than this serve nobody: a file of 1 GB.
inline constexpr std::size_t most_triangles = 20'000'000;

/// Triangles that mesh_of would make, without making them: exact unless contours lie nearer together than the
/// chord. Whoever takes a fineness from a person asks this first and refuses what is over `most_triangles`.
std::size_t estimated_triangles(const plan::Skin& skin, const Fineness& fineness);

/// Triangles of one part at any fineness; never more at a coarser one.
using CountOfTriangles = std::function<std::size_t(const Fineness&)>;

/// Coarser serves nobody: every circle is an octagon long before.
inline constexpr double widest_chord_mm = 100.0;
inline constexpr double widest_angle_deg = 90.0;

/// The finest fineness, with one of the two limits as it was asked for, that makes no more than
/// `most_triangles`; rounded up to two digits. Nothing where no chord (no angle) up to the widest would do.
std::optional<double> least_chord_mm(const CountOfTriangles& count, Angle angle);
std::optional<Angle> least_angle(const CountOfTriangles& count, double chord_mm);

/// The closed mesh of a skin, straight from the plan: each contour becomes points once, walls are strips,
/// floors are triangulated once. Watertight by construction. Volume equals the closed form with polygons in
/// place of circles.
///
/// Every vertex lies on the true surface. Where two contours are nearer than the chord, so that their
/// polygons would cross, both are made finer than asked until they do not.
/// @throws Error  over `most_triangles`, or contours that cross each other (a skin has none).
/// Cost: linear but for the floors' edge flips; 600 holes of 52 sides about 60 ms.
Mesh mesh_of(const plan::Skin& skin, const Fineness& fineness);

/// Binary STL, little-endian, 80-byte header with `title` (ASCII). Vertices are rounded to float; triangles
/// that this makes degenerate are left out in a way that keeps the mesh closed. Same mesh, same bytes.
std::string stl_bytes(const Mesh& mesh, std::string_view title);

/// Reads binary or text STL; equal corners become one vertex, triangles with two equal corners are dropped,
/// normals in the file are not believed (the order of the corners is).
/// @throws FileError(name, reason) for anything that is no STL, empty, or cut short. Memory stays within a
/// few times the size of `bytes`, whatever count they claim.
Mesh read_stl(std::string_view bytes, const std::string& name);

}  // namespace fitup::mesh
