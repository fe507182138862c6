#include "sheets/drawing_frame.hpp"

#include <algorithm>
#include <cmath>

namespace fitup::sheets {

namespace {

constexpr double frame_line_mm = 0.7;
/// The side that a sheet is filed by, and the others.
constexpr double file_edge_mm = 20.0, edge_mm = 10.0;
constexpr double band_mm = 5.0, zone_mm = 50.0, mark_mm = 10.0;
constexpr double caption_mm = 1.6, value_mm = 2.5, name_mm = 5.0, least_text_mm = 1.2;
constexpr Pen wide{wide_mm, Dash::solid, 0.0}, thin{narrow_mm, Dash::solid, 0.0},
    heavy{frame_line_mm, Dash::solid, 0.0};
/// Up to this width a sheet counts as small (A4, Letter).
constexpr double small_sheet_mm = 300.0;

void add_line(Drawing& drawing, Place from, Place to, const Pen& pen) {
    drawing.items.emplace_back(Line{{from, to}, false, pen, std::nullopt});
}

void add_box(Drawing& drawing, const PageBox& box, const Pen& pen) {
    const auto [left, top, right, bottom] = box;
    drawing.items.emplace_back(
        Line{{{left, top}, {right, top}, {right, bottom}, {left, bottom}}, true, pen, std::nullopt});
}

class Border {
  public:
    Border(Drawing& drawing, const SheetLayout& layout)
        : drawing_(drawing), inner_(layout.inner), title_(layout.title) {}

    void draw() {
        add_box(drawing_, outer(), thin);
        for (std::size_t axis = 0; axis < 2; ++axis) {
            add_marks(axis);
            add_zones(axis);
        }
        add_box(drawing_, inner_, heavy);
    }

  private:
    PageBox outer() const {
        return {inner_[0] - band_mm, inner_[1] - band_mm, inner_[2] + band_mm, inner_[3] + band_mm};
    }
    double middle(std::size_t axis) const { return (inner_[axis] + inner_[axis + 2]) / 2.0; }
    /// A place `along` the axis, `across` it.
    static Place placed(std::size_t axis, double along, double across) {
        return axis == 0 ? Place{along, across} : Place{across, along};
    }

    void add_marks(std::size_t axis) {
        const std::size_t other = 1 - axis;
        for (const double inward : {1.0, -1.0}) {
            const double from = inward > 0.0 ? inner_[other] - band_mm : inner_[other + 2] + band_mm;
            const double long_mm = runs_into_title(axis, inward) ? band_mm : mark_mm;
            add_line(drawing_, placed(axis, middle(axis), from),
                     placed(axis, middle(axis), from + inward * long_mm), heavy);
        }
    }

    /// The block lies at the lower right: the marks from below and from the right may stand in it.
    bool runs_into_title(std::size_t axis, double inward) const {
        return inward < 0.0 && middle(axis) >= title_[axis];
    }

    /// Fields of equal length from the middle both ways; what is left goes to the outer ones.
    void add_zones(std::size_t axis) {
        const double half_mm = (inner_[axis + 2] - inner_[axis]) / 2.0;
        const int each = std::max(1, int(std::floor(half_mm / zone_mm)));
        for (int i = -each; i < each; ++i) {
            const double from = i == -each ? inner_[axis] : middle(axis) + i * zone_mm;
            const double to = i + 1 == each ? inner_[axis + 2] : middle(axis) + (i + 1) * zone_mm;
            const int number = i + each;
            const std::string name =
                axis == 0 ? std::to_string(number + 1) : std::string(1, char('A' + number));
            add_zone(axis, from, to, name, i + 1 == each, i == -1);
        }
    }

    void add_zone(std::size_t axis, double from, double to, const std::string& name, bool is_last,
                  bool at_mark) {
        const std::size_t other = 1 - axis;
        for (const double across : {inner_[other] - band_mm, inner_[other + 2]}) {
            const Place middle = placed(axis, (from + to) / 2.0, across + band_mm / 2.0);
            drawing_.items.emplace_back(
                Text{{middle[0], middle[1] + value_mm / 2.0}, name, value_mm, Anchor::middle, 0.0});
            if (!is_last && !at_mark)
                add_line(drawing_, placed(axis, to, across), placed(axis, to, across + band_mm), thin);
        }
    }

    Drawing& drawing_;
    PageBox inner_;
    PageBox title_;
};

/// A truncated cone and its end: third angle has the end on the side that it is seen from.
void add_projection_sign(Drawing& drawing, const PageBox& box, plan::Projection projection) {
    const double height_mm = (box[3] - box[1]) * 0.72, radius_mm = height_mm / 2.0;
    const double length_mm = height_mm * 1.1, gap_mm = height_mm * 0.35;
    const double all_mm = length_mm + gap_mm + height_mm;
    const double left = (box[0] + box[2] - all_mm) / 2.0, y = (box[1] + box[3]) / 2.0;
    const bool is_third = projection == plan::Projection::third;
    const double cone = is_third ? left + height_mm + gap_mm : left;
    const Place end{is_third ? left + radius_mm : left + length_mm + gap_mm + radius_mm, y};
    const Pen pen{0.35, Dash::solid, 0.0}, axis{0.18, Dash::chain, 0.0};
    drawing.items.emplace_back(Line{{{cone, y - radius_mm / 2.0},
                                     {cone + length_mm, y - radius_mm},
                                     {cone + length_mm, y + radius_mm},
                                     {cone, y + radius_mm / 2.0}},
                                    true,
                                    pen,
                                    std::nullopt});
    for (const double radius : {radius_mm, radius_mm / 2.0})
        drawing.items.emplace_back(RoundLine{end, radius, 0.0, 6.283185307179586, pen, std::nullopt});
    add_line(drawing, {cone - 1.0, y}, {cone + length_mm + 1.0, y}, axis);
    add_line(drawing, {end[0] - radius_mm - 1.0, y}, {end[0] + radius_mm + 1.0, y}, axis);
    add_line(drawing, {end[0], y - radius_mm - 1.0}, {end[0], y + radius_mm + 1.0}, axis);
}

/// Fields side by side.
class TitleRows {
  public:
    TitleRows(Drawing& drawing, const PageBox& box) : drawing_(drawing), box_(box), y_(box[1]), x_(box[0]) {}

    void row(double height_mm) {
        y_ = row_bottom_ > 0.0 ? row_bottom_ : box_[1];
        x_ = box_[0];
        row_bottom_ = y_ + height_mm;
        if (y_ > box_[1]) add_line(drawing_, {box_[0], y_}, {box_[2], y_}, thin);
    }

    /// @param width_mm  0: all that is left
    PageBox field(const std::string& caption, const std::string& value, double width_mm,
                  double size_mm = value_mm) {
        const double right = width_mm > 0.0 ? x_ + width_mm : box_[2];
        const PageBox field{x_, y_, right, row_bottom_};
        if (x_ > box_[0]) add_line(drawing_, {x_, y_}, {x_, row_bottom_}, thin);
        drawing_.items.emplace_back(
            Text{{x_ + 1.2, y_ + 1.0 + caption_mm}, caption, caption_mm, Anchor::left, 0.0});
        add_value(field, value, size_mm);
        x_ = right;
        return field;
    }

    void words(const std::string& text, double size_mm) {
        double y = y_ + 1.0 + size_mm;
        for (const std::string& line : broken_lines(text, box_[2] - box_[0] - 3.0, size_mm)) {
            drawing_.items.emplace_back(Text{{box_[0] + 1.2, y}, line, size_mm, Anchor::left, 0.0});
            y += size_mm * 1.55;
        }
    }

  private:
    /// Smaller where it is too long, cut short where even that does not do.
    void add_value(const PageBox& field, const std::string& value, double size_mm) {
        const double room_mm = field[2] - field[0] - 2.4;
        double size = size_mm;
        while (size > least_text_mm && text_width_mm(value, size) > room_mm) size -= 0.1;
        std::string text = value;
        for (std::size_t most = value.size(); most > 1 && text_width_mm(text, size) > room_mm;)
            text = shortened(value, --most);
        drawing_.items.emplace_back(
            Text{{field[0] + 1.2, field[3] - 0.4 - 0.32 * size}, text, size, Anchor::left, 0.0});
    }

    Drawing& drawing_;
    PageBox box_;
    double y_ = 0.0, x_ = 0.0, row_bottom_ = 0.0;
};

constexpr double first_row_mm = 10.5, row_mm = 7.5, caution_row_mm = 8.5;

void add_title_block(Drawing& drawing, const PageBox& box, const TitleBlock& block, int sheet, int of) {
    const double w = box[2] - box[0];
    add_box(drawing, box, wide);
    TitleRows rows(drawing, box);
    rows.row(first_row_mm);
    rows.field("part", block.name, w * 0.68, name_mm);
    rows.field("revision", block.revision, w * 0.14, name_mm * 0.8);
    rows.field("sheet", std::to_string(sheet) + " of " + std::to_string(of), 0.0, name_mm * 0.7);
    rows.row(row_mm);
    rows.field("material and temper", block.material, w * 0.42);
    rows.field("quantity", block.quantity, w * 0.12);
    rows.field("mass", block.mass, w * 0.28);
    const PageBox sign = rows.field("", "", 0.0);
    add_projection_sign(drawing, sign, block.projection);
    rows.row(row_mm);
    rows.field("over all", block.over_all, w * 0.54);
    rows.field("sizes in", block.units, w * 0.28);
    rows.field("scale", block.scale, 0.0, 3.0);
    rows.row(row_mm);
    rows.field("general tolerance", block.tolerance, w * 0.68);
    rows.field("date", block.date, 0.0);
    rows.row(row_mm);
    rows.field("edges", block.edges, w * 0.30);
    rows.field("finish", block.finish, w * 0.38);
    rows.field("approved", "", 0.0);
    rows.row(caution_row_mm);
    rows.words(block.caution, 1.7);
}

}  // namespace

SheetLayout sheet_layout(const plan::PaperSize& size) {
    SheetLayout layout;
    layout.width_mm = size.height_mm;
    layout.height_mm = size.width_mm;
    layout.inner = {file_edge_mm, edge_mm, layout.width_mm - edge_mm, layout.height_mm - edge_mm};
    const bool is_small = layout.width_mm < small_sheet_mm;
    const double title_mm = is_small ? 150.0 : 180.0;
    const double high_mm = first_row_mm + 4.0 * row_mm + caution_row_mm;
    layout.title = {layout.inner[2] - title_mm, layout.inner[3] - high_mm, layout.inner[2], layout.inner[3]};
    layout.text_mm = is_small ? 2.5 : 3.0;
    layout.table_text_mm = is_small ? 2.1 : 2.5;
    return layout;
}

Drawing empty_sheet(const SheetLayout& layout, const TitleBlock& block, int sheet, int of) {
    Drawing drawing;
    drawing.width_mm = layout.width_mm;
    drawing.height_mm = layout.height_mm;
    drawing.title = block.name + (block.revision.empty() ? "" : " revision " + block.revision) + ", drawing";
    Border(drawing, layout).draw();
    add_title_block(drawing, layout.title, block, sheet, of);
    return drawing;
}

}  // namespace fitup::sheets
