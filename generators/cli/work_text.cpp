#include "cli/part_result.hpp"
#include "sheets/work_lines.hpp"

namespace fitup::cli {

std::string work_text(const plan::Work& work) {
    std::string text;
    for (const sheets::WorkLine& line : sheets::work_lines(work)) {
        if (line.label.empty())
            text += "    " + line.text + "\n";
        else
            text += "  " + line.label + (line.text.empty() ? "" : "  " + line.text) + "\n";
    }
    return text;
}

}  // namespace fitup::cli
