#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "sheets/drawing.hpp"

/// A chart of figures over a figure, readable in black and white.
namespace fitup::sheets {

struct Axis {
    std::string label;  ///< with its unit: "deck lever, degrees"
    double least = 0.0, most = 1.0;
};

struct Curve {
    std::vector<Place> points;  ///< in the axes' units
    Dash dash = Dash::solid;
    std::string label;
    /// Width along y at each point, shaded around the curve; empty: none.
    std::vector<double> width;
};

/// A shaded range of y across the chart, or of x from top to bottom.
struct Band {
    double least = 0.0, most = 0.0;
    bool along_x = false;
    std::string label;
    double grey = 0.88;
};

struct Marker {
    Place at{};
    bool is_good = true;     ///< an open circle; else a cross
    std::string label = {};  ///< beside it, where there is room
};

/// A line across at a value of x or y.
struct Rule {
    double at = 0.0;
    bool at_x = false;
    std::string label;
};

struct Chart {
    std::string title;
    std::string note;
    Axis x, y;
    std::vector<Band> bands;
    std::vector<Curve> curves;
    std::vector<Marker> markers;
    std::vector<Rule> rules;
};

/// Round numbers that divide a range into about `count` steps.
std::vector<double> ticks(double least, double most, int count);

/// The least range with some room that holds all values; of equal ones a range round them.
Axis axis_over(std::string label, const std::vector<double>& values);

Drawing chart_drawing(const Chart& chart, double width_mm = 180.0, double height_mm = 120.0);

}  // namespace fitup::sheets
