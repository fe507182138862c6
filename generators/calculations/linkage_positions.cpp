#include "calculations/linkage_positions.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/units.hpp"
#include "calculations/motion.hpp"

namespace fitup::calculations {

namespace {

/// The angle of a turn in degrees, within half a turn of `near_deg`.
double degrees_near(const Turn& turn, double near_deg) {
    const double deg = std::atan2(turn.sin, turn.cos) * deg_per_rad;
    return deg + 360.0 * std::round((near_deg - deg) / 360.0);
}

/// The ratio of the whole chain by arms alone, with the sign that the exact one has.
double proportion_ratio(const Linkage& linkage, double exact_ratio) {
    double ratio = 1.0;
    for (std::size_t i = 0; i < linkage.rods.size(); ++i)
        ratio *= linkage.levers[i].arm_out.value / linkage.levers[i + 1].arm_in.value;
    return std::copysign(ratio, exact_ratio);
}

JointFigures joints_of(const Lever& driving, const Lever& driven, const LoopMotion& motion) {
    const auto tilt_deg = [&](const Lever& lever) {
        return std::asin(std::clamp(std::abs(dot(motion.along_rod, lever.axis)), 0.0, 1.0)) * deg_per_rad;
    };
    return {tilt_deg(driving), tilt_deg(driven)};
}

Verdict verdict_of(const PositionResult& position) {
    if (position.margin_deg - position.lost_worn_deg / 2.0 > 0.0) return Verdict::selects;
    if (position.margin_deg - position.lost_new_deg / 2.0 > 0.0) return Verdict::marginal;
    return Verdict::falls_between;
}

void add_motion(const Linkage& linkage, const Chain& chain, const Pose& pose, PositionResult& result) {
    const std::vector<LoopMotion> motion = motion_of(chain, pose);
    result.lost_new_deg = lost_motion_rad(motion, linkage.play.new_mm) * deg_per_rad;
    result.lost_worn_deg = lost_motion_rad(motion, linkage.play.worn_mm) * deg_per_rad;
    result.ratio = carried_to_output(motion).front();
    result.mechanical_advantage = 1.0 / std::abs(result.ratio);
    for (std::size_t i = 0; i < motion.size(); ++i) {
        result.transmission_deg.push_back(motion[i].transmission.degrees());
        result.joints.push_back(joints_of(linkage.levers[i], linkage.levers[i + 1], motion[i]));
    }
}

/// Position wanted, chain as it stands there.
PositionResult position_of(const Linkage& linkage, const Chain& chain, const WantedPosition& wanted) {
    PositionResult result;
    result.name = wanted.name;
    result.input_deg = wanted.input.degrees();
    result.wanted_deg = wanted.output.degrees();
    result.below_deg = wanted.below.degrees();
    result.above_deg = wanted.above.degrees();
    const Pose pose = pose_at(chain, wanted.input.radians());
    for (const Turn& turn : pose.turns) result.lever_deg.push_back(degrees_near(turn, 0.0));
    result.gap_mm = pose.gap_mm;
    result.got_deg = degrees_near(pose.turns.back(), result.wanted_deg);
    result.lever_deg.back() = result.got_deg;
    result.lever_deg.front() = result.input_deg;
    result.error_deg = result.got_deg - result.wanted_deg;
    result.margin_deg = std::min(result.above_deg - result.error_deg, result.error_deg + result.below_deg);
    const double mm_per_deg = linkage.levers.back().arm_in.value / deg_per_rad;
    result.error_mm = result.error_deg * mm_per_deg;
    result.margin_mm = result.margin_deg * mm_per_deg;
    if (pose.gap_mm > 0.0) {
        result.verdict = Verdict::cannot_close;
        return result;
    }
    add_motion(linkage, chain, pose, result);
    Loop other = chain.loops.back();
    other.branch = -other.branch;
    const Vector last_pin = chain.driving.back().at(pose.turns[pose.turns.size() - 2]);
    result.other_deg = degrees_near(close(other, last_pin).turn, 0.0);
    result.verdict = verdict_of(result);
    return result;
}

/// The positions on either side of where the output stands.
std::string neighbours_of(const std::vector<PositionResult>& positions, double got_deg) {
    const PositionResult *below = nullptr, *above = nullptr;
    for (const PositionResult& position : positions) {
        if (position.wanted_deg <= got_deg && (below == nullptr || position.wanted_deg > below->wanted_deg))
            below = &position;
        if (position.wanted_deg > got_deg && (above == nullptr || position.wanted_deg < above->wanted_deg))
            above = &position;
    }
    if (below != nullptr && above != nullptr) return "between " + below->name + " and " + above->name;
    return below != nullptr ? "beyond " + below->name : "beyond " + above->name;
}

/// By proportion the outputs keep their distances from the middle position as the arms say.
void add_proportion(const Linkage& linkage, std::vector<PositionResult>& positions) {
    if (positions.empty()) return;
    const auto nearest = std::min_element(
        positions.begin(), positions.end(),
        [](const auto& a, const auto& b) { return std::abs(a.input_deg) < std::abs(b.input_deg); });
    const double ratio = proportion_ratio(linkage, nearest->ratio);
    for (PositionResult& position : positions)
        position.proportion_deg = nearest->wanted_deg + ratio * (position.input_deg - nearest->input_deg);
}

}  // namespace

const char* to_text(Verdict verdict) {
    switch (verdict) {
        case Verdict::selects:
            return "selects";
        case Verdict::marginal:
            return "marginal";
        case Verdict::falls_between:
            return "falls between";
        case Verdict::cannot_close:
            return "cannot close";
    }
    return "";
}

double normalised_error(double error_deg, double below_deg, double above_deg) {
    const double room_deg = error_deg < 0.0 ? below_deg : above_deg;
    if (error_deg == 0.0) return 0.0;
    return room_deg > 0.0 ? std::abs(error_deg) / room_deg : std::numeric_limits<double>::infinity();
}

std::vector<PositionResult> positions_of(const Linkage& linkage, const Chain& chain) {
    std::vector<PositionResult> positions;
    for (const WantedPosition& wanted : linkage.positions)
        positions.push_back(position_of(linkage, chain, wanted));
    add_proportion(linkage, positions);
    for (PositionResult& position : positions) {
        if (position.verdict == Verdict::falls_between || position.verdict == Verdict::marginal)
            position.neighbours = neighbours_of(positions, position.got_deg);
    }
    return positions;
}

double worst_margin_deg(const std::vector<PositionResult>& positions) {
    double worst = std::numeric_limits<double>::infinity();
    for (const PositionResult& position : positions)
        worst = std::min(
            worst, position.gap_mm > 0.0 ? -std::numeric_limits<double>::infinity() : position.margin_deg);
    return worst;
}

double worst_normalised(const std::vector<PositionResult>& positions) {
    double worst = 0.0;
    for (const PositionResult& position : positions) {
        worst = std::max(worst,
                         position.gap_mm > 0.0
                             ? std::numeric_limits<double>::infinity()
                             : normalised_error(position.error_deg, position.below_deg, position.above_deg));
    }
    return worst;
}

}  // namespace fitup::calculations
