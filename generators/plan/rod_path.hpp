#pragma once

#include <optional>
#include <vector>

#include "base/angle.hpp"
#include "plan/plan.hpp"
#include "plan/thread_form.hpp"

/// A rod's centreline, exactly: straights and arcs in order, and what is cut and marked by it.
namespace fitup::plan {

/// A straight piece of the centreline; without length where two bends touch.
struct RodStraight {
    Point3 from{};
    Point3 to{};
    Point3 along{};  ///< unit, the way the rod runs
    double length_mm = 0.0;
};

/// A rounded corner of the centreline.
struct RodBend {
    Point3 from{};
    Point3 to{};
    Point3 centre{};
    Point3 axis{};     ///< unit; the bend turns right-handed about it
    Point3 outward{};  ///< unit, from the centre to `from`
    Angle angle;       ///< over 0, under 180 degrees
    double radius_mm = 0.0;
    double mark_mm = 0.0;    ///< start of the arc on straight stock, from the first end
    double middle_mm = 0.0;  ///< middle of the arc on straight stock
    /// From the plane of the bend before to this one's, right-handed about the way the rod runs, over -180 to
    /// 180 degrees; the first bend's is 0.
    Angle turn;
    double length_mm() const;
};

/// Straight 0, bend 0, straight 1, bend 1, .. : one more straight than bends.
struct RodPath {
    std::vector<RodStraight> straights;
    std::vector<RodBend> bends;
    double length_mm = 0.0;

    /// The point so far along the centreline, and the unit direction there. Kept within the rod's ends.
    struct Place {
        Point3 at{};
        Point3 along{};
    };
    Place place_at(double along_mm) const;
};

/// A corner that turns less than this is none; one that turns within this of 180 degrees turns straight back.
inline constexpr Angle least_bend = Angle::from_degrees(0.01);

/// How much of each side of a corner its rounding takes: radius x tan(half the angle).
double setback_mm(const Rod& rod, std::size_t corner);
/// By how much the direction changes at a corner; 0 at the ends.
Angle corner_angle(const Rod& rod, std::size_t corner);

/// REQUIRES: two corners or more, none twice in a row, each inner one turning by more than `least_bend` and
/// not straight back, every straight as long as its corners' roundings take (parts::plan_threaded_rod sees to
/// it).
/// Accuracy: a few units in the last place of the coordinates.
RodPath rod_path(const Rod& rod);

/// Where the rod comes too near to itself.
struct RodContact {
    double distance_mm = 0.0;  ///< between the centrelines
    Point3 at{};               ///< half-way between the two places
    double first_mm = 0.0;     ///< along the centreline
    double second_mm = 0.0;
};

/// Whether the rod runs into itself or back to its own start: two places of the centreline nearer than the
/// rod's diameter (or a thousandth of it farther) that are not neighbours round a bend. One such place, or
/// nothing.
///
/// An end counts as a ball of the rod's diameter. Two places are neighbours when the way between them is
/// shorter than half a turn of the bends' radius: any way of such a curve between places nearer than a
/// diameter is either well under that or well over it (H. A. Schwarz's theorem on arcs of bounded curvature).
/// REQUIRES: a bend radius over half the diameter.
std::optional<RodContact> rod_contact(const Rod& rod, const RodPath& path);

/// The thread of an end that is modelled as a real helix, from the end's face inwards; nothing for others.
std::optional<ThreadedLength> modelled_thread(const Rod& rod, std::size_t end);
bool has_modelled_thread(const Rod& rod);

/// What a rod holds and shows, in closed form. Modelled threads count in the volume; area and box take them
/// as plain cylinders of their major diameter.
struct RodFigures {
    double volume_mm3 = 0.0;
    double area_mm2 = 0.0;
    Box box;
};
RodFigures rod_figures(const Rod& rod, const RodPath& path);
/// How near a solid's volume must come to the closed form, relative: 1e-9. With modelled threads 1e-6, since
/// a kernel integrates their faces by a fixed rule, to about 1e-7.
double volume_within(const Rod& rod);

/// A coaxial run of one end, from outside in: radii at its start and finish, both measured along the axis
/// from the end's face. A plane ring where the two distances are equal.
struct RodStep {
    double from_mm = 0.0;
    double to_mm = 0.0;
    double from_radius_mm = 0.0;
    double to_radius_mm = 0.0;
};
/// Chamfer, turned length and shoulder of an end, each only where it is there; empty for a square plain end.
/// Of a modelled thread, which stands before them, the shoulder alone.
std::vector<RodStep> end_steps(const Rod& rod, std::size_t end);
/// How far the steps, or a modelled thread with its run-out, reach in from the end's face.
double stepped_length_mm(const Rod& rod, std::size_t end);
/// Radius of the flat face at an end.
double face_radius_mm(const Rod& rod, std::size_t end);

}  // namespace fitup::plan
