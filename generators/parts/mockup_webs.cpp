#include "parts/mockup_webs.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "base/comma_list.hpp"
#include "base/text.hpp"
#include "plan/cuts.hpp"
#include "plan/stroke.hpp"
#include "plan/vector.hpp"

namespace fitup::parts {

namespace {

using plan::Contour;
using plan::Point;
using plan::Relation;

plan::Hole narrowed(plan::Hole hole, double by_mm) {
    hole.diameter_mm -= by_mm;
    if (hole.slot_length_mm) *hole.slot_length_mm -= by_mm;
    return hole;
}

bool are_far(const Contour& first, const Contour& second) {
    return plan::distance_mm(first.box(), second.box()) >= least_web_mm;
}

/// Lessens allowances where that keeps a wall.
class Lessening {
  public:
    Lessening(const plan::Mockup& settings, Flat& flat)
        : full_mm_(settings.hole_allowance_mm),
          flat_(flat),
          allowances_mm_(flat.holes.size(), settings.hole_allowance_mm) {}

    void run() {
        if (full_mm_ <= kept_allowance_mm) return;
        for (std::size_t i = 0; i < flat_.holes.size(); ++i) {
            find_least(i);
            mind_fixed(i, flat_.outline, Relation::first_inside_second);
            for (const Opening& opening : flat_.openings) mind_fixed(i, opening.curve, Relation::apart);
            for (std::size_t j = 0; j < i; ++j) mind_other(i, j);
        }
        apply();
    }

  private:
    void find_least(std::size_t i) {
        const plan::Hole& hole = flat_.holes[i];
        full_.push_back(plan::shaft_contour(hole));
        least_.push_back(plan::shaft_contour(narrowed(hole, (full_mm_ - kept_allowance_mm) * flat_.factor)));
    }

    /// @param share  of the wall that the hole's own allowance may take
    void lessen(std::size_t i, double wall_mm, double share) {
        if (wall_mm < least_web_mm) return;
        // Down to whole hundredths, which can be told.
        const double allowance_mm =
            std::floor(100.0 * (kept_allowance_mm + 2.0 * share * (wall_mm - least_web_mm) / flat_.factor) +
                       1e-6) /
            100.0;
        allowances_mm_[i] = std::min(allowances_mm_[i], std::max(allowance_mm, kept_allowance_mm));
    }

    void mind_fixed(std::size_t i, const Contour& edge, Relation wanted) {
        if (are_far(full_[i], edge) || plan::relation(least_[i], edge) != wanted) return;
        if (plan::relation(full_[i], edge) == wanted && plan::gap(full_[i], edge).distance_mm >= least_web_mm)
            return;
        lessen(i, plan::gap(least_[i], edge).distance_mm, 1.0);
    }

    void mind_other(std::size_t i, std::size_t j) {
        if (are_far(full_[i], full_[j]) || plan::relation(least_[i], least_[j]) != Relation::apart) return;
        if (plan::relation(full_[i], full_[j]) == Relation::apart &&
            plan::gap(full_[i], full_[j]).distance_mm >= least_web_mm)
            return;
        const double wall_mm = plan::gap(least_[i], least_[j]).distance_mm;
        for (const std::size_t one : {i, j}) lessen(one, wall_mm, 0.5);
    }

    /// One note for all holes that go from one size to another.
    void apply() {
        std::map<std::array<double, 2>, std::vector<std::string>> changed;
        for (std::size_t i = 0; i < flat_.holes.size(); ++i) {
            const double less_mm = full_mm_ - allowances_mm_[i];
            if (less_mm <= 0.0) continue;
            const double was_mm = flat_.holes[i].diameter_mm / flat_.factor;
            changed[{was_mm, was_mm - less_mm}].push_back(flat_.holes[i].id);
            flat_.holes[i] = narrowed(flat_.holes[i], less_mm * flat_.factor);
        }
        for (const auto& [sizes_mm, ids] : changed) note(sizes_mm, comma_list(ids), ids.size() > 1);
    }

    void note(const std::array<double, 2>& sizes_mm, const std::string& ids, bool are_many) {
        flat_.findings.push_back(plan::finding_of(
            mockup_rule, plan::Severity::note, ids,
            "On the mock-up " + ids + (are_many ? " are " : " is ") + short_text(sizes_mm[1], 3) +
                " mm wide instead of " + short_text(sizes_mm[0], 3) + " mm, so that a wall of " +
                short_text(least_web_mm, 3) + " mm is left beside " + (are_many ? "them." : "it.")));
    }

    double full_mm_;
    Flat& flat_;
    std::vector<double> allowances_mm_;
    std::vector<Contour> full_, least_;  ///< the holes with all their allowance, and with the least
};

/// Overlapping less than this is taken for touching: what is left between two curves that cross so has no
/// sound shape.
constexpr double touching_mm = 0.05;
/// How finely curves are walked, and how long a thin wall beside a crossing may be: the cusp of a sound one.
constexpr double walk_mm = 0.1, cusp_mm = 1.2;
/// Beyond a thin wall on either side of it, and how far the wall may bend from a straight opening.
constexpr double beyond_mm = 0.2, bend_mm = 0.3;

/// A cut that walls are looked for beside, with those whose walls it was made for.
struct Cut {
    std::string id;
    Contour curve;
    std::vector<std::size_t> made_for = {};
};

/// A place along a cut's curve, and what is beside it.
struct Step {
    Point middle;            ///< between both curves
    double off_mm = 0.0;     ///< from the other one; negative in the other cut, or off the plate
    bool is_facing = false;  ///< there is metal, if any, between both: they do not run side by side
};

struct Nearest {
    Point at;
    Point direction;  ///< the curve's, its inside on the left
};

Nearest nearest_on(const Contour& curve, Point point) {
    Nearest best;
    double best_mm = std::numeric_limits<double>::infinity();
    for (const plan::Stroke& stroke : plan::strokes_of(curve)) {
        const Point here = plan::nearest_point(stroke, point);
        if (plan::distance_mm(here, point) >= best_mm) continue;
        best_mm = plan::distance_mm(here, point);
        best = {here, plan::direction_at(stroke, plan::share_of(stroke, here))};
    }
    return best;
}

/// What a step finds at another curve, from a point of a curve that runs in that direction.
Step step_at(Point at, Point direction, const Contour& other, bool is_outline) {
    const Nearest beside = nearest_on(other, at);
    const double off_mm = plan::distance_mm(at, beside.at);
    const bool is_gone = other.contains(at) != is_outline;
    Step step{(at + beside.at) * 0.5, is_gone ? -off_mm : off_mm, false};
    // Where both are in one point, cuts face each other that run opposite ways.
    const double along = plan::dot(direction, beside.direction);
    const double outwards = off_mm > plan::same_point_mm
                                ? plan::dot(plan::left_of(direction), at - beside.at) / step.off_mm
                                : (is_outline ? along : -along);
    step.is_facing = outwards > 0.1;
    return step;
}

std::vector<Step> walk(const Contour& curve, const Contour& other, bool is_outline) {
    std::vector<Step> steps;
    const plan::Box2 box = other.box();
    for (const plan::Stroke& stroke : plan::strokes_of(curve)) {
        const int count = std::max(2, int(std::ceil(plan::length_mm(stroke) / walk_mm)));
        for (int i = 0; i < count; ++i) {
            const double share = double(i) / count;
            const Point at = plan::point_at(stroke, share);
            const bool is_far = !is_outline && plan::distance_mm(box, at) > least_web_mm;
            steps.push_back(is_far ? Step{at, 2.0 * least_web_mm, false}
                                   : step_at(at, plan::direction_at(stroke, share), other, is_outline));
        }
    }
    return steps;
}

bool is_thin(const Step& step) {
    return step.is_facing && step.off_mm > -touching_mm && step.off_mm < least_web_mm;
}

/// Stretches of a wall between two cuts, or a cut and the plate's edge, that can't be printed: each as points
/// along its middle.
std::vector<std::vector<Point>> thin_walls(const Contour& curve, const Contour& other, bool is_outline) {
    const std::vector<Step> steps = walk(curve, other, is_outline);
    const std::size_t count = steps.size();
    std::size_t start = 0;
    while (start < count && is_thin(steps[start])) ++start;
    std::vector<std::vector<Point>> walls;
    for (std::size_t i = 1; start < count && i <= count; ++i) {
        if (!is_thin(steps[(start + i) % count])) continue;
        const bool begins_in = steps[(start + i - 1) % count].off_mm < 0.0;
        std::vector<Point> wall;
        for (; is_thin(steps[(start + i) % count]); ++i) wall.push_back(steps[(start + i) % count].middle);
        const bool ends_in = steps[(start + i) % count].off_mm < 0.0;
        const bool is_cusp = begins_in != ends_in && plan::distance_mm(wall.front(), wall.back()) < cusp_mm;
        const bool is_through = begins_in && ends_in;
        if (!is_cusp && !is_through) walls.push_back(std::move(wall));
    }
    return walls;
}

/// How far the points bend off the straight line between the first and the last.
double bend_of(const std::vector<Point>& wall) {
    double most_mm = 0.0;
    if (wall.front() == wall.back()) return most_mm;
    const plan::Stroke straight = plan::line_stroke(wall.front(), wall.back());
    for (const Point& at : wall)
        most_mm = std::max(most_mm, plan::distance_mm(at, plan::nearest_point(straight, at)));
    return most_mm;
}

/// Openings that take a thin wall away, with ends of two radii in turn, so that no two arcs are one.
void add_openings(const std::vector<Point>& wall, double more_mm, std::vector<Contour>& openings) {
    const double bend = bend_of(wall);
    if (bend <= bend_mm || wall.size() < 8) {
        const double half_mm = least_web_mm / 2.0 + beyond_mm + bend + more_mm;
        openings.push_back(plan::slot(wall.front(), wall.back(), 2.0 * half_mm));
        return;
    }
    const auto half = wall.begin() + std::ptrdiff_t(wall.size() / 2);
    add_openings({wall.begin(), half + 1}, more_mm, openings);
    add_openings({half, wall.end()}, more_mm + 0.07, openings);
}

class LeavingOut {
  public:
    explicit LeavingOut(Flat& flat) : flat_(flat) {
        for (const plan::Hole& hole : flat.holes) cuts_.push_back({hole.id, plan::shaft_contour(hole)});
        for (const Opening& opening : flat.openings) cuts_.push_back({opening.id, opening.curve});
    }

    void run() {
        // An opening may come near a third cut in its turn; that ends soon, since each joins what it meets.
        constexpr int rounds = 3;
        for (int round = 0; round < rounds && first_new_ < cuts_.size(); ++round) {
            const std::size_t count = cuts_.size();
            for (std::size_t i = first_new_; i < count; ++i) {
                mind_edge(i);
                for (std::size_t j = 0; j < i; ++j) mind_pair(i, j);
            }
            first_new_ = count;
        }
        tell();
    }

  private:
    static constexpr std::size_t edge = std::numeric_limits<std::size_t>::max();

    bool is_made_for(std::size_t i, std::size_t other) const {
        const auto& made_for = cuts_[i].made_for;
        return std::find(made_for.begin(), made_for.end(), other) != made_for.end();
    }

    void mind_edge(std::size_t i) {
        if (is_made_for(i, edge)) return;
        if (plan::gap(cuts_[i].curve, flat_.outline).distance_mm >= least_web_mm) return;
        open(thin_walls(cuts_[i].curve, flat_.outline, true), i, edge);
    }

    void mind_pair(std::size_t i, std::size_t j) {
        if (is_made_for(i, j) || is_made_for(j, i) || are_far(cuts_[i].curve, cuts_[j].curve)) return;
        const bool is_sibling = !cuts_[i].made_for.empty() && cuts_[i].made_for == cuts_[j].made_for;
        if (is_sibling || plan::gap(cuts_[i].curve, cuts_[j].curve).distance_mm >= least_web_mm) return;
        open(thin_walls(cuts_[i].curve, cuts_[j].curve, false), i, j);
    }

    void open(const std::vector<std::vector<Point>>& walls, std::size_t i, std::size_t j) {
        for (const std::vector<Point>& wall : walls) {
            std::vector<Contour> openings;
            add_openings(wall, 0.0, openings);
            for (const Contour& curve : openings) {
                flat_.openings.push_back({"web-" + std::to_string(++count_), curve});
                cuts_.push_back({"", curve, {i, j}});
            }
        }
        if (walls.empty() || cuts_[i].id.empty()) return;
        if (j == edge)
            at_edge_.push_back(cuts_[i].id);
        else if (!cuts_[j].id.empty())
            between_.push_back(cuts_[j].id + " and " + cuts_[i].id);
    }

    void note(const std::vector<std::string>& which, const std::string& where) {
        if (which.empty()) return;
        const std::string all = comma_list(which);
        flat_.findings.push_back(plan::finding_of(
            mockup_rule, plan::Severity::note, all,
            "On the mock-up the wall " + where + all + " is left out where it would be thinner than " +
                short_text(least_web_mm, 3) + " mm, too thin to print."));
    }

    void tell() {
        note(between_, "between ");
        note(at_edge_, "between the edge and ");
    }

    Flat& flat_;
    std::vector<Cut> cuts_;
    std::size_t first_new_ = 0;
    int count_ = 0;
    std::vector<std::string> between_, at_edge_;
};

}  // namespace

void mind_webs(const plan::Mockup& settings, Flat& flat) {
    Lessening(settings, flat).run();
    LeavingOut(flat).run();
}

}  // namespace fitup::parts
