#include <algorithm>
#include <cmath>

#include "calculations/linkage_builds.hpp"
#include "calculations/linkage_findings.hpp"
#include "calculations/linkage_positions.hpp"
#include "calculations/linkage_setting.hpp"
#include "calculations/linkage_solve.hpp"
#include "calculations/linkage_travel.hpp"

namespace fitup::calculations {

namespace {

std::vector<Solved> solved_of(const Linkage& linkage, const Linkage& exact, const Linkage& set) {
    std::vector<Solved> all;
    for (const Variation& unknown : unknowns_of(linkage)) {
        const Dimension& dimension = dimension_of(linkage, unknown);
        Solved solved;
        solved.key = key_of(linkage, unknown);
        solved.value = value_of(exact, unknown);
        solved.set_value = value_of(set, unknown);
        solved.between = *dimension.between;
        solved.serves = serving_range(exact, unknown);
        solved.is_angle = unknown.is_angle();
        solved.part_file = dimension.part_file;
        solved.part_key = dimension.part_key;
        solved.part_value = dimension.part_value;
        solved.is_set_by_thread =
            unknown.kind == Variation::Kind::rod && linkage.rods[unknown.index].adjust.has_value();
        all.push_back(std::move(solved));
    }
    return all;
}

/// The position nearest the middle of the travel.
std::size_t middle_position(const LinkageResult& result) {
    const auto travel = input_travel(result.exact);
    const double middle_deg = (travel[0].degrees() + travel[1].degrees()) / 2.0;
    const auto nearest =
        std::min_element(result.positions.begin(), result.positions.end(), [&](const auto& a, const auto& b) {
            return std::abs(a.input_deg - middle_deg) < std::abs(b.input_deg - middle_deg);
        });
    return std::size_t(nearest - result.positions.begin());
}

/// Manuals differ on whether to set a control at neutral or at its worst end: builds decide. Where a rod can
/// be set, the position at which setting it serves most builds; else, and of several alike, the middle one.
std::size_t set_first_of(const LinkageResult& result, const Linkage& made,
                         const std::vector<double>& branches) {
    constexpr std::size_t builds = 20'000;
    const std::size_t middle = middle_position(result);
    const bool can_set = std::any_of(made.rods.begin(), made.rods.end(),
                                     [](const Rod& rod) { return rod.adjust.has_value(); });
    if (!can_set || !made.tolerances.stated) return middle;
    Linkage few = made;
    few.builds = builds;
    std::size_t best = middle;
    double most = sample_builds(few, branches, middle).all_select_set;
    for (std::size_t i = 0; i < result.positions.size(); ++i) {
        const double share = sample_builds(few, branches, i).all_select_set;
        if (share <= most + 1e-12) continue;
        most = share;
        best = i;
    }
    return best;
}

bool all_close(const std::vector<PositionResult>& positions) {
    return std::all_of(positions.begin(), positions.end(),
                       [](const PositionResult& position) { return position.gap_mm == 0.0; });
}

void add_setting(LinkageResult& result, const HandSetting& hand) {
    Setting setting;
    setting.positions = positions_of(hand.linkage, chain_of(hand.linkage, hand.branches));
    setting.rods = rod_settings(hand);
    setting.worst_margin_deg = worst_margin_deg(setting.positions);
    result.set = std::move(setting);
}

/// What errors of a hand do to the linkage as it is made.
void add_hand_work(LinkageResult& result, const std::optional<HandSetting>& hand,
                   const LinkageProgress& progress) {
    result.influences = influences_of(result.exact, result.branches);
    if (!result.exact.tolerances.stated) return;
    progress("sampling builds");
    const Linkage& made = hand ? hand->linkage : result.exact;
    const std::vector<double>& branches = hand ? hand->branches : result.branches;
    const std::size_t set_first = set_first_of(result, made, branches);
    result.set_first = result.positions[set_first].name;
    result.builds = sample_builds(made, branches, set_first);
}

}  // namespace

LinkageResult work_out(const Linkage& linkage, const LinkageProgress& progress) {
    LinkageResult result;
    const auto solution = solve(linkage, progress);
    result.exact = solution ? solution->linkage : linkage;
    result.branches = solution ? solution->branches
                               : branches_of(linkage).value_or(std::vector<double>(linkage.rods.size(), 1.0));
    const Chain chain = chain_of(result.exact, result.branches);
    result.positions = positions_of(result.exact, chain);
    result.worst_margin_deg = worst_margin_deg(result.positions);
    result.worst_normalised = worst_normalised(result.positions);
    result.curve = curve_of(result.exact, chain);
    result.outside = outside_windows(result.exact, chain);
    result.ends = ends_of(result.exact, chain);
    progress("finding a setting for the hand");
    const auto hand = hand_setting(result.exact);
    if (hand) add_setting(result, *hand);
    result.solved = solved_of(linkage, result.exact, hand ? hand->linkage : result.exact);
    // The rig pin holds the lever in the middle of the chain.
    const std::size_t levers = result.exact.levers.size();
    result.rig_lever = result.exact.levers[levers > 2 ? levers / 2 : 0].name;
    result.set_first = result.positions[middle_position(result)].name;
    if (all_close(result.positions)) add_hand_work(result, hand, progress);
    result.findings = linkage_findings(result, chain);
    result.holds = std::none_of(result.findings.begin(), result.findings.end(),
                                [](const auto& finding) { return finding.severity == plan::Severity::stop; });
    return result;
}

}  // namespace fitup::calculations
