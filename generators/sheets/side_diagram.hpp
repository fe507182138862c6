#pragma once

#include <array>
#include <map>
#include <span>
#include <string>

#include "plan/plan.hpp"
#include "sheets/drawing.hpp"

/// A small picture of a side as it lies on the table: which hole is which, and what X and Y count from.
namespace fitup::sheets {

/// Where it goes on the page: left, top, right, bottom.
using Frame = std::array<double, 4>;

/// Numbers of holes on a sheet by their ids.
using HoleNumbers = std::map<std::string, std::size_t>;

/// The side's outline, what is cut into it, both axes with their zero, and how far the outline's left and
/// lowest edges lie from it (arrows a and b). Numbers stand beside their holes, off every line.
/// @param bends_mm  x of each bend's start and end on a flat blank
/// @param numbers   of the holes that get one; one that finds no room is left out
/// @returns how many were left out
std::size_t draw_side_diagram(Drawing& page, const plan::Plan& plan, plan::Side side,
                              const HoleNumbers& numbers, const Frame& frame,
                              std::span<const std::array<double, 2>> bends_mm = {});

/// Height of a frame of this width that the diagram fills, up to `most_mm`.
double diagram_height_mm(const plan::Plan& plan, double width_mm, double most_mm);

/// What the diagram's arrows measure, in words: "a 215.00 mm (8.4646 in) from the left edge to zero".
std::vector<std::string> edge_distances(const plan::Plan& plan, plan::Side side);

}  // namespace fitup::sheets
