#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepTools.hxx>
#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "exchange/kernel_side/step_measure.hpp"
#include "exchange/kernel_side/walls.hpp"

namespace fitup::exchange {
namespace {

plan::Point3 array_of(const gp_XYZ& xyz) { return {xyz.X(), xyz.Y(), xyz.Z()}; }

/// The axis with its largest component positive, so that two faces of one wall agree on it.
gp_Dir canonical(const gp_Dir& axis) {
    const std::array<double, 3> part{axis.X(), axis.Y(), axis.Z()};
    std::size_t largest = 2;
    for (const std::size_t i : {std::size_t{1}, std::size_t{0}}) {
        if (std::abs(part[i]) > std::abs(part[largest]) + 1e-9) largest = i;
    }
    return part[largest] < 0.0 ? axis.Reversed() : axis;
}

/// Range of a face along a direction: its corners, and where its edges bulge out between them.
class Reach {
  public:
    Reach(const TopoDS_Face& face, const gp_Dir& axis) : axis_(axis) {
        for (TopExp_Explorer corners(face, TopAbs_VERTEX); corners.More(); corners.Next()) {
            take(BRep_Tool::Pnt(TopoDS::Vertex(corners.Current())));
        }
        for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
            follow(TopoDS::Edge(edges.Current()));
        }
    }
    double low_mm() const { return low_; }
    double high_mm() const { return high_; }

  private:
    void take(const gp_Pnt& point) {
        const double along = point.XYZ().Dot(axis_.XYZ());
        low_ = std::min(low_, along);
        high_ = std::max(high_, along);
    }

    void follow(const TopoDS_Edge& edge) {
        if (BRep_Tool::Degenerated(edge)) return;
        const BRepAdaptor_Curve curve(edge);
        if (curve.GetType() == GeomAbs_Line) return;
        const bool square_to_axis =
            curve.GetType() == GeomAbs_Circle && curve.Circle().Axis().Direction().IsParallel(axis_, 1e-9);
        // Between samples a smooth edge rises by a 1/8 of (its length / samples) squared over its radius:
        // 1e-5 of its size.
        const int samples = square_to_axis ? 1 : 128;
        for (int i = 0; i <= samples; ++i) {
            take(curve.Value(curve.FirstParameter() +
                             (curve.LastParameter() - curve.FirstParameter()) * i / samples));
        }
    }

    gp_Dir axis_;
    double low_ = 1e300;
    double high_ = -1e300;
};

/// Where round the axis a point or direction lies, measured from a direction that only the axis decides.
double angle_round(const gp_Dir& axis, const gp_Dir& direction) {
    return gp_Ax2(gp::Origin(), axis).XDirection().AngleWithRef(direction, axis);
}

/// The turn that an arc about the axis makes; nothing for another edge. A straight side covers none of it.
std::optional<Turn> turn_of(const TopoDS_Edge& edge, const gp_Dir& axis) {
    const BRepAdaptor_Curve curve(edge);
    if (curve.GetType() == GeomAbs_Line) return Turn{};
    if (curve.GetType() != GeomAbs_Circle) return std::nullopt;
    const gp_Circ circle = curve.Circle();
    const gp_Dir normal = circle.XAxis().Direction().Crossed(circle.YAxis().Direction());
    if (!normal.IsParallel(axis, 1e-9)) return std::nullopt;
    const double sense = normal.Dot(axis) > 0.0 ? 1.0 : -1.0;
    const double start = angle_round(axis, circle.XAxis().Direction());
    return Turn{start + sense * (sense > 0.0 ? curve.FirstParameter() : curve.LastParameter()),
                curve.LastParameter() - curve.FirstParameter()};
}

/// From the edges where all are lines and arcs, else from the surface's parameters.
std::vector<Turn> turns_of(const TopoDS_Face& face, const gp_Ax3& place, const gp_Dir& axis) {
    std::vector<Turn> turns;
    for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
        const auto turn = turn_of(TopoDS::Edge(edges.Current()), axis);
        if (turn) {
            turns.push_back(*turn);
            continue;
        }
        double u_least, u_most, v_least, v_most;
        BRepTools::UVBounds(face, u_least, u_most, v_least, v_most);
        const bool same_sense = place.Direct() == (place.Direction().Dot(axis) > 0.0);
        const double start = angle_round(axis, place.XDirection());
        return {{same_sense ? start + u_least : start - u_most, u_most - u_least}};
    }
    return turns;
}

std::string name_of(const TopoDS_Shape& face, const solid::FaceNames& names) {
    const std::string* name = names.Seek(face.Located(TopLoc_Location()));
    return name == nullptr ? "" : *name;
}

/// The surface's normal points away from the axis unless its frame is left-handed; metal lies behind the
/// face.
bool is_hole(const TopoDS_Face& face, const gp_Ax3& place) {
    return (face.Orientation() == TopAbs_REVERSED) == static_cast<bool>(place.Direct());
}

WallPiece piece_of(const TopoDS_Face& face, const gp_Cylinder& cylinder, const solid::FaceNames& names) {
    WallPiece piece;
    const gp_Dir axis = canonical(cylinder.Axis().Direction());
    const gp_XYZ point = cylinder.Location().XYZ();
    piece.axis = array_of(axis.XYZ());
    piece.foot = array_of(point - axis.XYZ() * point.Dot(axis.XYZ()));
    piece.radius_mm = cylinder.Radius();
    const Reach reach(face, axis);
    piece.low_mm = reach.low_mm();
    piece.high_mm = reach.high_mm();
    piece.is_hole = is_hole(face, cylinder.Position());
    piece.name = name_of(face, names);
    piece.turns = turns_of(face, cylinder.Position(), axis);
    return piece;
}

ConeFace cone_of(const TopoDS_Face& face, const gp_Cone& cone) {
    const gp_Dir axis = canonical(cone.Axis().Direction());
    const double sense = axis.Dot(cone.Axis().Direction()) > 0.0 ? 1.0 : -1.0;
    const gp_XYZ point = cone.Location().XYZ();
    const double along = point.Dot(axis.XYZ());
    const auto radius_at = [&](double where) {
        return std::max(0.0, cone.RefRadius() + sense * (where - along) * std::tan(cone.SemiAngle()));
    };
    const Reach reach(face, axis);
    ConeFace found;
    found.axis = array_of(axis.XYZ());
    found.low_mm = reach.low_mm();
    found.high_mm = reach.high_mm();
    found.radius_low_mm = radius_at(found.low_mm);
    found.radius_high_mm = radius_at(found.high_mm);
    const double wide = found.radius_high_mm > found.radius_low_mm ? found.high_mm : found.low_mm;
    found.axis_point = array_of(point + axis.XYZ() * (wide - along));
    found.is_hole = is_hole(face, cone.Position());
    return found;
}

/// How far a torus' face goes round its ring and where its middle lies, from an edge along the ring (the
/// seam).
void take_ring_edge(const TopoDS_Edge& edge, const gp_Torus& torus, BendFace& bend) {
    const BRepAdaptor_Curve curve(edge);
    if (curve.GetType() != GeomAbs_Circle) return;
    const gp_Circ circle = curve.Circle();
    if (!circle.Axis().Direction().IsParallel(torus.Axis().Direction(), 1e-9)) return;
    const double first = curve.FirstParameter(), last = curve.LastParameter();
    const gp_XYZ out = curve.Value((first + last) / 2.0).XYZ() - circle.Location().XYZ();
    bend.sweep_deg = (last - first) * 180.0 / std::numbers::pi;
    bend.middle = array_of(torus.Location().XYZ() + out * (torus.MajorRadius() / circle.Radius()));
}

BendFace bend_of(const TopoDS_Face& face, const gp_Torus& torus) {
    BendFace bend;
    bend.centre = array_of(torus.Location().XYZ());
    bend.axis = array_of(canonical(torus.Axis().Direction()).XYZ());
    bend.ring_radius_mm = torus.MajorRadius();
    bend.tube_radius_mm = torus.MinorRadius();
    for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next())
        take_ring_edge(TopoDS::Edge(edges.Current()), torus, bend);
    return bend;
}

}  // namespace

RoundFaces round_faces(const TopoDS_Shape& shape, const solid::FaceNames& names) {
    RoundFaces found;
    std::vector<WallPiece> pieces;
    for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
        const TopoDS_Face face = TopoDS::Face(faces.Current());
        const BRepAdaptor_Surface surface(face, false);
        if (surface.GetType() == GeomAbs_Cylinder)
            pieces.push_back(piece_of(face, surface.Cylinder(), names));
        if (surface.GetType() == GeomAbs_Cone) found.cones.push_back(cone_of(face, surface.Cone()));
        if (surface.GetType() == GeomAbs_Torus && !is_hole(face, surface.Torus().Position()))
            found.bends.push_back(bend_of(face, surface.Torus()));
    }
    found.cylinders = joined_walls(std::move(pieces));
    return found;
}

}  // namespace fitup::exchange
