#include "sheets/cut_signs.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "sheets/dimension.hpp"

namespace fitup::sheets {

namespace {

constexpr double overshoot_mm = 4.0, wide_end_mm = 4.0, wide_corner_mm = 2.0, shaft_mm = 6.5;

/// From one place towards another, so far.
Place towards(Place from, Place to, double by_mm) {
    const double length_mm = std::hypot(to[0] - from[0], to[1] - from[1]);
    const double share = length_mm > 0.0 ? std::min(1.0, by_mm / length_mm) : 0.0;
    return {from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])};
}

void add_stretch(Drawing& drawing, std::vector<Place> points, const Pen& pen) {
    drawing.items.emplace_back(Line{std::move(points), false, pen, std::nullopt});
}

bool overlap(const Text&, const Clip&) { return false; }

/// Behind the arrow's tail; where something is drawn there, beside it.
Text free_letter(const Drawing& drawing, Place tail, Place look, const std::string& letter, double text_mm) {
    const double off_mm = text_mm * 1.1;
    std::vector<Text> places;
    for (const auto& [back, aside] : {std::pair(1.0, 0.0), std::pair(0.0, 1.2), std::pair(0.0, -1.2),
                                      std::pair(-1.0, 1.2), std::pair(-1.0, -1.2), std::pair(2.2, 0.0)}) {
        const Place at{tail[0] - off_mm * (back * look[0] + aside * look[1]),
                       tail[1] - off_mm * (back * look[1] - aside * look[0]) + text_mm * 0.6};
        places.push_back({at, letter, text_mm * 1.2, Anchor::middle, 0.0});
    }
    const auto is_off_texts = [&drawing](const Text& place) {
        return std::none_of(drawing.items.begin(), drawing.items.end(), [&place](const auto& item) {
            const Text* other = std::get_if<Text>(&item);
            return other != nullptr && sheets::overlap(place, *other);
        });
    };
    const auto is_free = [&drawing](const Text& place) {
        return std::none_of(drawing.items.begin(), drawing.items.end(), [&place](const auto& item) {
            return std::visit([&place](const auto& one) { return overlap(place, one); }, item);
        });
    };
    auto found = std::find_if(places.begin(), places.end(), is_free);
    // A line through a letter can be read; another letter can't.
    if (found == places.end()) found = std::find_if(places.begin(), places.end(), is_off_texts);
    return found == places.end() ? places.front() : *found;
}

void add_end(Drawing& drawing, const CutMark::End& end, const std::string& letter, const Placing& placing,
             double text_mm) {
    const Place tip = placing(end.at);
    // The page's Y runs down.
    const Place look{end.look.x_mm, -end.look.y_mm};
    const Place tail{tip[0] - shaft_mm * look[0], tip[1] - shaft_mm * look[1]};
    add_stretch(drawing, {tail, tip}, pen_of(LineKind::thread));
    add_arrow(drawing, tip, std::atan2(look[1], look[0]));
    drawing.items.emplace_back(free_letter(drawing, tail, look, letter, text_mm));
}

}  // namespace

/// Where the line ends askew: half of it, of the arrow and of the letter run outwards.
double cut_signs_room_mm(double text_mm) {
    return 0.71 * (overshoot_mm + shaft_mm + 1.1 * text_mm) + 0.7 * text_mm;
}

void add_cut_signs(Drawing& drawing, const CuttingLine& line, const std::string& letter,
                   const Placing& placing, double text_mm) {
    const CutMark mark = cut_mark(line, plan::Side::B, overshoot_mm / placing.scale);
    std::vector<Place> points;
    for (const plan::Point at : mark.line) points.push_back(placing(at));
    if (points.size() < 2) return;
    const Pen wide{wide_mm, Dash::solid, 0.0};
    add_stretch(drawing, points, pen_of(LineKind::cut_line));
    add_stretch(drawing, {points.front(), towards(points.front(), points[1], wide_end_mm)}, wide);
    add_stretch(drawing, {points.back(), towards(points.back(), points[points.size() - 2], wide_end_mm)},
                wide);
    for (std::size_t i = 1; i + 1 < points.size(); ++i)
        add_stretch(drawing,
                    {towards(points[i], points[i - 1], wide_corner_mm), points[i],
                     towards(points[i], points[i + 1], wide_corner_mm)},
                    wide);
    add_end(drawing, mark.first, letter, placing, text_mm);
    add_end(drawing, mark.last, letter, placing, text_mm);
}

}  // namespace fitup::sheets
