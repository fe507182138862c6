#include "sheets/drawing.hpp"

#include <algorithm>
#include <cmath>

#include "sheets/letter_widths.hpp"

namespace fitup::sheets {

namespace {

/// Of the letter of several bytes that starts here.
double width_of_sign(const std::string& text, std::size_t at) {
    for (const SignWidth& sign : sign_widths) {
        if (text.compare(at, std::char_traits<char>::length(sign.letter), sign.letter) == 0)
            return double(sign.width);
    }
    return widest_letter;
}

}  // namespace

double text_width_mm(const std::string& text, double size_mm) {
    double width = 0.0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const auto letter = static_cast<unsigned char>(text[i]);
        // Of a letter of several bytes the first counts.
        if (letter >= 0xC0)
            width += width_of_sign(text, i);
        else if (letter >= ' ' && letter <= '~')
            width += double(letter_widths[letter - ' ']);
    }
    return width * size_mm;
}

std::vector<std::string> broken_lines(const std::string& words, double width_mm, double size_mm) {
    std::vector<std::string> lines;
    for (std::string rest = words; !rest.empty();) {
        std::size_t end = rest.size();
        while (end > 1 && text_width_mm(rest.substr(0, end), size_mm) > width_mm) --end;
        const std::size_t blank = rest.rfind(' ', end);
        if (end < rest.size() && blank != std::string::npos && blank > 0) end = blank;
        lines.push_back(rest.substr(0, end));
        rest = end < rest.size() ? rest.substr(end + (rest[end] == ' ' ? 1 : 0)) : "";
    }
    return lines;
}

std::string shortened(const std::string& text, std::size_t most_letters) {
    std::size_t letters = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const bool starts_letter = (text[i] & 0xC0) != 0x80;
        if (starts_letter && letters++ == most_letters) return text.substr(0, i) + "..";
    }
    return text;
}

std::array<Place, 4> box_of(const Text& text) {
    const double width_mm = text_width_mm(text.text, text.size_mm);
    const double left_mm = text.anchor == Anchor::left     ? 0.0
                           : text.anchor == Anchor::middle ? -width_mm / 2.0
                                                           : -width_mm;
    const double under_mm = deepest_letter * text.size_mm;
    const double cosine = std::cos(text.turn_rad), sine = std::sin(text.turn_rad);
    const auto placed = [&](double x_mm, double y_mm) {
        return Place{text.at[0] + cosine * x_mm - sine * y_mm, text.at[1] + sine * x_mm + cosine * y_mm};
    };
    return {placed(left_mm, -text.size_mm), placed(left_mm + width_mm, -text.size_mm),
            placed(left_mm + width_mm, under_mm), placed(left_mm, under_mm)};
}

namespace {

/// Whether a line along a side of `first` holds the two boxes apart.
bool is_apart_beside(const std::array<Place, 4>& first, const std::array<Place, 4>& second) {
    for (std::size_t i = 0; i < 2; ++i) {
        const Place across{first[i + 1][0] - first[i][0], first[i + 1][1] - first[i][1]};
        const auto range = [&across](const std::array<Place, 4>& box) {
            std::array<double, 2> span{1e300, -1e300};
            for (const Place& corner : box) {
                const double at = across[0] * corner[0] + across[1] * corner[1];
                span = {std::min(span[0], at), std::max(span[1], at)};
            }
            return span;
        };
        const auto a = range(first), b = range(second);
        if (a[1] <= b[0] || b[1] <= a[0]) return true;
    }
    return false;
}

/// Rounding of places that lie on the very edge.
constexpr double edge_within_mm = 1e-6;

bool is_on_page(const Drawing& drawing, const Place& place, double room_mm = 0.0) {
    const double least = room_mm - edge_within_mm;
    return place[0] >= least && place[1] >= least && place[0] <= drawing.width_mm - least &&
           place[1] <= drawing.height_mm - least;
}

std::string name_outside(const Drawing& drawing, const Text& text) {
    const auto box = box_of(text);
    const bool is_on =
        std::all_of(box.begin(), box.end(), [&](const Place& p) { return is_on_page(drawing, p); });
    return is_on ? "" : text.text;
}

std::string name_outside(const Drawing& drawing, const Line& line) {
    const bool is_on = std::all_of(line.points.begin(), line.points.end(),
                                   [&](const Place& p) { return is_on_page(drawing, p); });
    return is_on ? "" : "line";
}

std::string name_outside(const Drawing&, const Clip&) { return ""; }

/// A part of a circle counts as the whole.
std::string name_outside(const Drawing& drawing, const RoundLine& round) {
    return is_on_page(drawing, round.centre, round.radius_mm) ? "" : "circle";
}

}  // namespace

bool overlap(const Text& first, const Text& second) {
    const auto a = box_of(first), b = box_of(second);
    return !is_apart_beside(a, b) && !is_apart_beside(b, a);
}

bool overlap(const Text& text, const Line& line) {
    if (!line.pen) return false;
    const auto box = box_of(text);
    const std::size_t count = line.points.size(),
                      last = line.closed ? count : count - std::min<std::size_t>(count, 1);
    for (std::size_t i = 0; i < last; ++i) {
        const Place from = line.points[i], to = line.points[(i + 1) % count];
        const double length_mm = std::hypot(to[0] - from[0], to[1] - from[1]);
        if (length_mm == 0.0) continue;
        const Place aside{-(to[1] - from[1]) / length_mm * line.pen->width_mm / 2.0,
                          (to[0] - from[0]) / length_mm * line.pen->width_mm / 2.0};
        const std::array<Place, 4> stroke{{{from[0] - aside[0], from[1] - aside[1]},
                                           {to[0] - aside[0], to[1] - aside[1]},
                                           {to[0] + aside[0], to[1] + aside[1]},
                                           {from[0] + aside[0], from[1] + aside[1]}}};
        if (!is_apart_beside(box, stroke) && !is_apart_beside(stroke, box)) return true;
    }
    return false;
}

bool overlap(const Text& text, const RoundLine& round) {
    // Chords of it that stay within a hundredth of the radius.
    constexpr int chords = 24;
    Line line{{}, false, round.pen, std::nullopt};
    for (int i = 0; i <= chords; ++i) {
        const double angle_rad = round.from_rad + round.sweep_rad * i / chords;
        line.points.push_back({round.centre[0] + round.radius_mm * std::cos(angle_rad),
                               round.centre[1] + round.radius_mm * std::sin(angle_rad)});
    }
    return overlap(text, line);
}

namespace {

/// A text and where it shows.
struct Shown {
    const Text* text = nullptr;
    Clip clip;
};

/// Whether anything of the text lies in the clip's box.
bool reaches_into(const Text& text, const Clip& clip) {
    if (!clip.box) return true;
    const auto [left, top, right, bottom] = *clip.box;
    const std::array<Place, 4> box{{{left, top}, {right, top}, {right, bottom}, {left, bottom}}};
    const auto own = box_of(text);
    return !is_apart_beside(own, box) && !is_apart_beside(box, own);
}

std::vector<Shown> shown_texts(const Drawing& drawing) {
    std::vector<Shown> texts;
    Clip clip;
    for (const auto& item : drawing.items) {
        if (const Clip* next = std::get_if<Clip>(&item)) clip = *next;
        if (const Text* text = std::get_if<Text>(&item); text != nullptr && reaches_into(*text, clip))
            texts.push_back({text, clip});
    }
    return texts;
}

}  // namespace

std::vector<std::array<std::string, 2>> overlapping_texts(const Drawing& drawing) {
    const std::vector<Shown> texts = shown_texts(drawing);
    std::vector<std::array<std::string, 2>> pairs;
    for (std::size_t i = 0; i < texts.size(); ++i) {
        for (std::size_t j = i + 1; j < texts.size(); ++j) {
            const Shown &a = texts[i], &b = texts[j];
            if (overlap(*a.text, *b.text) && reaches_into(*a.text, b.clip) && reaches_into(*b.text, a.clip))
                pairs.push_back({a.text->text, b.text->text});
        }
    }
    return pairs;
}

std::vector<std::string> outside_page(const Drawing& drawing) {
    std::vector<std::string> names;
    bool is_clipped = false;
    for (const auto& item : drawing.items) {
        if (const Clip* clip = std::get_if<Clip>(&item)) is_clipped = clip->box.has_value();
        if (is_clipped) continue;
        std::string name = std::visit([&](const auto& one) { return name_outside(drawing, one); }, item);
        if (!name.empty()) names.push_back(std::move(name));
    }
    return names;
}

}  // namespace fitup::sheets
