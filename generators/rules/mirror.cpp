// A pattern against its own mirror image. With polar angles a (the image's hole) and b (the place it shall
// fall on), an image turned to `phi` lays the hole at the angle phi - a: it fits for all phi within an
// interval about a + b. The turn that the most intervals cover is the best one.
#include "rules/mirror.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <numeric>

#include "plan/vector.hpp"
#include "rules/limits.hpp"

namespace fitup::rules {

namespace {

using plan::Point;

constexpr double whole_turn = 2.0 * std::numbers::pi;

struct Polar {
    double radius_mm = 0.0;
    double angle_rad = 0.0;
};

Polar polar(Point point) { return {plan::length(point), std::atan2(point.y_mm, point.x_mm)}; }

Point image(Point point, double phi) {
    return {point.x_mm * std::cos(phi) + point.y_mm * std::sin(phi),
            point.x_mm * std::sin(phi) - point.y_mm * std::cos(phi)};
}

/// The turns at which one hole of the image fits one place.
struct Fitting {
    std::uint32_t hole = 0;
    double from = 0.0;
    double to = 0.0;
};

/// Half the interval's width: distance^2 = (r - s)^2 + 4 r s sin^2(off / 2). The whole circle at the centre.
double half_width(double radius_mm, double other_mm, double slack_mm) {
    const double apart_mm = radius_mm - other_mm;
    const double left_mm2 = std::max(0.0, slack_mm * slack_mm - apart_mm * apart_mm);
    const double whole_mm2 = 4.0 * radius_mm * other_mm;
    if (left_mm2 >= whole_mm2) return std::numbers::pi;
    return 2.0 * std::asin(std::sqrt(left_mm2 / whole_mm2));
}

/// An interval that runs past the whole turn comes as two.
void add_fitting(std::vector<Fitting>& fittings, std::size_t hole, double middle, double half) {
    const auto name = static_cast<std::uint32_t>(hole);
    if (half >= std::numbers::pi) {
        fittings.push_back({name, 0.0, whole_turn});
        return;
    }
    double from = std::fmod(middle - half, whole_turn);
    if (from < 0.0) from += whole_turn;
    const double to = from + 2.0 * half;
    fittings.push_back({name, from, std::min(to, whole_turn)});
    if (to > whole_turn) fittings.push_back({name, 0.0, to - whole_turn});
}

std::vector<Fitting> all_fittings(std::span<const SlackHole> holes) {
    std::vector<Polar> polars;
    for (const SlackHole& hole : holes) polars.push_back(polar(hole.at_mm));
    std::vector<std::size_t> by_radius(holes.size());
    std::iota(by_radius.begin(), by_radius.end(), std::size_t{0});
    std::sort(by_radius.begin(), by_radius.end(),
              [&](std::size_t a, std::size_t b) { return polars[a].radius_mm < polars[b].radius_mm; });
    std::vector<Fitting> fittings;
    for (std::size_t i = 0; i < holes.size(); ++i) {
        const double slack_mm = holes[i].slack_mm + equal_values;
        auto other = std::lower_bound(
            by_radius.begin(), by_radius.end(), polars[i].radius_mm - slack_mm,
            [&](std::size_t place, double least_mm) { return polars[place].radius_mm < least_mm; });
        for (; other != by_radius.end() && polars[*other].radius_mm <= polars[i].radius_mm + slack_mm;
             ++other)
            add_fitting(fittings, i, polars[i].angle_rad + polars[*other].angle_rad,
                        half_width(polars[i].radius_mm, polars[*other].radius_mm, slack_mm));
    }
    return fittings;
}

struct Event {
    double at = 0.0;
    std::uint32_t hole = 0;
    bool opens = false;
};

std::vector<Event> events_of(const std::vector<Fitting>& fittings) {
    std::vector<Event> events;
    events.reserve(2 * fittings.size());
    for (const Fitting& fitting : fittings) {
        events.push_back({fitting.from, fitting.hole, true});
        events.push_back({fitting.to, fitting.hole, false});
    }
    std::sort(events.begin(), events.end(), [](const Event& a, const Event& b) {
        if (a.at != b.at) return a.at < b.at;
        return a.opens != b.opens ? a.opens : a.hole < b.hole;
    });
    return events;
}

/// The middle of the first stretch that the most holes cover.
double most_covered(const std::vector<Event>& events, std::size_t hole_count) {
    std::vector<std::uint32_t> open(hole_count, 0);
    std::size_t covered = 0;
    std::size_t most = 0;
    double best = 0.0;
    for (std::size_t e = 0; e < events.size(); ++e) {
        std::uint32_t& count = open[events[e].hole];
        if (!events[e].opens) {
            if (--count == 0) --covered;
            continue;
        }
        if (count++ == 0) ++covered;
        if (covered <= most) continue;
        most = covered;
        best = (events[e].at + events[e + 1].at) / 2.0;
    }
    return best;
}

/// Places sorted by x, to be asked whether one is near.
class Places {
  public:
    explicit Places(std::span<const SlackHole> holes) {
        for (const SlackHole& hole : holes) places_.push_back(hole.at_mm);
        std::sort(places_.begin(), places_.end(), [](Point a, Point b) { return a.x_mm < b.x_mm; });
    }
    bool has_near(Point point, double within_mm) const {
        auto place = std::lower_bound(places_.begin(), places_.end(), point.x_mm - within_mm,
                                      [](Point a, double x_mm) { return a.x_mm < x_mm; });
        for (; place != places_.end() && place->x_mm <= point.x_mm + within_mm; ++place) {
            if (plan::distance_mm(*place, point) <= within_mm) return true;
        }
        return false;
    }

  private:
    std::vector<Point> places_;
};

/// Whether the pattern is its own mirror image: the outermost hole's image then falls on some place, and all
/// the others' with it. Bolt circles and grids end here, before n^2 intervals are made.
bool is_own_image(std::span<const SlackHole> holes, double& phi) {
    const auto outermost = std::max_element(
        holes.begin(), holes.end(),
        [](const SlackHole& a, const SlackHole& b) { return plan::length(a.at_mm) < plan::length(b.at_mm); });
    const Polar first = polar(outermost->at_mm);
    const Places places(holes);
    return std::any_of(holes.begin(), holes.end(), [&](const SlackHole& goal) {
        const Polar place = polar(goal.at_mm);
        if (std::abs(place.radius_mm - first.radius_mm) > outermost->slack_mm + equal_values) return false;
        phi = first.angle_rad + place.angle_rad;
        return std::all_of(holes.begin(), holes.end(), [&](const SlackHole& hole) {
            return places.has_near(image(hole.at_mm, phi), hole.slack_mm + equal_values);
        });
    });
}

}  // namespace

MirrorMatch best_mirror_match(std::span<const SlackHole> holes) {
    MirrorMatch match;
    double phi = 0.0;
    if (!holes.empty() && !is_own_image(holes, phi)) {
        const std::vector<Fitting> fittings = all_fittings(holes);
        phi = most_covered(events_of(fittings), holes.size());
        std::vector<bool> fits(holes.size(), false);
        for (const Fitting& fitting : fittings) {
            if (fitting.from <= phi && phi <= fitting.to) fits[fitting.hole] = true;
        }
        for (std::size_t i = 0; i < holes.size(); ++i) {
            if (!fits[i]) match.lonely.push_back(i);
        }
    }
    // Mirrored in X, a hole at the angle a lies at pi - a.
    match.turn_rad = std::remainder(phi - std::numbers::pi, whole_turn);
    return match;
}

}  // namespace fitup::rules
