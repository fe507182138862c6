// Triangles of foreign STEP files against the surfaces they stand for: both ways, by points of closed forms
// and by the kernel's own projection, which shares nothing with how the stray is bounded.
#include <gtest/gtest.h>

#include <BRepAdaptor_Surface.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <BRepTools.hxx>
#include <GeomAPI_PointsToBSplineSurface.hxx>
#include <Geom_BSplineSurface.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>

#include "base/error.hpp"
#include "base/vector3.hpp"
#include "exchange/foreign_step.hpp"
#include "exchange/kernel.hpp"

namespace fitup::exchange {
namespace {

constexpr double wanted_mm = 0.005;

Vector as_vector(const gp_Pnt& point) { return {point.X(), point.Y(), point.Z()}; }

/// Distance of a point to a triangle, by its seven regions (corner, edge, inside).
double to_triangle_mm(const Vector& p, const Vector& a, const Vector& b, const Vector& c) {
    const auto to_edge = [&](const Vector& from, const Vector& to) {
        const Vector along = to - from;
        const double share = std::clamp(dot(p - from, along) / dot(along, along), 0.0, 1.0);
        return length(p - (from + along * share));
    };
    const Vector normal = unit(cross(b - a, c - a));
    const bool inside = dot(cross(b - a, p - a), normal) >= 0 && dot(cross(c - b, p - b), normal) >= 0 &&
                        dot(cross(a - c, p - c), normal) >= 0;
    if (inside) return std::abs(dot(p - a, normal));
    return std::min({to_edge(a, b), to_edge(b, c), to_edge(c, a)});
}

/// Farthest of the surface's own points, on a grid of each untrimmed face, from the triangles.
double surface_to_triangles_mm(const TopoDS_Shape& shape, const mesh::Mesh& mesh, int steps) {
    double most = 0.0;
    for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
        const BRepAdaptor_Surface surface(TopoDS::Face(faces.Current()));
        if (surface.GetType() == GeomAbs_Plane) continue;
        const double u0 = surface.FirstUParameter(), u1 = surface.LastUParameter(),
                     v0 = surface.FirstVParameter(), v1 = surface.LastVParameter();
        for (int i = 0; i <= steps; ++i) {
            for (int j = 0; j <= steps; ++j) {
                const Vector at = as_vector(surface.Value(u0 + (u1 - u0) * (i + 0.37) / (steps + 1),
                                                          v0 + (v1 - v0) * (j + 0.41) / (steps + 1)));
                double least = 1e9;
                for (const auto& t : mesh.triangles)
                    least = std::min(least, to_triangle_mm(at, mesh.vertices[t[0]], mesh.vertices[t[1]],
                                                           mesh.vertices[t[2]]));
                most = std::max(most, least);
            }
        }
    }
    return most;
}

/// Farthest of the triangles' points from the shape.
double triangles_to_surface_mm(const TopoDS_Shape& shape, const mesh::Mesh& mesh, std::size_t every) {
    double most = 0.0;
    for (std::size_t i = 0; i < mesh.triangles.size(); i += every) {
        const auto& t = mesh.triangles[i];
        const Vector a = mesh.vertices[t[0]], b = mesh.vertices[t[1]], c = mesh.vertices[t[2]];
        for (const auto& share : {std::array{1.0 / 3, 1.0 / 3, 1.0 / 3}, std::array{0.5, 0.5, 0.0},
                                  std::array{0.0, 0.5, 0.5}, std::array{0.5, 0.0, 0.5}}) {
            const Vector at = a * share[0] + b * share[1] + c * share[2];
            const TopoDS_Shape vertex = BRepBuilderAPI_MakeVertex(gp_Pnt(at[0], at[1], at[2])).Shape();
            double least = 1e9;
            for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next())
                least = std::min(least, BRepExtrema_DistShapeShape(vertex, faces.Current()).Value());
            most = std::max(most, least);
        }
    }
    return most;
}

void expect_held(const std::string& what, const TopoDS_Shape& shape, double within_mm = wanted_mm) {
    const SurfaceMesh found = kernel().step_surface(testing::foreign_step(shape), what + ".step", within_mm);
    EXPECT_LE(found.within_mm, within_mm) << what;
    EXPECT_GT(found.within_mm, 0.0) << what;
    // 1e-6: what the file's own digits and the kernel's projection may take.
    EXPECT_LE(surface_to_triangles_mm(shape, found.mesh, 24), found.within_mm + 1e-6) << what;
    EXPECT_LE(triangles_to_surface_mm(shape, found.mesh, 1 + found.mesh.triangles.size() / 100),
              found.within_mm + 1e-6)
        << what;
}

TopoDS_Shape tilted(const TopoDS_Shape& shape) {
    gp_Trsf turn, move;
    turn.SetRotation(gp_Ax1({1, 2, 3}, gp_Dir(1, 2, -1)), 0.7);
    move.SetTranslation(gp_Vec(31, -17, 5));
    return BRepBuilderAPI_Transform(shape, move * turn).Shape();
}

TEST(StepSurface, round_bodies_are_held_as_stated) {
    expect_held("bar", tilted(BRepPrimAPI_MakeCylinder(12.0, 40.0).Shape()));
    expect_held("ball", tilted(BRepPrimAPI_MakeSphere(9.0).Shape()));
    expect_held("cone", tilted(BRepPrimAPI_MakeCone(14.0, 3.0, 25.0).Shape()));
    expect_held("tip", tilted(BRepPrimAPI_MakeCone(6.0, 0.0, 4.0).Shape()));
    expect_held("ring", tilted(BRepPrimAPI_MakeTorus(20.0, 4.0).Shape()));
}

TEST(StepSurface, a_free_form_is_held_as_stated) {
    TColgp_Array2OfPnt points(1, 7, 1, 6);
    for (int i = 1; i <= 7; ++i) {
        for (int j = 1; j <= 6; ++j)
            points.SetValue(i, j, gp_Pnt(8.0 * i, 9.0 * j, 5.0 * std::sin(0.9 * i) * std::cos(0.8 * j)));
    }
    const Handle(Geom_BSplineSurface) surface = GeomAPI_PointsToBSplineSurface(points).Surface();
    expect_held("wave", tilted(BRepBuilderAPI_MakeFace(surface, 1e-7).Shape()));
}

TEST(StepSurface, flat_bodies_are_exact) {
    const SurfaceMesh found = kernel().step_surface(
        testing::foreign_step(tilted(BRepPrimAPI_MakeBox(10.0, 20.0, 30.0).Shape())), "box.step", wanted_mm);
    EXPECT_LT(found.within_mm, 1e-9);
    EXPECT_NEAR(std::abs(mesh::volume_mm3(found.mesh)), 6000.0, 1e-6);
}

TEST(StepSurface, a_finer_wish_is_met) {
    expect_held("fine bar", BRepPrimAPI_MakeCylinder(12.0, 40.0).Shape(), 0.0005);
}

TEST(StepSurface, what_can_not_be_held_is_refused_by_name) {
    try {
        kernel().step_surface(testing::foreign_step(BRepPrimAPI_MakeSphere(500.0).Shape()), "globe.step",
                              1e-9);
        ADD_FAILURE() << "taken";
    } catch (const FileError& error) {
        EXPECT_EQ(error.file(), "globe.step");
    }
}

}  // namespace
}  // namespace fitup::exchange
