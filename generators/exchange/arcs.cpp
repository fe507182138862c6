#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "exchange/chains.hpp"
#include "plan/vector.hpp"

namespace fitup::exchange {

namespace {

using plan::Point;

constexpr double full_turn = 2.0 * std::numbers::pi;
/// An octagon's step is 45 degrees.
constexpr double widest_step_rad = 50.0 / 360.0 * full_turn;
/// Three points always lie on a circle.
constexpr std::size_t fewest_points = 4;
constexpr std::size_t fewest_sides = 7;
/// Files with few digits: a point may be off by this share of the height of the arc over its chord. The far
/// end of a flat side that goes on from an arc is off by at least four times that height.
constexpr double share_of_sagitta = 0.05;

/// The circle of least squares after Kasa, "A circle fitting procedure and its error analysis", IEEE Trans.
/// Instrum. Meas. 25 (1976): exact for exact points, and adding a point costs nothing. Sums are taken about
/// the first point.
class CircleFit {
  public:
    void add(Point point) {
        if (count_ == 0) origin_ = point;
        const long double x = static_cast<long double>(point.x_mm) - origin_.x_mm;
        const long double y = static_cast<long double>(point.y_mm) - origin_.y_mm;
        const long double square = x * x + y * y;
        ++count_;
        x_ += x, y_ += y, xx_ += x * x, xy_ += x * y, yy_ += y * y;
        xz_ += x * square, yz_ += y * square, z_ += square;
    }

    /// Nothing for points on a line.
    std::optional<plan::Circle> circle() const {
        const long double n = static_cast<long double>(count_);
        const long double uu = xx_ - x_ * x_ / n;
        const long double uv = xy_ - x_ * y_ / n;
        const long double vv = yy_ - y_ * y_ / n;
        const long double uz = (xz_ - x_ * z_ / n) / 2.0L;
        const long double vz = (yz_ - y_ * z_ / n) / 2.0L;
        const long double determinant = uu * vv - uv * uv;
        if (determinant <= 1e-15L * (uu + vv) * (uu + vv)) return {};
        const long double a = (uz * vv - vz * uv) / determinant;
        const long double b = (vz * uu - uz * uv) / determinant;
        const long double square = a * a + b * b + (z_ - 2.0L * a * x_ - 2.0L * b * y_) / n;
        const Point centre{static_cast<double>(origin_.x_mm + a), static_cast<double>(origin_.y_mm + b)};
        return plan::Circle{centre, std::sqrt(static_cast<double>(std::max(square, 0.0L)))};
    }

  private:
    Point origin_;
    std::size_t count_ = 0;
    long double x_ = 0, y_ = 0, xx_ = 0, xy_ = 0, yy_ = 0, xz_ = 0, yz_ = 0, z_ = 0;
};

double step_rad(double chord_mm, double radius_mm) {
    return chord_mm >= 2.0 * radius_mm ? std::numbers::pi : 2.0 * std::asin(chord_mm / (2.0 * radius_mm));
}

class ArcFinder {
  public:
    ArcFinder(const std::vector<Point>& points, bool is_ring, double rounding_mm)
        : points_(points), is_ring_(is_ring), rounding_mm_(rounding_mm) {}

    std::vector<Arc> find() {
        if (is_ring_) {
            if (const auto whole = full_circle()) return {*whole};
        }
        std::vector<Arc> arcs;
        // In a ring, arcs are looked for from a point where one ends, and once round.
        const std::size_t first = is_ring_ ? end_of_an_arc() : 0;
        const std::size_t end = first + points_.size() + (is_ring_ ? 1 : 0);
        for (std::size_t i = first; i + fewest_points <= end;) {
            const Arc arc = longest_from(i, end);
            if (arc.count >= fewest_points) arcs.push_back(arc);
            i += arc.count >= fewest_points ? arc.count - 1 : 1;
        }
        return arcs;
    }

  private:
    Point point(std::size_t i) const { return points_[i % points_.size()]; }

    std::size_t end_of_an_arc() const {
        std::size_t least = 0;
        Arc longest;
        for (std::size_t i = 0; i < points_.size();) {
            const Arc arc = longest_from(i, i + points_.size());
            if (arc.count > longest.count) longest = arc, least = i;
            i += std::max<std::size_t>(1, arc.count < fewest_points ? 1 : arc.count - 1);
        }
        return (least + std::max<std::size_t>(longest.count, 1) - 1) % points_.size();
    }

    double tolerance_mm(double sagitta_mm, double factor) const {
        return factor * rounding_mm_ + 1e-9 + share_of_sagitta * sagitta_mm;
    }

    /// Circle, count and widest step of `count` points; a radius of 0 when they are on none.
    Arc fitted(std::size_t first, std::size_t count, bool is_full) const {
        CircleFit fit;
        for (std::size_t i = first; i < first + count; ++i) fit.add(point(i));
        const auto circle = fit.circle();
        if (!circle) return {};
        Arc arc{first, count, circle->centre, circle->radius_mm, 0.0, is_full};
        const std::size_t steps = is_full ? count : count - 1;
        for (std::size_t i = first; i < first + steps; ++i) {
            const double chord = plan::distance_mm(point(i), point(i + 1));
            arc.widest_step_rad = std::max(arc.widest_step_rad, step_rad(chord, circle->radius_mm));
        }
        const double sagitta = circle->radius_mm * (1.0 - std::cos(arc.widest_step_rad / 2.0));
        for (std::size_t i = first; i < first + count; ++i) {
            const double off = std::abs(plan::distance_mm(point(i), circle->centre) - circle->radius_mm);
            if (off > tolerance_mm(sagitta, 4.0)) return {};
        }
        return arc.widest_step_rad > widest_step_rad ? Arc{} : arc;
    }

    std::optional<Arc> full_circle() const {
        if (points_.size() < fewest_sides) return {};
        const Arc arc = fitted(0, points_.size(), true);
        if (arc.radius_mm == 0.0) return {};
        double turn = 0.0;
        for (std::size_t i = 0; i < points_.size(); ++i) {
            turn += plan::angle_between_rad(point(i) - arc.centre, point(i + 1) - arc.centre);
        }
        return std::abs(std::abs(turn) - full_turn) < 1e-6 ? std::optional(arc) : std::nullopt;
    }

    /// Goes on while the next point lies where the circle through those before leads one to expect it.
    Arc longest_from(std::size_t first, std::size_t end) const {
        if (first + 3 > end) return {};
        CircleFit fit;
        for (std::size_t i = first; i < first + 3; ++i) fit.add(point(i));
        std::size_t count = 3;
        for (; first + count < end; ++count) {
            const auto circle = fit.circle();
            if (!circle || !continues(*circle, point(first + count - 2), point(first + count - 1),
                                      point(first + count))) {
                break;
            }
            fit.add(point(first + count));
        }
        for (; count >= fewest_points; --count) {
            const Arc arc = fitted(first, count, false);
            if (arc.radius_mm > 0.0) return arc;
        }
        return {};
    }

    bool continues(const plan::Circle& circle, Point before, Point last, Point next) const {
        const double step = step_rad(plan::distance_mm(last, next), circle.radius_mm);
        if (step > widest_step_rad) return false;
        const double sagitta = circle.radius_mm * (1.0 - std::cos(step / 2.0));
        // A third difference of coordinates: each may be off by the rounding, 1 + 3 + 3 + 1 times.
        const double off = std::abs(plan::distance_mm(next, circle.centre) - circle.radius_mm);
        const bool same_sense = plan::cross(last - before, circle.centre - last) *
                                    plan::cross(next - last, circle.centre - last) >
                                0.0;
        return same_sense && off < tolerance_mm(sagitta, 12.0);
    }

    const std::vector<Point>& points_;
    bool is_ring_;
    double rounding_mm_;
};

}  // namespace

std::vector<Arc> arcs_of(const std::vector<Point>& points, bool is_ring, double rounding_mm) {
    return ArcFinder(points, is_ring, rounding_mm).find();
}

}  // namespace fitup::exchange
