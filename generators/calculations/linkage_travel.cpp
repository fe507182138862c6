#include "calculations/linkage_travel.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/text.hpp"
#include "base/units.hpp"
#include "calculations/motion.hpp"

namespace fitup::calculations {

namespace {

/// Steps in which a travel is walked; what lies between two is found by halving.
constexpr int steps = 1440;
constexpr int halvings = 50;

struct Range {
    double least_deg = 0.0, most_deg = 0.0;
    double at(int step) const { return least_deg + (most_deg - least_deg) * step / steps; }
};

Range travel_of(const Linkage& linkage) {
    const auto travel = input_travel(linkage);
    return {travel[0].degrees(), travel[1].degrees()};
}

bool closes(const Chain& chain, double input_deg) {
    return pose_at(chain, input_deg / deg_per_rad).gap_mm == 0.0;
}

/// The input between two at which `holds` ends, to the last digit; it holds at `inner`.
template <typename Holds>
double edge_between(double inner_deg, double outer_deg, Holds holds) {
    for (int i = 0; i < halvings; ++i) {
        const double middle_deg = (inner_deg + outer_deg) / 2.0;
        (holds(middle_deg) ? inner_deg : outer_deg) = middle_deg;
    }
    return inner_deg;
}

double output_deg(const Chain& chain, double input_deg) {
    return output_rad(chain, input_deg / deg_per_rad) * deg_per_rad;
}

/// The position in whose window the output stands at an input; -1 in none, or where the chain is open.
int window_at(const Linkage& linkage, const Chain& chain, double input_deg) {
    const double got_deg = output_deg(chain, input_deg);
    for (std::size_t i = 0; i < linkage.positions.size(); ++i) {
        const WantedPosition& position = linkage.positions[i];
        const double error_deg = std::remainder(got_deg - position.output.degrees(), 360.0);
        if (error_deg >= -position.below.degrees() && error_deg <= position.above.degrees())
            return static_cast<int>(i);
    }
    return -1;
}

std::vector<std::size_t> by_input(const Linkage& linkage) {
    std::vector<std::size_t> order(linkage.positions.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return linkage.positions[a].input.degrees() < linkage.positions[b].input.degrees();
    });
    return order;
}

/// "lower and hold": the positions whose inputs lie on either side.
std::string between_which(const Linkage& linkage, double input_deg) {
    const auto order = by_input(linkage);
    std::string below, above;
    for (const std::size_t i : order) {
        if (linkage.positions[i].input.degrees() <= input_deg) below = linkage.positions[i].name;
        if (above.empty() && linkage.positions[i].input.degrees() > input_deg)
            above = linkage.positions[i].name;
    }
    if (below.empty()) return "before " + above;
    return above.empty() ? "after " + below : below + " and " + above;
}

/// From where the chain closes outwards to one end of the travel.
std::optional<Opening> opening_towards(const Linkage& linkage, const Chain& chain, double start_deg,
                                       double end_deg) {
    double last_closed_deg = start_deg;
    for (int i = 1; i <= steps; ++i) {
        const double input_deg = start_deg + (end_deg - start_deg) * i / steps;
        if (closes(chain, input_deg)) {
            last_closed_deg = input_deg;
            continue;
        }
        const auto is_closed = [&](double deg) { return closes(chain, deg); };
        Opening opening;
        opening.input_deg = edge_between(last_closed_deg, input_deg, is_closed);
        for (int k = i; k <= steps; ++k) {
            const Pose pose = pose_at(chain, (start_deg + (end_deg - start_deg) * k / steps) / deg_per_rad);
            if (pose.gap_mm <= opening.gap_mm) continue;
            opening.gap_mm = pose.gap_mm;
            opening.rod = pose.open_rod;
        }
        const Pose pose = pose_at(chain, input_deg / deg_per_rad);
        const Vector pin = chain.driving[pose.open_rod].at(pose.turns[pose.open_rod]);
        const Vector nearest = chain.loops[pose.open_rod].at(pose.turns[pose.open_rod + 1]);
        opening.too_short = length(pin - nearest) > linkage.rods[pose.open_rod].length.value;
        return opening;
    }
    return {};
}

/// An input of the travel at which the chain closes, the nearest to zero.
std::optional<double> closed_start(const Chain& chain, const Range& travel) {
    const double nearest_deg = std::clamp(0.0, travel.least_deg, travel.most_deg);
    if (closes(chain, nearest_deg)) return nearest_deg;
    for (int i = 1; i <= steps; ++i) {
        for (const double end_deg : {travel.least_deg, travel.most_deg}) {
            const double input_deg = nearest_deg + (end_deg - nearest_deg) * i / steps;
            if (closes(chain, input_deg)) return input_deg;
        }
    }
    return {};
}

EndResult end_of(const Linkage& linkage, const Chain& chain, const WantedPosition& outermost, bool at_most) {
    const Range travel = travel_of(linkage);
    EndResult end;
    end.position = outermost.name;
    end.input_stop_deg = at_most ? travel.most_deg : travel.least_deg;
    end.over_travel_deg = std::abs(end.input_stop_deg - outermost.input.degrees());
    const double wanted_deg = outermost.output.degrees();
    const double got_deg = output_deg(chain, end.input_stop_deg);
    end.output_at_stop_deg = wanted_deg + std::remainder(got_deg - wanted_deg, 360.0);
    // The way the output goes as the lever nears this stop.
    const double before_deg = output_deg(
        chain, end.input_stop_deg + (at_most ? -1e-3 : 1e-3) * (travel.most_deg - travel.least_deg));
    const double way = std::remainder(got_deg - before_deg, 360.0) >= 0.0 ? 1.0 : -1.0;
    end.past_home_deg = way * (end.output_at_stop_deg - wanted_deg);
    if (linkage.stops.output) {
        const auto& stops = *linkage.stops.output;
        end.output_stop_deg = (way > 0.0 ? stops[1] : stops[0]).degrees();
        end.to_output_stop_deg = way * (*end.output_stop_deg - end.output_at_stop_deg);
    }
    return end;
}

/// Home is where the selector's detent draws it in: anywhere in the window, from its near edge on.
std::string end_verdict(const EndResult& end, const WantedPosition& outermost, double way) {
    const double near_edge_deg = way > 0.0 ? outermost.below.degrees() : outermost.above.degrees();
    if (std::isnan(end.output_at_stop_deg)) return "the chain is open at the stop";
    if (end.past_home_deg < -near_edge_deg)
        return "falls short of " + end.position + " by " + short_text(-end.past_home_deg, 2) + " degrees";
    if (end.to_output_stop_deg && *end.to_output_stop_deg < 0.0)
        return "the selector's stop comes first, by " + short_text(-*end.to_output_stop_deg, 2) +
               " degrees of the selector";
    return "the lever's stop comes after " + end.position + " is home";
}

}  // namespace

std::vector<Opening> openings_of(const Linkage& linkage, const Chain& chain) {
    const Range travel = travel_of(linkage);
    const auto start_deg = closed_start(chain, travel);
    if (!start_deg) {
        const Pose pose = pose_at(chain, 0.0);
        return {{0.0, pose.gap_mm, pose.open_rod, true}};
    }
    std::vector<Opening> openings;
    for (const double end_deg : {travel.least_deg, travel.most_deg}) {
        if (auto opening = opening_towards(linkage, chain, *start_deg, end_deg)) openings.push_back(*opening);
    }
    return openings;
}

std::vector<CurvePoint> curve_of(const Linkage& linkage, const Chain& chain) {
    constexpr int points = 240;
    const Range travel = travel_of(linkage);
    std::vector<CurvePoint> curve;
    for (int i = 0; i <= points; ++i) {
        const double input_deg = travel.least_deg + (travel.most_deg - travel.least_deg) * i / points;
        const Pose pose = pose_at(chain, input_deg / deg_per_rad);
        if (pose.gap_mm > 0.0) continue;
        const double lost_rad = lost_motion_rad(motion_of(chain, pose), linkage.play.worn_mm);
        double deg = std::atan2(pose.turns.back().sin, pose.turns.back().cos) * deg_per_rad;
        if (!curve.empty())
            deg = curve.back().output_deg + std::remainder(deg - curve.back().output_deg, 360.0);
        curve.push_back({input_deg, deg, lost_rad * deg_per_rad});
    }
    return curve;
}

std::vector<Stretch> outside_windows(const Linkage& linkage, const Chain& chain) {
    const Range travel = travel_of(linkage);
    const auto is_outside = [&](double deg) { return window_at(linkage, chain, deg) < 0; };
    std::vector<Stretch> stretches;
    bool was_outside = false;
    for (int i = 0; i <= steps; ++i) {
        const double input_deg = travel.at(i);
        const bool outside = is_outside(input_deg);
        if (outside && !was_outside)
            stretches.push_back(
                {i > 0 ? edge_between(input_deg, travel.at(i - 1), is_outside) : input_deg, input_deg, ""});
        if (outside) stretches.back().to_deg = input_deg;
        if (!outside && was_outside)
            stretches.back().to_deg = edge_between(travel.at(i - 1), input_deg, is_outside);
        was_outside = outside;
    }
    for (Stretch& stretch : stretches)
        stretch.between = between_which(linkage, (stretch.from_deg + stretch.to_deg) / 2.0);
    return stretches;
}

std::vector<Intruder> intruders_of(const Linkage& linkage, const Chain& chain) {
    const auto order = by_input(linkage);
    std::vector<Intruder> intruders;
    for (std::size_t k = 1; k < order.size(); ++k) {
        const WantedPosition &from = linkage.positions[order[k - 1]], &to = linkage.positions[order[k]];
        for (int i = 1; i < steps; ++i) {
            const double input_deg =
                from.input.degrees() + (to.input.degrees() - from.input.degrees()) * i / steps;
            const int window = window_at(linkage, chain, input_deg);
            if (window < 0 || window == int(order[k - 1]) || window == int(order[k])) continue;
            intruders.push_back({from.name, to.name, linkage.positions[std::size_t(window)].name, input_deg});
            break;
        }
    }
    return intruders;
}

std::vector<EndResult> ends_of(const Linkage& linkage, const Chain& chain) {
    if (linkage.positions.empty()) return {};
    const auto order = by_input(linkage);
    std::vector<EndResult> ends;
    for (const bool at_most : {false, true}) {
        const WantedPosition& outermost = linkage.positions[at_most ? order.back() : order.front()];
        EndResult end = end_of(linkage, chain, outermost, at_most);
        const double way =
            end.past_home_deg * (end.output_at_stop_deg - outermost.output.degrees()) >= 0.0 ? 1.0 : -1.0;
        end.verdict = end_verdict(end, outermost, way);
        ends.push_back(end);
    }
    return ends;
}

}  // namespace fitup::calculations
