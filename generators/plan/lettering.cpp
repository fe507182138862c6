// Letters on a grid 4 wide and 6 high, small ones 4 high, swept by a disc. Corners are cut off rather than
// round, as an engraver's are.
#include "plan/lettering.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/error.hpp"
#include "plan/trace.hpp"
#include "plan/vector.hpp"

namespace fitup::plan {

namespace {

constexpr double grid_height = 6.0;
/// Between the centrelines of neighbouring letters, and of a blank, in grid units. Chosen by eye.
constexpr double letter_gap = 2.0;
constexpr double blank_width = 2.0;
/// Of the stroke in grid units, so that the height over all is the letters'.
constexpr double pen_width(double stroke) { return grid_height * stroke / (1.0 - stroke); }
/// Deeper inside another stroke than this, a piece is no edge. Letters are swept in grid units, where the
/// places at which two curves touch are wrong by 1e-8 at most.
constexpr double inside = 1e-9;

struct Letter {
    std::string_view name;  ///< UTF-8
    double width;
    /// Polylines parted by blanks; a point is two digits, x and y; `a` is -1.
    std::string_view strokes;
};

constexpr std::array letters{
    Letter{"A", 4, "0004264440 0343"},
    Letter{"B", 4, "00063645443342413000 0333"},
    Letter{"C", 4, "4536160501103041"},
    Letter{"D", 4, "00063645413000"},
    Letter{"E", 4, "46060040 0333"},
    Letter{"F", 4, "460600 0333"},
    Letter{"G", 4, "45361605011030414323"},
    Letter{"H", 4, "0006 4046 0343"},
    Letter{"I", 0, "0006"},
    Letter{"J", 4, "4641301001"},
    Letter{"K", 4, "0006 4602 1340"},
    Letter{"L", 4, "060040"},
    Letter{"M", 4, "0006234640"},
    Letter{"N", 4, "00064046"},
    Letter{"O", 4, "103041453616050110"},
    Letter{"P", 4, "00063645443303"},
    Letter{"Q", 4, "103041453616050110 2240"},
    Letter{"R", 4, "00063645443303 2340"},
    Letter{"S", 4, "011030414233130405163645"},
    Letter{"T", 4, "0646 2620"},
    Letter{"U", 4, "060110304146"},
    Letter{"V", 4, "062046"},
    Letter{"W", 4, "0610243046"},
    Letter{"X", 4, "0046 0640"},
    Letter{"Y", 4, "062346 2320"},
    Letter{"Z", 4, "06460040"},
    Letter{"0", 3, "102031352616050110"},
    Letter{"1", 2, "042620"},
    Letter{"2", 4, "05163645440040"},
    Letter{"3", 4, "0516364544334241301001 2333"},
    Letter{"4", 4, "30360242"},
    Letter{"5", 4, "460603334241301001"},
    Letter{"6", 4, "4536160501103041423303"},
    Letter{"7", 4, "064610"},
    Letter{"8", 4, "13040516364544334241301001021333"},
    Letter{"9", 4, "0110304145361605041343"},
    Letter{"-", 3, "0333"},
    Letter{".", 0, "00"},
    Letter{"/", 3, "0036"},
    Letter{"+", 4, "0343 2125"},
    Letter{":", 0, "01 04"},
    Letter{"=", 4, "0242 0444"},
    Letter{"%", 4, "0046 05 41"},
    Letter{"_", 4, "0040"},
    Letter{",", 1, "1100"},
    Letter{";", 1, "1100 14"},
    Letter{"(", 1, "16050110"},
    Letter{")", 1, "06151100"},
    Letter{"[", 1, "16060010"},
    Letter{"]", 1, "06161000"},
    Letter{"'", 0, "0604"},
    Letter{"\"", 2, "0604 2624"},
    Letter{"!", 0, "0602 00"},
    Letter{"?", 4, "05163645442322 20"},
    Letter{"<", 3, "350331"},
    Letter{">", 3, "053301"},
    Letter{"&", 4, "40051626350201102042"},
    Letter{"#", 4, "1016 3036 0242 0444"},
    Letter{"*", 4, "2125 0244 0442"},
    Letter{"{", 2, "26151403121120"},
    Letter{"}", 2, "06151423121100"},
    Letter{"|", 0, "0002 0406"},
    Letter{"\\", 3, "0630"},
    Letter{"~", 4, "03143243"},
    Letter{"^", 4, "042644"},
    Letter{"`", 1, "0615"},
    Letter{"@", 4, "413010010516364542222444"},
    Letter{"$", 4, "011030414233130405163645 2620"},
    Letter{"a", 3, "3430 3324140301102031"},
    Letter{"b", 3, "0600 0314243331201001"},
    Letter{"c", 3, "3324140301102031"},
    Letter{"d", 3, "3630 3324140301102031"},
    Letter{"e", 3, "02323324140301102030"},
    Letter{"f", 2, "261510 0424"},
    Letter{"g", 3, "34302a0a 3324140301102031"},
    Letter{"h", 3, "0600 0314243330"},
    Letter{"i", 0, "0400 06"},
    Letter{"j", 1, "14100a 16"},
    Letter{"k", 3, "0600 3401 1230"},
    Letter{"l", 1, "060110"},
    Letter{"m", 4, "0400 03142320 23344340"},
    Letter{"n", 3, "0400 0314243330"},
    Letter{"o", 3, "102031332414030110"},
    Letter{"p", 3, "040a 0314243331201001"},
    Letter{"q", 3, "343a 3324140301102031"},
    Letter{"r", 2, "0400 031424"},
    Letter{"s", 3, "3324140331201001"},
    Letter{"t", 2, "161120 0424"},
    Letter{"u", 3, "0401102031 3430"},
    Letter{"v", 4, "042044"},
    Letter{"w", 4, "0410233044"},
    Letter{"x", 3, "0430 0034"},
    Letter{"y", 4, "0420 44201a"},
    Letter{"z", 3, "04340030"},
    // Signs of drawings: diameter, O with stroke, depth, counterbore, countersink, plus-minus, degree, times.
    Letter{"\xE2\x8C\x80", 4, "113142443515040211 0046"},
    Letter{"\xC3\x98", 4, "113142443515040211 0046"},
    Letter{"\xE2\x86\xA7", 4, "0646 2620 022042"},
    Letter{"\xE2\x8C\xB4", 5, "04005054"},
    Letter{"\xE2\x8C\xB5", 6, "033063"},
    Letter{"\xC2\xB1", 4, "0444 2226 0040"},
    Letter{"\xC2\xB0", 2, "1625140516"},
    Letter{"\xC3\x97", 4, "0145 0541"},
};

using Line = std::vector<Point>;
using Lines = std::vector<Line>;

/// In place of a letter that there is none for: it must be seen that one is missing.
constexpr Letter unknown{"", 3, "0006363000"};
constexpr Letter blank{" ", blank_width, ""};

const Letter* find_letter(std::string_view name) {
    if (name == " ") return &blank;
    const auto found = std::find_if(letters.begin(), letters.end(),
                                    [name](const Letter& letter) { return letter.name == name; });
    return found != letters.end() ? &*found : nullptr;
}

std::vector<const Letter*> letters_of(std::string_view text) {
    std::vector<const Letter*> found;
    for (const std::string_view name : split_into_letters(text)) {
        const Letter* letter = find_letter(name);
        found.push_back(letter != nullptr ? letter : &unknown);
    }
    return found;
}

double place_of(char digit) { return digit == 'a' ? -1.0 : digit - '0'; }

Lines lines_of(const Letter& letter) {
    if (letter.strokes.empty()) return {};
    Lines lines(1);
    for (std::size_t i = 0; i < letter.strokes.size(); ++i) {
        if (letter.strokes[i] == ' ') {
            lines.emplace_back();
            continue;
        }
        lines.back().push_back({place_of(letter.strokes[i]), place_of(letter.strokes[i + 1])});
        ++i;
    }
    return lines;
}

/// Where each letter of the text starts, in grid units; the text's middle is 0.
std::vector<double> starts_of(const std::vector<const Letter*>& text) {
    std::vector<double> starts;
    double at = 0.0;
    for (const Letter* letter : text) {
        starts.push_back(at);
        at += letter->width + letter_gap;
    }
    const double middle = text.empty() ? 0.0 : (at - letter_gap) / 2.0;
    for (double& start : starts) start -= middle;
    return starts;
}

/// Everything that a disc of the pen's width covers while its centre follows the lines of one letter.
class Sweep {
  public:
    Sweep(const Lines& lines, double stroke) : radius_(pen_width(stroke) / 2.0) {
        for (const Line& line : lines) {
            add_point(line.front());
            for (std::size_t i = 1; i < line.size(); ++i) {
                add_point(line[i]);
                segments_.emplace_back(line[i - 1], line[i]);
            }
        }
    }

    /// The edges of what is covered, region on the left.
    std::vector<std::vector<Stroke>> loops() const {
        std::vector<Stroke> raw;
        for (const auto& [from, to] : segments_) {
            const Point aside = left_of(unit(to - from)) * radius_;
            raw.push_back(line_stroke(from - aside, to - aside));
            raw.push_back(line_stroke(to + aside, from + aside));
        }
        for (const Point& point : points_) add_disc(point, raw);
        const auto found = trace(raw, [this](Point point) { return is_outside(point); });
        if (!found) throw KernelError("a letter's strokes do not close");
        return *found;
    }

  private:
    void add_point(Point point) {
        if (std::find(points_.begin(), points_.end(), point) == points_.end()) points_.push_back(point);
    }

    /// The disc at an end or corner, its edge parted where the sides of the strokes that it lies on touch it.
    void add_disc(Point centre, std::vector<Stroke>& raw) const {
        std::vector<double> touches;
        for (const auto& [from, to] : segments_) {
            if (distance_mm(nearest_point(line_stroke(from, to), centre), centre) > inside) continue;
            const Point aside = left_of(unit(to - from));
            touches.push_back(std::atan2(aside.y_mm, aside.x_mm));
            touches.push_back(std::atan2(-aside.y_mm, -aside.x_mm));
        }
        if (touches.empty()) return raw.push_back(circle_stroke({centre, radius_}));
        std::sort(touches.begin(), touches.end());
        const auto at = [&](double angle) {
            return centre + Point{std::cos(angle), std::sin(angle)} * radius_;
        };
        for (std::size_t i = 0; i < touches.size(); ++i) {
            const Point from = at(touches[i]);
            const Point to = at(touches[(i + 1) % touches.size()]);
            if (distance_mm(from, to) > inside)
                raw.push_back(arc_stroke(from, to, centre, Turn::anticlockwise));
        }
    }

    bool is_outside(Point point) const {
        const auto is_clear = [&](Point nearest) { return distance_mm(nearest, point) > radius_ - inside; };
        return std::all_of(points_.begin(), points_.end(), is_clear) &&
               std::all_of(segments_.begin(), segments_.end(), [&](const auto& segment) {
                   return is_clear(nearest_point(line_stroke(segment.first, segment.second), point));
               });
    }

    double radius_;  ///< of the pen, in grid units
    std::vector<Point> points_;
    std::vector<std::pair<Point, Point>> segments_;
};

struct Placing {
    double scale_mm = 0.0;
    double shift = 0.0;  ///< grid units along X
    Point operator()(Point point) const {
        return Point{point.x_mm + shift, point.y_mm - grid_height / 2.0} * scale_mm;
    }
};

Placing placing(double start, double height_mm, double stroke) {
    return {height_mm * (1.0 - stroke) / grid_height, start};
}

Stroke placed(const Stroke& stroke, const Placing& place) {
    Stroke result = stroke;
    result.from = place(stroke.from);
    result.to = place(stroke.to);
    result.centre = place(stroke.centre);
    result.radius_mm = stroke.radius_mm * place.scale_mm;
    return result;
}

}  // namespace

std::vector<std::string_view> split_into_letters(std::string_view text) {
    const auto goes_on = [](char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) == 0x80U; };
    std::vector<std::string_view> found;
    for (std::size_t at = 0; at < text.size();) {
        std::size_t end = at + 1;
        while (end < text.size() && goes_on(text[end])) ++end;
        found.push_back(text.substr(at, end - at));
        at = end;
    }
    return found;
}

std::vector<std::vector<Point>> lettering_lines(std::string_view text, double height_mm, double stroke) {
    Lines result;
    const auto found = letters_of(text);
    const std::vector<double> starts = starts_of(found);
    for (std::size_t i = 0; i < found.size(); ++i) {
        for (Line line : lines_of(*found[i])) {
            for (Point& point : line) point = placing(starts[i], height_mm, stroke)(point);
            result.push_back(std::move(line));
        }
    }
    return result;
}

bool has_letter(std::string_view name) { return find_letter(name) != nullptr; }

double lettering_width_mm(std::string_view text, double height_mm, double stroke) {
    if (text.empty()) return 0.0;
    const double width = 2.0 * -starts_of(letters_of(text)).front() + pen_width(stroke);
    return width * placing(0.0, height_mm, stroke).scale_mm;
}

std::vector<Area> lettering(std::string_view text, double height_mm, double share) {
    std::vector<Area> areas;
    const auto found = letters_of(text);
    const std::vector<double> starts = starts_of(found);
    for (std::size_t i = 0; i < found.size(); ++i) {
        auto loops = Sweep(lines_of(*found[i]), share).loops();
        for (auto& loop : loops) {
            for (Stroke& stroke : loop) stroke = placed(stroke, placing(starts[i], height_mm, share));
        }
        for (Area& area : areas_of(loops)) areas.push_back(std::move(area));
    }
    return areas;
}

}  // namespace fitup::plan
