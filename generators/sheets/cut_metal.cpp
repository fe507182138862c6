#include "sheets/cut_metal.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "plan/stroke.hpp"
#include "plan/trace.hpp"
#include "plan/vector.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;
using plan::same_point_mm;

constexpr double chord_mm = 1e-3;
/// Heights at one place that differ by less are one: far over rounding, far under what is drawn.
constexpr double same_height_mm = 1e-6;
/// A loop of less is rounding only.
constexpr double least_mm2 = 1e-9;
/// Halvings of a stretch whose curve is not straight enough: a lying hole's edge is upright there.
constexpr int most_halvings = 16;

/// The metal between two neighbouring places of the section, its ends straight.
struct Cell {
    double from_mm = 0.0, to_mm = 0.0;
    std::vector<Stretch> metal;
};

/// Walks one plane from break to break.
class PlaneWalk {
  public:
    PlaneWalk(const MetalMap& metal, const CutPiece& piece, std::vector<Cell>& cells)
        : metal_(metal),
          piece_(piece),
          cells_(cells),
          way_(plan::unit(piece.to - piece.from)),
          plane_(plan::line_stroke(piece.from, piece.to)) {}

    void walk() {
        collect_breaks();
        for (std::size_t k = 0; k + 1 < breaks_.size(); ++k) {
            const double middle_mm = (breaks_[k] + breaks_[k + 1]) / 2.0;
            held_ = metal_.holding(at(middle_mm));
            split(breaks_[k], breaks_[k + 1], 0);
        }
    }

  private:
    Point at(double along_mm) const { return piece_.from + way_ * along_mm; }

    void add_break(Point place) { breaks_.push_back(plan::dot(place - piece_.from, way_)); }

    void add_crossings(const plan::Contour& contour) {
        for (const plan::Stroke& stroke : plan::strokes_of(contour)) {
            for (const Point& place : plan::crossings(plane_, stroke)) add_break(place);
            for (const Point& end : {stroke.from, stroke.to}) {
                if (std::abs(plan::cross(way_, end - piece_.from)) < same_height_mm) add_break(end);
            }
        }
    }

    /// Where what slopes begins, ends and turns round.
    void add_slope(const Feature& feature) {
        if (feature.shape == Feature::Shape::cone) {
            const Point axis = feature.area.outer.circle()->centre;
            add_break(axis);
            const double narrow_mm = std::min(feature.radius_low_mm, feature.radius_high_mm);
            if (narrow_mm > 0.0) add_crossings(plan::Contour(plan::Circle{axis, narrow_mm}));
        } else if (feature.shape == Feature::Shape::barrel) {
            const double sine = plan::cross(way_, feature.axis_along);
            if (std::abs(sine) > same_point_mm)
                breaks_.push_back(plan::cross(feature.axis_at - piece_.from, feature.axis_along) / sine);
        } else if (feature.shape == Feature::Shape::chamfered) {
            for (const plan::Contour& narrow : plan::inset(feature.area.outer, feature.break_mm))
                add_crossings(narrow);
        }
    }

    void collect_breaks() {
        const double length_mm = piece_.length_mm();
        breaks_ = {0.0, length_mm};
        for (const Feature& feature : metal_.features()) {
            if (plan::distance_mm(feature.box, plan::box(plane_)) > same_point_mm) continue;
            for (const plan::Contour* contour : feature.contours()) add_crossings(*contour);
            add_slope(feature);
        }
        std::erase_if(breaks_, [&](double one) { return one < 0.0 || one > length_mm; });
        std::sort(breaks_.begin(), breaks_.end());
        std::vector<double> apart;
        for (const double one : breaks_) {
            if (apart.empty() || one > apart.back() + same_point_mm) apart.push_back(one);
        }
        apart.back() = std::max(apart.back(), length_mm);
        breaks_ = std::move(apart);
    }

    /// Ends of all that is held at a place, in the order of the features.
    std::vector<double> ends_at(double along_mm) const {
        std::vector<double> ends;
        for (const std::size_t k : held_) {
            const Feature::Heights heights = metal_.features()[k].heights_at(at(along_mm));
            ends.push_back(heights.low_mm);
            ends.push_back(heights.high_mm);
        }
        return ends;
    }

    bool has_slope() const {
        return std::any_of(held_.begin(), held_.end(),
                           [&](std::size_t k) { return metal_.features()[k].is_sloped(); });
    }

    void split(double from_mm, double to_mm, int depth) {
        if (!has_slope()) return add_cell(from_mm, to_mm);
        const auto from = ends_at(from_mm), to = ends_at(to_mm);
        const double middle_mm = (from_mm + to_mm) / 2.0;
        if (depth < most_halvings && is_curved(from, ends_at(middle_mm), to)) {
            split(from_mm, middle_mm, depth + 1);
            return split(middle_mm, to_mm, depth + 1);
        }
        // Between two breaks of its own each end is straight now; where two cross, their order changes.
        std::vector<double> shares{0.0, 1.0};
        for (std::size_t a = 0; a < from.size(); ++a) {
            for (std::size_t b = a + 1; b < from.size(); ++b)
                add_meeting(shares, {from_mm, to_mm}, {a, b}, from[a] - from[b], to[a] - to[b]);
        }
        std::sort(shares.begin(), shares.end());
        double start = 0.0;
        for (const double share : shares) {
            if ((share - start) * (to_mm - from_mm) < same_point_mm && share < 1.0) continue;
            if (share > start)
                add_cell(from_mm + (to_mm - from_mm) * start,
                         share == 1.0 ? to_mm : from_mm + (to_mm - from_mm) * share);
            start = share;
        }
    }

    /// Where two ends cross, to the last bit: a curved one is straight to `chord_mm` only.
    void add_meeting(std::vector<double>& shares, std::array<double, 2> span_mm,
                     std::array<std::size_t, 2> ends, double from_mm, double to_mm) const {
        if (!std::isfinite(from_mm) || !std::isfinite(to_mm) || from_mm * to_mm >= 0.0) return;
        if (std::abs(from_mm) < same_height_mm || std::abs(to_mm) < same_height_mm) return;
        double low = 0.0, high = 1.0;
        for (int k = 0; k < 60; ++k) {
            const double middle = (low + high) / 2.0;
            const auto heights = ends_at(span_mm[0] + (span_mm[1] - span_mm[0]) * middle);
            const bool is_before = (heights[ends[0]] - heights[ends[1]] > 0.0) == (from_mm > 0.0);
            (is_before ? low : high) = middle;
        }
        shares.push_back((low + high) / 2.0);
    }

    static bool is_curved(const std::vector<double>& from, const std::vector<double>& middle,
                          const std::vector<double>& to) {
        for (std::size_t k = 0; k < from.size(); ++k) {
            if (std::isfinite(from[k]) && std::abs((from[k] + to[k]) / 2.0 - middle[k]) > chord_mm)
                return true;
        }
        return false;
    }

    void add_cell(double from_mm, double to_mm) {
        cells_.push_back({piece_.from_mm + from_mm, piece_.from_mm + to_mm,
                          metal_.between(held_, at(from_mm), at(to_mm))});
    }

    const MetalMap& metal_;
    const CutPiece& piece_;
    std::vector<Cell>& cells_;
    Point way_;
    plan::Stroke plane_;
    std::vector<double> breaks_;
    std::vector<std::size_t> held_;
};

/// Cells as the loops round their metal, this on the left.
class Loops {
  public:
    explicit Loops(std::vector<Cell> cells) : cells_(std::move(cells)) {}

    std::vector<std::vector<plan::Stroke>> trace() {
        for (std::size_t k = 0; k <= cells_.size(); ++k) join_heights(k);
        for (const Cell& cell : cells_) add_ends(cell);
        for (std::size_t k = 0; k <= cells_.size(); ++k) add_upright(k);
        std::vector<std::vector<plan::Stroke>> loops;
        while (!edges_.empty()) {
            auto loop = take_loop();
            if (loop.size() > 2 && std::abs(plan::signed_area_mm2(loop)) > least_mm2)
                loops.push_back(std::move(loop));
        }
        return loops;
    }

  private:
    Cell* before(std::size_t k) { return k == 0 ? nullptr : &cells_[k - 1]; }
    Cell* after(std::size_t k) { return k == cells_.size() ? nullptr : &cells_[k]; }
    double place_mm(std::size_t k) const { return k == 0 ? cells_[0].from_mm : cells_[k - 1].to_mm; }

    /// Makes heights that differ by rounding equal, on both sides of a border.
    void join_heights(std::size_t k) {
        std::vector<double*> heights;
        if (Cell* cell = before(k)) {
            cell->to_mm = place_mm(k);
            for (Stretch& one : cell->metal) heights.insert(heights.end(), {&one.low.to_mm, &one.high.to_mm});
        }
        if (Cell* cell = after(k)) {
            cell->from_mm = place_mm(k);
            for (Stretch& one : cell->metal)
                heights.insert(heights.end(), {&one.low.from_mm, &one.high.from_mm});
        }
        std::sort(heights.begin(), heights.end(), [](double* a, double* b) { return *a < *b; });
        for (std::size_t i = 1; i < heights.size(); ++i) {
            if (*heights[i] - *heights[i - 1] < same_height_mm) *heights[i] = *heights[i - 1];
        }
    }

    void add_edge(Point from, Point to) {
        if (!(from == to)) edges_.insert({{from.x_mm, from.y_mm}, to});
    }

    void add_ends(const Cell& cell) {
        for (const Stretch& one : cell.metal) {
            if (one.low.from_mm == one.high.from_mm && one.low.to_mm == one.high.to_mm) continue;
            add_edge({cell.from_mm, one.low.from_mm}, {cell.to_mm, one.low.to_mm});
            add_edge({cell.to_mm, one.high.to_mm}, {cell.from_mm, one.high.from_mm});
        }
    }

    /// On a border metal stands upright where it is on one side only.
    void add_upright(std::size_t k) {
        std::vector<std::pair<double, double>> left, right;
        if (const Cell* cell = before(k)) {
            for (const Stretch& one : cell->metal) left.push_back({one.low.to_mm, one.high.to_mm});
        }
        if (const Cell* cell = after(k)) {
            for (const Stretch& one : cell->metal) right.push_back({one.low.from_mm, one.high.from_mm});
        }
        std::vector<double> heights;
        for (const auto* side : {&left, &right}) {
            for (const auto& [low, high] : *side) heights.insert(heights.end(), {low, high});
        }
        std::sort(heights.begin(), heights.end());
        heights.erase(std::unique(heights.begin(), heights.end()), heights.end());
        for (std::size_t i = 0; i + 1 < heights.size(); ++i) {
            const double middle_mm = (heights[i] + heights[i + 1]) / 2.0;
            const auto has = [middle_mm](const auto& one) {
                return one.first < middle_mm && middle_mm < one.second;
            };
            const bool is_left = std::any_of(left.begin(), left.end(), has);
            const bool is_right = std::any_of(right.begin(), right.end(), has);
            const Point low{place_mm(k), heights[i]}, high{place_mm(k), heights[i + 1]};
            if (is_left && !is_right) add_edge(low, high);
            if (is_right && !is_left) add_edge(high, low);
        }
    }

    /// At a point where loops touch, the way on is the sharpest turn to the left.
    Point take_next(Point at, Point way) {
        const auto [first, last] = edges_.equal_range({at.x_mm, at.y_mm});
        auto best = first;
        for (auto one = first; one != last; ++one) {
            if (plan::angle_between_rad(way, one->second - at) >
                plan::angle_between_rad(way, best->second - at))
                best = one;
        }
        if (best == edges_.end() || first == last) return at;
        const Point next = best->second;
        edges_.erase(best);
        return next;
    }

    std::vector<plan::Stroke> take_loop() {
        const auto start = edges_.begin();
        const Point first{start->first.first, start->first.second};
        std::vector<Point> points{first, start->second};
        edges_.erase(start);
        while (!(points.back() == first)) {
            const Point next = take_next(points.back(), points.back() - points[points.size() - 2]);
            if (next == points.back()) break;
            points.push_back(next);
        }
        points.pop_back();
        return strokes(corners(points));
    }

    /// Without the points that a straight edge only passes.
    static std::vector<Point> corners(const std::vector<Point>& points) {
        std::vector<Point> kept;
        for (std::size_t k = 0; k < points.size(); ++k) {
            const Point before = kept.empty() ? points.back() : kept.back();
            const Point next = points[(k + 1) % points.size()];
            const double off_mm = plan::cross(points[k] - before, next - before) /
                                  std::max(plan::length(next - before), same_point_mm);
            const bool goes_on = plan::dot(points[k] - before, next - points[k]) > 0.0;
            if (std::abs(off_mm) > same_point_mm || !goes_on) kept.push_back(points[k]);
        }
        return kept;
    }

    static std::vector<plan::Stroke> strokes(const std::vector<Point>& points) {
        std::vector<plan::Stroke> loop;
        for (std::size_t k = 0; k < points.size(); ++k) {
            const Point next = points[(k + 1) % points.size()];
            if (plan::distance_mm(points[k], next) > same_point_mm)
                loop.push_back(plan::line_stroke(points[k], next));
        }
        return loop;
    }

    std::vector<Cell> cells_;
    std::multimap<std::pair<double, double>, Point> edges_;
};

}  // namespace

std::vector<plan::Area> cut_metal(const MetalMap& metal, const CuttingLine& line) {
    std::vector<Cell> cells;
    for (const CutPiece& piece : line.pieces) PlaneWalk(metal, piece, cells).walk();
    if (cells.empty()) return {};
    return plan::areas_of(Loops(std::move(cells)).trace());
}

}  // namespace fitup::sheets
