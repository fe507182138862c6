// Rods' STL files judged by an independent mesh library (CGAL): closed, oriented outwards, no facet through
// another, and of the closed form's volume.
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/IO/STL.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Polygon_mesh_processing/orient_polygon_soup.h>
#include <CGAL/Polygon_mesh_processing/orientation.h>
#include <CGAL/Polygon_mesh_processing/polygon_soup_to_polygon_mesh.h>
#include <CGAL/Polygon_mesh_processing/repair_polygon_soup.h>
#include <CGAL/Polygon_mesh_processing/self_intersections.h>
#include <CGAL/Surface_mesh.h>
#include <gtest/gtest.h>

#include <sstream>

#include "mesh/rod_mesh.hpp"
#include "plan/property.hpp"
#include "plan/rods.hpp"

namespace fitup::exchange {
namespace {

namespace pmp = CGAL::Polygon_mesh_processing;
using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using SurfaceMesh = CGAL::Surface_mesh<Kernel::Point_3>;

/// The file as the library reads it: a soup of triangles whose equal corners it joins itself.
SurfaceMesh read_as_others_do(const std::string& stl) {
    std::vector<Kernel::Point_3> points;
    std::vector<std::vector<std::size_t>> triangles;
    std::istringstream stream(stl);
    if (!CGAL::IO::read_STL(stream, points, triangles, CGAL::parameters::use_binary_mode(true)))
        throw std::runtime_error("no STL");
    pmp::merge_duplicate_points_in_polygon_soup(points, triangles);
    if (!pmp::is_polygon_soup_a_polygon_mesh(triangles)) throw std::runtime_error("no surface");
    SurfaceMesh mesh;
    pmp::polygon_soup_to_polygon_mesh(points, triangles, mesh);
    return mesh;
}

TEST(RodsInAnotherLibrary, are_closed_clear_of_themselves_and_of_the_planned_volume) {
    plan::for_random_cases(
        [] {
            plan::Rod rod = plan::testing::any_rod();
            rod.ends[0] = {rod.diameter_mm * 0.75, 20, {}, false, *rc::gen::element(0.0, 0.5)};
            const plan::RodPath path = plan::rod_path(rod);
            RC_PRE(!plan::rod_contact(rod, path));
            const mesh::Fineness fineness{.chord_mm = 0.02};
            const SurfaceMesh mesh = read_as_others_do(mesh::stl_bytes(mesh::rod_mesh(rod, fineness), "rod"));
            RC_ASSERT(CGAL::is_closed(mesh));
            RC_ASSERT(pmp::is_outward_oriented(mesh));
            const bool crosses = pmp::does_self_intersect(mesh);
            RC_ASSERT(!crosses);
            const plan::RodFigures figures = plan::rod_figures(rod, path);
            const double lost_mm3 = figures.volume_mm3 - CGAL::to_double(pmp::volume(mesh));
            RC_ASSERT(lost_mm3 > 0.0);
            RC_ASSERT(lost_mm3 < figures.area_mm2 * fineness.chord_mm);
        },
        40);
}

/// The other way round: what the plan calls running into itself is a mesh with facets through each other.
TEST(RodsInAnotherLibrary, that_meet_themselves_have_facets_through_each_other) {
    const plan::Rod rod =
        plan::testing::bare_rod(6, 15, {{-50, 0, 0}, {100, 0, 0}, {100, 100, 0}, {0, 100, 4}, {0, -60, 4}});
    ASSERT_TRUE(plan::rod_contact(rod, plan::rod_path(rod)));
    EXPECT_TRUE(pmp::does_self_intersect(
        read_as_others_do(mesh::stl_bytes(mesh::rod_mesh(rod, {.chord_mm = 0.02}), "rod"))));
}

}  // namespace
}  // namespace fitup::exchange
