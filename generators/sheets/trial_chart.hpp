#pragma once

#include <optional>
#include <span>

#include "calculations/trial.hpp"
#include "sheets/drawing.hpp"

namespace fitup::sheets {

/// What is traded for what over one varied key: a chart for each figure that changes (the first four), the
/// values that pass shaded; over two keys a map of what passes. Nothing for more keys, or where nothing
/// changes.
/// @param own  the file's own values
std::optional<Drawing> trial_chart(const std::string& title, std::span<const calculations::Ladder> ladders,
                                   std::span<const calculations::TrialRow> rows, std::span<const double> own);

/// Figures of a trial that a person looks at first: those that change, bounds of error and twins left out.
std::vector<std::string> figures_to_show(std::span<const calculations::TrialRow> rows, std::size_t most);

}  // namespace fitup::sheets
