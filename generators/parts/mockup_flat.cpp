#include "parts/mockup_flat.hpp"

#include <algorithm>

#include "parts/mockup_webs.hpp"
#include "plan/cuts.hpp"
#include "plan/trace.hpp"
#include "plan/vector.hpp"

namespace fitup::parts {

namespace {

using plan::Contour;
using plan::Relation;

/// Thinner plastic between two cuts breaks out (our own choice).
constexpr double least_wall_mm = 1.0;
/// As much of a spigot as a thin plate needs to be held by; wide enough not to break off (our own choice).
constexpr double ledge_height_mm = 3.0, ledge_width_mm = 6.0;

/// The diameter of what goes through it: a thread's screw, a reamed hole's pin.
double nominal_mm(const plan::Hole& hole) {
    if (hole.thread) return hole.thread->major_mm;
    return hole.finish_diameter_mm.value_or(hole.diameter_mm);
}

/// Whether a cut adds nothing to another one; of two that are one, to the first.
bool is_gone_in(const Contour& cut, const Contour& other, bool is_other_first) {
    const Relation how = plan::relation(cut, other);
    if (how == Relation::same) return is_other_first;
    if (how != Relation::crossing) return how == Relation::first_inside_second;
    return plan::lies_within(cut, other) && (is_other_first || !plan::lies_within(other, cut));
}

class Flattening {
  public:
    Flattening(const plan::Plan& plan, const plan::Mockup& settings) : plan_(plan), settings_(settings) {
        flat_.factor = 1.0 / (1.0 - settings.shrinkage);
        flat_.outline = scaled(plan.body.outline, flat_.factor);
    }

    Flat all() {
        for (const plan::Hole& hole : plan_.holes) add_hole(hole);
        for (const plan::Pocket& pocket : plan_.pockets) add_pocket(pocket);
        drop_swallowed();
        mind_webs(settings_, flat_);
        drop_swallowed();
        for (const plan::Raised& ring : plan_.raised) add_ledges(ring);
        return std::move(flat_);
    }

  private:
    double printed_mm(double diameter_mm) const {
        return (diameter_mm + settings_.hole_allowance_mm) * flat_.factor;
    }

    void add_hole(const plan::Hole& hole) {
        plan::Hole printed;
        printed.id = hole.id;
        printed.pattern = hole.pattern;
        printed.kind = hole.kind == plan::HoleKind::bore ? hole.kind : plan::HoleKind::drilled;
        printed.at_mm = hole.at_mm * flat_.factor;
        printed.depth_mm = settings_.thickness_mm;
        const double shown_mm = nominal_mm(hole);
        printed.diameter_mm = printed_mm(hole.through ? shown_mm : std::min(shown_mm, settings_.pilot_mm));
        if (hole.through && hole.slot_length_mm) {
            printed.slot_length_mm = printed_mm(*hole.slot_length_mm);
            printed.slot_direction = hole.slot_direction;
        }
        flat_.holes.push_back(printed);
        if (hole.recess) mark_round(hole.at_mm, hole.recess->diameter_mm, hole.recess->side);
        if (hole.countersink) mark_round(hole.at_mm, hole.countersink->diameter_mm, hole.countersink->side);
    }

    void mark_round(plan::Point at, double diameter_mm, plan::Side side) {
        flat_.marked.push_back(
            {side, Contour(plan::Circle{at * flat_.factor, diameter_mm * flat_.factor / 2.0})});
    }

    /// The hollow saves weight and the engraving says nothing of the fit; an arm's slit would part its eye.
    void add_pocket(const plan::Pocket& pocket) {
        if (pocket.kind == plan::PocketKind::mark || plan_.arm) return;
        if (pocket.kind == plan::PocketKind::hollow && !pocket.through) return;
        for (const plan::Area& area : pocket.areas) add_area(pocket, area);
    }

    void add_area(const plan::Pocket& pocket, const plan::Area& area) {
        const Contour curve = opened(area.outer);
        const std::string holes = area.islands.empty() ? holes_at(curve) : "an island";
        if (holes.empty()) return flat_.openings.push_back({pocket.id, curve});
        flat_.marked.push_back({pocket.side, scaled(area.outer, flat_.factor)});
        flat_.findings.push_back(plan::finding_of(
            mockup_rule, plan::Severity::note, pocket.id,
            "The mock-up shows " + pocket.id + " by its outline only, since " + holes +
                " lies in it or at its edge: what the casting has there would hold the print off."));
    }

    /// A round one takes the allowance, as a hole does; other shapes are room for something, not a fit.
    Contour opened(const Contour& curve) const {
        if (const plan::Circle* round = curve.circle())
            return Contour(
                plan::Circle{round->centre * flat_.factor, printed_mm(2.0 * round->radius_mm) / 2.0});
        return scaled(curve, flat_.factor);
    }

    /// The first hole that the opening would take away or nearly reach; "" where there is none.
    std::string holes_at(const Contour& curve) const {
        for (const plan::Hole& hole : flat_.holes) {
            if (hole.kind == plan::HoleKind::bore) continue;
            const Contour shaft = plan::shaft_contour(hole);
            if (curve.contains(hole.at_mm) || plan::gap(curve, shaft).distance_mm < least_wall_mm)
                return hole.id;
        }
        return "";
    }

    /// What lies within an opening is gone: a register's recess takes the bore along.
    void drop_swallowed() {
        std::vector<Opening> kept;
        for (std::size_t i = 0; i < flat_.openings.size(); ++i) {
            if (!is_swallowed(flat_.openings[i].curve, i)) kept.push_back(flat_.openings[i]);
        }
        std::erase_if(flat_.holes, [this](const plan::Hole& hole) {
            return is_swallowed(plan::shaft_contour(hole), flat_.openings.size());
        });
        flat_.openings = std::move(kept);
        drop_doubled();
    }

    /// Blind holes from both faces in one place have one pilot.
    void drop_doubled() {
        std::vector<plan::Hole> kept;
        for (std::size_t i = 0; i < flat_.holes.size(); ++i) {
            if (!is_doubled(i)) kept.push_back(flat_.holes[i]);
        }
        flat_.holes = std::move(kept);
    }

    bool is_doubled(std::size_t own) const {
        const plan::Hole& hole = flat_.holes[own];
        for (std::size_t i = 0; i < flat_.holes.size(); ++i) {
            const plan::Hole& other = flat_.holes[i];
            if (i == own || plan::distance_mm(hole.at_mm, other.at_mm) > reach_mm(other)) continue;
            if (is_gone_in(plan::shaft_contour(hole), plan::shaft_contour(other), i < own)) return true;
        }
        return false;
    }

    bool is_swallowed(const Contour& curve, std::size_t own) const {
        for (std::size_t i = 0; i < flat_.openings.size(); ++i) {
            if (i == own) continue;
            if (is_gone_in(curve, flat_.openings[i].curve, i < own)) return true;
        }
        return false;
    }

    /// A ring of one side only, so that the other face lies on the bed; a second one is marked.
    void add_ledges(const plan::Raised& ring) {
        const plan::Circle* round = ring.outer.circle();
        if (round == nullptr || !ring.id.starts_with("register")) return;
        if (!flat_.ledges.empty() && flat_.ledges.front().side != ring.side) {
            flat_.marked.push_back({ring.side, scaled(ring.outer, flat_.factor)});
            flat_.findings.push_back(plan::finding_of(
                mockup_rule, plan::Severity::note, ring.id,
                "The mock-up shows " + ring.id +
                    " by its outline only: with ledges on both faces neither would lie on the bed."));
            return;
        }
        LedgeRing ledges;
        ledges.id = ring.id;
        ledges.side = ring.side;
        // It has to enter, so the allowance comes off.
        const double outside_mm = 2.0 * round->radius_mm - settings_.hole_allowance_mm;
        ledges.outside = {round->centre * flat_.factor, outside_mm * flat_.factor / 2.0};
        ledges.width_mm = ledge_width_mm;
        for (const Contour& inner : ring.inner) {
            if (const plan::Circle* hole = inner.circle())
                ledges.width_mm = std::min(ledges.width_mm, round->radius_mm - hole->radius_mm);
        }
        ledges.height_mm = std::min(ring.height_mm, ledge_height_mm);
        flat_.ledges.push_back(ledges);
    }

    const plan::Plan& plan_;
    const plan::Mockup& settings_;
    Flat flat_;
};

/// Every curve through the plate, with the hole it is of: a joint may cut the bore open, and the allowance
/// may join two holes.
struct Cutting {
    Opening opening;
    const plan::Hole* hole = nullptr;
    bool is_crossed = false;
};

std::vector<Cutting> cuttings_of(const Flat& flat) {
    std::vector<Cutting> all;
    for (const Opening& opening : flat.openings) all.push_back({opening});
    for (const plan::Hole& hole : flat.holes) all.push_back({{hole.id, plan::shaft_contour(hole)}, &hole});
    return all;
}

bool are_joined(const Contour& first, const Contour& second) {
    if (plan::distance_mm(first.box(), second.box()) > plan::same_point_mm) return false;
    return plan::relation(first, second) == Relation::crossing;
}

void find_crossed(std::vector<Cutting>& all, const std::vector<Contour>& around) {
    for (std::size_t i = 0; i < all.size(); ++i) {
        for (const Contour& edge : around) {
            if (are_joined(all[i].opening.curve, edge)) all[i].is_crossed = true;
        }
        for (std::size_t j = 0; j < i; ++j) {
            if (are_joined(all[i].opening.curve, all[j].opening.curve))
                all[i].is_crossed = all[j].is_crossed = true;
        }
    }
}

/// A point of a curve counts as on it although it was computed twice.
constexpr double on_curve_mm = 1e-6;

std::vector<plan::Area> traced(const std::vector<Contour>& around, const std::vector<Cutting>& cuttings) {
    std::vector<plan::Stroke> raw;
    for (const Contour& edge : around) {
        for (const plan::Stroke& stroke : plan::strokes_of(edge)) raw.push_back(stroke);
    }
    for (const Cutting& cutting : cuttings) {
        if (!cutting.is_crossed) continue;
        for (const plan::Stroke& stroke : plan::strokes_of(cutting.opening.curve))
            raw.push_back(plan::reversed(stroke));
    }
    const auto is_on = [](const Contour& curve, plan::Point point) {
        return curve.distance_to_mm(point) < on_curve_mm;
    };
    const auto is_on_boundary = [&](plan::Point point) {
        return std::all_of(around.begin(), around.end(),
                           [&](const Contour& edge) { return edge.contains(point) || is_on(edge, point); }) &&
               std::all_of(cuttings.begin(), cuttings.end(), [&](const Cutting& cutting) {
                   return !cutting.is_crossed || !cutting.opening.curve.contains(point) ||
                          is_on(cutting.opening.curve, point);
               });
    };
    const auto loops = plan::trace(raw, is_on_boundary, plan::SharedStretches::joined);
    return loops ? plan::areas_of(*loops) : std::vector<plan::Area>{};
}

/// What lies wholly in the area, off its islands.
bool holds(const plan::Area& area, const Contour& curve) {
    const plan::Point at = start_of(curve);
    return area.outer.contains(at) &&
           std::none_of(area.islands.begin(), area.islands.end(),
                        [at](const Contour& island) { return island.contains(at); });
}

/// A cell that lies in the bore has no metal.
bool is_in_a_cut(const plan::Area& area, const std::vector<Cutting>& cuttings) {
    const plan::Point at = start_of(area.outer);
    return std::any_of(cuttings.begin(), cuttings.end(), [at](const Cutting& cutting) {
        return !cutting.is_crossed && cutting.opening.curve.contains(at);
    });
}

Region region_of(const plan::Area& area, const std::vector<Cutting>& cuttings) {
    Region region{area.outer, {}, {}};
    for (const Contour& island : area.islands)
        region.openings.push_back({"opening-" + std::to_string(region.openings.size() + 1), island});
    for (const Cutting& cutting : cuttings) {
        if (cutting.is_crossed || !holds(area, cutting.opening.curve)) continue;
        if (cutting.hole != nullptr)
            region.holes.push_back(*cutting.hole);
        else
            region.openings.push_back(cutting.opening);
    }
    return region;
}

}  // namespace

double reach_mm(const plan::Hole& hole) { return hole.slot_length_mm.value_or(hole.diameter_mm) / 2.0; }

Contour scaled(const Contour& contour, double factor) {
    if (const plan::Circle* round = contour.circle())
        return Contour(plan::Circle{round->centre * factor, round->radius_mm * factor});
    std::vector<plan::Edge> edges(contour.edges().begin(), contour.edges().end());
    for (plan::Edge& edge : edges) {
        edge.from = edge.from * factor;
        if (edge.arc) edge.arc->centre = edge.arc->centre * factor;
    }
    return Contour(std::move(edges));
}

plan::Point start_of(const Contour& contour) {
    return contour.circle() != nullptr ? plan::circle_stroke(*contour.circle()).from
                                       : contour.edges().front().from;
}

Flat flat_of(const plan::Plan& plan, const plan::Mockup& settings) {
    return Flattening(plan, settings).all();
}

std::vector<Region> regions(const Flat& flat, const Contour* within) {
    std::vector<Contour> around{flat.outline};
    if (within != nullptr) around.push_back(*within);
    std::vector<Cutting> cuttings = cuttings_of(flat);
    find_crossed(cuttings, around);
    const bool is_plain =
        within == nullptr && std::none_of(cuttings.begin(), cuttings.end(),
                                          [](const Cutting& cutting) { return cutting.is_crossed; });
    std::vector<plan::Area> areas =
        is_plain ? std::vector<plan::Area>{{flat.outline, {}}} : traced(around, cuttings);
    std::erase_if(areas, [&](const plan::Area& area) { return is_in_a_cut(area, cuttings); });
    std::sort(areas.begin(), areas.end(),
              [](const plan::Area& a, const plan::Area& b) { return plan::area_mm2(a) > plan::area_mm2(b); });
    std::vector<Region> all;
    for (const plan::Area& area : areas) all.push_back(region_of(area, cuttings));
    return all;
}

}  // namespace fitup::parts
