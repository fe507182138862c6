#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "trade/trade.hpp"

/// The one CSV reader behind the handbook tables (RFC 4180 quotes; lines that start with # are comments).
namespace fitup::trade {

class Table;

/// One row, read by column name. Reading what is not there throws an Error that names table, line and column.
class Row {
  public:
    Row(const Table& table, const std::vector<std::string>& cells) : table_(table), cells_(cells) {}

    /// @throws Error  no such column
    const std::string& text(std::string_view column) const;
    /// @throws Error  no such column, or not a number
    double number(std::string_view column) const;
    /// Nothing for an empty cell. @throws Error as number().
    std::optional<double> optional_number(std::string_view column) const;
    /// Unverified when the text says "unverified" or "from memory". @throws Error  an empty source
    Source source(std::string_view column = "source") const;

  private:
    const Table& table_;
    const std::vector<std::string>& cells_;
};

class Table {
  public:
    /// @param name  for messages
    /// @throws Error  a row that has not as many cells as the header, or a quote left open
    Table(std::string name, std::string_view csv);

    const std::string& name() const { return name_; }
    const std::vector<std::string>& columns() const { return columns_; }
    std::size_t size() const { return rows_.size(); }
    Row row(std::size_t index) const { return {*this, rows_[index]}; }
    std::size_t column_index(std::string_view column) const;

  private:
    std::string name_;
    std::vector<std::string> columns_;
    std::vector<std::vector<std::string>> rows_;
};

/// A compiled-in table. @throws Error for a name that is not compiled in.
Table embedded_table(std::string_view name);

/// Every row of a compiled-in table turned into a T.
template <class T>
std::vector<T> read_rows(std::string_view name, T (*read)(const Row&)) {
    const Table table = embedded_table(name);
    std::vector<T> rows;
    rows.reserve(table.size());
    for (std::size_t i = 0; i < table.size(); ++i) rows.push_back(read(table.row(i)));
    return rows;
}

}  // namespace fitup::trade
