// The convex outline around circles, found as a belt is laid round pulleys: from one circle, the outward
// normal turns anticlockwise until another circle reaches as far along it; there the belt runs straight to
// that one.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "plan/contour.hpp"
#include "plan/vector.hpp"

namespace fitup::plan {

namespace {

constexpr double full_turn_rad = 2.0 * std::numbers::pi;

/// A circle that stands out of the hull by less is not part of it: the accuracy that contours are held to.
constexpr double least_stand_out_mm = 1e-9;

/// Turns within rounding of a whole one are none.
constexpr double angle_rounding_rad = 1e-9;

/// The stretch of a circle that the belt touches, by its outward normals.
struct Contact {
    std::size_t circle = 0;
    double from_rad = 0.0;
    double to_rad = 0.0;
};

/// Without circles that lie in another one; largest first.
std::vector<Circle> not_hidden(std::span<const Circle> circles) {
    std::vector<Circle> sorted(circles.begin(), circles.end());
    std::stable_sort(sorted.begin(), sorted.end(),
                     [](const Circle& a, const Circle& b) { return a.radius_mm > b.radius_mm; });
    std::vector<Circle> kept;
    for (const Circle& circle : sorted) {
        const bool hidden = std::any_of(kept.begin(), kept.end(), [&](const Circle& larger) {
            return distance_mm(larger.centre, circle.centre) + circle.radius_mm - larger.radius_mm <
                   least_stand_out_mm;
        });
        if (!hidden) kept.push_back(circle);
    }
    return kept;
}

/// How far the normal turns on circle `from` until circle `to` reaches as far along it.
double turn_until_level(const Circle& from, const Circle& to, double normal_rad) {
    const Point between = to.centre - from.centre;
    const double apart_mm = length(between);
    const double larger_mm = from.radius_mm - to.radius_mm;
    const double tangent_mm = std::sqrt(std::max(0.0, (apart_mm - larger_mm) * (apart_mm + larger_mm)));
    const double level_rad = std::atan2(between.y_mm, between.x_mm) - std::atan2(tangent_mm, larger_mm);
    const double turn = std::fmod(level_rad - normal_rad, full_turn_rad);
    const double positive = turn < 0.0 ? turn + full_turn_rad : turn;
    return positive > full_turn_rad - angle_rounding_rad ? 0.0 : positive;
}

struct Step {
    std::size_t to = 0;
    double turn_rad = 0.0;
};

Step next_step(std::span<const Circle> circles, std::size_t from, double normal_rad) {
    Step best{from, full_turn_rad};
    double best_apart_mm = 0.0;
    for (std::size_t to = 0; to < circles.size(); ++to) {
        if (to == from) continue;
        const double turn = turn_until_level(circles[from], circles[to], normal_rad);
        const double apart_mm = distance_mm(circles[from].centre, circles[to].centre);
        // Of circles on one tangent the farthest is taken, so that it becomes one edge.
        const double miss_mm = (turn - best.turn_rad) * std::min(apart_mm, best_apart_mm);
        const bool level = best.to != from && std::abs(miss_mm) < least_stand_out_mm;
        if (level ? apart_mm <= best_apart_mm : turn >= best.turn_rad) continue;
        best = {to, turn};
        best_apart_mm = apart_mm;
    }
    return best;
}

/// The circle that reaches farthest to +X; of several, the uppermost: the one the belt leaves last.
std::size_t rightmost(std::span<const Circle> circles) {
    const auto reach_mm = [&](std::size_t i) { return circles[i].centre.x_mm + circles[i].radius_mm; };
    std::size_t best = 0;
    for (std::size_t i = 1; i < circles.size(); ++i) {
        const double farther_mm = reach_mm(i) - reach_mm(best);
        const bool level = std::abs(farther_mm) < least_stand_out_mm;
        if (level ? circles[i].centre.y_mm > circles[best].centre.y_mm : farther_mm > 0.0) best = i;
    }
    return best;
}

/// Contacts in order round the hull; the first and the last are one where they are on one circle.
std::vector<Contact> contacts(std::span<const Circle> circles) {
    std::vector<Contact> result{{rightmost(circles), 0.0, 0.0}};
    // A hull of n circles has fewer than 2n contacts.
    for (std::size_t i = 0; i < 2 * circles.size(); ++i) {
        const Step step = next_step(circles, result.back().circle, result.back().to_rad);
        const double level_rad = result.back().to_rad + step.turn_rad;
        if (level_rad >= full_turn_rad - angle_rounding_rad) break;
        result.back().to_rad = level_rad;
        result.push_back({step.to, level_rad, level_rad});
    }
    if (result.size() > 1 && result.back().circle == result.front().circle) {
        result.front().from_rad = result.back().from_rad - full_turn_rad;
        result.pop_back();
    } else {
        result.back().to_rad = full_turn_rad;
    }
    return result;
}

Point on_circle(const Circle& circle, double normal_rad) {
    return circle.centre + Point{std::cos(normal_rad), std::sin(normal_rad)} * circle.radius_mm;
}

}  // namespace

Contour hull(std::span<const Circle> circles) {
    const std::vector<Circle> outer = not_hidden(circles);
    if (outer.size() == 1) return Contour(outer.front());
    const std::vector<Contact> round = contacts(outer);
    std::vector<Edge> edges;
    for (const Contact& contact : round) {
        const Circle& circle = outer[contact.circle];
        if ((contact.to_rad - contact.from_rad) * circle.radius_mm >= same_point_mm)
            edges.push_back({on_circle(circle, contact.from_rad), Arc{circle.centre, Turn::anticlockwise}});
        edges.push_back({on_circle(circle, contact.to_rad), {}});
    }
    return Contour(std::move(edges));
}

}  // namespace fitup::plan
