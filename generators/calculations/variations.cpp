#include "calculations/variations.hpp"

#include "base/units.hpp"

namespace fitup::calculations {

namespace {

using Kind = Variation::Kind;

bool is_pivot(Kind kind) { return kind == Kind::pivot_x || kind == Kind::pivot_y || kind == Kind::pivot_z; }

std::size_t component_of(Kind kind) { return kind == Kind::pivot_x ? 0 : kind == Kind::pivot_y ? 1 : 2; }

const char* word_of(const Lever& lever, Kind kind) {
    switch (kind) {
        case Kind::arm_in:
            return lever.single_arm ? "arm" : "arm_in";
        case Kind::arm_out:
            return lever.single_arm ? "arm" : "arm_out";
        case Kind::angle_between:
            return "angle_between";
        case Kind::offset_in:
            return lever.single_arm ? "offset" : "offset_in";
        case Kind::offset_out:
            return lever.single_arm ? "offset" : "offset_out";
        case Kind::pivot_x:
            return "pivot x";
        case Kind::pivot_y:
            return "pivot y";
        case Kind::pivot_z:
            return "pivot z";
        case Kind::rod:
            break;
    }
    return "length";
}

/// The kinds of size that a lever has, at its place in the chain.
std::vector<Kind> kinds_of(const Linkage& linkage, std::size_t index) {
    const bool first = index == 0, last = index + 1 == linkage.levers.size();
    if (first) return {Kind::arm_out, Kind::offset_out};
    if (last || linkage.levers[index].single_arm) return {Kind::arm_in, Kind::offset_in};
    return {Kind::arm_in, Kind::arm_out, Kind::angle_between, Kind::offset_in, Kind::offset_out};
}

/// Of a lever that may be changed or not.
template <typename AnyLever>
auto& lever_dimension(AnyLever& lever, Kind kind) {
    switch (kind) {
        case Kind::arm_in:
            return lever.arm_in;
        case Kind::arm_out:
            return lever.arm_out;
        case Kind::offset_in:
            return lever.offset_in;
        case Kind::offset_out:
            return lever.offset_out;
        default:
            return lever.angle_between;
    }
}

/// How a lever's driving joint moves with one of its sizes.
Vector driving_shift(const Circle& circle, const Lever& lever, const Turn& turn, Kind kind) {
    const bool both = lever.single_arm;
    if (kind == Kind::arm_out || (both && kind == Kind::arm_in)) return circle.outward(turn);
    if (kind == Kind::offset_out || (both && kind == Kind::offset_in)) return lever.axis;
    if (kind == Kind::angle_between) return circle.path(turn) * (circle.radius_mm / deg_per_rad);
    Vector shift{};
    if (is_pivot(kind)) shift[component_of(kind)] = 1.0;
    return shift;
}

/// How a lever's driven joint moves with one of its sizes, its angle held.
Vector driven_shift(const Loop& loop, const Lever& lever, const Turn& turn, Kind kind) {
    if (kind == Kind::arm_in) return loop.outward(turn);
    if (kind == Kind::offset_in) return lever.axis;
    Vector shift{};
    if (is_pivot(kind)) shift[component_of(kind)] = 1.0;
    return shift;
}

}  // namespace

std::string key_of(const Linkage& linkage, const Variation& variation) {
    if (variation.kind == Kind::rod) return linkage.rods[variation.index].name + ".length";
    const Lever& lever = linkage.levers[variation.index];
    return lever.name + "." + word_of(lever, variation.kind);
}

const Dimension& dimension_of(const Linkage& linkage, const Variation& variation) {
    if (variation.kind == Kind::rod) return linkage.rods[variation.index].length;
    return lever_dimension(linkage.levers[variation.index], variation.kind);
}

double value_of(const Linkage& linkage, const Variation& variation) {
    if (is_pivot(variation.kind))
        return linkage.levers[variation.index].pivot_mm[component_of(variation.kind)];
    return dimension_of(linkage, variation).value;
}

void set_value(Linkage& linkage, const Variation& variation, double value) {
    if (variation.kind == Kind::rod) {
        linkage.rods[variation.index].length.value = value;
        return;
    }
    Lever& lever = linkage.levers[variation.index];
    if (is_pivot(variation.kind)) {
        lever.pivot_mm[component_of(variation.kind)] = value;
        return;
    }
    lever_dimension(lever, variation.kind).value = value;
    if (!lever.single_arm) return;
    if (variation.kind == Kind::arm_in || variation.kind == Kind::arm_out)
        lever.arm_in.value = lever.arm_out.value = value;
    if (variation.kind == Kind::offset_in || variation.kind == Kind::offset_out)
        lever.offset_in.value = lever.offset_out.value = value;
}

std::vector<Variation> unknowns_of(const Linkage& linkage) {
    std::vector<Variation> unknowns;
    for (std::size_t i = 0; i < linkage.levers.size(); ++i) {
        for (const Kind kind : kinds_of(linkage, i)) {
            if (dimension_of(linkage, {kind, i}).between) unknowns.push_back({kind, i});
        }
    }
    for (std::size_t i = 0; i < linkage.rods.size(); ++i) {
        if (linkage.rods[i].length.between) unknowns.push_back({Kind::rod, i});
    }
    return unknowns;
}

std::vector<Toleranced> toleranced_of(const Linkage& linkage) {
    std::vector<Toleranced> all;
    const auto add = [&all](Kind kind, std::size_t index, double tolerance_mm) {
        if (tolerance_mm > 0.0) all.push_back({{kind, index}, tolerance_mm});
    };
    const Tolerances& tolerances = linkage.tolerances;
    for (std::size_t i = 0; i < linkage.levers.size(); ++i) {
        for (const Kind kind : kinds_of(linkage, i)) {
            if (kind == Kind::arm_in || kind == Kind::arm_out) add(kind, i, tolerances.arm_mm);
        }
        for (const Kind kind : {Kind::pivot_x, Kind::pivot_y, Kind::pivot_z})
            add(kind, i, tolerances.pivot_mm);
    }
    for (std::size_t i = 0; i < linkage.rods.size(); ++i) add(Kind::rod, i, tolerances.rod_mm);
    return all;
}

double output_rate(const Linkage& linkage, const Chain& chain, const Pose& pose,
                   const std::vector<LoopMotion>& motion, const Variation& variation) {
    const std::vector<double> carried = carried_to_output(motion);
    const auto through_loop = [&](std::size_t loop, double rod_longer_mm) {
        return carried[loop + 1] * motion[loop].rad_per_mm * rod_longer_mm;
    };
    const std::size_t at = variation.index;
    if (variation.kind == Kind::rod) return through_loop(at, 1.0);
    const Lever& lever = linkage.levers[at];
    double rate = 0.0;
    // A driving joint that moves along the rod shortens what is left of it; a driven one lengthens it.
    if (at < motion.size())
        rate += through_loop(at, -dot(motion[at].along_rod, driving_shift(chain.driving[at], lever,
                                                                          pose.turns[at], variation.kind)));
    if (at > 0)
        rate += through_loop(at - 1,
                             dot(motion[at - 1].along_rod,
                                 driven_shift(chain.loops[at - 1], lever, pose.turns[at], variation.kind)));
    return rate;
}

}  // namespace fitup::calculations
