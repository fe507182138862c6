// A joggled plan taken apart: its legs, its volume, its flat blank.
#include <algorithm>
#include <cmath>

#include "plan/cuts.hpp"
#include "plan/joggle.hpp"
#include "plan/prism_sum.hpp"
#include "plan/stroke.hpp"

namespace fitup::plan {

namespace {

enum class Keep { left, right };

/// What of an outline lies on one side of a line along Y, closed along that line.
class Half {
  public:
    Half(const Contour& contour, double x_mm, Keep keep) : x_mm_(x_mm), keep_(keep) {
        for (const Stroke& stroke : strokes_of(contour)) add(stroke);
    }

    std::optional<Contour> contour() const {
        const bool is_whole = !is_bent_across_ && exits_.size() == 1 && entries_.size() == 1;
        if (!is_whole || edges_.size() < 2) return std::nullopt;
        return Contour(edges_);
    }
    /// y of the crossing that lies lower and of the one that lies higher.
    std::array<double, 2> crossings_mm() const {
        return {std::min(exits_.front(), entries_.front()), std::max(exits_.front(), entries_.front())};
    }

  private:
    /// Positive on the side that is kept.
    double depth_mm(double x_mm) const { return keep_ == Keep::left ? x_mm_ - x_mm : x_mm - x_mm_; }
    bool is_out(Point point) const { return depth_mm(point.x_mm) < -same_point_mm; }
    bool is_in(Point point) const { return depth_mm(point.x_mm) > same_point_mm; }

    void add(const Stroke& stroke) {
        const Box2 reach = box(stroke);
        const double least = std::min(depth_mm(reach.least.x_mm), depth_mm(reach.most.x_mm));
        const double most = std::max(depth_mm(reach.least.x_mm), depth_mm(reach.most.x_mm));
        if (least >= -same_point_mm) {
            push(stroke);
            return;
        }
        if (most <= same_point_mm) {
            if (!is_out(stroke.from)) leave(stroke.from);
            if (!is_out(stroke.to)) entries_.push_back(stroke.to.y_mm);
            return;
        }
        if (!stroke.is_line() || std::abs(stroke.from.y_mm - stroke.to.y_mm) > same_point_mm) {
            is_bent_across_ = true;
            return;
        }
        const Point crossing{x_mm_, stroke.from.y_mm};
        if (is_in(stroke.from)) {
            push(stroke);
            leave(crossing);
        } else {
            entries_.push_back(crossing.y_mm);
            edges_.push_back({crossing, std::nullopt});
        }
    }

    void push(const Stroke& stroke) {
        if (stroke.is_line()) {
            edges_.push_back({stroke.from, std::nullopt});
            return;
        }
        const Turn turn = stroke.sweep_rad > 0.0 ? Turn::anticlockwise : Turn::clockwise;
        edges_.push_back({stroke.from, Arc{stroke.centre, turn}});
    }

    /// From here straight to where the outline comes back.
    void leave(Point from) {
        exits_.push_back(from.y_mm);
        edges_.push_back({from, std::nullopt});
    }

    double x_mm_;
    Keep keep_;
    std::vector<Edge> edges_;
    std::vector<double> exits_, entries_;
    bool is_bent_across_ = false;
};

bool reaches_into(const Joggle& joggle, const Contour& contour) {
    const Box2 box = contour.box();
    return box.least.x_mm < joggle.start_mm + joggle.run_mm - same_point_mm &&
           box.most.x_mm > joggle.start_mm + same_point_mm;
}

bool is_clear(const Plan& plan) {
    const Joggle& joggle = *plan.body.joggle;
    const std::vector<Cut> all = cuts(plan);
    return std::none_of(all.begin(), all.end(),
                        [&](const Cut& cut) { return reaches_into(joggle, cut.area.outer); }) &&
           std::none_of(plan.raised.begin(), plan.raised.end(),
                        [&](const Raised& ring) { return reaches_into(joggle, ring.outer); });
}

/// Takes out what stands beyond the joggle's middle, or before it.
void keep_one_side(Plan& plan, double middle_mm, Keep keep) {
    const auto is_gone = [&](double x_mm) { return (x_mm < middle_mm) != (keep == Keep::left); };
    std::erase_if(plan.holes, [&](const Hole& hole) { return is_gone(hole.at_mm.x_mm); });
    std::erase_if(plan.raised, [&](const Raised& ring) { return is_gone(ring.outer.box().least.x_mm); });
    std::erase_if(plan.pockets, [&](const Pocket& pocket) {
        return pocket.areas.empty() || is_gone(pocket.areas.front().outer.box().least.x_mm);
    });
    std::erase_if(plan.cross_holes, [&](const CrossHole& hole) { return is_gone(hole.at_mm[0]); });
}

Plan leg(const Plan& plan, const Contour& outline, double middle_mm, Keep keep) {
    Plan leg = plan;
    keep_one_side(leg, middle_mm, keep);
    leg.body.joggle.reset();
    leg.body.outline = outline;
    return leg;
}

}  // namespace

Plan flat_view(const Plan& plan) {
    Plan view = plan;
    view.body.joggle.reset();
    view.cross_holes.clear();
    return view;
}

std::optional<std::array<Plan, 2>> legs(const Plan& plan) {
    const Joggle& joggle = *plan.body.joggle;
    const double end_mm = joggle.start_mm + joggle.run_mm;
    const double middle_mm = joggle.start_mm + joggle.run_mm / 2.0;
    const Half first(plan.body.outline, joggle.start_mm, Keep::left);
    const Half second(plan.body.outline, end_mm, Keep::right);
    const auto first_outline = first.contour();
    const auto second_outline = second.contour();
    if (!first_outline || !second_outline || !is_clear(plan)) return std::nullopt;
    const auto [low_mm, high_mm] = first.crossings_mm();
    const auto [far_low_mm, far_high_mm] = second.crossings_mm();
    if (std::abs(low_mm - far_low_mm) > same_point_mm || std::abs(high_mm - far_high_mm) > same_point_mm)
        return std::nullopt;
    return std::array{leg(plan, *first_outline, middle_mm, Keep::left),
                      leg(plan, *second_outline, middle_mm, Keep::right)};
}

std::optional<double> slab_volume_mm3(const Plan& plan) {
    if (plan.rod || !plan.cross_holes.empty()) return std::nullopt;
    const auto prisms = prism_sum(flat_view(plan));
    if (!prisms) return std::nullopt;
    const double flat_mm3 = volume_mm3(*prisms);
    if (!plan.body.joggle) return flat_mm3;
    const Joggle& joggle = *plan.body.joggle;
    const auto shape = joggle_shape(joggle, plan.body.thickness_mm);
    const Half first(plan.body.outline, joggle.start_mm, Keep::left);
    if (!shape || !first.contour()) return std::nullopt;
    const auto [low_mm, high_mm] = first.crossings_mm();
    return flat_mm3 + (high_mm - low_mm) * plan.body.thickness_mm * (shape->mid_line_mm - joggle.run_mm);
}

namespace {

void shift(Plan& leg, double by_mm) {
    leg.body.outline = moved(leg.body.outline, {}, {by_mm, 0.0});
    for (Hole& hole : leg.holes) hole.at_mm.x_mm += by_mm;
}

bool lies_at(const Stroke& stroke, double x_mm) {
    return stroke.is_line() && std::abs(stroke.from.x_mm - x_mm) < same_point_mm &&
           std::abs(stroke.to.x_mm - x_mm) < same_point_mm;
}

/// The outline from behind its end at x on to that end, which then leads to what comes next.
bool append_open(std::vector<Edge>& edges, const Contour& contour, double x_mm) {
    const auto strokes = contour.strokes();
    const auto end = std::find_if(strokes.begin(), strokes.end(),
                                  [&](const Stroke& stroke) { return lies_at(stroke, x_mm); });
    if (end == strokes.end()) return false;
    const auto at = static_cast<std::size_t>(end - strokes.begin());
    for (std::size_t k = 1; k <= strokes.size(); ++k)
        edges.push_back(contour.edges()[(at + k) % strokes.size()]);
    return true;
}

/// Two halves of a strip with a gap between x = from and x = to, as one.
std::optional<Contour> bridged(const Contour& first, double from_mm, const Contour& second, double to_mm) {
    std::vector<Edge> edges;
    if (!append_open(edges, first, from_mm) || !append_open(edges, second, to_mm)) return std::nullopt;
    return Contour(edges);
}

}  // namespace

std::optional<FlatBlank> flat_blank(const Plan& plan) {
    FlatBlank blank;
    const auto strip_only = [](Plan& part) {
        part.raised.clear();
        part.pockets.clear();
        part.cross_holes.clear();
    };
    if (!plan.body.joggle) {
        blank.plan = plan;
        strip_only(blank.plan);
        return blank;
    }
    const Joggle& joggle = *plan.body.joggle;
    const auto shape = joggle_shape(joggle, plan.body.thickness_mm);
    auto both = legs(plan);
    if (!shape || !both) return std::nullopt;
    auto& [first, second] = *both;
    shift(second, shape->developed_mm - joggle.run_mm);
    const double end_mm = joggle.start_mm + shape->developed_mm;
    const auto outline = bridged(first.body.outline, joggle.start_mm, second.body.outline, end_mm);
    if (!outline) return std::nullopt;
    blank.plan = first;
    strip_only(blank.plan);
    blank.plan.body.outline = *outline;
    blank.plan.holes.insert(blank.plan.holes.end(), second.holes.begin(), second.holes.end());
    blank.bends_mm = {{joggle.start_mm, joggle.start_mm + shape->allowance_mm},
                      {end_mm - shape->allowance_mm, end_mm}};
    return blank;
}

}  // namespace fitup::plan
