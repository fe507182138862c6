// Letters on a grid 4 wide and 6 high, swept by a disc. Corners are cut off rather than round, as an
// engraver's are.
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
    char name;
    double width;
    /// Polylines parted by blanks; a point is two digits, x and y.
    std::string_view strokes;
};

constexpr std::array letters{
    Letter{'A', 4, "0004264440 0343"},
    Letter{'B', 4, "00063645443342413000 0333"},
    Letter{'C', 4, "4536160501103041"},
    Letter{'D', 4, "00063645413000"},
    Letter{'E', 4, "46060040 0333"},
    Letter{'F', 4, "460600 0333"},
    Letter{'G', 4, "45361605011030414323"},
    Letter{'H', 4, "0006 4046 0343"},
    Letter{'I', 0, "0006"},
    Letter{'J', 4, "4641301001"},
    Letter{'K', 4, "0006 4602 1340"},
    Letter{'L', 4, "060040"},
    Letter{'M', 4, "0006234640"},
    Letter{'N', 4, "00064046"},
    Letter{'O', 4, "103041453616050110"},
    Letter{'P', 4, "00063645443303"},
    Letter{'Q', 4, "103041453616050110 2240"},
    Letter{'R', 4, "00063645443303 2340"},
    Letter{'S', 4, "011030414233130405163645"},
    Letter{'T', 4, "0646 2620"},
    Letter{'U', 4, "060110304146"},
    Letter{'V', 4, "062046"},
    Letter{'W', 4, "0610243046"},
    Letter{'X', 4, "0046 0640"},
    Letter{'Y', 4, "062346 2320"},
    Letter{'Z', 4, "06460040"},
    Letter{'0', 3, "102031352616050110"},
    Letter{'1', 2, "042620"},
    Letter{'2', 4, "05163645440040"},
    Letter{'3', 4, "0516364544334241301001 2333"},
    Letter{'4', 4, "30360242"},
    Letter{'5', 4, "460603334241301001"},
    Letter{'6', 4, "4536160501103041423303"},
    Letter{'7', 4, "064610"},
    Letter{'8', 4, "13040516364544334241301001021333"},
    Letter{'9', 4, "0110304145361605041343"},
    Letter{'-', 3, "0333"},
    Letter{'.', 0, "00"},
    Letter{'/', 3, "0036"},
    Letter{'+', 4, "0343 2125"},
    Letter{':', 0, "01 04"},
    Letter{'=', 4, "0242 0444"},
    Letter{'%', 4, "0046 05 41"},
    Letter{'_', 4, "0040"},
};

using Line = std::vector<Point>;
using Lines = std::vector<Line>;

const Letter* find_letter(char name) {
    const auto found = std::find_if(letters.begin(), letters.end(),
                                    [name](const Letter& letter) { return letter.name == name; });
    return found != letters.end() ? &*found : nullptr;
}

Lines lines_of(const Letter& letter) {
    Lines lines(1);
    for (std::size_t i = 0; i < letter.strokes.size(); ++i) {
        if (letter.strokes[i] == ' ') {
            lines.emplace_back();
            continue;
        }
        lines.back().push_back({double(letter.strokes[i] - '0'), double(letter.strokes[i + 1] - '0')});
        ++i;
    }
    return lines;
}

double width_of(char name) {
    const Letter* letter = find_letter(name);
    return letter != nullptr ? letter->width : blank_width;
}

/// Where each letter of the text starts, in grid units; the text's middle is 0.
std::vector<double> starts_of(std::string_view text) {
    std::vector<double> starts;
    double at = 0.0;
    for (const char name : text) {
        starts.push_back(at);
        at += width_of(name) + letter_gap;
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

std::vector<std::vector<Point>> lettering_lines(std::string_view text, double height_mm, double stroke) {
    Lines result;
    const std::vector<double> starts = starts_of(text);
    for (std::size_t i = 0; i < text.size(); ++i) {
        const Letter* letter = find_letter(text[i]);
        if (letter == nullptr) continue;
        for (Line line : lines_of(*letter)) {
            for (Point& point : line) point = placing(starts[i], height_mm, stroke)(point);
            result.push_back(std::move(line));
        }
    }
    return result;
}

bool has_letter(char name) { return name == ' ' || find_letter(name) != nullptr; }

double lettering_width_mm(std::string_view text, double height_mm, double stroke) {
    if (text.empty()) return 0.0;
    const double width = 2.0 * -starts_of(text).front() + pen_width(stroke);
    return width * placing(0.0, height_mm, stroke).scale_mm;
}

std::vector<Area> lettering(std::string_view text, double height_mm, double share) {
    std::vector<Area> areas;
    const std::vector<double> starts = starts_of(text);
    for (std::size_t i = 0; i < text.size(); ++i) {
        const Letter* letter = find_letter(text[i]);
        if (letter == nullptr) continue;
        auto loops = Sweep(lines_of(*letter), share).loops();
        for (auto& loop : loops) {
            for (Stroke& stroke : loop) stroke = placed(stroke, placing(starts[i], height_mm, share));
        }
        for (Area& area : areas_of(loops)) areas.push_back(std::move(area));
    }
    return areas;
}

}  // namespace fitup::plan
