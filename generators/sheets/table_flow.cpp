#include "sheets/table_flow.hpp"

#include <algorithm>
#include <array>

namespace fitup::sheets {

namespace {

/// Between tables.
constexpr double gap_mm = 5.0;
/// A part of a table has at least so many rows.
constexpr std::size_t least_rows = 5;
/// A table that is wider than a sheet gets smaller letters, down to this.
constexpr double least_text_mm = 1.2;

class TableFlow {
  public:
    TableFlow(const std::vector<DrawnTable>& tables, std::vector<std::vector<PageBox>> room,
              const std::vector<PageBox>& empty, double text_mm)
        : tables_(tables), room_(std::move(room)), empty_(empty), text_mm_(text_mm) {}

    Flow flow() {
        for (std::size_t t = 0; t < tables_.size(); ++t) place(t);
        flow_.sheets = room_.size();
        return std::move(flow_);
    }

  private:
    void place(std::size_t t) {
        const DrawnTable& table = tables_[t];
        const double text_mm = fitting_text_mm(table);
        std::size_t from = 0;
        if (put_whole(t, text_mm)) return;
        while (from < table.rows.size()) {
            const std::size_t to = put_part(t, from, text_mm);
            if (to > from) {
                from = to;
                continue;
            }
            room_.push_back(empty_);
            if (from == 0 && put_whole(t, text_mm)) return;
            if (!has_part(t, from, text_mm)) return;  // a row taller than a sheet
        }
    }

    double fitting_text_mm(const DrawnTable& table) const {
        double widest = 0.0;
        for (const PageBox& box : empty_) widest = std::max(widest, box[2] - box[0]);
        double text_mm = text_mm_;
        while (text_mm > least_text_mm && width_mm(table, text_mm) > widest) text_mm -= 0.1;
        return text_mm;
    }

    /// As it is, or folded; a fold of few rows is no gain.
    bool put_whole(std::size_t t, double text_mm) {
        for (std::size_t parts = 1; parts <= tables_[t].most_parts; ++parts) {
            if (parts > 1 && tables_[t].rows.size() < parts * least_rows) return false;
            if (put_folded(t, parts, text_mm)) return true;
        }
        return false;
    }

    bool put_folded(std::size_t t, std::size_t parts, double text_mm) {
        const DrawnTable table = folded(tables_[t], parts);
        const double height = height_mm(table, 0, table.rows.size(), text_mm);
        const double width = width_mm(table, text_mm);
        for (std::size_t s = 0; s < room_.size(); ++s) {
            for (std::size_t b = 0; b < room_[s].size(); ++b) {
                const PageBox box = room_[s][b];
                if (box[2] - box[0] < width || box[3] - box[1] < height) continue;
                put({t, parts, 0, table.rows.size(), s, {box[0], box[1]}, text_mm}, b, width, height);
                return true;
            }
        }
        return false;
    }

    std::size_t last_row(std::size_t t, std::size_t from, const PageBox& box, double text_mm) const {
        const DrawnTable& table = tables_[t];
        if (box[2] - box[0] < width_mm(table, text_mm)) return from;
        const std::size_t to = rows_within(table, from, box[3] - box[1], text_mm);
        const std::size_t least = std::min(least_rows, table.rows.size() - from);
        return to - from >= least ? to : from;
    }

    bool has_part(std::size_t t, std::size_t from, double text_mm) const {
        return std::any_of(room_.back().begin(), room_.back().end(),
                           [&](const PageBox& box) { return last_row(t, from, box, text_mm) > from; });
    }

    std::size_t put_part(std::size_t t, std::size_t from, double text_mm) {
        for (std::size_t s = 0; s < room_.size(); ++s) {
            for (std::size_t b = 0; b < room_[s].size(); ++b) {
                const std::size_t to = last_row(t, from, room_[s][b], text_mm);
                if (to == from) continue;
                const PageBox& box = room_[s][b];
                put({t, 1, from, to, s, {box[0], box[1]}, text_mm}, b, width_mm(tables_[t], text_mm),
                    height_mm(tables_[t], from, to, text_mm));
                return to;
            }
        }
        return from;
    }

    /// What is left of the box lies under the table and to its right.
    void put(const PlacedTable& placed, std::size_t b, double width, double height) {
        auto& boxes = room_[placed.sheet];
        const PageBox box = boxes[b];
        flow_.placed.push_back(placed);
        const double right = box[0] + width + gap_mm, bottom = box[1] + height + gap_mm;
        const PageBox taken{box[0] - gap_mm, box[1] - gap_mm, right, bottom};
        for (std::size_t other = 0; other < boxes.size(); ++other) {
            if (other != b && meets(boxes[other], taken)) boxes[other] = largest_beside(boxes[other], taken);
        }
        boxes[b] = {box[0], bottom, std::min(right - gap_mm, box[2]), box[3]};
        boxes.insert(boxes.begin() + std::ptrdiff_t(b) + 1, {right, box[1], box[2], box[3]});
    }

    static bool meets(const PageBox& one, const PageBox& other) {
        return one[0] < other[2] && other[0] < one[2] && one[1] < other[3] && other[1] < one[3];
    }

    /// Room under a view and room beside it share a corner: a table in the one takes from the other.
    static PageBox largest_beside(const PageBox& box, const PageBox& taken) {
        const std::array<PageBox, 4> left{{{box[0], box[1], taken[0], box[3]},
                                           {taken[2], box[1], box[2], box[3]},
                                           {box[0], box[1], box[2], taken[1]},
                                           {box[0], taken[3], box[2], box[3]}}};
        const auto area = [](const PageBox& one) {
            return std::max(0.0, one[2] - one[0]) * std::max(0.0, one[3] - one[1]);
        };
        return *std::max_element(left.begin(), left.end(),
                                 [&](const PageBox& a, const PageBox& b) { return area(a) < area(b); });
    }

    const std::vector<DrawnTable>& tables_;
    std::vector<std::vector<PageBox>> room_;
    const std::vector<PageBox>& empty_;
    double text_mm_;
    Flow flow_;
};

}  // namespace

Flow flow_tables(const std::vector<DrawnTable>& tables, std::vector<std::vector<PageBox>> room,
                 const std::vector<PageBox>& empty, double text_mm) {
    return TableFlow(tables, std::move(room), empty, text_mm).flow();
}

}  // namespace fitup::sheets
