#include "sheets/hole_rows.hpp"

#include <cmath>

#include "base/text.hpp"
#include "sheets/size_text.hpp"

namespace fitup::sheets {

namespace {

/// From the table's left edge: middles of the boxes, left of the name, right ends of the numbers. Beside what
/// is read, in the file's unit, stands the other unit, smaller.
constexpr double spot_mm = 4.5, done_mm = 13.5, number_right_mm = 24.0, name_mm = 27.0;
constexpr double x_mm = 68.0, x_beside_mm = 84.0, y_mm = 101.0, y_beside_mm = 117.0, depth_mm = 132.0,
                 depth_beside_mm = 145.0, tip_mm = 160.0, tip_beside_mm = 173.0, last_mm = 188.0;
constexpr double row_mm = 6.0, under_mm = 4.2, group_mm = 7.0, header_mm = 9.0, box_mm = 3.8;
/// From a row's top to its base line.
constexpr double base_mm = 4.5;
constexpr Pen rule{0.13, Dash::solid, 0.6}, group_rule{0.25};

}  // namespace

std::string tool_with_sizes(const HoleLine& line) {
    const std::string mm = short_text(line.diameter_mm, 3) + " mm", in = readout_in(line.diameter_mm) + " in";
    if (line.tool.find(" mm") != std::string::npos) return line.tool + " (" + in + ")";
    if (line.tool.find(" in") != std::string::npos) return line.tool + " (" + mm + ")";
    return line.tool + " (" + mm + ", " + in + ")";
}

bool is_spotted(const HoleLine& line) { return line.operation == "drill" || line.operation == "tap drill"; }

void HoleRows::add_round(int step, Round round) {
    const std::string note = shared_note(round);
    const std::string count = std::to_string(round.size()) + (round.size() == 1 ? " hole" : " holes");
    add_group(step, tool_with_sizes(round.front()) + ": " + operations_text(round) + ", " + count, note);
    for (const HoleLine& line : round) add_row(line, note.empty() && !line.note.empty());
    if (std::hypot(round.back().x_mm, round.back().y_mm) > 0.0) add_back_to_zero(round.back());
}

void HoleRows::add_milled(int step, std::span<const MilledShape> shapes) {
    if (shapes.empty()) return;
    const std::string count = std::to_string(shapes.size()) + (shapes.size() == 1 ? " shape" : " shapes");
    add_group(step, "mill: " + count + ", as in the DXF and the STEP file", "");
    for (const MilledShape& shape : shapes) add_shape(shape);
}

/// Begins a page where the room does not do, with the columns' heads and the group's words.
void HoleRows::need(double height) {
    if (pages_.room_mm() >= height) return;
    pages_.next_page();
    add_header();
    if (group_.empty()) return;
    cell(0.0, fitted(group_, SheetPages::width_mm - 30.0, read_text_mm) + " (goes on)", read_text_mm,
         Anchor::left);
    pages_.advance(group_mm);
}

void HoleRows::add_header() {
    pages_.advance(1.0);
    const double top = pages_.y_mm();
    pages_.rectangle({SheetPages::left_mm, top}, SheetPages::width_mm, header_mm, {}, 0.9);
    const auto head = [&](double at, const std::string& name, const std::string& unit, Anchor anchor) {
        pages_.text({SheetPages::left_mm + at, top + 3.7}, name, side_text_mm, anchor);
        pages_.text({SheetPages::left_mm + at, top + 7.7}, unit, side_text_mm, anchor);
    };
    const std::string read = is_inch_ ? "in" : "mm", beside = is_inch_ ? "mm" : "in";
    head(spot_mm, "spot", "", Anchor::middle);
    head(done_mm, "done", "", Anchor::middle);
    head(number_right_mm, "no.", "", Anchor::right);
    head(name_mm, "hole", "", Anchor::left);
    const auto pair = [&](double at, double beside_at, const std::string& name) {
        head(at, name, read, Anchor::right);
        head(beside_at, "", beside, Anchor::right);
    };
    pair(x_mm, x_beside_mm, "X");
    pair(y_mm, y_beside_mm, "Y");
    pair(depth_mm, depth_beside_mm, "depth");
    pair(tip_mm, tip_beside_mm, "to tip");
    head(last_mm, "from last", read, Anchor::right);
    pages_.advance(header_mm + 1.0);
}

/// Its words and at least one row stand together.
void HoleRows::add_group(int step, const std::string& words, const std::string& note) {
    const bool is_first = group_.empty();
    group_.clear();
    const double height = group_mm + (note.empty() ? 0.0 : under_mm) + 2.0 * row_mm;
    if (is_first && pages_.room_mm() >= header_mm + height)
        add_header();
    else
        need(height);
    group_ = std::to_string(step) + "   " + words;
    pages_.line({SheetPages::left_mm, pages_.y_mm()}, {SheetPages::right_mm, pages_.y_mm()}, group_rule);
    pages_.advance(0.5);
    cell(0.0, fitted(group_, SheetPages::width_mm, read_text_mm), read_text_mm, Anchor::left);
    pages_.advance(group_mm - 0.5);
    if (!note.empty()) add_under(note);
}

void HoleRows::add_row(const HoleLine& line, bool has_own_note) {
    need(row_mm + (has_own_note ? under_mm : 0.0));
    if (is_spotted(line)) add_box(spot_mm);
    add_box(done_mm);
    add_name(line.id, line.x_mm);
    add_pair(line.x_mm, x_mm, x_beside_mm);
    add_pair(line.y_mm, y_mm, y_beside_mm);
    add_depth(line.through, line.depth_mm);
    if (line.through || line.depth_with_point_mm > line.depth_mm)
        add_pair(line.depth_with_point_mm, tip_mm, tip_beside_mm);
    cell(last_mm, readout(line.from_last_mm), read_text_mm);
    pages_.advance(row_mm);
    if (has_own_note) add_under(line.note);
    pages_.line({SheetPages::left_mm, pages_.y_mm()}, {SheetPages::right_mm, pages_.y_mm()}, rule);
}

void HoleRows::add_back_to_zero(const HoleLine& from) {
    need(row_mm);
    add_box(done_mm);
    cell(name_mm, "back to zero: the readout says 0, 0", side_text_mm, Anchor::left);
    cell(last_mm, readout(std::hypot(from.x_mm, from.y_mm)), read_text_mm);
    pages_.advance(row_mm + 1.0);
}

void HoleRows::add_shape(const MilledShape& shape) {
    const auto lines = broken_lines(shape.what, SheetPages::width_mm - name_mm, side_text_mm);
    need(row_mm + under_mm * double(lines.size()));
    add_box(done_mm);
    add_name(shape.id, shape.centre_mm ? std::optional(shape.centre_mm->x_mm) : std::nullopt);
    if (shape.centre_mm) {
        add_pair(shape.centre_mm->x_mm, x_mm, x_beside_mm);
        add_pair(shape.centre_mm->y_mm, y_mm, y_beside_mm);
    }
    if (shape.depth_mm) add_depth(shape.through, *shape.depth_mm);
    pages_.advance(row_mm);
    for (const std::string& one : lines) add_under(one);
    pages_.line({SheetPages::left_mm, pages_.y_mm()}, {SheetPages::right_mm, pages_.y_mm()}, rule);
}

void HoleRows::add_box(double middle) {
    pages_.rectangle({SheetPages::left_mm + middle - box_mm / 2.0, pages_.y_mm() + (row_mm - box_mm) / 2.0},
                     box_mm, box_mm, Pen{0.2});
}

void HoleRows::add_pair(double length, double read, double beside) {
    cell(read, readout(length), read_text_mm);
    cell(beside, is_inch_ ? readout_mm(length) : readout_in(length), side_text_mm);
}

/// As far as its X leaves room for it.
void HoleRows::add_name(const std::string& id, std::optional<double> x) {
    const auto number = numbers_.find(id);
    if (number != numbers_.end()) cell(number_right_mm, std::to_string(number->second), read_text_mm);
    const double until = x_mm - (x ? text_width_mm(readout(*x), read_text_mm) : 0.0);
    cell(name_mm, fitted(id, until - 1.5 - name_mm, side_text_mm), side_text_mm, Anchor::left);
}

void HoleRows::add_depth(bool through, double depth) {
    if (through)
        cell(depth_beside_mm, "through", side_text_mm);
    else
        add_pair(depth, depth_mm, depth_beside_mm);
}

void HoleRows::add_under(const std::string& words) {
    pages_.text({SheetPages::left_mm + name_mm, pages_.y_mm() + 2.7},
                fitted(words, SheetPages::width_mm - name_mm, side_text_mm), side_text_mm);
    pages_.advance(under_mm);
}

void HoleRows::cell(double at, const std::string& words, double size, Anchor anchor) {
    pages_.text({SheetPages::left_mm + at, pages_.y_mm() + base_mm}, words, size, anchor);
}

std::string HoleRows::readout(double length) const {
    return is_inch_ ? readout_in(length) : readout_mm(length);
}

}  // namespace fitup::sheets
