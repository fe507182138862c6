#include "trade/table.hpp"

#include <algorithm>

#include "base/embedded.hpp"
#include "base/error.hpp"
#include "base/text.hpp"

namespace fitup::trade {

namespace tables {
std::span<const Embedded> embedded();
}

namespace {

/// Splits a CSV text into records, one cell at a time.
class Reader {
  public:
    Reader(const std::string& name, std::string_view text) : name_(name), text_(text) {}

    /// The next record that is neither a comment nor blank; nothing at the end.
    std::optional<std::vector<std::string>> next_record() {
        skip_comments();
        if (at_end()) return {};
        std::vector<std::string> cells;
        do {
            cells.push_back(next_cell());
        } while (take(','));
        take('\r');
        if (!at_end() && !take('\n')) throw Error(name_ + ".csv: text after a closing quote");
        return cells;
    }

  private:
    bool at_end() const { return position_ >= text_.size(); }

    bool take(char wanted) {
        if (at_end() || text_[position_] != wanted) return false;
        ++position_;
        return true;
    }

    void skip_comments() {
        while (!at_end() &&
               (text_[position_] == '#' || text_[position_] == '\n' || text_[position_] == '\r')) {
            position_ = std::min(text_.size(), text_.find('\n', position_));
            take('\n');
        }
    }

    std::string next_cell() {
        if (take('"')) return quoted_cell();
        const std::size_t end = std::min(text_.size(), text_.find_first_of(",\r\n", position_));
        std::string cell(text_.substr(position_, end - position_));
        position_ = end;
        return cell;
    }

    std::string quoted_cell() {
        std::string cell;
        while (!at_end()) {
            const char c = text_[position_++];
            if (c == '"' && !take('"')) return cell;
            cell += c;
        }
        throw Error(name_ + ".csv: a quote is left open");
    }

    const std::string& name_;
    std::string_view text_;
    std::size_t position_ = 0;
};

}  // namespace

Table::Table(std::string name, std::string_view csv) : name_(std::move(name)) {
    Reader reader(name_, csv);
    if (auto header = reader.next_record()) columns_ = std::move(*header);
    while (auto cells = reader.next_record()) {
        if (cells->size() != columns_.size()) {
            throw Error(name_ + ".csv: row \"" + cells->front() + "\" has not as many cells as the header");
        }
        rows_.push_back(std::move(*cells));
    }
}

std::size_t Table::column_index(std::string_view column) const {
    const auto found = std::find(columns_.begin(), columns_.end(), column);
    if (found == columns_.end()) throw Error(name_ + ".csv: no column " + std::string(column));
    return static_cast<std::size_t>(found - columns_.begin());
}

const std::string& Row::text(std::string_view column) const { return cells_[table_.column_index(column)]; }

double Row::number(std::string_view column) const {
    if (const auto value = optional_number(column)) return *value;
    throw Error(table_.name() + ".csv: row \"" + cells_.front() + "\" has no " + std::string(column));
}

std::optional<double> Row::optional_number(std::string_view column) const {
    const std::string& cell = text(column);
    if (cell.empty()) return {};
    if (const auto value = parse_number(cell)) return value;
    throw Error(table_.name() + ".csv: row \"" + cells_.front() + "\", " + std::string(column) + ": \"" +
                cell + "\" is not a number");
}

Source Row::source(std::string_view column) const {
    const std::string& words = text(column);
    if (words.empty()) throw Error(table_.name() + ".csv: row \"" + cells_.front() + "\" has no source");
    const auto says = [&words](const char* what) { return words.find(what) != std::string::npos; };
    return {words, says("unverified") || says("from memory")};
}

Table embedded_table(std::string_view name) {
    for (const Embedded& file : tables::embedded()) {
        if (file.name == name) return {std::string(name), file.text};
    }
    throw Error("no handbook table " + std::string(name) + " in the program");
}

}  // namespace fitup::trade
