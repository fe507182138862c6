#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "calculations/linkage.hpp"
#include "plan/finding.hpp"

/// What a linkage comes to. Angles of levers in degrees from rest, anticlockwise about their axis; lengths in
/// mm.
namespace fitup::calculations {

enum class Verdict { selects, marginal, falls_between, cannot_close };
const char* to_text(Verdict verdict);

struct JointFigures {
    double first_deg = 0.0;  ///< tilt of a rod out of the plane of the lever that drives it
    double last_deg = 0.0;   ///< .. and of the lever it drives
};

/// One named position as the chain really stands there.
struct PositionResult {
    std::string name;
    double input_deg = 0.0;
    double wanted_deg = 0.0;
    double below_deg = 0.0, above_deg = 0.0;  ///< window, both positive
    double got_deg = 0.0;
    double error_deg = 0.0;                  ///< got less wanted
    double margin_deg = 0.0;                 ///< to the nearer edge of the window, before play
    double error_mm = 0.0, margin_mm = 0.0;  ///< the same along the arc at the output arm's end
    double lost_new_deg = 0.0, lost_worn_deg = 0.0;
    double ratio = 0.0;                    ///< output's movement over the input's
    double mechanical_advantage = 0.0;     ///< output's moment over the input's, without friction
    double proportion_deg = 0.0;           ///< output by the plain proportion of the arms
    std::vector<double> transmission_deg;  ///< a rod each: between rod and driven arm, 90 is best
    std::vector<JointFigures> joints;      ///< a rod each
    std::vector<double> lever_deg;         ///< every lever's angle, the input's first
    double other_deg = 0.0;  ///< output in the other assembly of the last loop, which this chain is not in
    double gap_mm = 0.0;     ///< over 0: the chain can't close here
    Verdict verdict = Verdict::selects;
    std::string neighbours;  ///< where it falls between: "hold and slow", "beyond fast"
};

/// A stretch of the input's travel.
struct Stretch {
    double from_deg = 0.0, to_deg = 0.0;
    std::string between;  ///< "lower and hold"
};

/// How an end of the travel comes out.
struct EndResult {
    std::string position;  ///< the outermost position at that end
    double input_stop_deg = 0.0;
    double over_travel_deg = 0.0;  ///< the lever's travel left after that position
    double output_at_stop_deg = 0.0;
    double past_home_deg = 0.0;  ///< output at the lever's stop beyond what is wanted (under 0: short)
    std::optional<double> output_stop_deg;
    std::optional<double>
        to_output_stop_deg;  ///< what is left to the selector's stop (under 0: it comes first)
    std::string verdict;
};

struct CurvePoint {
    double input_deg = 0.0;
    double output_deg = 0.0;
    double lost_worn_deg = 0.0;
};

/// A dimension that was solved for.
struct Solved {
    std::string key;     ///< "crank.arm_out", "rod-1.length"
    double value = 0.0;  ///< mm (an angle: degrees)
    double set_value = 0.0;
    Bounds between;
    Bounds serves;  ///< others held: every position stays in its window over this range
    bool is_angle = false;
    std::string part_file, part_key;
    double part_value = 0.0;
    /// A rod that is set by its thread: the part stays as it is.
    bool is_set_by_thread = false;
};

/// A rod as a hand can set it.
struct RodSetting {
    std::string rod;
    double cut_mm = 0.0;  ///< joint to joint as made
    double set_mm = 0.0;
    double steps = 0.0;  ///< counted from `cut_mm`, longer positive
    double turns = 0.0;
    double left_shorter_mm = 0.0, left_longer_mm = 0.0;
    std::vector<double> turn_deg;  ///< what one turn longer does to the output at each position
    std::vector<double> turn_mm;
};

/// The same linkage at sizes that a hand can set.
struct Setting {
    std::vector<PositionResult> positions;
    std::vector<RodSetting> rods;
    double worst_margin_deg = 0.0;
};

struct Influence {
    std::string dimension;  ///< "crank.arm_out", "selector.pivot"
    double tolerance_mm = 0.0;
    double worst_deg = 0.0;  ///< the most that it moves the output, at the position named
    std::string position;
    double share = 0.0;  ///< of the window's half-width there
};

/// Builds by a hand that errs within the tolerances.
struct Builds {
    std::size_t builds = 0;
    double all_select = 0.0;           ///< share in which every position selects, worn, as built
    double all_select_new = 0.0;       ///< .. with new joints
    double all_select_set = 0.0;       ///< .. worn, after an adjustable rod was set at `set_first`
    std::vector<double> each_selects;  ///< worn, position by position
    std::vector<double> sigma_deg;     ///< spread of the output, one standard deviation
    std::vector<double> first_order_sigma_deg;
};

struct LinkageResult {
    std::vector<Solved> solved;
    double worst_normalised = 0.0;  ///< greatest error over the window's half-width on its side
    std::vector<PositionResult> positions;
    double worst_margin_deg = 0.0;
    std::vector<Stretch> outside;  ///< where the output is in no window
    std::vector<EndResult> ends;
    std::vector<CurvePoint> curve;  ///< over the input's travel
    std::optional<Setting> set;
    std::vector<Influence> influences;  ///< the greatest first
    std::optional<Builds> builds;
    std::string set_first;  ///< position at which to set the rods, and to drill for the rig pin
    std::string rig_lever;  ///< lever that takes the rig pin
    plan::Findings findings;
    bool holds = true;  ///< every position selects or is marginal, and the chain closes throughout
    Linkage exact;      ///< the linkage at the solution
    std::vector<double> branches;
};

using LinkageProgress = std::function<void(std::string_view stage)>;

/// Solves what is to be solved, then works out every figure. Never fails: what can't be had is a finding and
/// a verdict.
LinkageResult work_out(const Linkage& linkage, const LinkageProgress& progress);

}  // namespace fitup::calculations
