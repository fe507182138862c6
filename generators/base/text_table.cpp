#include "base/text_table.hpp"

#include <algorithm>

namespace fitup {

namespace {

constexpr std::size_t line_width = 100;

/// Characters on the screen: UTF-8's following bytes take no place.
std::size_t width_of(const std::string& text) {
    return static_cast<std::size_t>(
        std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

std::string padded(const std::string& text, std::size_t width, bool to_the_right) {
    const std::string blanks(width - std::min(width, width_of(text)), ' ');
    return to_the_right ? blanks + text : text + blanks;
}

std::vector<std::size_t> widths_of(const std::vector<TableRow>& rows) {
    std::vector<std::size_t> widths;
    for (const TableRow& row : rows) {
        widths.resize(std::max(widths.size(), row.size()), 0);
        for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], width_of(row[i]));
    }
    return widths;
}

}  // namespace

std::string aligned(const std::vector<TableRow>& rows, Columns columns) {
    const std::vector<std::size_t> widths = widths_of(rows);
    std::string text;
    for (const TableRow& row : rows) {
        std::string line;
        for (std::size_t i = 0; i < row.size(); ++i)
            line += (i > 0 ? "  " : "") + padded(row[i], widths[i], columns == Columns::right && i > 0);
        text += line.substr(0, line.find_last_not_of(' ') + 1) + "\n";
    }
    return text;
}

std::string indented(const std::string& table) {
    std::string text = "    ";
    for (const char c : table) text += c == '\n' ? std::string("\n    ") : std::string(1, c);
    text.resize(text.find_last_not_of(' ') + 1);
    return text;
}

std::string wrapped(const std::string& text, const std::string& indent) {
    std::string out, line;
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        const std::string word = text.substr(at, end - at);
        if (!line.empty() && indent.size() + line.size() + 1 + word.size() > line_width) {
            out += line + "\n" + indent;
            line.clear();
        }
        line += (line.empty() ? "" : " ") + word;
        at = end + 1;
    }
    return out + line;
}

}  // namespace fitup
