// The only source that includes CGAL: it takes half a minute to compile.
#include "exchange/independent_mesh.hpp"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/IO/STL.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Polygon_mesh_processing/orient_polygon_soup.h>
#include <CGAL/Polygon_mesh_processing/orientation.h>
#include <CGAL/Polygon_mesh_processing/polygon_soup_to_polygon_mesh.h>
#include <CGAL/Polygon_mesh_processing/repair_polygon_soup.h>
#include <CGAL/Polygon_mesh_processing/self_intersections.h>
#include <CGAL/Surface_mesh.h>

#include <sstream>
#include <vector>

namespace fitup::exchange::testing {

IndependentMesh judged_independently(const std::string& stl_bytes) {
    using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
    namespace processing = CGAL::Polygon_mesh_processing;
    std::vector<Kernel::Point_3> points;
    std::vector<std::vector<std::size_t>> faces;
    std::istringstream bytes(stl_bytes, std::ios::binary);
    IndependentMesh verdict;
    if (!CGAL::IO::read_STL(bytes, points, faces)) return verdict;
    processing::merge_duplicate_points_in_polygon_soup(points, faces);
    verdict.triangles = faces.size();
    // Nothing is turned or mended: a soup that is no oriented surface as it stands is refused here.
    if (!processing::is_polygon_soup_a_polygon_mesh(faces)) return verdict;
    CGAL::Surface_mesh<Kernel::Point_3> mesh;
    processing::polygon_soup_to_polygon_mesh(points, faces, mesh);
    verdict.is_closed = CGAL::is_closed(mesh);
    if (!verdict.is_closed) return verdict;
    verdict.faces_outward = processing::is_outward_oriented(mesh);
    verdict.crosses_itself = processing::does_self_intersect(mesh);
    verdict.volume_mm3 = processing::volume(mesh);
    return verdict;
}

}  // namespace fitup::exchange::testing
