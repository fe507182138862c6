#pragma once

#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <gp_Trsf.hxx>
#include <vector>

#include "plan/thread_form.hpp"

/// The skin of a thread as it stands: helical faces made directly, edges shared, nothing sewn, nothing cut.
namespace fitup::solid {

/// Greatest distance of the faces from the exact surface. A fifth of the kernel's own tolerance, so that the
/// faces also fit true circles, planes and cylinders.
inline constexpr double thread_within_mm = 2e-8;

/// A circle of edges about an axis, which faces on both sides share.
struct Ring {
    struct Arc {
        TopoDS_Edge edge;  ///< oriented anticlockwise about the axis
        double from_rad = 0.0;
        double to_rad = 0.0;  ///< more than `from_rad`
    };
    double z_mm = 0.0;
    double radius_mm = 0.0;
    std::vector<Arc> arcs;  ///< in order, anticlockwise
};

/// Faces look out of the metal: away from the axis on an external thread, towards it on an internal one.
struct ThreadSkin {
    std::vector<TopoDS_Face> faces;
    Ring start;   ///< at z = 0
    Ring finish;  ///< at the end; after a run-out with vertices at angles 0 and half a turn
};

/// A threaded length in its own frame (along +Z from the origin) put in place.
///
/// Radii and heights of the faces are within thread_within_mm of the exact ones; flanks, crest and root meet
/// the chamfer's cone in their exact creases, which are splines within that too. No face goes on for more
/// than a few turns. The middle of the root ends at angle 0.
/// @param place  moves and turns; neither scales nor mirrors.
/// REQUIRES: length_mm more than least_length_mm().
/// @throws KernelError when the length is too short or the kernel fails.
/// Cost: linear in the turns, about 0.2 ms each.
ThreadSkin thread_skin(const plan::ThreadedLength& of, const gp_Trsf& place);

/// A plain circle with vertices at angles 0 and half a turn.
Ring plain_ring(double radius_mm, double z_mm, const gp_Trsf& place);
/// The plane within a ring, or between it and a smaller one. `up`: the metal is below.
TopoDS_Face flat_face(const Ring& outer, const Ring* inner, bool up, const gp_Trsf& place);
/// The cylinder between two rings of one radius, as two halves. Both rings need vertices at angles 0 and half
/// a turn.
std::vector<TopoDS_Face> sleeve_faces(const Ring& low, const Ring& high, bool metal_inside,
                                      const gp_Trsf& place);

}  // namespace fitup::solid
