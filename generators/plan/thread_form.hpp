#pragma once

#include <array>

#include "plan/plan.hpp"

/// The basic profile of a thread, and closed forms of what a threaded length holds.
///
/// In an axial section the surface is a radius over the axial place, repeated every pitch; turned by an angle
/// it is the same, moved along the axis by pitch * turn. So at every height the section's area is the mean
/// over a pitch of pi * radius^2.
namespace fitup::plan {

/// A straight or round piece of the profile: from `from_mm` to `to_mm` along the axis, measured from the
/// middle of the root.
struct ProfilePiece {
    double from_mm = 0.0;
    double to_mm = 0.0;
    double from_radius_mm = 0.0;
    double to_radius_mm = 0.0;
    /// 0: straight. Else symmetric about its middle and tangent to its neighbours.
    double rounding_mm = 0.0;
    bool is_crest = false;  ///< which way a round piece bulges

    /// Distance from the axis at a place between the two. Exact to rounding.
    double radius_mm(double along_mm) const;
    double middle_mm() const { return 0.5 * (from_mm + to_mm); }
};

/// A basic profile. Root and crest here are of the metal of an external thread: the crest is at the major
/// diameter.
struct ThreadForm {
    double major_mm = 0.0;
    double pitch_mm = 0.0;
    double depth_mm = 0.0;
    Angle half_angle;          ///< of a flank against the plane square to the axis
    double rounding_mm = 0.0;  ///< of crest and root; 0: flat
    /// Root, rising flank, crest, falling flank; together one pitch.
    std::array<ProfilePiece, 4> pieces;

    double major_radius_mm() const { return 0.5 * major_mm; }
    double minor_radius_mm() const { return 0.5 * major_mm - depth_mm; }
    /// At the diameter where ridge and groove are equally wide.
    double pitch_diameter_mm() const;
    /// For any place along the axis; 0 is the middle of a root.
    double radius_mm(double along_mm) const;
    /// Area of the section square to the axis.
    double section_mm2() const;
};

/// ISO 68-1 and ASME B1.1: depth 5/8 of the sharp triangle, crest P/8, root P/4. BS 84: depth 2/3 of the
/// triangle, BS 93: 0.6 P; both rounded so that flanks are tangent. Standards' figures from memory.
/// REQUIRES: major diameter more than twice the depth.
ThreadForm thread_form(ThreadProfile profile, double major_mm, double pitch_mm);
ThreadForm thread_form(const Thread& thread);

/// How a thread ends: by a chamfer of 45 degrees (a countersink, inside), which lies within its length, or by
/// a run-out of one pitch beyond it, in which its depth goes evenly to nothing.
enum class ThreadEnd { chamfer, run_out };
enum class ThreadSide { external, internal };

/// A threaded length along +Z from z = 0, where it starts with a chamfer. Outside, a chamfer goes down to the
/// minor diameter and a run-out up to the major; inside it is the other way round.
struct ThreadedLength {
    ThreadForm form;
    ThreadSide side = ThreadSide::external;
    Hand hand = Hand::right;
    double length_mm = 0.0;
    ThreadEnd finish = ThreadEnd::run_out;

    /// Height of a chamfer: the depth of the thread.
    double chamfer_mm() const { return form.depth_mm; }
    /// Where the last of it is: the length, and the run-out where there is one.
    double end_mm() const { return finish == ThreadEnd::run_out ? length_mm + form.pitch_mm : length_mm; }
    /// The least length that leaves full form between its ends, if only a point of it.
    double least_length_mm() const {
        return finish == ThreadEnd::run_out ? chamfer_mm() : 2.0 * chamfer_mm();
    }
    double start_radius_mm() const;
    double finish_radius_mm() const;
    /// What the threaded surface encloses between z = 0 and end_mm(), in closed form: metal outside, room
    /// inside.
    /// REQUIRES: length_mm at least least_length_mm().
    double enclosed_mm3() const;
};

/// Whether a hole has its thread as a real helix: the skin then has it at the minor diameter.
bool has_modelled_threads(const Plan& plan);

}  // namespace fitup::plan
