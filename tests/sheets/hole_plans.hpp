#pragma once

#include <string>
#include <utility>

#include "plan/plan.hpp"

/// Plans for the tests of hole lists, made by hand: invented, of the deck winch's adapter plate.
namespace fitup::sheets {

inline plan::Hole hole(std::string id, plan::HoleKind kind, plan::Point at, double diameter_mm) {
    plan::Hole made;
    made.id = std::move(id);
    made.kind = kind;
    made.at_mm = at;
    made.diameter_mm = diameter_mm;
    made.depth_mm = 40.0;
    return made;
}

inline plan::Hole blind(plan::Hole made, double depth_mm) {
    made.through = false;
    made.depth_mm = depth_mm;
    made.point_angle = Angle::from_degrees(118.0);
    return made;
}

inline plan::Hole tapped(std::string id, plan::Point at, double thread_mm, double drill_mm) {
    plan::Hole made = blind(hole(std::move(id), plan::HoleKind::tapped, at, 8.5), drill_mm);
    plan::Thread thread;
    thread.designation = "M10";
    thread.major_mm = 10.0;
    thread.pitch_mm = 1.5;
    thread.minor_mm = 8.376;
    thread.tap_drill_mm = 8.5;
    thread.tap_drill_name = "8.5 mm";
    thread.depth_mm = thread_mm;
    made.thread = thread;
    return made;
}

inline plan::Fit h7(double nominal_mm, double upper_um) {
    return {"H7", nominal_mm, 0.0, upper_um, "ISO 286-2"};
}

inline plan::Plan plate(std::vector<plan::Hole> holes) {
    plan::Plan made;
    made.name = "winch-adapter";
    made.body.thickness_mm = 40.0;
    made.side_names = {"flywheel housing", "winch gearbox"};
    made.holes = std::move(holes);
    return made;
}

}  // namespace fitup::sheets
