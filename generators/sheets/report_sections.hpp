#pragma once

#include <string>

#include "sheets/report_page.hpp"

/// The parts of the report that are tables and words. Each is HTML, a section with its heading, or nothing
/// where there is nothing to say.
namespace fitup::sheets {

std::string heading_section(const ReportInput& input);
std::string patterns_section(const ReportInput& input);
std::string findings_section(const ReportInput& input);
std::string figures_section(const ReportInput& input);
std::string drawings_section(const ReportInput& input);
std::string fasteners_section(const ReportInput& input);
std::string files_section(const ReportInput& input);
std::string parameters_section(const ReportInput& input);
std::string cautions_section();

/// A section of the page.
std::string section(const std::string& id, const std::string& title, const std::string& inner);

}  // namespace fitup::sheets
