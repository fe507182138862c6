#pragma once

#include "sheets/sheet_pages.hpp"

/// A table on sheets for the bench: a box to tick before every row, the columns' heads on every page.
namespace fitup::sheets {

/// A column as its words end or begin at a place from the table's left edge.
struct SheetColumn {
    std::string name;
    std::string unit;
    double at_mm = 0.0;
    Anchor anchor = Anchor::right;
    double size_mm = side_text_mm;
};

class SheetTable {
  public:
    /// From the table's left edge to where the first column may begin.
    static constexpr double first_mm = 12.0;

    SheetTable(SheetPages& pages, std::vector<SheetColumn> columns);

    /// @param cells  one a column; fewer leave the last ones empty
    /// @param under  words on lines of their own
    void add(const std::vector<std::string>& cells, const std::string& under = "");

  private:
    void add_heads();
    SheetPages& pages_;
    std::vector<SheetColumn> columns_;
};

/// Words over the whole width of a sheet, and a title before what follows; each begins a page where its room
/// does not do.
void add_words(SheetPages& pages, const std::string& words);
void add_title(SheetPages& pages, const std::string& title, double room_mm);

}  // namespace fitup::sheets
