#include "plan/mating.hpp"

#include <algorithm>

namespace fitup::plan {

namespace {

constexpr double mm_per_um = 0.001;

}  // namespace

SizeRange limits_of(double diameter_mm, const std::optional<Fit>& fit) {
    if (!fit) return {diameter_mm, diameter_mm};
    return {diameter_mm + fit->lower_um * mm_per_um, diameter_mm + fit->upper_um * mm_per_um};
}

std::optional<Mating> mating_of(const Register& reg) {
    if (!reg.mates_with_mm) return std::nullopt;
    const SizeRange own = limits_of(reg.diameter_mm, reg.fit);
    const SizeRange its{*reg.mates_with_mm, std::max(*reg.mates_with_mm, reg.mates_most_mm.value_or(0.0))};
    return Mating{std::string("register-") + to_text(reg.side), reg.is_spigot ? own : its,
                  reg.is_spigot ? its : own, reg.is_spigot};
}

std::optional<Mating> mating_of(const Hole& hole) {
    if (!hole.locates_on_mm) return std::nullopt;
    return Mating{
        hole.id, {*hole.locates_on_mm, *hole.locates_on_mm}, limits_of(hole.diameter_mm, hole.fit), false};
}

SizeRange clearance_of(const Mating& mating) {
    return {mating.outside.least_mm - mating.inside.most_mm, mating.outside.most_mm - mating.inside.least_mm};
}

}  // namespace fitup::plan
