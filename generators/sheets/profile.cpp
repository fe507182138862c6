#include "sheets/profile.hpp"

#include <algorithm>

#include "plan/cuts.hpp"
#include "plan/joggle.hpp"
#include "plan/seen_from.hpp"
#include "sheets/hole_operations.hpp"

namespace fitup::sheets {

namespace {

using plan::Contour;
using plan::Profile;
using plan::Side;

/// "tap drill" is the layer TAP_DRILL.
std::string layer_of(std::string words) {
    for (char& letter : words) {
        if (letter >= 'a' && letter <= 'z') letter = char(letter - 'a' + 'A');
        if (letter == ' ' || letter == '-') letter = '_';
    }
    return words;
}

class SideProfile {
  public:
    SideProfile(const plan::Plan& plan, Side side) : plan_(plan), side_(side) {}

    Profile draw() {
        profile_.suffix = std::string("-") + plan::to_text(side_);
        add("OUTLINE", plan_.body.outline);
        for (const plan::Raised& ring : plan_.raised) {
            if (ring.side == side_) add_ring(ring);
        }
        for (const plan::Pocket& pocket : plan_.pockets) add_pocket(pocket);
        for (const plan::Hole& hole : plan_.holes) add_hole(hole);
        return std::move(profile_);
    }

  private:
    void add(const std::string& layer, const Contour& curve) {
        profile_.curves.push_back({layer, plan::seen_from(side_, curve)});
    }

    /// "register-A" is a spigot where it stands out; a crank's rings are bosses.
    void add_ring(const plan::Raised& ring) {
        const std::string layer = ring.id.starts_with("register") ? "SPIGOT" : "BOSS";
        add(layer, ring.outer);
        for (const Contour& inner : ring.inner) add(layer, inner);
    }

    void add_pocket(const plan::Pocket& pocket) {
        if (pocket.side != side_ && !pocket.through) return;
        const std::string layer = pocket.side == side_ ? layer_of(word_of(pocket.kind)) : "THROUGH";
        for (const plan::Area& area : pocket.areas) {
            add(layer, area.outer);
            for (const Contour& island : area.islands) add(layer, island);
        }
    }

    static std::string word_of(plan::PocketKind kind) {
        switch (kind) {
            case plan::PocketKind::register_recess:
                return "register";
            case plan::PocketKind::hollow:
                return "hollow";
            case plan::PocketKind::relief:
                return "relief";
            case plan::PocketKind::mark:
                return "mark";
        }
        return "relief";
    }

    void add_hole(const plan::Hole& hole) {
        for (const Operation& operation : operations(plan_, hole)) {
            if (operation.line.side == side_ && operation.stage != Stage::slot)
                add(layer_of(operation.line.operation),
                    Contour(plan::Circle{hole.at_mm, operation.line.diameter_mm / 2.0}));
        }
        const bool is_from_here = hole.from == side_;
        if (hole.slot_length_mm && is_from_here) add("MILL_SLOT", plan::shaft_contour(hole));
        if (!is_from_here && hole.through) add("THROUGH", plan::shaft_contour(hole));
    }

    const plan::Plan& plan_;
    Side side_;
    Profile profile_;
};

/// Whether anything is done from a side.
bool is_worked_on(const plan::Plan& plan, Side side) {
    const auto on_side = [side](const auto& feature) { return feature.side == side; };
    const auto has_work = [&](const plan::Hole& hole) {
        const auto own = operations(plan, hole);
        return std::any_of(own.begin(), own.end(),
                           [side](const Operation& o) { return o.line.side == side; });
    };
    return std::any_of(plan.raised.begin(), plan.raised.end(), on_side) ||
           std::any_of(plan.pockets.begin(), plan.pockets.end(), on_side) ||
           std::any_of(plan.holes.begin(), plan.holes.end(), has_work);
}

/// The strip before it is bent: where each bend starts and ends runs across it.
std::vector<Profile> flat_profile(const plan::Plan& plan) {
    const auto blank = plan::flat_blank(plan);
    if (!blank) return {};
    Profile profile = side_profile(blank->plan, Side::B);
    profile.suffix = "-flat";
    const plan::Box2 box = blank->plan.body.outline.box();
    for (const auto& bend : blank->bends_mm) {
        for (const double x_mm : bend)
            profile.lines.push_back({"BEND", {{{x_mm, box.least.y_mm}, {x_mm, box.most.y_mm}}}});
    }
    return {profile};
}

}  // namespace

Profile side_profile(const plan::Plan& plan, Side side) { return SideProfile(plan, side).draw(); }

std::vector<Profile> profiles(const plan::Plan& plan) {
    if (plan.rod) return {};
    if (plan.arm) return flat_profile(plan);
    std::vector<Profile> all;
    for (const Side side : {Side::B, Side::A}) {
        if (side == Side::B || is_worked_on(plan, side)) all.push_back(side_profile(plan, side));
    }
    return all;
}

}  // namespace fitup::sheets
