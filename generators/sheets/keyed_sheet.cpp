#include "sheets/keyed_sheet.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/text.hpp"
#include "plan/vector.hpp"
#include "sheets/signs.hpp"
#include "sheets/view_lines.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;

constexpr double aligned_off_mm = 9.0, aligned_room_mm = 15.0;
/// Unit vectors count as along an axis.
constexpr double along_within = 1e-9;

plan::Box2 box_in_sight(const View& view) {
    View seen;
    const auto is_seen = [](const auto& item) {
        if constexpr (requires { item.kind; })
            return item.kind == LineKind::visible;
        else
            return true;
    };
    for (const auto& item : view.items) {
        if (std::visit(is_seen, item)) seen.items.push_back(item);
    }
    return box(seen);
}

/// A length that runs askew, and its words.
struct Askew {
    KeyLength key;
    std::string text;
};

/// A dimension along itself, away from the middle of the view; left out where its words are longer than it is
/// (the tables have every length).
void add_askew(Drawing& drawing, const Askew& one, Point middle, const Placing& placing, double text_mm) {
    const Place from = placing(one.key.from), to = placing(one.key.to), centre = placing(middle);
    const double length_mm = std::hypot(to[0] - from[0], to[1] - from[1]);
    if (length_mm < text_width_mm(one.text, text_mm) + 2.0) return;
    const Place along{(to[0] - from[0]) / length_mm, (to[1] - from[1]) / length_mm};
    Place out{-along[1], along[0]};
    const Place half{(from[0] + to[0]) / 2.0 - centre[0], (from[1] + to[1]) / 2.0 - centre[1]};
    if (out[0] * half[0] + out[1] * half[1] < 0.0) out = {-out[0], -out[1]};
    const auto beside = [&](Place at, double off_mm) {
        return Place{at[0] + off_mm * out[0], at[1] + off_mm * out[1]};
    };
    const Pen pen = pen_of(LineKind::thread);
    for (const Place at : {from, to})
        drawing.items.emplace_back(
            Line{{beside(at, 1.0), beside(at, aligned_off_mm + 1.5)}, false, pen, std::nullopt});
    const Place a = beside(from, aligned_off_mm), b = beside(to, aligned_off_mm);
    drawing.items.emplace_back(Line{{a, b}, false, pen, std::nullopt});
    const double turn = std::atan2(along[1], along[0]);
    add_arrow(drawing, a, turn + std::numbers::pi);
    add_arrow(drawing, b, turn);
    // Read from below or from the right; over the line as it reads.
    double reading = turn;
    if (reading > std::numbers::pi / 2.0 - 1e-9) reading -= std::numbers::pi;
    if (reading < -std::numbers::pi / 2.0 - 1e-9) reading += std::numbers::pi;
    const Place up{std::sin(reading), -std::cos(reading)};
    drawing.items.emplace_back(Text{{(a[0] + b[0]) / 2.0 + 0.9 * up[0], (a[1] + b[1]) / 2.0 + 0.9 * up[1]},
                                    one.text,
                                    text_mm,
                                    Anchor::middle,
                                    reading});
}

Dimension row_dimension(const KeyLength& key, const plan::Box2& box, const std::string& text) {
    const double x = (key.from.x_mm + key.to.x_mm) / 2.0, y = (key.from.y_mm + key.to.y_mm) / 2.0;
    const double mid_x = (box.least.x_mm + box.most.x_mm) / 2.0,
                 mid_y = (box.least.y_mm + box.most.y_mm) / 2.0;
    const bool runs_along_x = std::abs(key.along.y_mm) < along_within;
    const Beside side = runs_along_x ? (y > mid_y + along_within ? Beside::above : Beside::below)
                                     : (x < mid_x ? Beside::left : Beside::right);
    return {side, key.from, key.to, text};
}

void add_leaders(SheetView& view, const ViewKeys& keys, const SheetSizes& sizes) {
    for (const KeyRadius& radius : keys.radii) {
        const Point out = radius.at - radius.centre;
        view.leaders.push_back(
            {radius.at, std::atan2(out.y_mm, -out.x_mm), "R" + sizes.text(radius.size_mm)});
    }
    for (const KeyAngle& angle : keys.angles) {
        const double middle = angle.from_rad + angle.sweep_rad / 2.0;
        view.leaders.push_back(
            {angle.corner, -middle, angle.name + " " + short_text(angle.size.degrees(), 2) + sign::degree});
    }
}

}  // namespace

std::string key_text(const KeyLength& key, const SheetSizes& sizes) {
    return (key.is_diameter ? sign::diameter : "") + sizes.text(key.size_mm);
}

SheetView keyed_sheet_view(const std::string& caption, std::function<KeyedView(double)> make,
                           const SheetSizes& sizes, double text_mm, const KeyWords& words) {
    SheetView view;
    const KeyedView first = make(0.0);
    view.caption = caption;
    view.box = box_in_sight(first.view);
    view.view = [make](double overshoot_mm) { return make(overshoot_mm).view; };
    std::vector<Askew> askew;
    for (const KeyLength& key : first.keys.lengths) {
        const std::string text = words(key);
        if (text.empty()) continue;
        const bool is_straight =
            std::abs(key.along.x_mm) < along_within || std::abs(key.along.y_mm) < along_within;
        if (is_straight)
            view.dimensions.push_back(row_dimension(key, view.box, text));
        else
            askew.push_back({key, text});
    }
    add_leaders(view, first.keys, sizes);
    if (askew.empty()) return view;
    const Point middle{(view.box.least.x_mm + view.box.most.x_mm) / 2.0,
                       (view.box.least.y_mm + view.box.most.y_mm) / 2.0};
    view.signs = [askew, middle, text_mm](Drawing& drawing, const Placing& placing) {
        for (const Askew& one : askew) add_askew(drawing, one, middle, placing, text_mm);
    };
    view.signs_room_mm = aligned_room_mm;
    return view;
}

}  // namespace fitup::sheets
