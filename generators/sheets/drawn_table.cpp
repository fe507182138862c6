#include "sheets/drawn_table.hpp"

#include <algorithm>
#include <numbers>
#include <numeric>

namespace fitup::sheets {

namespace {

constexpr Pen wide{wide_mm, Dash::solid, 0.0}, thin{narrow_mm, Dash::solid, 0.0};
/// In heights of the letters.
constexpr double pitch = 1.6, pad = 0.55, frame_high = 2.0, frame_pad = 0.6;

void add_line(Drawing& drawing, Place from, Place to, const Pen& pen) {
    drawing.items.emplace_back(Line{{from, to}, false, pen, std::nullopt});
}

double cell_width_mm(const TableCell& cell, double text_mm) {
    double width = 0.0;
    for (const std::string& line : cell.lines) width = std::max(width, text_width_mm(line, text_mm));
    if (cell.frame) width = std::max(width, width_mm(*cell.frame, text_mm));
    return width + 2.0 * pad * text_mm;
}

double cell_height_mm(const TableCell& cell, double text_mm) {
    double height = double(cell.lines.size()) * pitch * text_mm + pad * text_mm;
    if (cell.frame) height += height_mm(*cell.frame, text_mm) + pad * text_mm;
    return height;
}

double row_height_mm(const std::vector<TableCell>& row, double text_mm) {
    double height = 0.0;
    for (const TableCell& cell : row) height = std::max(height, cell_height_mm(cell, text_mm));
    return height;
}

double title_height_mm(double text_mm) { return 2.2 * text_mm; }
double head_height_mm(const DrawnTable& table, double text_mm) {
    const bool has_heads = std::any_of(table.columns.begin(), table.columns.end(),
                                       [](const TableColumn& c) { return !c.head.empty(); });
    return has_heads ? 2.1 * text_mm : 0.0;
}
double foot_height_mm(const DrawnTable& table, double text_mm) {
    return table.foot.empty() ? 0.0 : double(table.foot.size()) * pitch * text_mm + pad * text_mm;
}

std::vector<double> column_widths_mm(const DrawnTable& table, double text_mm) {
    std::vector<double> widths;
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        double width = text_width_mm(table.columns[c].head, text_mm) + 2.0 * pad * text_mm;
        for (const auto& row : table.rows) width = std::max(width, cell_width_mm(row[c], text_mm));
        widths.push_back(width);
    }
    return widths;
}

/// Draws one table from its upper left corner down.
class TablePen {
  public:
    TablePen(Drawing& drawing, const DrawnTable& table, Place at, double text_mm)
        : drawing_(drawing),
          table_(table),
          text_mm_(text_mm),
          widths_(column_widths_mm(table, text_mm)),
          all_mm_(std::accumulate(widths_.begin(), widths_.end(), 0.0)),
          left_(at[0]),
          y_(at[1]) {}

    void draw(std::size_t from, std::size_t to) {
        add_words(left_, y_ + 1.5 * text_mm_, table_.title + (from > 0 ? " (continued)" : ""),
                  text_mm_ * 1.15);
        y_ += title_height_mm(text_mm_);
        const double top = y_;
        rule(wide);
        add_heads();
        for (std::size_t r = from; r < to; ++r) add_row(table_.rows[r], r + 1 == to);
        double x = left_;
        for (std::size_t c = 0; c <= widths_.size(); ++c) {
            const bool is_edge = c == 0 || c == widths_.size();
            add_line(drawing_, {x, top}, {x, y_}, is_edge ? wide : thin);
            if (c < widths_.size()) x += widths_[c];
        }
        if (to == table_.rows.size()) add_foot();
    }

  private:
    void add_words(double x, double y, const std::string& words, double size_mm,
                   Anchor anchor = Anchor::left) {
        drawing_.items.emplace_back(Text{{x, y}, words, size_mm, anchor, 0.0});
    }
    void rule(const Pen& pen) { add_line(drawing_, {left_, y_}, {left_ + all_mm_, y_}, pen); }

    double text_x(double x, std::size_t c) const {
        const Anchor anchor = table_.columns[c].anchor;
        if (anchor == Anchor::middle) return x + widths_[c] / 2.0;
        return anchor == Anchor::left ? x + pad * text_mm_ : x + widths_[c] - pad * text_mm_;
    }

    void add_heads() {
        const double height = head_height_mm(table_, text_mm_);
        if (height == 0.0) return;
        double x = left_;
        for (std::size_t c = 0; c < widths_.size(); ++c) {
            add_words(text_x(x, c), y_ + 1.5 * text_mm_, table_.columns[c].head, text_mm_ * 0.9,
                      table_.columns[c].anchor);
            x += widths_[c];
        }
        y_ += height;
        rule(wide);
    }

    void add_row(const std::vector<TableCell>& row, bool is_last) {
        double x = left_;
        for (std::size_t c = 0; c < row.size(); ++c) {
            double y = y_ + pad * 0.4 * text_mm_;
            for (const std::string& line : row[c].lines) {
                y += pitch * text_mm_;
                add_words(text_x(x, c), y - 0.25 * text_mm_, line, text_mm_, table_.columns[c].anchor);
            }
            if (row[c].frame)
                add_frame(drawing_, *row[c].frame, {x + pad * text_mm_, y + pad * text_mm_}, text_mm_);
            x += widths_[c];
        }
        y_ += row_height_mm(row, text_mm_);
        rule(is_last ? wide : thin);
    }

    void add_foot() {
        double y = y_ + pad * 0.4 * text_mm_;
        for (const std::string& line : table_.foot) {
            y += pitch * text_mm_;
            add_words(left_, y - 0.25 * text_mm_, line, text_mm_ * 0.9);
        }
    }

    Drawing& drawing_;
    const DrawnTable& table_;
    double text_mm_;
    std::vector<double> widths_;
    double all_mm_, left_, y_;
};

double sign_width_mm(double text_mm) { return frame_high * text_mm; }
double box_width_mm(const std::string& words, double text_mm) {
    return std::max(text_width_mm(words, text_mm) + 2.0 * frame_pad * text_mm, frame_high * text_mm);
}

/// A circle with a cross through it: drawn, so that it is there whatever the font has.
void add_position_sign(Drawing& drawing, Place centre, double text_mm) {
    const double radius_mm = 0.42 * text_mm, reach_mm = 0.75 * text_mm;
    drawing.items.emplace_back(RoundLine{centre, radius_mm, 0.0, 2.0 * std::numbers::pi, thin, std::nullopt});
    add_line(drawing, {centre[0] - reach_mm, centre[1]}, {centre[0] + reach_mm, centre[1]}, thin);
    add_line(drawing, {centre[0], centre[1] - reach_mm}, {centre[0], centre[1] + reach_mm}, thin);
}

}  // namespace

double width_mm(const ToleranceFrame& frame, double text_mm) {
    double width = sign_width_mm(text_mm) + box_width_mm(frame.zone, text_mm);
    for (const std::string& datum : frame.datums) width += box_width_mm(datum, text_mm);
    return width;
}

double height_mm(const ToleranceFrame&, double text_mm) { return frame_high * text_mm; }

void add_frame(Drawing& drawing, const ToleranceFrame& frame, Place at, double text_mm) {
    const double bottom = at[1] + frame_high * text_mm;
    double x = at[0];
    const auto next = [&](double width) {
        drawing.items.emplace_back(Line{{{x, at[1]}, {x + width, at[1]}, {x + width, bottom}, {x, bottom}},
                                        true,
                                        Pen{narrow_mm, Dash::solid, 0.0},
                                        std::nullopt});
        x += width;
    };
    add_position_sign(drawing, {x + sign_width_mm(text_mm) / 2.0, (at[1] + bottom) / 2.0}, text_mm);
    next(sign_width_mm(text_mm));
    std::vector<std::string> fields{frame.zone};
    fields.insert(fields.end(), frame.datums.begin(), frame.datums.end());
    for (const std::string& words : fields) {
        const double width = box_width_mm(words, text_mm);
        drawing.items.emplace_back(
            Text{{x + width / 2.0, bottom - 0.5 * text_mm}, words, text_mm, Anchor::middle, 0.0});
        next(width);
    }
}

DrawnTable folded(const DrawnTable& table, std::size_t parts) {
    if (parts < 2) return table;
    DrawnTable made{table.title, {}, {}, table.foot};
    const std::size_t high = (table.rows.size() + parts - 1) / parts;
    made.rows.resize(high);
    for (std::size_t part = 0; part < parts; ++part) {
        made.columns.insert(made.columns.end(), table.columns.begin(), table.columns.end());
        for (std::size_t r = 0; r < high; ++r) {
            const std::size_t from = part * high + r;
            const auto cells =
                from < table.rows.size() ? table.rows[from] : std::vector<TableCell>(table.columns.size());
            made.rows[r].insert(made.rows[r].end(), cells.begin(), cells.end());
        }
    }
    return made;
}

double width_mm(const DrawnTable& table, double text_mm) {
    const auto widths = column_widths_mm(table, text_mm);
    double width = std::accumulate(widths.begin(), widths.end(), 0.0);
    width = std::max(width, text_width_mm(table.title + " (continued)", text_mm * 1.15));
    for (const std::string& line : table.foot) width = std::max(width, text_width_mm(line, text_mm * 0.9));
    return width;
}

double height_mm(const DrawnTable& table, std::size_t from, std::size_t to, double text_mm) {
    double height = title_height_mm(text_mm) + head_height_mm(table, text_mm);
    for (std::size_t r = from; r < to; ++r) height += row_height_mm(table.rows[r], text_mm);
    return height + (to == table.rows.size() ? foot_height_mm(table, text_mm) : 0.0);
}

std::size_t rows_within(const DrawnTable& table, std::size_t from, double height, double text_mm) {
    std::size_t to = from;
    double used = title_height_mm(text_mm) + head_height_mm(table, text_mm);
    while (to < table.rows.size()) {
        used += row_height_mm(table.rows[to], text_mm);
        const bool is_last = to + 1 == table.rows.size();
        if (used + (is_last ? foot_height_mm(table, text_mm) : 0.0) > height) break;
        ++to;
    }
    return to;
}

void add_table(Drawing& drawing, const DrawnTable& table, std::size_t from, std::size_t to, Place at,
               double text_mm) {
    TablePen(drawing, table, at, text_mm).draw(from, to);
}

}  // namespace fitup::sheets
