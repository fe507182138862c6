#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "plan/paper.hpp"
#include "plan/plan.hpp"
#include "sheets/dimension.hpp"
#include "sheets/drawing_frame.hpp"
#include "sheets/drawn_table.hpp"
#include "sheets/page_room.hpp"
#include "sheets/view.hpp"

/// From views, dimensions and tables to sheets: chooses the scale and what goes where.
namespace fitup::sheets {

/// Words with a line to what they speak of.
struct Leader {
    plan::Point at;         ///< where the arrow points
    double turn_rad = 0.0;  ///< the way the words are looked for first, clockwise on the page from the right
    std::string text;
};

struct SheetView {
    std::string caption;
    plan::Box2 box;  ///< of the part in the view, in mm of the part
    /// @param overshoot_mm  of centre lines, in mm of the part
    std::function<View(double overshoot_mm)> view;
    std::vector<Dimension> dimensions = {};
    std::vector<Leader> leaders = {};
    std::map<std::string, std::string> marks = {};  ///< hole's id to what stands beside it
    /// Signs over the view's lines: datums, where a section is cut.
    std::function<void(Drawing&, const Placing&)> signs = {};
    double signs_room_mm = 0.0;  ///< of the page, on every side
    int group = 0;               ///< views of one group stay on one sheet
};

struct SheetContent {
    std::vector<SheetView> views;  ///< side by side, or one under the other
    bool is_column = false;
    std::vector<DrawnTable> tables;
    TitleBlock block;  ///< the scale is filled in
    plan::Units units = plan::Units::mm;
    double cost = 0.0;  ///< of being drawn this way rather than another, in sheets
};

/// The one that reads best, on as few sheets as it takes; empty where none goes onto the paper.
std::vector<Drawing> compose(const std::vector<SheetContent>& ways, const plan::DrawingSheet& sheet);

}  // namespace fitup::sheets
