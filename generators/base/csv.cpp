#include "base/csv.hpp"

namespace fitup {

namespace {

std::string csv_cell(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string quoted = "\"";
    for (const char c : text) quoted += c == '"' ? "\"\"" : std::string(1, c);
    return quoted + "\"";
}

}  // namespace

std::string csv_row(std::span<const std::string> cells) {
    std::string row;
    for (std::size_t i = 0; i < cells.size(); ++i) row += (i == 0 ? "" : ",") + csv_cell(cells[i]);
    return row + "\r\n";
}

}  // namespace fitup
