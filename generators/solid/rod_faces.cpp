#include "solid/rod_faces.hpp"

#include <BRep_Builder.hxx>
#include <Geom_Circle.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Plane.hxx>
#include <Geom_ToroidalSurface.hxx>
#include <Precision.hxx>
#include <TopoDS.hxx>
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

void lay_ring(const RodRing& ring, const TopoDS_Face& face, double v_mm, bool is_flipped) {
    lay_on(ring.edge, face, is_flipped ? Line2{full_turn, v_mm, -1.0, 0.0} : Line2{0.0, v_mm, 1.0, 0.0});
}

TopoDS_Face revolved_face(const Revolved& shape) {
    const BRep_Builder builder;
    TopoDS_Face face;
    builder.MakeFace(face, shape.surface, Precision::Confusion());
    const TopoDS_Edge seam = straight_edge(shape.start.vertex, shape.finish.vertex);
    lay_seam_on(seam, face, {full_turn, 0.0, 0.0, 1.0}, {0.0, 0.0, 0.0, 1.0});
    lay_ring(shape.start, face, 0.0, shape.is_flipped);
    lay_ring(shape.finish, face, shape.slant_mm, shape.is_flipped);
    builder.Add(face, closed_wire(std::initializer_list<TopoDS_Shape>{
                          turned(shape.start.edge, shape.is_flipped), seam,
                          turned(shape.finish.edge, !shape.is_flipped), seam.Reversed()}));
    return face;
}

TopoDS_Wire wire_of(const TopoDS_Shape& edge) {
    return closed_wire(std::initializer_list<TopoDS_Shape>{edge});
}

/// Flat between two concentric rings; it faces the way from the wide metal to the narrow.
TopoDS_Face shoulder_face(const RodRing& before, const RodRing& after) {
    const bool narrows = after.radius_mm < before.radius_mm;
    const gp_Dir normal = narrows ? before.along : before.along.Reversed();
    const TopoDS_Shape first = before.edge, second = after.edge.Reversed();
    TopoDS_Face face = face_on(new Geom_Plane(gp_Ax3(before.centre, normal, before.reference)),
                               wire_of(narrows ? first : second));
    BRep_Builder().Add(face, wire_of(narrows ? second : first));
    return face;
}

}  // namespace

RodRing rod_ring(const gp_Pnt& centre, const gp_Dir& along, const gp_Dir& reference, double radius_mm) {
    RodRing made{centre, along, reference, radius_mm, {}, {}};
    const Handle(Geom_Circle) circle = new Geom_Circle(gp_Ax2(centre, along, reference), radius_mm);
    BRep_Builder().MakeVertex(made.vertex, circle->Value(0.0), Precision::Confusion());
    made.edge = arc_edge(circle, full_turn, made.vertex, made.vertex);
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
    lay_on(before.edge, face, {0.0, v0, 0.0, -1.0});
    lay_on(after.edge, face, {angle, v0, 0.0, -1.0});
    builder.Add(face, closed_wire(std::initializer_list<TopoDS_Shape>{seam, after.edge.Reversed(),
                                                                      seam.Reversed(), before.edge}));
    return face;
}

gp_Dir turned_with(const plan::RodBend& bend, const gp_Dir& direction) {
    return direction.Rotated(gp_Ax1(point(bend.centre), dir(bend.axis)), bend.angle.radians());
}

TopoDS_Face first_face(const RodRing& ring) {
    return face_on(new Geom_Plane(gp_Ax3(ring.centre, ring.along.Reversed(), ring.reference)),
                   wire_of(ring.edge.Reversed()));
}

TopoDS_Face last_face(const RodRing& ring) {
    return face_on(new Geom_Plane(gp_Ax3(ring.centre, ring.along, ring.reference)), wire_of(ring.edge));
}

}  // namespace fitup::solid
