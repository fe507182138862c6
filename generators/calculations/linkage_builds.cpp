#include "calculations/linkage_builds.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/blocks.hpp"
#include "base/random.hpp"
#include "base/units.hpp"
#include "calculations/linkage_positions.hpp"
#include "calculations/variations.hpp"

namespace fitup::calculations {

namespace {

/// Builds that share one stream of random numbers: what a core takes at a time.
constexpr std::size_t block_size = 4096;

/// Where the output stands and how freely it moves, for one build at one position.
struct Standing {
    double error_rad = 0.0;
    double free_rad_per_play = 0.0;  ///< half the lost motion for each mm of play
    double rate = 0.0;               ///< output's turn for each mm of the rod that is set
    bool closed = false;
};

struct Target {
    Turn input;
    Turn wanted;  ///< the output is measured from here: no whole turns to mind
    double below_rad = 0.0, above_rad = 0.0;
};

/// The chain of one build: walked loop by loop with the movement of each beside its place. The same equations
/// as close() and motion_of(), in one pass.
Standing standing_of(const Chain& chain, const Target& target, std::size_t set_rod) {
    Standing standing;
    Turn turn = target.input;
    for (std::size_t i = 0; i < chain.loops.size(); ++i) {
        const Loop& loop = chain.loops[i];
        const Circle& driving = chain.driving[i];
        const Equation e = equation_of(loop, driving.at(turn));
        const double rest = e.size_sq() - e.c * e.c;
        if (!(rest > 0.0)) return {};
        const double sine = loop.branch * std::sqrt(rest);
        const Turn to = turn_of(e, e.c, sine);
        // (A - B) . B' is half of Q cos p - P sin p, which is -sine / 2.
        const double rod_on_driven = -0.5 * sine;
        const Vector rod = e.from_centre - loop.outward(to) * loop.radius_mm;
        const Vector path = driving.path(turn) * driving.radius_mm;
        const double ratio = dot(rod, path) / rod_on_driven;
        const double rate = -loop.rod_mm / rod_on_driven;
        standing.free_rad_per_play = standing.free_rad_per_play * std::abs(ratio) + std::abs(rate);
        standing.rate = i == set_rod ? rate : standing.rate * ratio;
        turn = to;
    }
    standing.closed = true;
    standing.error_rad = std::atan2(turn.sin * target.wanted.cos - turn.cos * target.wanted.sin,
                                    turn.cos * target.wanted.cos + turn.sin * target.wanted.sin);
    return standing;
}

bool selects(const Standing& standing, const Target& target, double play_mm) {
    if (!standing.closed) return false;
    const double margin_rad =
        std::min(target.above_rad - standing.error_rad, standing.error_rad + target.below_rad);
    // Two joints a rod, half of the whole free travel: play times the summed rates.
    return margin_rad - play_mm * standing.free_rad_per_play > 0.0;
}

struct Counts {
    std::size_t all_worn = 0, all_new = 0, all_set = 0;
    std::vector<std::size_t> each;
    std::vector<double> sum, sum_of_squares;
};

/// Moves a build's chain off the nominal one by one size.
void shift(Chain& chain, const Linkage& linkage, const Variation& variation, double by_mm) {
    using Kind = Variation::Kind;
    const std::size_t at = variation.index;
    const bool drives = at<chain.driving.size(), driven = at> 0;
    if (variation.kind == Kind::rod) {
        chain.loops[at].rod_mm += by_mm;
    } else if (variation.kind == Kind::arm_in || variation.kind == Kind::arm_out) {
        const bool both = linkage.levers[at].single_arm;
        if (driven && (both || variation.kind == Kind::arm_in)) chain.loops[at - 1].radius_mm += by_mm;
        if (drives && (both || variation.kind == Kind::arm_out)) chain.driving[at].radius_mm += by_mm;
    } else {
        const std::size_t axis = variation.kind == Kind::pivot_x   ? 0
                                 : variation.kind == Kind::pivot_y ? 1
                                                                   : 2;
        if (drives) chain.driving[at].centre[axis] += by_mm;
        if (driven) chain.loops[at - 1].centre[axis] += by_mm;
    }
}

class Sampler {
  public:
    Sampler(const Linkage& linkage, const std::vector<double>& branches, std::size_t set_first)
        : linkage_(linkage), nominal_(chain_of(linkage, branches)), set_first_(set_first) {
        toleranced_ = toleranced_of(linkage);
        for (const WantedPosition& position : linkage.positions)
            targets_.push_back({{position.input.cos(), position.input.sin()},
                                {position.output.cos(), position.output.sin()},
                                position.below.radians(),
                                position.above.radians()});
        for (std::size_t i = 0; i < linkage.rods.size(); ++i) {
            if (linkage.rods[i].adjust) set_rod_ = i;
        }
    }

    Counts block(std::size_t index, std::size_t builds) const {
        Random random(linkage_.seed, index);
        Counts counts = none();
        Chain chain = nominal_;
        for (std::size_t i = 0; i < builds; ++i) {
            copy_sizes(chain);
            for (const Toleranced& size : toleranced_)
                shift(chain, linkage_, size.variation, size.tolerance_mm * random.either_way());
            count(chain, counts);
        }
        return counts;
    }

    Counts none() const {
        Counts counts;
        counts.each.assign(targets_.size(), 0);
        counts.sum.assign(targets_.size(), 0.0);
        counts.sum_of_squares.assign(targets_.size(), 0.0);
        return counts;
    }

    bool has_adjusting_rod() const { return set_rod_ < linkage_.rods.size(); }

  private:
    /// Back to the nominal sizes without new memory.
    void copy_sizes(Chain& chain) const {
        std::copy(nominal_.driving.begin(), nominal_.driving.end(), chain.driving.begin());
        std::copy(nominal_.loops.begin(), nominal_.loops.end(), chain.loops.begin());
    }

    void count(Chain& chain, Counts& counts) const {
        bool all_worn = true, all_new = true;
        for (std::size_t k = 0; k < targets_.size(); ++k) {
            const Standing standing = standing_of(chain, targets_[k], set_rod_);
            const bool worn = selects(standing, targets_[k], linkage_.play.worn_mm);
            all_worn = all_worn && worn;
            all_new = all_new && selects(standing, targets_[k], linkage_.play.new_mm);
            counts.each[k] += worn ? 1 : 0;
            counts.sum[k] += standing.error_rad;
            counts.sum_of_squares[k] += standing.error_rad * standing.error_rad;
        }
        counts.all_worn += all_worn ? 1 : 0;
        counts.all_new += all_new ? 1 : 0;
        if (has_adjusting_rod()) counts.all_set += selects_once_set(chain) ? 1 : 0;
    }

    /// The rod is wound until the output stands where it should at one position: two Newton steps, then the
    /// nearest whole step within the thread's travel.
    bool selects_once_set(Chain& chain) const {
        const Adjust& adjust = *linkage_.rods[set_rod_].adjust;
        double& rod_mm = chain.loops[set_rod_].rod_mm;
        const double made_mm = rod_mm;
        for (int i = 0; i < 2; ++i) {
            const Standing standing = standing_of(chain, targets_[set_first_], set_rod_);
            if (!standing.closed || standing.rate == 0.0) return false;
            rod_mm -= standing.error_rad / standing.rate;
        }
        const double wanted_mm = std::clamp(rod_mm - made_mm, -adjust.shorter_mm, adjust.longer_mm);
        rod_mm = made_mm + std::round(wanted_mm / adjust.step_mm()) * adjust.step_mm();
        return std::all_of(targets_.begin(), targets_.end(), [&](const Target& target) {
            return selects(standing_of(chain, target, set_rod_), target, linkage_.play.worn_mm);
        });
    }

    const Linkage& linkage_;
    Chain nominal_;
    std::vector<Toleranced> toleranced_;
    std::vector<Target> targets_;
    std::size_t set_rod_ = ~std::size_t(0);
    std::size_t set_first_ = 0;
};

void add(Counts& total, const Counts& block) {
    total.all_worn += block.all_worn;
    total.all_new += block.all_new;
    total.all_set += block.all_set;
    for (std::size_t k = 0; k < total.each.size(); ++k) {
        total.each[k] += block.each[k];
        total.sum[k] += block.sum[k];
        total.sum_of_squares[k] += block.sum_of_squares[k];
    }
}

/// Every block once, on all cores, added in their order so that sums are the same to the last digit.
Counts count_all(const Sampler& sampler, std::size_t builds) {
    const std::size_t blocks = (builds + block_size - 1) / block_size;
    const auto results = for_all_blocks<Counts>(blocks, [&](std::size_t i) {
        return sampler.block(i, std::min(block_size, builds - i * block_size));
    });
    Counts total = sampler.none();
    for (const Counts& result : results) add(total, result);
    return total;
}

}  // namespace

Builds sample_builds(const Linkage& linkage, const std::vector<double>& branches, std::size_t set_first) {
    const Sampler sampler(linkage, branches, set_first);
    const Counts counts = count_all(sampler, linkage.builds);
    const double n = double(linkage.builds);
    Builds builds;
    builds.builds = linkage.builds;
    builds.all_select = double(counts.all_worn) / n;
    builds.all_select_new = double(counts.all_new) / n;
    builds.all_select_set = double(sampler.has_adjusting_rod() ? counts.all_set : counts.all_worn) / n;
    for (std::size_t k = 0; k < counts.each.size(); ++k) {
        builds.each_selects.push_back(double(counts.each[k]) / n);
        const double mean = counts.sum[k] / n;
        builds.sigma_deg.push_back(std::sqrt(std::max(0.0, counts.sum_of_squares[k] / n - mean * mean)) *
                                   deg_per_rad);
    }
    builds.first_order_sigma_deg = first_order_sigma_deg(linkage, branches);
    return builds;
}

std::vector<double> first_order_sigma_deg(const Linkage& linkage, const std::vector<double>& branches) {
    const Chain chain = chain_of(linkage, branches);
    std::vector<double> sigmas;
    for (const WantedPosition& position : linkage.positions) {
        const Pose pose = pose_at(chain, position.input.radians());
        const std::vector<LoopMotion> motion = motion_of(chain, pose);
        double variance = 0.0;
        for (const Toleranced& size : toleranced_of(linkage)) {
            // An even spread of plus or minus a has the standard deviation a / sqrt(3).
            const double sigma = size.tolerance_mm / std::numbers::sqrt3 *
                                 output_rate(linkage, chain, pose, motion, size.variation);
            variance += sigma * sigma;
        }
        sigmas.push_back(std::sqrt(variance) * deg_per_rad);
    }
    return sigmas;
}

std::vector<Influence> influences_of(const Linkage& linkage, const std::vector<double>& branches) {
    const Chain chain = chain_of(linkage, branches);
    std::vector<Influence> all;
    for (const Toleranced& size : toleranced_of(linkage)) {
        Influence worst{key_of(linkage, size.variation), size.tolerance_mm, 0.0, "", -1.0};
        for (const WantedPosition& position : linkage.positions) {
            const Pose pose = pose_at(chain, position.input.radians());
            const double moved_deg =
                std::abs(output_rate(linkage, chain, pose, motion_of(chain, pose), size.variation)) *
                size.tolerance_mm * deg_per_rad;
            const double half_deg = (position.below.degrees() + position.above.degrees()) / 2.0;
            if (moved_deg / half_deg <= worst.share) continue;
            worst.worst_deg = moved_deg;
            worst.position = position.name;
            worst.share = moved_deg / half_deg;
        }
        all.push_back(std::move(worst));
    }
    std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.share > b.share; });
    return all;
}

}  // namespace fitup::calculations
