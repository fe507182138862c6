#pragma once

#include <string>

#include "calculations/as_made.hpp"
#include "sheets/drawing.hpp"

namespace fitup::sheets {

/// A finished plate's result as tables for people: where each hole is off, and each casting's verdict.
std::string as_made_text(const calculations::AsMade& made, const calculations::AsMadeResult& result);

/// The holes seen on face B, with where each is off drawn larger by a factor that is stated.
Drawing as_made_chart(const calculations::AsMade& made, const calculations::AsMadeResult& result);

}  // namespace fitup::sheets
