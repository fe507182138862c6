#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/angle.hpp"
#include "base/vector3.hpp"
#include "plan/plan.hpp"

/// A linkage as its file describes it: a chain of levers, each on an axis of its own, joined by rods with
/// ball joints. Lengths in mm; levers turn anticlockwise about their axis.
namespace fitup::calculations {

struct Bounds {
    double least = 0.0;
    double most = 0.0;
};

/// A size of the chain: given, or to be solved for between bounds. In mm, an angle in degrees.
struct Dimension {
    double value = 0.0;
    std::optional<Bounds> between;
    /// The part's file it comes from, and what it is called there ("length", "arms[0].length").
    std::string part_file;
    std::string part_key;
    double part_value = 0.0;  ///< as the part has it now
};

/// Joined to the lever before by its in-arm and to the next by its out-arm. The first lever has no in-arm,
/// the last no out-arm (both are then 0 long and never used).
struct Lever {
    std::string name;
    Vector pivot_mm{};
    Vector axis{0, 0, 1};  ///< unit
    Vector rest{1, 0, 0};  ///< unit, square to the axis: the (in-)arm's direction at angle zero
    Dimension arm_in;
    Dimension arm_out;
    /// The out-arm stands this far anticlockwise of the in-arm (degrees).
    Dimension angle_between;
    /// How far along the axis each arm's joint lies from the pivot's point.
    Dimension offset_in;
    Dimension offset_out;
    /// One arm alone carries both rods, or the lever is an end of the chain: called `arm` in messages.
    bool single_arm = false;
};

/// How a rod's length is set.
struct Adjust {
    std::string thread;
    double pitch_mm = 0.0;
    bool opposite_hands = false;  ///< right and left: a turn of the rod itself moves both ends
    double step_turns = 0.5;
    double shorter_mm = 0.0;  ///< what the threads give from the length stated
    double longer_mm = 0.0;
    double step_mm() const { return step_turns * pitch_mm * (opposite_hands ? 2.0 : 1.0); }
};

struct Rod {
    std::string name;  ///< "rod-1"
    Dimension length;  ///< joint to joint
    std::optional<Adjust> adjust;
    std::optional<double> diameter_mm = {};  ///< what it must keep clear with
};

/// A named position of the input lever and where the output must then stand.
struct WantedPosition {
    std::string name;
    Angle input;
    Angle output;
    Angle below;  ///< window: the output may lie this far under ..
    Angle above;  ///< .. and this far over `output` (both positive)
};

struct Stops {
    std::optional<std::array<Angle, 2>> input;   ///< least, most
    std::optional<std::array<Angle, 2>> output;  ///< the selector's own
};

struct Play {
    double new_mm = 0.0;
    double worn_mm = 0.0;
    bool stated = false;
};

struct Tolerances {
    double arm_mm = 0.0;
    double rod_mm = 0.0;
    double pivot_mm = 0.0;
    bool stated = false;
};

struct Linkage {
    std::string name;
    std::string revision;
    plan::Units units = plan::Units::mm;
    std::vector<Lever> levers;
    std::vector<Rod> rods;  ///< one fewer than levers
    std::vector<WantedPosition> positions;
    Stops stops;
    Play play;
    Tolerances tolerances;
    Angle joint_angle_limit = Angle::from_degrees(15.0);
    std::size_t builds = 1'000'000;
    unsigned long long seed = 1;
    /// What the rods must keep clear of, in the linkage's own frame; `from` and `to` mean nothing here.
    std::optional<plan::Swing> surroundings = {};
};

/// Where the input may stand: between its stops, else between its outermost positions.
std::array<Angle, 2> input_travel(const Linkage& linkage);

}  // namespace fitup::calculations
