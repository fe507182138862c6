#include "sheets/cutting_line.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "plan/stroke.hpp"
#include "plan/vector.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;

/// A hole is cut through its axis when this lies so near to the plane.
constexpr double on_plane_mm = 1e-6;

Point direction_of(Angle angle) { return {angle.cos(), angle.sin()}; }

plan::Box2 box_of(const plan::Plan& plan) {
    plan::Box2 box = plan.body.outline.box();
    for (const plan::Raised& ring : plan.raised) box = plan::joined(box, ring.outer.box());
    return box;
}

/// How far from a place the metal reaches in a direction.
double reach_mm(const plan::Plan& plan, Point from, Point along) {
    const plan::Box2 box = box_of(plan);
    const double far_mm = plan::distance_mm(box.least, box.most) + plan::distance_mm(box.least, from) + 1.0;
    const plan::Stroke ray = plan::line_stroke(from, from + along * far_mm);
    double reach_mm = 0.0;
    const auto look = [&](const plan::Contour& contour) {
        for (const plan::Stroke& stroke : plan::strokes_of(contour)) {
            for (const Point& at : plan::crossings(ray, stroke))
                reach_mm = std::max(reach_mm, plan::dot(at - from, along));
        }
    };
    look(plan.body.outline);
    for (const plan::Raised& ring : plan.raised) look(ring.outer);
    return reach_mm;
}

/// Whether a hole's thread, recess and sink reach this far from its axis.
double widest_mm(const plan::Hole& hole) {
    double widest_mm = std::max(hole.diameter_mm, hole.slot_length_mm.value_or(0.0));
    if (hole.thread) widest_mm = std::max(widest_mm, hole.thread->major_mm);
    if (hole.recess) widest_mm = std::max(widest_mm, hole.recess->diameter_mm);
    if (hole.countersink) widest_mm = std::max(widest_mm, hole.countersink->diameter_mm);
    return widest_mm / 2.0;
}

/// How much a section through a hole tells.
int interest(const plan::Hole& hole) {
    return (hole.recess ? 4 : 0) + (hole.countersink ? 4 : 0) + (hole.thread ? 3 : 0) +
           (hole.through ? 0 : 2) + (hole.fit ? 1 : 0);
}

bool same_callout(const plan::Hole& a, const plan::Hole& b) {
    const auto recess = [](const plan::Hole& hole) {
        return hole.recess ? std::pair{hole.recess->diameter_mm, hole.recess->depth_mm} : std::pair{0.0, 0.0};
    };
    const auto sink = [](const plan::Hole& hole) {
        return hole.countersink ? hole.countersink->diameter_mm : 0.0;
    };
    const auto thread = [](const plan::Hole& hole) { return hole.thread ? hole.thread->designation : ""; };
    return a.kind == b.kind && a.from == b.from && a.diameter_mm == b.diameter_mm && a.through == b.through &&
           a.depth_mm == b.depth_mm && recess(a) == recess(b) && sink(a) == sink(b) &&
           thread(a) == thread(b) && a.slot_length_mm.has_value() == b.slot_length_mm.has_value();
}

/// A hole as it is seen from the origin.
struct Polar {
    const plan::Hole* hole = nullptr;
    double radius_mm = 0.0;
    double angle_rad = 0.0;
    double widest_mm = 0.0;
    double inner_mm() const { return radius_mm - widest_mm; }
    double outer_mm() const { return radius_mm + widest_mm; }
};

Polar polar_of(const plan::Hole& hole) {
    return {&hole, plan::length(hole.at_mm), std::atan2(hole.at_mm.y_mm, hole.at_mm.x_mm), widest_mm(hole)};
}

double apart_rad(double a_rad, double b_rad) {
    return std::abs(std::remainder(a_rad - b_rad, 2.0 * std::numbers::pi));
}

/// Holes of one callout.
using Group = std::vector<Polar>;

/// So many of a large group do, spread over it.
void thin_out(Group& group) {
    constexpr std::size_t most = 24;
    if (group.size() <= most) return;
    Group spread;
    for (std::size_t k = 0; k < most; ++k) spread.push_back(group[k * group.size() / most]);
    group = std::move(spread);
}

/// Groups of what can be cut away from the origin, those that tell most first.
std::vector<Group> groups_of(const plan::Plan& plan) {
    std::vector<Group> groups;
    double middle_mm = 0.5;
    for (const plan::Hole& hole : plan.holes) {
        if (plan::length(hole.at_mm) < on_plane_mm) middle_mm = std::max(middle_mm, widest_mm(hole));
    }
    for (const plan::Hole& hole : plan.holes) {
        const Polar polar = polar_of(hole);
        if (polar.inner_mm() <= middle_mm) continue;
        const auto own = std::find_if(groups.begin(), groups.end(), [&](const Group& group) {
            return same_callout(*group.front().hole, hole);
        });
        if (own == groups.end())
            groups.push_back({polar});
        else
            own->push_back(polar);
    }
    for (Group& group : groups) thin_out(group);
    std::stable_sort(groups.begin(), groups.end(), [](const Group& a, const Group& b) {
        return interest(*a.front().hole) > interest(*b.front().hole);
    });
    constexpr std::size_t most_groups = 4;
    if (groups.size() > most_groups) groups.resize(most_groups);
    return groups;
}

/// Half of a cut, with the holes on it from the axis outwards.
struct Half {
    double angle_rad = 0.0;
    std::vector<Polar> holes;
};

/// Whether a hole leaves room for a step between it and those that are there.
bool has_room(const Half& half, const Polar& hole) {
    constexpr double step_room_mm = 1.0;
    constexpr std::size_t most_on_half = 2;
    return half.holes.size() < most_on_half &&
           std::all_of(half.holes.begin(), half.holes.end(), [&](const Polar& there) {
               return there.outer_mm() + step_room_mm < hole.inner_mm() ||
                      hole.outer_mm() + step_room_mm < there.inner_mm();
           });
}

// What a cut costs, in degrees that a step goes round: a judgement, no source. A bend at the axis tells no
// lie, since both halves are turned into one plane; a step interrupts what is seen.
constexpr double step_cost = 30.0, bend_cost = 5.0, bend_share = 0.3, left_out_cost = 100.0,
                 clipped_cost = 25.0;

/// What a hole costs on a half; nothing where it can't be there.
std::optional<double> cost_of(const Half& half, const Polar& hole) {
    constexpr double most_rad = std::numbers::pi / 3.0;
    const double off_rad = apart_rad(half.angle_rad, hole.angle_rad);
    if (!has_room(half, hole) || off_rad > most_rad) return std::nullopt;
    if (off_rad < 1e-9) return 0.0;
    const double off_deg = off_rad * 180.0 / std::numbers::pi;
    return half.holes.empty() ? bend_share * off_deg + bend_cost : off_deg + step_cost;
}

struct Trial {
    std::array<Half, 2> halves;
    double cost = 0.0;
};

void put(Half& half, const Polar& hole) {
    if (half.holes.empty()) half.angle_rad = hole.angle_rad;
    half.holes.push_back(hole);
    std::sort(half.holes.begin(), half.holes.end(),
              [](const Polar& a, const Polar& b) { return a.radius_mm < b.radius_mm; });
}

void add_best(Trial& trial, const Group& group) {
    double least = left_out_cost;
    std::optional<std::pair<std::size_t, const Polar*>> best;
    for (std::size_t half = 0; half < 2; ++half) {
        for (const Polar& hole : group) {
            const auto cost = cost_of(trial.halves[half], hole);
            if (!cost || *cost >= least) continue;
            least = *cost;
            best = {half, &hole};
        }
    }
    trial.cost += least;
    if (best) put(trial.halves[best->first], *best->second);
}

/// The planes of a half from the axis outwards, each as its angle and the two distances.
struct Ray {
    double angle_rad = 0.0, from_mm = 0.0, to_mm = 0.0;
    Point at(double away_mm) const { return plan::turned({away_mm, 0.0}, angle_rad); }
};

std::vector<Ray> rays_of(const plan::Plan& plan, const Half& half) {
    std::vector<Ray> rays;
    double from_mm = 0.0;
    const auto& holes = half.holes;
    for (std::size_t k = 0; k + 1 < holes.size(); ++k) {
        if (apart_rad(holes[k].angle_rad, holes[k + 1].angle_rad) < 1e-12) continue;
        const double step_mm = (holes[k].outer_mm() + holes[k + 1].inner_mm()) / 2.0;
        rays.push_back({holes[k].angle_rad, from_mm, step_mm});
        from_mm = step_mm;
    }
    const double last_rad = holes.empty() ? half.angle_rad : holes.back().angle_rad;
    const double reach = reach_mm(plan, {}, plan::turned({1.0, 0.0}, last_rad));
    rays.push_back({last_rad, from_mm, std::max(reach, from_mm + 1.0)});
    return rays;
}

/// Holes that planes run through beside their axis.
int clipped(const plan::Plan& plan, const std::vector<Ray>& rays) {
    int count = 0;
    for (const plan::Hole& hole : plan.holes) {
        for (const Ray& ray : rays) {
            const plan::Stroke plane = plan::line_stroke(ray.at(ray.from_mm), ray.at(ray.to_mm));
            const double away_mm = plan::distance_mm(plan::nearest_point(plane, hole.at_mm), hole.at_mm);
            if (away_mm > on_plane_mm && away_mm < widest_mm(hole)) ++count;
        }
    }
    return count;
}

CuttingLine line_of(const std::vector<Ray>& first, const std::vector<Ray>& second) {
    CuttingLine line;
    for (auto ray = first.rbegin(); ray != first.rend(); ++ray)
        line.pieces.push_back({ray->at(ray->to_mm), ray->at(ray->from_mm), -ray->to_mm});
    for (const Ray& ray : second)
        line.pieces.push_back({ray.at(ray.from_mm), ray.at(ray.to_mm), ray.from_mm});
    return line;
}

/// The half that lies more to the left goes first; of two above one another the lower one.
CuttingLine ordered(const plan::Plan& plan, const Half& a, const Half& b) {
    const double a_x = std::cos(a.angle_rad), b_x = std::cos(b.angle_rad);
    const bool is_upright = std::abs(a_x - b_x) < 1e-9;
    const bool a_first = is_upright ? std::sin(a.angle_rad) < std::sin(b.angle_rad) : a_x < b_x;
    const auto first = rays_of(plan, a_first ? a : b), second = rays_of(plan, a_first ? b : a);
    return line_of(first, second);
}

/// Every hole of the first group with every one of the second; of the others the nearest.
class Search {
  public:
    Search(const plan::Plan& plan, std::vector<Group> groups) : plan_(plan), groups_(std::move(groups)) {}

    Trial best() {
        for (const Polar& first : groups_.front()) {
            Trial trial;
            put(trial.halves[0], first);
            trial.halves[1].angle_rad = first.angle_rad + std::numbers::pi;
            finish(trial, 1);
            if (groups_.size() > 1) try_second(trial);
        }
        return *best_;
    }

  private:
    void try_second(const Trial& trial) {
        for (std::size_t half = 0; half < 2; ++half) {
            for (const Polar& second : groups_[1]) {
                const auto cost = cost_of(trial.halves[half], second);
                if (!cost) continue;
                Trial next = trial;
                next.cost += *cost;
                put(next.halves[half], second);
                finish(next, 2);
            }
        }
    }

    void finish(Trial trial, std::size_t from_group) {
        for (std::size_t k = from_group; k < groups_.size(); ++k) add_best(trial, groups_[k]);
        if (best_ && trial.cost >= best_->cost - 1e-9) return;
        for (const Half& half : trial.halves)
            trial.cost += clipped_cost * clipped(plan_, rays_of(plan_, half));
        if (!best_ || trial.cost < best_->cost - 1e-9) best_ = trial;
    }

    const plan::Plan& plan_;
    std::vector<Group> groups_;
    std::optional<Trial> best_;
};

CuttingLine plate_cut(const plan::Plan& plan) {
    std::vector<Group> groups = groups_of(plan);
    if (groups.empty()) return aligned_cut(plan, Angle::from_degrees(180.0), Angle());
    const Trial best = Search(plan, std::move(groups)).best();
    return ordered(plan, best.halves[0], best.halves[1]);
}

CuttingLine crank_cut(const plan::Plan& plan) {
    const auto& arms = plan.crank->arms;
    Half first{arms.front().angle.radians(), {}};
    Half second{arms.size() > 1 ? arms[1].angle.radians() : first.angle_rad + std::numbers::pi, {}};
    return ordered(plan, first, second);
}

/// A point that the line runs straight through, or that it is at already, is no corner.
void add_corner(std::vector<Point>& line, Point at) {
    if (!line.empty() && plan::distance_mm(line.back(), at) < on_plane_mm) return;
    if (line.size() > 1) {
        const Point before = line[line.size() - 2];
        const bool is_straight =
            std::abs(plan::cross(plan::unit(at - before), line.back() - before)) < on_plane_mm;
        if (is_straight && plan::dot(at - line.back(), line.back() - before) > 0.0) line.pop_back();
    }
    line.push_back(at);
}

}  // namespace

CuttingLine straight_cut(const plan::Plan& plan, Point through, Angle along) {
    const Point way = direction_of(along);
    const plan::Box2 box = box_of(plan);
    double back_mm = 0.0, forth_mm = 0.0;
    for (const Point corner :
         {box.least, box.most, Point{box.least.x_mm, box.most.y_mm}, Point{box.most.x_mm, box.least.y_mm}}) {
        back_mm = std::max(back_mm, plan::dot(through - corner, way));
        forth_mm = std::max(forth_mm, plan::dot(corner - through, way));
    }
    return {{{through - way * back_mm, through + way * forth_mm, -back_mm}}};
}

CuttingLine aligned_cut(const plan::Plan& plan, Angle first, Angle second) {
    const Point out = direction_of(first), on = direction_of(second);
    const double first_mm = reach_mm(plan, {}, out), second_mm = reach_mm(plan, {}, on);
    return {{{out * first_mm, Point{}, -first_mm}, {Point{}, on * second_mm, 0.0}}};
}

CuttingLine chosen_cut(const plan::Plan& plan) {
    if (plan.arm) return aligned_cut(plan, Angle::from_degrees(180.0), Angle());
    if (plan.crank && !plan.crank->arms.empty()) return crank_cut(plan);
    return plate_cut(plan);
}

CutMark cut_mark(const CuttingLine& line, plan::Side side, double overshoot_mm) {
    const auto seen = [side](Point at) { return side == plan::Side::A ? Point{-at.x_mm, at.y_mm} : at; };
    CutMark mark;
    const auto way = [](const CutPiece& piece) { return plan::unit(piece.to - piece.from); };
    for (const CutPiece& piece : line.pieces) {
        for (const Point at : {piece.from, piece.to}) {
            add_corner(mark.line, seen(at));
        }
    }
    const Point first = way(line.pieces.front()), last = way(line.pieces.back());
    mark.line.front() = mark.line.front() - seen(first) * overshoot_mm;
    mark.line.back() = mark.line.back() + seen(last) * overshoot_mm;
    mark.first = {mark.line.front(), seen(plan::left_of(first))};
    mark.last = {mark.line.back(), seen(plan::left_of(last))};
    return mark;
}

std::optional<double> place_on(const CuttingLine& line, Point at) {
    for (const CutPiece& piece : line.pieces) {
        const Point way = plan::unit(piece.to - piece.from);
        const double along_mm = plan::dot(at - piece.from, way);
        if (std::abs(plan::cross(way, at - piece.from)) < on_plane_mm && along_mm > -on_plane_mm &&
            along_mm < piece.length_mm() + on_plane_mm)
            return piece.from_mm + along_mm;
    }
    return std::nullopt;
}

}  // namespace fitup::sheets
