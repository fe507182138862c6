#include "solid/rod_faces.hpp"

#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom_Circle.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Plane.hxx>
#include <Geom_ToroidalSurface.hxx>
#include <Precision.hxx>
#include <TopExp.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "plan/contour.hpp"
#include "solid/patches.hpp"

namespace fitup::solid {
namespace {

constexpr double full_turn = 2.0 * std::numbers::pi;

gp_Pnt point(const plan::Point3& p) { return {p[0], p[1], p[2]}; }
gp_Dir dir(const plan::Point3& p) { return {p[0], p[1], p[2]}; }

TopoDS_Edge arc_edge(const Handle(Geom_Circle) & circle, double sweep, const TopoDS_Vertex& first,
                     const TopoDS_Vertex& last) {
    const BRep_Builder builder;
    TopoDS_Edge edge;
    builder.MakeEdge(edge, circle, Precision::Confusion());
    builder.Add(edge, first.Oriented(TopAbs_FORWARD));
    builder.Add(edge, last.Oriented(TopAbs_REVERSED));
    builder.Range(edge, 0.0, sweep);
    return edge;
}

/// A surface of revolution that starts at `start`, its axis toward `finish`, v the length along its straight
/// lines.
struct Revolved {
    const RodRing& start;
    const RodRing& finish;
    /// The axis runs against the rings' `along`, so that u runs against their edges.
    bool is_flipped = false;
    Handle(Geom_Surface) surface;
    double slant_mm = 0.0;
};

/// A cone's axis must point where it widens: a narrowing one starts at its far end.
Revolved revolved(const RodRing& before, const RodRing& after) {
    const bool narrows = after.radius_mm < before.radius_mm - plan::same_point_mm;
    const bool widens = after.radius_mm > before.radius_mm + plan::same_point_mm;
    Revolved made{narrows ? after : before, narrows ? before : after, narrows, {}, 0.0};
    const double along_mm = before.centre.Distance(after.centre);
    const double rise_mm = made.finish.radius_mm - made.start.radius_mm;
    const gp_Ax3 place(made.start.centre, narrows ? before.along.Reversed() : before.along, before.reference);
    if (narrows || widens) {
        made.surface = new Geom_ConicalSurface(place, std::atan2(rise_mm, along_mm), made.start.radius_mm);
        made.slant_mm = std::hypot(rise_mm, along_mm);
    } else {
        made.surface = new Geom_CylindricalSurface(place, before.radius_mm);
        made.slant_mm = along_mm;
    }
    return made;
}

/// The angle of an arc's point where its own parameter is 0, and whether both grow together.
struct ArcAngle {
    double at_zero = 0.0;
    double slope = 1.0;
};

ArcAngle angle_of(const Ring::Arc& arc) {
    double first = 0.0, last = 0.0;
    BRep_Tool::Range(arc.edge, first, last);
    if (arc.edge.Orientation() == TopAbs_FORWARD) return {arc.from_rad - first, 1.0};
    return {arc.to_rad + first, -1.0};
}

void lay_ring(const RodRing& ring, const TopoDS_Face& face, double v_mm, bool is_flipped) {
    for (const Ring::Arc& arc : ring.arcs) {
        const ArcAngle angle = angle_of(arc);
        lay_on(arc.edge, face,
               is_flipped ? Line2{full_turn - angle.at_zero, v_mm, -angle.slope, 0.0}
                          : Line2{angle.at_zero, v_mm, angle.slope, 0.0});
    }
}

using Edges = std::vector<TopoDS_Shape>;

void append(Edges& edges, const RodRing& ring, bool backwards) {
    if (!backwards) {
        for (const Ring::Arc& arc : ring.arcs) edges.push_back(arc.edge);
        return;
    }
    for (auto arc = ring.arcs.rbegin(); arc != ring.arcs.rend(); ++arc) edges.push_back(arc->edge.Reversed());
}

TopoDS_Wire wire_of(const RodRing& ring, bool backwards) {
    Edges edges;
    append(edges, ring, backwards);
    return closed_wire(edges);
}

TopoDS_Face revolved_face(const Revolved& shape) {
    const BRep_Builder builder;
    TopoDS_Face face;
    builder.MakeFace(face, shape.surface, Precision::Confusion());
    const TopoDS_Edge seam = straight_edge(shape.start.vertex, shape.finish.vertex);
    lay_seam_on(seam, face, {full_turn, 0.0, 0.0, 1.0}, {0.0, 0.0, 0.0, 1.0});
    lay_ring(shape.start, face, 0.0, shape.is_flipped);
    lay_ring(shape.finish, face, shape.slant_mm, shape.is_flipped);
    Edges edges;
    append(edges, shape.start, shape.is_flipped);
    edges.push_back(seam);
    append(edges, shape.finish, !shape.is_flipped);
    edges.push_back(seam.Reversed());
    builder.Add(face, closed_wire(edges));
    return face;
}

/// A ring on the torus of a bend, where it runs against v from v0.
void lay_section(const RodRing& ring, const TopoDS_Face& face, double u, double v0) {
    for (const Ring::Arc& arc : ring.arcs) {
        const ArcAngle angle = angle_of(arc);
        lay_on(arc.edge, face, {u, v0 - angle.at_zero, 0.0, -angle.slope});
    }
}

/// Flat between two concentric rings; it faces the way from the wide metal to the narrow.
TopoDS_Face shoulder_face(const RodRing& before, const RodRing& after) {
    const bool narrows = after.radius_mm < before.radius_mm;
    const gp_Dir normal = narrows ? before.along : before.along.Reversed();
    const TopoDS_Wire first = wire_of(before, false), second = wire_of(after, true);
    TopoDS_Face face =
        face_on(new Geom_Plane(gp_Ax3(before.centre, normal, before.reference)), narrows ? first : second);
    BRep_Builder().Add(face, narrows ? second : first);
    return face;
}

}  // namespace

RodRing rod_ring(const gp_Pnt& centre, const gp_Dir& along, const gp_Dir& reference, double radius_mm) {
    RodRing made{centre, along, reference, radius_mm, {}, {}};
    const Handle(Geom_Circle) circle = new Geom_Circle(gp_Ax2(centre, along, reference), radius_mm);
    BRep_Builder().MakeVertex(made.vertex, circle->Value(0.0), Precision::Confusion());
    made.arcs = {{arc_edge(circle, full_turn, made.vertex, made.vertex), 0.0, full_turn}};
    return made;
}

namespace {

/// Arcs in order round, the first from angle 0.
void start_at_zero(std::vector<Ring::Arc>& arcs) {
    const auto turns_off = [](const Ring::Arc& arc) {
        const double turns = arc.from_rad / full_turn;
        return std::abs(turns - std::round(turns));
    };
    const auto first = std::min_element(
        arcs.begin(), arcs.end(), [&](const auto& a, const auto& b) { return turns_off(a) < turns_off(b); });
    std::rotate(arcs.begin(), first, arcs.end());
    double from_rad = 0.0;
    for (Ring::Arc& arc : arcs) {
        const double sweep_rad = arc.to_rad - arc.from_rad;
        arc.from_rad = from_rad;
        arc.to_rad = from_rad += sweep_rad;
    }
}

}  // namespace

RodRing ring_of_thread(const Ring& finish, const gp_Pnt& centre, const gp_Dir& along, const gp_Dir& reference,
                       bool at_last_end) {
    RodRing made{centre, along, reference, finish.radius_mm, {}, finish.arcs};
    if (at_last_end) {
        // Seen from the other side the arcs run clockwise, and from the other end of the turn.
        std::reverse(made.arcs.begin(), made.arcs.end());
        for (Ring::Arc& arc : made.arcs)
            arc = {TopoDS::Edge(arc.edge.Reversed()), full_turn - arc.to_rad, full_turn - arc.from_rad};
    }
    start_at_zero(made.arcs);
    made.vertex = TopExp::FirstVertex(made.arcs.front().edge, true);
    return made;
}

TopoDS_Face turned_face(const RodRing& before, const RodRing& after) {
    if (before.centre.Distance(after.centre) < plan::same_point_mm) return shoulder_face(before, after);
    return revolved_face(revolved(before, after));
}

TopoDS_Face bend_face(const plan::RodBend& bend, const RodRing& before, const RodRing& after) {
    const gp_Pnt centre = point(bend.centre);
    const gp_Dir axis = dir(bend.axis), outward = dir(bend.outward);
    const double angle = bend.angle.radians();
    const BRep_Builder builder;
    TopoDS_Face face;
    builder.MakeFace(
        face, new Geom_ToroidalSurface(gp_Ax3(centre, axis, outward), bend.radius_mm, before.radius_mm),
        Precision::Confusion());
    // The rings start at v0 on the tube and run against v.
    const double v0 = std::atan2(before.reference.Dot(axis), before.reference.Dot(outward));
    const gp_Pnt seam_centre = centre.XYZ() + axis.XYZ() * (before.radius_mm * std::sin(v0));
    const TopoDS_Edge seam = arc_edge(
        new Geom_Circle(gp_Ax2(seam_centre, axis, outward), bend.radius_mm + before.radius_mm * std::cos(v0)),
        angle, before.vertex, after.vertex);
    lay_seam_on(seam, face, {0.0, v0 - full_turn, 1.0, 0.0}, {0.0, v0, 1.0, 0.0});
    lay_section(before, face, 0.0, v0);
    lay_section(after, face, angle, v0);
    Edges edges{seam};
    append(edges, after, true);
    edges.push_back(seam.Reversed());
    append(edges, before, false);
    builder.Add(face, closed_wire(edges));
    return face;
}

gp_Dir turned_with(const plan::RodBend& bend, const gp_Dir& direction) {
    return direction.Rotated(gp_Ax1(point(bend.centre), dir(bend.axis)), bend.angle.radians());
}

TopoDS_Face first_face(const RodRing& ring) {
    return face_on(new Geom_Plane(gp_Ax3(ring.centre, ring.along.Reversed(), ring.reference)),
                   wire_of(ring, true));
}

TopoDS_Face last_face(const RodRing& ring) {
    return face_on(new Geom_Plane(gp_Ax3(ring.centre, ring.along, ring.reference)), wire_of(ring, false));
}

}  // namespace fitup::solid
