#include "solid/skin_solid.hpp"

#include <BRepLib.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom_Plane.hxx>
#include <NCollection_IndexedDataMap.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <map>
#include <numeric>

#include "solid/kernel_call.hpp"
#include "solid/skin_faces.hpp"

namespace fitup::solid {
namespace {

struct NamedFace {
    TopoDS_Face face;
    std::string name;
};

std::vector<NamedFace> all_faces(const plan::Skin& skin) {
    Rims rims(skin.contours);
    std::vector<NamedFace> faces;
    for (const auto& wall : skin.walls) {
        for (const auto& face : wall_faces(rims, wall)) faces.push_back({face, wall.name});
    }
    for (const auto& floor : skin.floors) faces.push_back({floor_face(rims, floor), floor.name});
    for (const auto& slope : skin.slopes) {
        for (const auto& face : slope_faces(rims, slope)) faces.push_back({face, slope.name});
    }
    return faces;
}

/// The faces that walk an edge forwards and backwards.
struct EdgeUse {
    std::vector<std::size_t> forward;
    std::vector<std::size_t> backward;
};
using EdgeUses = NCollection_IndexedDataMap<TopoDS_Shape, EdgeUse, TopTools_ShapeMapHasher>;

EdgeUses uses_of_edges(const std::vector<NamedFace>& faces) {
    EdgeUses uses;
    for (std::size_t i = 0; i < faces.size(); ++i) {
        for (TopExp_Explorer edges(faces[i].face, TopAbs_EDGE); edges.More(); edges.Next()) {
            if (BRep_Tool::Degenerated(TopoDS::Edge(edges.Current()))) continue;
            int place = uses.FindIndex(edges.Current());
            if (place == 0) place = uses.Add(edges.Current(), {});
            EdgeUse& use = uses.ChangeFromIndex(place);
            (edges.Current().Orientation() == TopAbs_FORWARD ? use.forward : use.backward).push_back(i);
        }
    }
    return uses;
}

/// Which body each face belongs to: faces that share an edge belong together.
class Bodies {
  public:
    explicit Bodies(std::size_t faces) : parent_(faces) {
        std::iota(parent_.begin(), parent_.end(), std::size_t{0});
    }
    void join(std::size_t a, std::size_t b) { parent_[root(a)] = root(b); }
    std::size_t root(std::size_t face) {
        while (parent_[face] != face) face = parent_[face] = parent_[parent_[face]];
        return face;
    }

  private:
    std::vector<std::size_t> parent_;
};

Bodies joined_faces(const std::vector<NamedFace>& faces, const std::string& making) {
    Bodies bodies(faces.size());
    const EdgeUses uses = uses_of_edges(faces);
    for (int i = 1; i <= uses.Extent(); ++i) {
        const EdgeUse& use = uses.FindFromIndex(i);
        if (use.forward.size() != 1 || use.backward.size() != 1) {
            const auto& some = use.forward.empty() ? use.backward : use.forward;
            throw KernelError(making + ": the surface is not closed at " + faces[some.front()].name);
        }
        bodies.join(use.forward.front(), use.backward.front());
    }
    return bodies;
}

}  // namespace

TopoDS_Solid solid_of(const std::vector<TopoDS_Face>& faces) {
    const BRep_Builder builder;
    TopoDS_Shell shell;
    builder.MakeShell(shell);
    for (const auto& face : faces) builder.Add(shell, face);
    shell.Closed(true);
    TopoDS_Solid solid;
    builder.MakeSolid(solid);
    builder.Add(solid, shell);
    return solid;
}

SkinSolids make_solids(const plan::Skin& skin, const std::string& making) {
    return kernel_call(making, [&] {
        const auto faces = all_faces(skin);
        Bodies bodies = joined_faces(faces, making);
        std::map<std::size_t, std::vector<TopoDS_Face>> grouped;
        SkinSolids result;
        for (std::size_t i = 0; i < faces.size(); ++i) {
            grouped[bodies.root(i)].push_back(faces[i].face);
            result.names.Bind(faces[i].face, faces[i].name);
        }
        for (const auto& [root, group] : grouped) result.solids.push_back(solid_of(group));
        return result;
    });
}

void lay_edges_on_planes(const TopoDS_Shape& shape) {
    for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
        const TopoDS_Face face = TopoDS::Face(faces.Current());
        const Handle(Geom_Plane) plane = Handle(Geom_Plane)::DownCast(BRep_Tool::Surface(face));
        if (plane.IsNull()) continue;
        for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
            BRepLib::BuildPCurveForEdgeOnPlane(TopoDS::Edge(edges.Current()), face);
        }
    }
}

}  // namespace fitup::solid
