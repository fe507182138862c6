#include "exchange/kernel_side/solid_mesh.hpp"

#include <BRepBuilderAPI_Copy.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <IMeshTools_Parameters.hxx>
#include <Poly_Triangulation.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <map>

#include "solid/kernel_call.hpp"

namespace fitup::exchange {
namespace {

TopoDS_Shape triangulated_by(const TopoDS_Shape& shape, const mesh::Fineness& fineness,
                             IMeshTools_MeshAlgoType algorithm) {
    TopoDS_Shape copy = BRepBuilderAPI_Copy(shape, true, false).Shape();
    IMeshTools_Parameters parameters;
    parameters.MeshAlgo = algorithm;
    parameters.Deflection = fineness.chord_mm;
    parameters.Angle = fineness.angle.radians();
    parameters.Relative = false;
    parameters.AllowQualityDecrease = true;
    BRepMesh_IncrementalMesh(copy, parameters);
    return copy;
}

/// Vertices that the faces' triangulations share have the same coordinates to the last bit, as they come from
/// one edge.
class Weld {
  public:
    void add(const TopoDS_Face& face) {
        TopLoc_Location place;
        const auto triangulation = BRep_Tool::Triangulation(face, place);
        if (triangulation.IsNull()) return;
        std::vector<std::uint32_t> index;
        for (int i = 1; i <= triangulation->NbNodes(); ++i) {
            index.push_back(vertex(triangulation->Node(i).Transformed(place.Transformation())));
        }
        for (int i = 1; i <= triangulation->NbTriangles(); ++i) {
            int a = 0, b = 0, c = 0;
            triangulation->Triangle(i).Get(a, b, c);
            if (face.Orientation() == TopAbs_REVERSED) std::swap(b, c);
            triangle({index[static_cast<std::size_t>(a - 1)], index[static_cast<std::size_t>(b - 1)],
                      index[static_cast<std::size_t>(c - 1)]});
        }
    }
    mesh::Mesh take() { return std::move(mesh_); }

  private:
    std::uint32_t vertex(const gp_Pnt& point) {
        const plan::Point3 key{point.X(), point.Y(), point.Z()};
        const auto [found, is_new] =
            seen_.try_emplace(key, static_cast<std::uint32_t>(mesh_.vertices.size()));
        if (is_new) mesh_.vertices.push_back(key);
        return found->second;
    }
    /// Both algorithms leave a triangle with two equal corners at a cone's tip.
    void triangle(const std::array<std::uint32_t, 3>& corners) {
        if (corners[0] == corners[1] || corners[1] == corners[2] || corners[2] == corners[0]) return;
        mesh_.triangles.push_back(corners);
    }

    mesh::Mesh mesh_;
    std::map<plan::Point3, std::uint32_t> seen_;
};

}  // namespace

mesh::Mesh welded(const TopoDS_Shape& triangulated) {
    Weld weld;
    for (TopExp_Explorer faces(triangulated, TopAbs_FACE); faces.More(); faces.Next())
        weld.add(TopoDS::Face(faces.Current()));
    return weld.take();
}

TopoDS_Shape triangulated(const TopoDS_Shape& shape, const mesh::Fineness& fineness) {
    return triangulated_by(shape, fineness, IMeshTools_MeshAlgoType_Delabella);
}

mesh::Mesh mesh_of_solid(const solid::Solid& solid, const mesh::Fineness& fineness) {
    return solid::kernel_call("the mesh of the solid", [&] {
        const TopoDS_Shape& shape = solid::body_of(solid).shape;
        // Delabella is 3 to 20 times faster; the default algorithm is the second try.
        for (const auto algorithm : {IMeshTools_MeshAlgoType_Delabella, IMeshTools_MeshAlgoType_Watson}) {
            mesh::Mesh mesh = welded(triangulated_by(shape, fineness, algorithm));
            if (!mesh.triangles.empty() && mesh::is_watertight(mesh)) return mesh;
        }
        throw KernelError("the mesh of the solid has gaps");
    });
}

}  // namespace fitup::exchange
