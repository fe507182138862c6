#include "calculations/linkage_setting.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/units.hpp"
#include "calculations/motion.hpp"

namespace fitup::calculations {

namespace {

/// Rounding either way is tried for this many sizes; further ones go to the nearest.
constexpr std::size_t most_rounded_both_ways = 8;
/// Steps of a rod tried each way from the best so far, all rods at once.
constexpr int reach_steps = 3;

double grid_below(double value) { return std::floor(value / hand_step_mm) * hand_step_mm; }

/// The two sizes of the grid on either side, within the bounds where the grid has any there.
std::vector<double> rounded_both_ways(const Bounds& between, double value) {
    std::vector<double> sizes;
    for (const double size : {grid_below(value), grid_below(value) + hand_step_mm}) {
        if (size >= between.least && size <= between.most) sizes.push_back(size);
    }
    if (sizes.empty()) sizes.push_back(value);
    return sizes;
}

struct Settable {
    std::size_t rod = 0;
    double cut_mm = 0.0;
    double step_mm = 0.0;
    int least = 0, most = 0;  ///< steps that the thread lets it go
};

/// A rod of a part's file is as long as that says; one that is solved for is made to the nearest half
/// millimetre; else it is as stated.
double made_mm(const Dimension& length) {
    if (!length.part_file.empty()) return length.part_value;
    return length.between ? std::round(length.value / hand_step_mm) * hand_step_mm : length.value;
}

/// Rods that adjust, each with what its thread allows.
std::vector<Settable> settable_rods(const Linkage& linkage) {
    std::vector<Settable> all;
    for (std::size_t i = 0; i < linkage.rods.size(); ++i) {
        const Rod& rod = linkage.rods[i];
        if (!rod.adjust || rod.adjust->step_mm() <= 0.0) continue;
        const double cut_mm = made_mm(rod.length);
        all.push_back({i, cut_mm, rod.adjust->step_mm(),
                       -int(std::floor(rod.adjust->shorter_mm / rod.adjust->step_mm() + 1e-9)),
                       int(std::floor(rod.adjust->longer_mm / rod.adjust->step_mm() + 1e-9))});
    }
    return all;
}

/// Counts through every combination of numbers within their ranges.
bool next_combination(std::vector<int>& at, const std::vector<int>& least, const std::vector<int>& most) {
    for (std::size_t i = 0; i < at.size(); ++i) {
        if (++at[i] <= most[i]) return true;
        at[i] = least[i];
    }
    return false;
}

struct Best {
    double worst = std::numeric_limits<double>::infinity();
    std::vector<int> steps;
};

void apply(Linkage& linkage, const std::vector<Settable>& rods, const std::vector<int>& steps) {
    for (std::size_t i = 0; i < rods.size(); ++i)
        linkage.rods[rods[i].rod].length.value = rods[i].cut_mm + steps[i] * rods[i].step_mm;
}

/// Walks from setting to setting: the best within reach, again from there, until none is better.
Best best_steps(Linkage& linkage, const std::vector<Settable>& rods) {
    Best best;
    best.steps.assign(rods.size(), 0);
    apply(linkage, rods, best.steps);
    best.worst = worst_of(linkage);
    for (bool better = !rods.empty(); better;) {
        better = false;
        std::vector<int> least, most;
        for (std::size_t i = 0; i < rods.size(); ++i) {
            least.push_back(std::max(rods[i].least, best.steps[i] - reach_steps));
            most.push_back(std::min(rods[i].most, best.steps[i] + reach_steps));
        }
        std::vector<int> at = least;
        do {
            apply(linkage, rods, at);
            const double worst = worst_of(linkage);
            if (worst < best.worst - 1e-12) {
                best = {worst, at};
                better = true;
            }
        } while (next_combination(at, least, most));
    }
    return best;
}

/// Solved sizes that are no adjustable rods, each with what it may be rounded to.
struct Rounding {
    Variation size;
    std::vector<double> choices;
};

std::vector<Rounding> roundings_of(const Linkage& exact) {
    std::vector<Rounding> all;
    for (const Variation& unknown : unknowns_of(exact)) {
        if (unknown.kind == Variation::Kind::rod && exact.rods[unknown.index].adjust) continue;
        const double value = value_of(exact, unknown);
        std::vector<double> choices = rounded_both_ways(*dimension_of(exact, unknown).between, value);
        if (all.size() >= most_rounded_both_ways && choices.size() > 1)
            choices = {std::round(value / hand_step_mm) * hand_step_mm};
        all.push_back({unknown, std::move(choices)});
    }
    return all;
}

}  // namespace

std::optional<HandSetting> hand_setting(const Linkage& exact) {
    const std::vector<Settable> rods = settable_rods(exact);
    const std::vector<Rounding> roundings = roundings_of(exact);
    std::vector<int> least(roundings.size(), 0), most, at(roundings.size(), 0);
    for (const Rounding& rounding : roundings) most.push_back(int(rounding.choices.size()) - 1);
    std::optional<HandSetting> best;
    do {
        Linkage linkage = exact;
        for (std::size_t i = 0; i < roundings.size(); ++i)
            set_value(linkage, roundings[i].size, roundings[i].choices[std::size_t(at[i])]);
        const Best steps = best_steps(linkage, rods);
        if (!std::isfinite(steps.worst) || (best && steps.worst >= best->worst_normalised - 1e-12)) continue;
        apply(linkage, rods, steps.steps);
        best = HandSetting{linkage, *branches_of(linkage), {}, {}, steps.worst};
        for (const Rod& rod : linkage.rods) best->cut_mm.push_back(rod.length.value);
        best->steps.assign(linkage.rods.size(), 0.0);
        for (std::size_t i = 0; i < rods.size(); ++i) {
            best->cut_mm[rods[i].rod] = rods[i].cut_mm;
            best->steps[rods[i].rod] = steps.steps[i];
        }
    } while (next_combination(at, least, most));
    return best;
}

std::vector<RodSetting> rod_settings(const HandSetting& setting) {
    const Linkage& linkage = setting.linkage;
    const Chain chain = chain_of(linkage, setting.branches);
    std::vector<RodSetting> all;
    for (std::size_t i = 0; i < linkage.rods.size(); ++i) {
        const Rod& rod = linkage.rods[i];
        RodSetting one;
        one.rod = rod.name;
        one.cut_mm = setting.cut_mm[i];
        one.set_mm = rod.length.value;
        if (rod.adjust) {
            one.steps = setting.steps[i];
            one.turns = one.steps * rod.adjust->step_turns;
            one.left_shorter_mm = rod.adjust->shorter_mm + (one.set_mm - one.cut_mm);
            one.left_longer_mm = rod.adjust->longer_mm - (one.set_mm - one.cut_mm);
            const double turn_mm = rod.adjust->step_mm() / rod.adjust->step_turns;
            for (const WantedPosition& position : linkage.positions) {
                const Pose pose = pose_at(chain, position.input.radians());
                const double rad = output_rad_per_mm(motion_of(chain, pose))[i] * turn_mm;
                one.turn_deg.push_back(rad * deg_per_rad);
                one.turn_mm.push_back(rad * linkage.levers.back().arm_in.value);
            }
        }
        all.push_back(std::move(one));
    }
    return all;
}

}  // namespace fitup::calculations
