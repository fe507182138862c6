#pragma once

#include <string>
#include <string_view>

#include "sheets/report_page.hpp"

namespace fitup::sheets {

/// Reads a report's page again and compares it with the plan: every hole (of a rod every end and bend) in one
/// row, X and Y as the plan has them, and the view's volume within what its chord allows of the part's.
/// @param area_mm2  of the part
/// @returns what was compared and how near it came
/// @throws KernelError  the page differs
std::string check_report(std::string_view page, const ReportInput& input, double area_mm2);

}  // namespace fitup::sheets
