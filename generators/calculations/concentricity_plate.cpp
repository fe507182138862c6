#include "calculations/concentricity_plate.hpp"

#include <algorithm>
#include <array>

#include "base/text.hpp"
#include "plan/mating.hpp"
#include "trade/trade.hpp"

namespace fitup::calculations {

namespace {

using plan::Side;

/// Parallel pins are m6 (ISO 8734, from memory, unverified).
constexpr const char* pin_class = "m6";
constexpr double mm_per_um = 0.001;

Contribution contribution_of(const std::string& name, const plan::SizeRange& clearance,
                             const std::string& from) {
    Contribution one;
    one.name = name;
    one.measure = Measure::clearance;
    // What is pressed in stands in the middle.
    one.least = std::max(0.0, clearance.least_mm);
    one.most = std::max(0.0, clearance.most_mm);
    one.from = from;
    return one;
}

/// What locates the part on one side.
using Located = std::array<std::vector<Contribution>, 2>;
std::vector<Contribution>& on(Located& located, Side side) { return located[side == Side::A ? 0 : 1]; }

void add_registers(const plan::Plan& plate, Located& located) {
    for (const plan::Register& reg : plate.registers) {
        if (const auto mating = plan::mating_of(reg))
            on(located, reg.side)
                .push_back(contribution_of(plate.name + " " + mating->where, plan::clearance_of(*mating),
                                           "the plate's register and what it mates with"));
    }
}

/// A bore that locates is entered by the part on B: the crank's side has the pilot of its own.
void add_bore(const plan::Plan& plate, Located& located) {
    for (const plan::Hole& hole : plate.holes) {
        const auto mating = plan::mating_of(hole);
        if (!mating) continue;
        on(located, Side::B)
            .push_back(contribution_of(plate.name + " " + mating->where, plan::clearance_of(*mating),
                                       "the plate's bore and what it locates on"));
    }
}

/// Dowels made to their fit; those reamed at assembly hold what the dial showed.
void add_dowels(const plan::Plan& plate, Located& located, bool& reamed_at_assembly) {
    for (const plan::Pattern& pattern : plate.patterns) {
        if (pattern.holes.empty()) continue;
        const plan::Hole& hole = plate.holes[pattern.holes.front()];
        if (hole.kind != plan::HoleKind::dowel) continue;
        reamed_at_assembly = reamed_at_assembly || hole.finish_diameter_mm;
        const auto* pin = hole.fit ? trade::find_fit(pin_class, hole.fit->nominal_mm) : nullptr;
        if (hole.finish_diameter_mm || pin == nullptr) continue;
        const plan::SizeRange clearance{(hole.fit->lower_um - pin->upper_um) * mm_per_um,
                                        (hole.fit->upper_um - pin->lower_um) * mm_per_um};
        on(located, hole.from)
            .push_back(contribution_of(plate.name + " " + pattern.name, clearance,
                                       hole.fit->tolerance_class + " on pins of " + pin_class));
    }
}

}  // namespace

void add_plate(const plan::Plan& plate, Concentricity& asked) {
    Located located;
    add_registers(plate, located);
    add_bore(plate, located);
    add_dowels(plate, located, asked.reamed_at_assembly);
    for (std::vector<Contribution>& side : located) {
        std::stable_sort(side.begin(), side.end(),
                         [](const auto& a, const auto& b) { return a.most < b.most; });
        if (side.empty()) continue;
        for (std::size_t i = 1; i < side.size(); ++i)
            asked.looser.push_back(side[i].name + " (clearance to " + short_text(side[i].most, 3) + " mm)");
        asked.contributions.push_back(side.front());
    }
}

}  // namespace fitup::calculations
