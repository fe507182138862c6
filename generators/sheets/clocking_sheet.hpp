#pragma once

#include <string>

#include "calculations/clocking.hpp"
#include "sheets/drawing.hpp"

namespace fitup::sheets {

/// A clocking's result as tables for people: the best turn, what to write into the plate's file, which turns
/// pass, what else would.
std::string clocking_text(const calculations::Clocking& clocking, const calculations::ClockingResult& result);

/// The least web over the turn: turns that pass shaded, the best marked.
Drawing clocking_chart(const calculations::Clocking& clocking, const calculations::ClockingResult& result);

}  // namespace fitup::sheets
