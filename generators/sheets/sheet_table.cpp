#include "sheets/sheet_table.hpp"

namespace fitup::sheets {

namespace {

constexpr double row_mm = 6.0, base_mm = 4.5, under_mm = 4.2, heads_mm = 9.0, box_mm = 3.8, done_mm = 4.5;
constexpr double title_mm = 10.0;
constexpr Pen rule{0.13, Dash::solid, 0.6};

}  // namespace

SheetTable::SheetTable(SheetPages& pages, std::vector<SheetColumn> columns)
    : pages_(pages), columns_(std::move(columns)) {
    columns_.insert(columns_.begin(), {"done", "", done_mm, Anchor::middle});
    if (pages_.room_mm() < heads_mm + 2.0 * row_mm) pages_.next_page();
    add_heads();
}

void SheetTable::add_heads() {
    const double top = pages_.y_mm();
    pages_.rectangle({SheetPages::left_mm, top}, SheetPages::width_mm, heads_mm, {}, 0.9);
    for (const SheetColumn& column : columns_) {
        const double x = SheetPages::left_mm + column.at_mm;
        pages_.text({x, top + 3.7}, column.name, side_text_mm, column.anchor);
        pages_.text({x, top + 7.7}, column.unit, side_text_mm, column.anchor);
    }
    pages_.advance(heads_mm + 1.0);
}

void SheetTable::add(const std::vector<std::string>& cells, const std::string& under) {
    const auto lines = broken_lines(under, SheetPages::width_mm - first_mm, side_text_mm);
    if (pages_.room_mm() < row_mm + under_mm * double(lines.size())) {
        pages_.next_page();
        add_heads();
    }
    pages_.rectangle({SheetPages::left_mm + done_mm - box_mm / 2.0, pages_.y_mm() + (row_mm - box_mm) / 2.0},
                     box_mm, box_mm, Pen{0.2});
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const SheetColumn& column = columns_.at(i + 1);
        pages_.text({SheetPages::left_mm + column.at_mm, pages_.y_mm() + base_mm}, cells[i], column.size_mm,
                    column.anchor);
    }
    pages_.advance(row_mm);
    for (const std::string& one : lines) {
        pages_.text({SheetPages::left_mm + first_mm, pages_.y_mm() + 2.7}, one, side_text_mm);
        pages_.advance(under_mm);
    }
    pages_.line({SheetPages::left_mm, pages_.y_mm()}, {SheetPages::right_mm, pages_.y_mm()}, rule);
}

void add_words(SheetPages& pages, const std::string& words) {
    for (const std::string& one : broken_lines(words, SheetPages::width_mm, side_text_mm)) {
        if (pages.room_mm() < under_mm) pages.next_page();
        pages.text({SheetPages::left_mm, pages.y_mm() + 3.0}, one, side_text_mm);
        pages.advance(under_mm);
    }
}

void add_title(SheetPages& pages, const std::string& title, double room_mm) {
    if (pages.room_mm() < title_mm + room_mm) pages.next_page();
    pages.text({SheetPages::left_mm, pages.y_mm() + title_mm - 2.5}, title, read_text_mm);
    pages.advance(title_mm);
}

}  // namespace fitup::sheets
