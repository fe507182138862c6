#include "solid/threaded_holes.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom_Surface.hxx>
#include <NCollection_DataMap.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ShapeMapHasher.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Shell.hxx>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "base/error.hpp"
#include "base/text.hpp"
#include "solid/kernel_call.hpp"
#include "solid/patches.hpp"
#include "solid/thread.hpp"

namespace fitup::solid {
namespace {

/// Edges that lie in one another are sewn: what positions are held to.
constexpr double sewn_mm = 1e-6;

using FaceOfEdge = NCollection_DataMap<TopoDS_Shape, std::vector<TopoDS_Face>, TopTools_ShapeMapHasher>;

double height_mm(const TopoDS_Edge& edge) { return BRepAdaptor_Curve(edge).Circle().Location().Z(); }

/// The wall of a hole as it stands before its thread: one whole cylinder between two circles.
struct Wall {
    TopoDS_Face face;
    TopoDS_Edge low;
    TopoDS_Edge high;
    double low_mm() const { return height_mm(low); }
    double high_mm() const { return height_mm(high); }
};

bool is_wall_of(const plan::Hole& hole, const BRepAdaptor_Surface& surface) {
    if (surface.GetType() != GeomAbs_Cylinder) return false;
    const gp_Cylinder cylinder = surface.Cylinder();
    const gp_Pnt at = cylinder.Location();
    return std::abs(cylinder.Radius() - hole.thread->minor_mm / 2.0) < plan::same_point_mm &&
           std::hypot(at.X() - hole.at_mm.x_mm, at.Y() - hole.at_mm.y_mm) < plan::same_point_mm;
}

/// Nothing when the wall is cut into, or in pieces.
std::optional<Wall> whole_wall(const TopoDS_Face& face) {
    Wall wall{face, {}, {}};
    int circles = 0;
    for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
        const TopoDS_Edge edge = TopoDS::Edge(edges.Current());
        const BRepAdaptor_Curve curve(edge);
        if (curve.GetType() == GeomAbs_Line) continue;
        if (curve.GetType() != GeomAbs_Circle ||
            curve.LastParameter() - curve.FirstParameter() < 2.0 * std::numbers::pi - 1e-9)
            return {};
        (circles++ == 0 ? wall.low : wall.high) = edge;
    }
    if (circles != 2) return {};
    if (wall.low_mm() > wall.high_mm()) std::swap(wall.low, wall.high);
    return wall;
}

/// A thread with its place in the part.
struct Placed {
    plan::ThreadedLength of;
    gp_Trsf place;
    double wall_mm = 0.0;  ///< from the start to the wall's far end
    double sense = 1.0;    ///< +1: it goes in along +Z
};

gp_Trsf placement(const plan::Hole& hole, double start_mm, double sense) {
    gp_Trsf turn;
    if (sense < 0.0) turn.SetRotation(gp_Ax1(gp::Origin(), gp::DX()), std::numbers::pi);
    gp_Trsf shift;
    shift.SetTranslation(gp_Vec(hole.at_mm.x_mm, hole.at_mm.y_mm, start_mm));
    return shift * turn;
}

/// How the thread lies in the wall; nothing where there is no room for chamfer, full form and run-out.
std::optional<Placed> placed(const plan::Plan& plan, const plan::Hole& hole, const Wall& wall) {
    const bool from_b = hole.from == plan::Side::B;
    Placed result;
    result.sense = from_b ? -1.0 : 1.0;
    result.wall_mm = wall.high_mm() - wall.low_mm();
    const double start_mm = from_b ? wall.high_mm() : wall.low_mm();
    const bool goes_through =
        hole.through && hole.thread->depth_mm >= plan.body.thickness_mm - plan::same_point_mm;
    // What stands on the face, or was milled there, moves the start but not where the thread ends.
    const double face_mm = plan::level_mm(plan, hole.at_mm) + (from_b ? plan.body.thickness_mm : 0.0);
    const double end_mm = face_mm + result.sense * hole.thread->depth_mm;
    result.of = {plan::thread_form(*hole.thread), plan::ThreadSide::internal, hole.thread->hand,
                 goes_through ? result.wall_mm : result.sense * (end_mm - start_mm),
                 goes_through ? plan::ThreadEnd::chamfer : plan::ThreadEnd::run_out};
    result.place = placement(hole, start_mm, result.sense);
    const bool is_long_enough = result.of.length_mm > result.of.least_length_mm() + sewn_mm;
    if (!is_long_enough || result.of.end_mm() > result.wall_mm + sewn_mm) return {};
    return result;
}

/// A loop of a plane that becomes a ring.
struct NewLoop {
    TopoDS_Edge old;
    Ring ring;
    bool anticlockwise = true;  ///< the ring's edges, about +Z
};

bool runs_anticlockwise(const TopoDS_Edge& edge) {
    const bool curve_does = BRepAdaptor_Curve(edge).Circle().Axis().Direction().Z() > 0.0;
    return curve_does == (edge.Orientation() == TopAbs_FORWARD);
}

TopoDS_Wire wire_of(const NewLoop& loop, bool anticlockwise) {
    const BRep_Builder builder;
    TopoDS_Wire wire;
    builder.MakeWire(wire);
    for (const Ring::Arc& arc : loop.ring.arcs)
        builder.Add(wire, turned(arc.edge, loop.anticlockwise != anticlockwise));
    wire.Closed(true);
    return wire;
}

/// The plane with rings in place of some of its loops.
TopoDS_Face with_loops(const TopoDS_Face& face, const std::vector<NewLoop>& loops) {
    const BRep_Builder builder;
    const TopoDS_Face forward = TopoDS::Face(face.Oriented(TopAbs_FORWARD));
    TopLoc_Location location;
    const Handle(Geom_Surface) surface = BRep_Tool::Surface(forward, location);
    TopoDS_Face result;
    builder.MakeFace(result, surface, location, BRep_Tool::Tolerance(forward));
    for (TopExp_Explorer wires(forward, TopAbs_WIRE); wires.More(); wires.Next()) {
        const TopoDS_Edge first = TopoDS::Edge(TopExp_Explorer(wires.Current(), TopAbs_EDGE).Current());
        const auto loop =
            std::find_if(loops.begin(), loops.end(), [&](const NewLoop& l) { return l.old.IsSame(first); });
        if (loop == loops.end())
            builder.Add(result, wires.Current());
        else
            builder.Add(result, wire_of(*loop, runs_anticlockwise(first)));
    }
    return TopoDS::Face(result.Oriented(face.Orientation()));
}

plan::Finding no_thread(const plan::Hole& hole, const std::string& why) {
    return plan::final_stop("thread-model", hole.id,
                            "the thread of " + hole.id + " can't be modelled: " + why +
                                ". Model it at its tap drill, or mend that.");
}

class Threading {
  public:
    Threading(const SkinSolids& part, const plan::Plan& plan, const std::string& making)
        : part_(part), plan_(plan), making_(making) {
        for (FaceNames::Iterator face(part.names); face.More(); face.Next()) {
            const TopoDS_Face key = TopoDS::Face(face.Key());
            for (TopExp_Explorer edges(key, TopAbs_EDGE); edges.More(); edges.Next()) {
                if (!faces_at_.IsBound(edges.Current())) faces_at_.Bind(edges.Current(), {});
                faces_at_.ChangeFind(edges.Current()).push_back(key);
            }
        }
    }

    void add(const plan::Hole& hole) {
        std::vector<TopoDS_Face> walls;
        for (FaceNames::Iterator face(part_.names); face.More(); face.Next()) {
            if (face.Value() != hole.id) continue;
            if (is_wall_of(hole, BRepAdaptor_Surface(TopoDS::Face(face.Key()), false)))
                walls.push_back(TopoDS::Face(face.Key()));
        }
        const auto wall = walls.size() == 1 ? whole_wall(walls.front()) : std::nullopt;
        if (!wall) return refuse(hole, "another cut runs into it");
        const auto thread = placed(plan_, hole, *wall);
        if (!thread)
            return refuse(
                hole,
                "there is no room for its chamfer, one turn of run-out and full thread between; drill "
                "it deeper");
        const bool from_b = hole.from == plan::Side::B;
        const TopoDS_Edge& start = from_b ? wall->high : wall->low;
        const TopoDS_Edge& far = from_b ? wall->low : wall->high;
        const bool ends_open = thread->of.finish == plan::ThreadEnd::chamfer;
        if (!plane_at(start, wall->face) || (ends_open && !plane_at(far, wall->face)))
            return refuse(hole, "it does not start in a plain face");
        put(hole, *wall, *thread, start, far);
    }

    Threaded result() {
        if (!threaded_.findings.empty()) {
            threaded_.part = part_;
            return std::move(threaded_);
        }
        sew();
        return std::move(threaded_);
    }

  private:
    void refuse(const plan::Hole& hole, const std::string& why) {
        threaded_.findings.push_back(no_thread(hole, why));
    }

    std::optional<TopoDS_Face> plane_at(const TopoDS_Edge& edge, const TopoDS_Face& but) const {
        for (const TopoDS_Face& face : faces_at_.Find(edge)) {
            if (!face.IsSame(but) && BRepAdaptor_Surface(face, false).GetType() == GeomAbs_Plane) return face;
        }
        return {};
    }

    void widen(const TopoDS_Edge& edge, const TopoDS_Face& wall, const Ring& ring, double sense) {
        const TopoDS_Face plane = *plane_at(edge, wall);
        if (!loops_.IsBound(plane)) loops_.Bind(plane, {});
        loops_.ChangeFind(plane).push_back({edge, ring, sense > 0.0});
    }

    void put(const plan::Hole& hole, const Wall& wall, const Placed& thread, const TopoDS_Edge& start,
             const TopoDS_Edge& far) {
        const ThreadSkin skin = thread_skin(thread.of, thread.place);
        replaced_.Bind(wall.face, true);
        for (const TopoDS_Face& face : skin.faces) fresh_.push_back({face, hole.id});
        widen(start, wall.face, skin.start, thread.sense);
        if (thread.of.finish == plan::ThreadEnd::chamfer) {
            widen(far, wall.face, skin.finish, thread.sense);
        } else if (thread.wall_mm - thread.of.end_mm() > sewn_mm) {
            const Ring end = plain_ring(thread.of.finish_radius_mm(), thread.wall_mm, thread.place);
            for (const TopoDS_Face& face : sleeve_faces(skin.finish, end, false, thread.place))
                fresh_.push_back({face, hole.id});
        }
        const double minor_mm = thread.of.form.minor_radius_mm();
        threaded_.taken_mm3 +=
            thread.of.enclosed_mm3() - std::numbers::pi * minor_mm * minor_mm * thread.of.end_mm();
    }

    /// Every face of the new body with its name.
    std::vector<std::pair<TopoDS_Face, std::string>> all_faces() const {
        auto faces = fresh_;
        for (FaceNames::Iterator face(part_.names); face.More(); face.Next()) {
            const TopoDS_Face key = TopoDS::Face(face.Key());
            if (replaced_.IsBound(key)) continue;
            const auto* loops = loops_.Seek(key);
            faces.emplace_back(loops != nullptr ? with_loops(key, *loops) : key, face.Value());
        }
        return faces;
    }

    void sew() {
        const auto faces = all_faces();
        BRepBuilderAPI_Sewing sewing(sewn_mm);
        for (const auto& [face, name] : faces) sewing.Add(face);
        sewing.Perform();
        if (sewing.NbFreeEdges() > 0 || sewing.NbMultipleEdges() > 0)
            throw KernelError(making_ + ": the threads' faces do not close");
        const BRep_Builder builder;
        TopoDS_Shell shell;
        builder.MakeShell(shell);
        for (const auto& [face, name] : faces) {
            const TopoDS_Shape sewn = sewing.Modified(face);
            builder.Add(shell, sewn);
            threaded_.part.names.Bind(sewn, name);
        }
        shell.Closed(true);
        TopoDS_Solid solid;
        builder.MakeSolid(solid);
        builder.Add(solid, shell);
        lay_edges_on_planes(solid);
        if (!BRepCheck_Analyzer(solid).IsValid())
            throw KernelError(making_ + ": the threads make no valid body");
        threaded_.part.solids = {solid};
    }

    const SkinSolids& part_;
    const plan::Plan& plan_;
    const std::string& making_;
    FaceOfEdge faces_at_;
    NCollection_DataMap<TopoDS_Shape, bool, TopTools_ShapeMapHasher> replaced_;
    NCollection_DataMap<TopoDS_Shape, std::vector<NewLoop>, TopTools_ShapeMapHasher> loops_;
    std::vector<std::pair<TopoDS_Face, std::string>> fresh_;
    Threaded threaded_;
};

}  // namespace

Threaded with_threads(SkinSolids part, const plan::Plan& plan, const std::string& making) {
    if (!plan::has_modelled_threads(plan)) return {std::move(part), {}, 0.0};
    return kernel_call(making, [&] {
        Threading threading(part, plan, making);
        for (const plan::Hole& hole : plan.holes) {
            if (hole.thread && hole.thread->modelled) threading.add(hole);
        }
        return threading.result();
    });
}

}  // namespace fitup::solid
