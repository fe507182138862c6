#pragma once

#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Vertex.hxx>
#include <gp_Dir.hxx>
#include <gp_Pnt.hxx>

#include "plan/rod_path.hpp"
#include "solid/thread.hpp"

/// Faces of a rod between circles that neighbours share.
namespace fitup::solid {

/// A circle square to the centreline, with a vertex where `reference` points. Its arcs run anticlockwise
/// about `along`, from `reference` round. The face after it walks it forwards, the face before it backwards.
struct RodRing {
    gp_Pnt centre;
    gp_Dir along;
    gp_Dir reference;
    double radius_mm = 0.0;
    TopoDS_Vertex vertex;
    std::vector<Ring::Arc> arcs;
};
/// With one vertex.
RodRing rod_ring(const gp_Pnt& centre, const gp_Dir& along, const gp_Dir& reference, double radius_mm);

/// Cylinder, cone or plane ring between two coaxial rings, outward side out.
TopoDS_Face turned_face(const RodRing& before, const RodRing& after);
/// The torus of a bend; `after` has its reference turned with the bend.
TopoDS_Face bend_face(const plan::RodBend& bend, const RodRing& before, const RodRing& after);
/// The direction turned with the bend.
gp_Dir turned_with(const plan::RodBend& bend, const gp_Dir& direction);
/// Where a thread has run out, the ring that its skin ends on. Its place has X along `reference` and Z along
/// the rod, at the last end against it.
RodRing ring_of_thread(const Ring& finish, const gp_Pnt& centre, const gp_Dir& along, const gp_Dir& reference,
                       bool at_last_end);
/// The flat at the first end and at the last.
TopoDS_Face first_face(const RodRing& ring);
TopoDS_Face last_face(const RodRing& ring);

}  // namespace fitup::solid
