#pragma once

#include <string>
#include <variant>
#include <vector>

#include "plan/contour.hpp"

/// What is seen of a part from one direction, or cut open, at true size: before it is placed on a sheet and
/// dimensioned.
namespace fitup::sheets {

/// Kinds of line after ISO 128-2: which pen each takes is the sheet's business.
enum class LineKind {
    visible,   ///< edges in sight
    hidden,    ///< edges behind metal
    centre,    ///< axes and lines of symmetry
    circle,    ///< bolt circles
    bend,      ///< where flat stock is bent
    thread,    ///< thin: a thread's other diameter, a break
    cut_line,  ///< where a section is taken, on the view that it's taken in
    hatch      ///< of metal that is cut
};

struct ViewLine {
    LineKind kind = LineKind::visible;
    std::vector<plan::Point> points;
    bool closed = false;
};

/// A circle or an arc, anticlockwise from `from_rad`.
struct ViewArc {
    LineKind kind = LineKind::visible;
    plan::Point centre;
    double radius_mm = 0.0;
    double from_rad = 0.0;
    double sweep_rad = 6.283185307179586;
};

/// Metal that is cut, to be hatched.
struct ViewArea {
    plan::Area area;
};

/// A place that a table or a dimension speaks of: a hole's centre.
struct ViewMark {
    plan::Point at;
    std::string id;  ///< of the hole
    double radius_mm = 0.0;
    bool is_open = true;  ///< false: it is behind metal in this view
};

/// Millimetres of the part, X to the right and Y up as it is looked at.
struct View {
    std::string name;  ///< "side B", "section C-C", "flat blank"
    std::vector<std::variant<ViewLine, ViewArc, ViewArea>> items;
    std::vector<ViewMark> marks;
};

}  // namespace fitup::sheets
