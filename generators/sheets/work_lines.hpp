#pragma once

#include <string>
#include <vector>

#include "plan/work.hpp"

/// A kind's own figures in words, the same on the screen and in the report.
namespace fitup::sheets {

/// A figure with its label and unit (millimetres in inches too), a heading without text, or a row under it
/// without label.
struct WorkLine {
    std::string label;
    std::string text;
};

std::vector<WorkLine> work_lines(const plan::Work& work);

}  // namespace fitup::sheets
