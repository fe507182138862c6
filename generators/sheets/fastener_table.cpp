#include <algorithm>

#include "base/csv.hpp"
#include "base/text.hpp"
#include "base/units.hpp"
#include "sheets/fastener_list.hpp"
#include "sheets/sheet_table.hpp"
#include "sheets/size_text.hpp"

namespace fitup::sheets {

namespace {

constexpr const char* header =
    "where,count,what,size,length_mm,length_in,plus_reach_in_casting,made_up_of,source";

std::vector<std::string> cells_of(const FastenerRow& row) {
    return {row.where,
            std::to_string(row.count),
            row.what,
            row.size,
            row.length_mm ? readout_mm(*row.length_mm) : "",
            row.length_mm ? readout_in(*row.length_mm) : "",
            row.plus_reach ? "yes" : "no",
            row.made_up_of,
            row.source};
}

constexpr double for_width_mm = 34.0, what_mm = 58.0, what_width_mm = 46.0, size_mm = 106.0,
                 size_width_mm = 28.0;

std::vector<SheetColumn> columns_of(bool is_inch) {
    return {{"for", "", SheetTable::first_mm, Anchor::left, side_text_mm},
            {"count", "", 54.0, Anchor::right, read_text_mm},
            {"what", "", what_mm, Anchor::left, side_text_mm},
            {"size", "", size_mm, Anchor::left, side_text_mm},
            {"length", is_inch ? "in" : "mm", 168.0, Anchor::right, read_text_mm},
            {"", is_inch ? "mm" : "in", 188.0, Anchor::right, side_text_mm}};
}

/// "reach + 35.46" where the casting's part is not known, and "+ 1.3961" beside it.
std::string length_cell(const FastenerRow& row, bool in_inches, const std::string& reach) {
    if (!row.length_mm) return "";
    return (row.plus_reach ? reach : "") +
           (in_inches ? readout_in(*row.length_mm) : readout_mm(*row.length_mm));
}

constexpr const char* how_long =
    "A stud's length is over all: thread in the plate, casting, washer, nut, two threads proud; a bolt's is "
    "under its "
    "head, and in a thread at most that. ";
constexpr const char* what_reach =
    "\"reach\" is how far it goes into or through the casting, where the parameter file does not say "
    "(\"fastener\": "
    "{\"reach\": ..}).";

std::string words_for(std::span<const FastenerRow> rows) {
    const auto any = [&](auto is_so) { return std::any_of(rows.begin(), rows.end(), is_so); };
    const bool has_long = any([](const FastenerRow& row) {
        return row.length_mm &&
               (row.what == "stud" || row.what.ends_with("bolt") || row.what.ends_with("screw"));
    });
    return (has_long ? how_long : "") +
           std::string(any([](const FastenerRow& row) { return row.plus_reach; }) ? what_reach : "");
}

}  // namespace

std::string fastener_csv(std::span<const FastenerRow> rows) {
    std::string csv = std::string(header) + "\r\n";
    for (const FastenerRow& row : rows) csv += csv_row(cells_of(row));
    return csv;
}

void add_fasteners(SheetPages& pages, std::span<const FastenerRow> rows, plan::Units units) {
    if (rows.empty()) return;
    const bool is_inch = units == plan::Units::in;
    add_title(pages, "Fasteners for one part", 30.0);
    SheetTable table(pages, columns_of(is_inch));
    for (const FastenerRow& row : rows)
        table.add(
            {fitted(row.where, for_width_mm, side_text_mm), std::to_string(row.count),
             fitted(row.what, what_width_mm, side_text_mm), fitted(row.size, size_width_mm, side_text_mm),
             length_cell(row, is_inch, "reach + "), length_cell(row, !is_inch, "+ ")},
            row.made_up_of);
    pages.advance(2.0);
    add_words(pages, words_for(rows));
}

}  // namespace fitup::sheets
