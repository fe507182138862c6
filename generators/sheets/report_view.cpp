#include "sheets/report_view.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <future>

#include "base/text.hpp"
#include "base/vector3.hpp"
#include "mesh/picture.hpp"
#include "sheets/html.hpp"

namespace fitup::sheets {

namespace {

constexpr double steps = 65535.0;

void add_number(std::string& bytes, std::uint32_t number, int size) {
    for (int i = 0; i < size; ++i) bytes += char((number >> (8U * unsigned(i))) & 255U);
}

std::string three(const plan::Point3& point) {
    return shortest_text(point[0]) + " " + shortest_text(point[1]) + " " + shortest_text(point[2]);
}

/// Two bytes a corner as long as they can name every vertex.
int bytes_of_index(const mesh::Mesh& mesh) { return mesh.vertices.size() <= 65536 ? 2 : 4; }

std::string packed(const mesh::Mesh& mesh, const plan::Box& box) {
    std::string bytes;
    for (const plan::Point3& vertex : mesh.vertices) {
        for (std::size_t axis = 0; axis < 3; ++axis) {
            const double size_mm = box.most[axis] - box.least[axis];
            const double share = size_mm > 0.0 ? (vertex[axis] - box.least[axis]) / size_mm : 0.0;
            add_number(bytes, std::uint32_t(std::lround(share * steps)), 2);
        }
    }
    // Aligned for whoever reads the indices in place.
    while (bytes.size() % 4 != 0) bytes += '\0';
    for (const auto& triangle : mesh.triangles) {
        for (const std::uint32_t corner : triangle) add_number(bytes, corner, bytes_of_index(mesh));
    }
    return bytes;
}

/// From what the eye takes for round on a desk's screen to what still shows every hole.
constexpr std::array<mesh::Fineness, 4> grades{{{0.05, Angle::from_degrees(10.0)},
                                                {0.1, Angle::from_degrees(15.0)},
                                                {0.3, Angle::from_degrees(24.0)},
                                                {1.0, Angle::from_degrees(45.0)}}};
/// Some 800 kB in the page.
constexpr std::size_t most_triangles = 100'000;

}  // namespace

ReportView report_view(const MeshMaker& mesh_at, bool is_rod) {
    ReportView view;
    for (const mesh::Fineness& grade : grades) {
        view.fineness = grade;
        view.mesh = mesh_at(grade);
        if (view.mesh.triangles.size() <= most_triangles) break;
    }
    view.stills = still_pictures(view.mesh, is_rod);
    return view;
}

std::vector<StillPicture> still_pictures(const mesh::Mesh& mesh, bool is_rod) {
    constexpr int width_px = 640, height_px = 480;
    const auto picture = [&](double turn_deg, double tilt_deg) {
        return mesh::picture_png(mesh, {.width_px = width_px,
                                        .height_px = height_px,
                                        .turn = Angle::from_degrees(turn_deg),
                                        .tilt = Angle::from_degrees(tilt_deg)});
    };
    if (is_rod) return {{"from above", picture(-28.0, 52.0)}};
    // Side by side: each reads the mesh only.
    std::future<std::string> below = std::async(std::launch::async, picture, 152.0, 128.0);
    std::string above = picture(-28.0, 52.0);
    return {{"side B up", std::move(above)}, {"side A up", below.get()}};
}

std::string mesh_element(const mesh::Mesh& mesh) {
    const plan::Box box = mesh::box(mesh);
    const plan::Point3 size = box.most - box.least;
    return element("script", base64(packed(mesh, box)),
                   attribute("type", "text/plain") + attribute("id", "mesh") +
                       attribute("data-vertices", std::to_string(mesh.vertices.size())) +
                       attribute("data-triangles", std::to_string(mesh.triangles.size())) +
                       attribute("data-least", three(box.least)) + attribute("data-size", three(size)));
}

plan::Point3 centre_of_gravity_mm(const mesh::Mesh& mesh) {
    plan::Point3 moment{};
    double six_volumes = 0.0;
    for (const auto& triangle : mesh.triangles) {
        const plan::Point3& a = mesh.vertices[triangle[0]];
        const plan::Point3& b = mesh.vertices[triangle[1]];
        const plan::Point3& c = mesh.vertices[triangle[2]];
        const double six_volume = dot(a, cross(b, c));
        moment = moment + (a + b + c) * (six_volume / 4.0);
        six_volumes += six_volume;
    }
    return moment * (1.0 / six_volumes);
}

}  // namespace fitup::sheets
