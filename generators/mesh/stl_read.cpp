#include <bit>
#include <cmath>
#include <optional>

#include "base/error.hpp"
#include "base/text.hpp"
#include "mesh/adjacency.hpp"
#include "mesh/mesh.hpp"
#include "mesh/stl_text.hpp"
#include "mesh/weld.hpp"

namespace fitup::mesh {

namespace {

constexpr std::size_t header_bytes = 80;
constexpr std::size_t first_facet = header_bytes + 4;
constexpr std::size_t facet_bytes = 50;
constexpr std::size_t normal_bytes = 12;

std::uint32_t number_at(std::string_view bytes, std::size_t at) {
    std::uint32_t value = 0;
    for (std::size_t i = 0; i < 4; ++i) {
        value |= static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[at + i])) << (8 * i);
    }
    return value;
}

/// The count in the file is the one that its size asks for.
bool is_binary_of_its_size(std::string_view bytes) {
    return bytes.size() >= first_facet &&
           bytes.size() == first_facet + facet_bytes * std::size_t{number_at(bytes, header_bytes)};
}

Corners binary_corners(std::string_view bytes) {
    const std::size_t count = number_at(bytes, header_bytes);
    Corners corners;
    corners.reserve(3 * count);
    for (std::size_t t = 0; t < count; ++t) {
        for (std::size_t k = 0; k < 3; ++k) {
            plan::Point3 corner{};
            for (std::size_t i = 0; i < 3; ++i) {
                const std::size_t at = first_facet + facet_bytes * t + normal_bytes + 12 * k + 4 * i;
                corner[i] = std::bit_cast<float>(number_at(bytes, at));
            }
            corners.push_back(corner);
        }
    }
    return corners;
}

std::string why_no_stl(std::string_view bytes) {
    if (bytes.empty()) return "the file is empty";
    if (bytes.size() < first_facet) return "this is no STL file: it is too short";
    const std::uint64_t count = number_at(bytes, header_bytes);
    const std::uint64_t held = (bytes.size() - first_facet) / facet_bytes;
    return "this is no STL file, or one cut short: it claims " + std::to_string(count) +
           " triangles and has room for " + std::to_string(held);
}

/// A thousand kilometres: no part, but what garbage looks like when it is read as numbers.
constexpr double farthest_mm = 1e9;

void check_coordinates(const Corners& corners, const std::string& name) {
    for (std::size_t i = 0; i < corners.size(); ++i) {
        for (const double coordinate : corners[i]) {
            // Written so that "not a number" fails too.
            if (std::abs(coordinate) <= farthest_mm) continue;
            throw FileError(name,
                            "triangle " + std::to_string(i / 3 + 1) + " has a coordinate that can't be");
        }
    }
}

Mesh welded(const Corners& corners) {
    Welder<double> welder(corners.size() / 6);
    Mesh mesh;
    mesh.triangles.reserve(corners.size() / 3);
    for (std::size_t i = 0; i + 2 < corners.size(); i += 3) {
        const Triangle t{welder.number_of(corners[i]), welder.number_of(corners[i + 1]),
                         welder.number_of(corners[i + 2])};
        if (t[0] != t[1] && t[1] != t[2] && t[2] != t[0]) mesh.triangles.push_back(t);
    }
    mesh.vertices = welder.take();
    return mesh;
}

}  // namespace

Mesh read_stl(std::string_view bytes, const std::string& name) {
    Corners corners;
    if (is_binary_of_its_size(bytes))
        corners = binary_corners(bytes);
    else if (looks_like_text_stl(bytes))
        corners = text_corners(bytes, name);
    else
        throw FileError(name, why_no_stl(bytes));
    check_coordinates(corners, name);
    Mesh mesh = welded(corners);
    if (mesh.triangles.empty()) throw FileError(name, "the file holds no triangles");
    return mesh;
}

}  // namespace fitup::mesh
