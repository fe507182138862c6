#pragma once

#include <array>
#include <optional>
#include <string>
#include <variant>
#include <vector>

/// A drawing as plain data, apart from what draws it. Millimetres on the page, from its upper left corner,
/// y downwards.
namespace fitup::sheets {

using Place = std::array<double, 2>;

/// Types of line after ISO 128 (from memory, unverified): continuous, dashed, long-dashed dotted (chain).
enum class Dash { solid, dashed, chain };

/// Line widths of a pair that differ by two, as ISO 128 wants.
inline constexpr double wide_mm = 0.5;
inline constexpr double narrow_mm = 0.25;

struct Pen {
    double width_mm = narrow_mm;
    Dash dash = Dash::solid;
    double grey = 0.0;  ///< 0 black, 1 white
};

/// A polyline or a polygon.
struct Line {
    std::vector<Place> points;
    bool closed = false;
    std::optional<Pen> pen;
    std::optional<double> fill_grey;
};

/// A circle, or an arc of one from `from_rad` on (0 to the right, growing clockwise on the page).
struct RoundLine {
    Place centre{};
    double radius_mm = 0.0;
    double from_rad = 0.0;
    double sweep_rad = 6.283185307179586;
    std::optional<Pen> pen;
    std::optional<double> fill_grey;
};

enum class Anchor { left, middle, right };

struct Text {
    Place at{};  ///< on the base line
    std::string text;
    double size_mm = 3.0;  ///< height of capital letters
    Anchor anchor = Anchor::left;
    double turn_rad = 0.0;  ///< clockwise on the page
};

/// What comes after it shows only in this box (left, top, right, bottom); without one everywhere again.
struct Clip {
    std::optional<std::array<double, 4>> box;
};

struct Drawing {
    double width_mm = 0.0;
    double height_mm = 0.0;
    std::string title;
    std::vector<std::variant<Line, RoundLine, Text, Clip>> items;  ///< later ones over earlier ones
};

/// How wide a text comes out in the lettering font; at most that where it has other letters than ASCII.
double text_width_mm(const std::string& text, double size_mm);

/// Words in lines of at most this width, broken at blanks where there are any.
std::vector<std::string> broken_lines(const std::string& words, double width_mm, double size_mm);

/// At most so many letters of a text (UTF-8), with .. for what is cut off.
std::string shortened(const std::string& text, std::size_t most_letters);

/// The box round a text on the page, what hangs under the base line included: upper left, upper right, lower
/// right, lower left as the text reads.
std::array<Place, 4> box_of(const Text& text);

/// Whether two texts' boxes overlap, whichever way they are turned.
bool overlap(const Text& first, const Text& second);

/// Whether a drawn line, or the line of a circle or an arc, runs over a text's box; hidden and centre lines
/// count as any.
bool overlap(const Text& text, const Line& line);
bool overlap(const Text& text, const RoundLine& round);

/// Pairs of texts whose boxes overlap, as both texts; for checks of a layout.
std::vector<std::array<std::string, 2>> overlapping_texts(const Drawing& drawing);

/// What reaches over the page's edge and is not clipped: each text, "line" or "circle"; for checks of a
/// layout.
std::vector<std::string> outside_page(const Drawing& drawing);

}  // namespace fitup::sheets
