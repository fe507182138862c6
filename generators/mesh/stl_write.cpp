#include <algorithm>
#include <bit>
#include <cmath>
#include <map>

#include "base/text.hpp"
#include "mesh/adjacency.hpp"
#include "mesh/mesh.hpp"
#include "mesh/weld.hpp"

namespace fitup::mesh {

namespace {

using Float3 = std::array<float, 3>;

constexpr std::size_t header_bytes = 80;
constexpr std::size_t facet_bytes = 50;

struct Rounded {
    std::vector<Float3> vertices;
    std::vector<Triangle> triangles;
};

bool has_equal_corners(const Triangle& t) { return t[0] == t[1] || t[1] == t[2] || t[2] == t[0]; }

/// Smallest corner first, same sense.
Triangle turned(Triangle t) {
    std::rotate(t.begin(), std::min_element(t.begin(), t.end()), t.end());
    return t;
}

/// Two triangles back to back enclose nothing: both go, and every edge is still run along as often each way.
/// Only looked for where rounding has made vertices one; it is rare.
void drop_pairs_back_to_back(std::vector<Triangle>& triangles) {
    std::map<Triangle, std::vector<std::size_t>> seen;
    std::vector<bool> gone(triangles.size(), false);
    for (std::size_t i = 0; i < triangles.size(); ++i) {
        const Triangle t = turned(triangles[i]);
        const auto back = seen.find({t[0], t[2], t[1]});
        if (back == seen.end() || back->second.empty()) {
            seen[t].push_back(i);
            continue;
        }
        gone[i] = gone[back->second.back()] = true;
        back->second.pop_back();
    }
    std::size_t index = 0;
    std::erase_if(triangles, [&](const Triangle&) { return gone[index++]; });
}

/// Dropping a triangle with two equal corners keeps the mesh closed: its other two edges run back along each
/// other.
Rounded rounded(const Mesh& mesh) {
    Welder<float> welder(mesh.vertices.size());
    std::vector<std::uint32_t> number;
    number.reserve(mesh.vertices.size());
    for (const plan::Point3& v : mesh.vertices) {
        number.push_back(
            welder.number_of({static_cast<float>(v[0]), static_cast<float>(v[1]), static_cast<float>(v[2])}));
    }
    Rounded result{welder.take(), {}};
    result.triangles.reserve(mesh.triangles.size());
    for (const Triangle& t : mesh.triangles) {
        const Triangle corners{number[t[0]], number[t[1]], number[t[2]]};
        if (!has_equal_corners(corners)) result.triangles.push_back(corners);
    }
    if (result.triangles.size() != mesh.triangles.size()) drop_pairs_back_to_back(result.triangles);
    return result;
}

Float3 normal_of(const Float3& a, const Float3& b, const Float3& c) {
    std::array<double, 3> u{};
    std::array<double, 3> v{};
    for (std::size_t i = 0; i < 3; ++i) {
        u[i] = static_cast<double>(b[i]) - a[i];
        v[i] = static_cast<double>(c[i]) - a[i];
    }
    const std::array<double, 3> n{u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2],
                                  u[0] * v[1] - u[1] * v[0]};
    const double length = std::sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2]);
    // 0, 0, 0 tells a reader to take the normal from the corners; three corners on a line have none.
    if (length == 0.0) return {0.0F, 0.0F, 0.0F};
    Float3 unit{};
    for (std::size_t i = 0; i < 3; ++i) unit[i] = static_cast<float>(n[i] / length + 0.0);
    return unit;
}

void append(std::string& bytes, std::uint32_t value) {
    for (int shift = 0; shift < 32; shift += 8) bytes.push_back(static_cast<char>(value >> shift & 0xffU));
}

void append(std::string& bytes, const Float3& values) {
    for (const float value : values) append(bytes, std::bit_cast<std::uint32_t>(value));
}

/// Readers take a file that begins with "solid" for text.
std::string header_of(std::string_view title) {
    std::string header(title);
    for (char& c : header) {
        if (c < ' ' || c > '~') c = '?';
    }
    const std::size_t start = std::min(header.find_first_not_of(' '), header.size());
    header.erase(0, start);
    if (lower_case(header).starts_with("solid")) header.insert(0, "part ");
    header.resize(header_bytes, ' ');
    return header;
}

}  // namespace

std::string stl_bytes(const Mesh& mesh, std::string_view title) {
    const Rounded part = rounded(mesh);
    std::string bytes = header_of(title);
    bytes.reserve(header_bytes + 4 + facet_bytes * part.triangles.size());
    append(bytes, static_cast<std::uint32_t>(part.triangles.size()));
    for (const Triangle& t : part.triangles) {
        const Float3& a = part.vertices[t[0]];
        const Float3& b = part.vertices[t[1]];
        const Float3& c = part.vertices[t[2]];
        append(bytes, normal_of(a, b, c));
        for (const Float3* corner : {&a, &b, &c}) append(bytes, *corner);
        bytes.append(2, '\0');
    }
    return bytes;
}

}  // namespace fitup::mesh
