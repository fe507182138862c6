#pragma once

#include <span>
#include <string>
#include <vector>

#include "plan/finding.hpp"
#include "plan/plan.hpp"
#include "plan/work.hpp"
#include "sheets/fastener_list.hpp"
#include "sheets/order_text.hpp"
#include "sheets/report_view.hpp"

/// The report: one HTML file that needs nothing else, for whoever looks the part over.
namespace fitup::sheets {

struct ReportFile {
    std::string kind;
    std::string name;  ///< without folder
    std::size_t bytes = 0;
    bool verified = false;
    std::string checked;  ///< what was compared; may be empty
};

struct ReportDrawing {
    std::string title;
    std::string svg;  ///< "": too large for the page, which then says where it is
};

struct ReportInput {
    const plan::Plan& plan;
    OrderedSize size;
    const plan::Work& work;
    const plan::Findings& findings;
    std::vector<ReportFile> files;
    std::string parameter_file;   ///< its name
    std::string parameter_bytes;  ///< as they were read
    ReportView view;
    std::vector<ReportDrawing> drawings;
    std::vector<FastenerRow> fasteners = {};
};

/// Texts that came from outside can't become markup; nothing is fetched from anywhere, and the page forbids
/// itself to. The same input gives the same bytes.
std::string report_page(const ReportInput& input);

}  // namespace fitup::sheets
