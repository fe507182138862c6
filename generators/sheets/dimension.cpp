#include "sheets/dimension.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fitup::sheets {

namespace {

constexpr double arrow_mm = 3.0, arrow_half_mm = 0.5, tail_mm = 5.0;
constexpr double gap_mm = 1.0, overshoot_mm = 1.5;
/// First row off the view, and between words and line.
constexpr double first_mm = 10.0, off_line_mm = 0.9, between_mm = 2.0;
constexpr double datum_triangle_mm = 2.0, datum_stem_mm = 1.5;
constexpr Pen thin{narrow_mm, Dash::solid, 0.0};

bool is_upright(Beside side) { return side == Beside::left || side == Beside::right; }
/// Words stand on the line's left or upper side: away from the view on the left of it and above it.
bool words_are_outside(Beside side) { return side == Beside::left || side == Beside::above; }

void add_line(Drawing& drawing, Place from, Place to) {
    drawing.items.emplace_back(Line{{from, to}, false, thin, std::nullopt});
}

}  // namespace

void add_arrow(Drawing& drawing, Place tip, double turn_rad) {
    const double c = std::cos(turn_rad), s = std::sin(turn_rad);
    const auto placed = [&](double along, double across) {
        return Place{tip[0] + along * c - across * s, tip[1] + along * s + across * c};
    };
    drawing.items.emplace_back(Line{
        {tip, placed(-arrow_mm, arrow_half_mm), placed(-arrow_mm, -arrow_half_mm)}, true, std::nullopt, 0.0});
}

double datum_reach_mm(double text_mm) { return datum_triangle_mm + datum_stem_mm + 2.0 * text_mm; }

void add_datum(Drawing& drawing, Place on, double turn_rad, const std::string& letter, double text_mm) {
    const double c = std::cos(turn_rad), s = std::sin(turn_rad);
    const auto placed = [&](double along, double across) {
        return Place{on[0] + along * c - across * s, on[1] + along * s + across * c};
    };
    drawing.items.emplace_back(Line{{placed(0.0, 0.6 * datum_triangle_mm),
                                     placed(0.0, -0.6 * datum_triangle_mm), placed(datum_triangle_mm, 0.0)},
                                    true,
                                    std::nullopt,
                                    0.0});
    const double box_at = datum_triangle_mm + datum_stem_mm, half = text_mm;
    add_line(drawing, placed(datum_triangle_mm, 0.0), placed(box_at, 0.0));
    const Place middle = placed(box_at + half, 0.0);
    drawing.items.emplace_back(Line{{{middle[0] - half, middle[1] - half},
                                     {middle[0] + half, middle[1] - half},
                                     {middle[0] + half, middle[1] + half},
                                     {middle[0] - half, middle[1] + half}},
                                    true,
                                    thin,
                                    std::nullopt});
    drawing.items.emplace_back(
        Text{{middle[0], middle[1] + text_mm / 2.0}, letter, text_mm, Anchor::middle, 0.0});
}

DimensionRows::DimensionRows(const plan::Box2& box, double scale, double text_mm, double kept_mm,
                             std::vector<Dimension> dimensions)
    : box_(box),
      scale_(scale),
      text_mm_(text_mm),
      first_mm_(std::max(first_mm, kept_mm > 0.0 ? kept_mm + text_mm + 1.5 : 0.0)) {
    const auto is_above = [](const Dimension& one) { return one.beside == Beside::above; };
    const auto has_upright_datum = [](const Dimension& one) {
        return is_upright(one.beside) && !one.face_datum.empty();
    };
    upwards_ = std::none_of(dimensions.begin(), dimensions.end(), is_above) ||
               std::any_of(dimensions.begin(), dimensions.end(), has_upright_datum);
    for (const Beside side : {Beside::above, Beside::below, Beside::left, Beside::right}) {
        auto laid = lay_side(side, dimensions);
        keep_words_off_lines(laid);
        choose_rows(laid, side);
        for (Laid& one : laid) {
            widen_room(one);
            laid_.push_back(std::move(one));
        }
    }
}

std::vector<DimensionRows::Laid> DimensionRows::lay_side(Beside side,
                                                         const std::vector<Dimension>& all) const {
    std::vector<Laid> laid;
    for (const Dimension& dimension : all) {
        if (dimension.beside == side) laid.push_back(measured(dimension));
    }
    std::stable_sort(laid.begin(), laid.end(), [](const Laid& a, const Laid& b) {
        return a.to_mm - a.from_mm < b.to_mm - b.from_mm - 1e-9;
    });
    return laid;
}

DimensionRows::Laid DimensionRows::measured(const Dimension& dimension) const {
    const bool upright = is_upright(dimension.beside);
    const auto along = [&](plan::Point p) { return scale_ * (upright ? p.y_mm : p.x_mm); };
    Laid laid{dimension, along(dimension.from), along(dimension.to)};
    if (laid.from_mm > laid.to_mm) std::swap(laid.from_mm, laid.to_mm);
    const double wide_mm =
        std::max(text_width_mm(dimension.text, text_mm_), text_width_mm(dimension.under, text_mm_));
    const double span_mm = laid.to_mm - laid.from_mm;
    laid.arrows_inside = span_mm >= 2.0 * arrow_mm + 2.0;
    if (span_mm >= wide_mm + 1.0) {
        laid.text_mm = (laid.from_mm + laid.to_mm) / 2.0;
        const double out_mm = laid.arrows_inside ? 0.0 : tail_mm;
        laid.taken = {laid.from_mm - out_mm, laid.to_mm + out_mm};
        add_datum_room(laid);
        return laid;
    }
    // Beside the arrows: on the view's outer half, where fewer other lines stand; upright ones away from
    // those that lie above.
    laid.arrows_inside = false;
    const double middle_mm = scale_ * (box_.least.x_mm + box_.most.x_mm) / 2.0;
    const bool is_later = upright ? upwards_ : laid.from_mm + laid.to_mm >= 2.0 * middle_mm - 1e-9;
    const double reach_mm = tail_mm + wide_mm + 1.0;
    laid.text_mm = is_later ? laid.to_mm + tail_mm + wide_mm / 2.0 : laid.from_mm - tail_mm - wide_mm / 2.0;
    laid.taken = {laid.from_mm - (is_later ? tail_mm : reach_mm),
                  laid.to_mm + (is_later ? reach_mm : tail_mm)};
    add_datum_room(laid);
    return laid;
}

/// The axis's sign stands at the line's start.
void DimensionRows::add_datum_room(Laid& laid) const {
    if (!laid.dimension.axis_datum.empty())
        laid.taken[0] = std::min(laid.taken[0], laid.from_mm - datum_reach_mm(text_mm_) - 1.0);
}

/// Words between arrows move aside where an outer row's extension line would run through them.
void DimensionRows::keep_words_off_lines(std::vector<Laid>& laid) const {
    for (Laid& one : laid) {
        if (one.text_mm < one.from_mm || one.text_mm > one.to_mm) continue;
        const double half_mm = std::max(text_width_mm(one.dimension.text, text_mm_),
                                        text_width_mm(one.dimension.under, text_mm_)) /
                                   2.0 +
                               0.6;
        for (const Laid& other : laid) {
            for (const double line_mm : {other.from_mm, other.to_mm}) {
                if (std::abs(line_mm - one.text_mm) >= half_mm) continue;
                if (line_mm - half_mm * 2.0 > one.from_mm)
                    one.text_mm = line_mm - half_mm;
                else if (line_mm + half_mm * 2.0 < one.to_mm)
                    one.text_mm = line_mm + half_mm;
            }
        }
    }
}

/// How far what lies above and below reaches out beside the view: upright dimensions that run on past its
/// corners keep off that.
double DimensionRows::kept_beside(Beside side) const {
    double kept_mm = 0.0;
    for (const Laid& one : laid_) {
        if (is_upright(one.dimension.beside)) continue;
        kept_mm = std::max(kept_mm, side == Beside::left ? scale_ * box_.least.x_mm - one.taken[0]
                                                         : one.taken[1] - scale_ * box_.most.x_mm);
    }
    return kept_mm > 0.0 ? kept_mm + between_mm : 0.0;
}

double DimensionRows::first_row_mm(const std::vector<Laid>& laid, Beside side) const {
    if (!is_upright(side)) return first_mm_;
    const bool has_datum = std::any_of(laid.begin(), laid.end(),
                                       [](const Laid& one) { return !one.dimension.face_datum.empty(); });
    const bool runs_on = std::any_of(laid.begin(), laid.end(), [this](const Laid& one) {
        return one.taken[0] < scale_ * box_.least.y_mm || one.taken[1] > scale_ * box_.most.y_mm;
    });
    if (!has_datum && !runs_on) return first_mm_;
    const double datum_mm = has_datum ? gap_mm + 2.0 * text_mm_ + 1.0 : 0.0;
    return std::max(first_mm_, kept_beside(side) + datum_mm + text_mm_ + 1.5);
}

void DimensionRows::choose_rows(std::vector<Laid>& laid, Beside side) {
    std::vector<std::vector<std::array<double, 2>>> rows;
    std::vector<std::size_t> row_of;
    std::vector<bool> has_under;
    std::size_t lowest = 0;
    for (const Laid& one : laid) {
        std::size_t r = lowest;
        const auto is_clear = [&](const std::array<double, 2>& other) {
            return one.taken[1] + between_mm <= other[0] || other[1] + between_mm <= one.taken[0];
        };
        while (r < rows.size() && !std::all_of(rows[r].begin(), rows[r].end(), is_clear)) ++r;
        if (r == rows.size()) {
            rows.emplace_back();
            has_under.push_back(false);
        }
        rows[r].push_back(one.taken);
        has_under[r] = has_under[r] || !one.dimension.under.empty();
        row_of.push_back(r);
    }
    std::vector<double> offsets;
    const double first = first_row_mm(laid, side);
    double at_mm = first - text_mm_ - 2.2;
    for (std::size_t r = 0; r < rows.size(); ++r) {
        const double words_mm = text_mm_ + 2.2, under_mm = has_under[r] ? text_mm_ + 2.0 : 1.4;
        const double inner_mm = words_are_outside(side) ? under_mm : words_mm;
        at_mm += inner_mm;
        offsets.push_back(std::max(at_mm, first));
        at_mm = offsets.back() + words_mm + under_mm - inner_mm;
    }
    for (std::size_t i = 0; i < laid.size(); ++i) laid[i].offset_mm = offsets[row_of[i]];
}

void DimensionRows::widen_room(const Laid& laid) {
    const Beside side = laid.dimension.beside;
    const double out_mm = laid.offset_mm + text_mm_ + 2.0 +
                          (laid.dimension.under.empty() || words_are_outside(side) ? 0.0 : 1.0);
    const auto widen = [this](std::size_t where, double by_mm) {
        room_mm_[where] = std::max(room_mm_[where], by_mm);
    };
    constexpr std::size_t left = 0, top = 1, right = 2, bottom = 3;
    if (is_upright(side)) {
        widen(side == Beside::left ? left : right, out_mm);
        if (!laid.dimension.face_datum.empty()) widen(bottom, datum_reach_mm(text_mm_) + 1.0);
        widen(bottom, scale_ * box_.least.y_mm - laid.taken[0]);
        widen(top, laid.taken[1] - scale_ * box_.most.y_mm);
    } else {
        widen(side == Beside::above ? top : bottom, out_mm);
        if (!laid.dimension.face_datum.empty())
            widen(left, datum_reach_mm(text_mm_) + 1.0), widen(right, datum_reach_mm(text_mm_) + 1.0);
        widen(left, scale_ * box_.least.x_mm - laid.taken[0]);
        widen(right, laid.taken[1] - scale_ * box_.most.x_mm);
    }
}

void DimensionRows::draw_one(Drawing& drawing, const Laid& laid, const Placing& placing) const {
    const Dimension& own = laid.dimension;
    const bool upright = is_upright(own.beside);
    const double outward = own.beside == Beside::right || own.beside == Beside::below ? 1.0 : -1.0;
    // On the page: along the line as the words read (up, or to the right), and across it.
    const auto placed = [&](double along, double across) {
        return upright ? Place{across, placing.zero[1] - along} : Place{placing.zero[0] + along, across};
    };
    const double edge = own.beside == Beside::left    ? placing.zero[0] + scale_ * box_.least.x_mm
                        : own.beside == Beside::right ? placing.zero[0] + scale_ * box_.most.x_mm
                        : own.beside == Beside::above ? placing.zero[1] - scale_ * box_.most.y_mm
                                                      : placing.zero[1] - scale_ * box_.least.y_mm;
    const double line = edge + outward * laid.offset_mm;
    for (const plan::Point point : {own.from, own.to}) {
        const double along = scale_ * (upright ? point.y_mm : point.x_mm);
        const Place at = placing(point);
        const double start = (upright ? at[0] : at[1]) + outward * gap_mm;
        add_line(drawing, placed(along, start), placed(along, line + outward * overshoot_mm));
    }
    const double wide_mm = std::max(text_width_mm(own.text, text_mm_), text_width_mm(own.under, text_mm_));
    double from = laid.from_mm, to = laid.to_mm;
    if (!laid.arrows_inside) {
        from = std::min(from - tail_mm, laid.text_mm - wide_mm / 2.0 - 0.5);
        to = std::max(to + tail_mm, laid.text_mm + wide_mm / 2.0 + 0.5);
    }
    add_line(drawing, placed(from, line), placed(to, line));
    const double to_start = upright ? std::numbers::pi / 2.0 : std::numbers::pi;
    const double flip = laid.arrows_inside ? 0.0 : std::numbers::pi;
    add_arrow(drawing, placed(laid.from_mm, line), to_start + flip);
    add_arrow(drawing, placed(laid.to_mm, line), to_start + std::numbers::pi + flip);
    const double turn = upright ? -std::numbers::pi / 2.0 : 0.0;
    const auto add_words = [&](const std::string& words, double across) {
        if (!words.empty())
            drawing.items.emplace_back(
                Text{placed(laid.text_mm, line + across), words, text_mm_, Anchor::middle, turn});
    };
    add_words(own.text, -off_line_mm);
    add_words(own.under, off_line_mm + text_mm_);
    if (!own.axis_datum.empty())
        add_datum(drawing, placed(laid.arrows_inside ? laid.from_mm : from, line),
                  upright ? std::numbers::pi / 2.0 : std::numbers::pi, own.axis_datum, text_mm_);
    if (!own.face_datum.empty()) {
        // On the far side of the extension line from what is measured, half way to the dimension's line.
        const bool is_low = scale_ * (upright ? own.from.y_mm : own.from.x_mm) <= laid.from_mm + 1e-9;
        const double turn_rad =
            upright ? (is_low ? 1.0 : -1.0) * std::numbers::pi / 2.0 : (is_low ? std::numbers::pi : 0.0);
        const double along = is_low ? laid.from_mm : laid.to_mm;
        const double off_mm = (upright ? kept_beside(own.beside) : 0.0) + gap_mm + text_mm_;
        add_datum(drawing, placed(along, edge + outward * off_mm), turn_rad, own.face_datum, text_mm_);
    }
}

void DimensionRows::draw(Drawing& drawing, const Placing& placing) const {
    for (const Laid& laid : laid_) draw_one(drawing, laid, placing);
}

}  // namespace fitup::sheets
