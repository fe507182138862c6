#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "solid/kernel_call.hpp"
#include "solid/overlap.hpp"
#include "solid/rod_solid.hpp"
#include "solid/skin_solid.hpp"
#include "solid/solid_impl.hpp"

namespace fitup::solid {
namespace {

/// The kernel integrates our planes, cylinders and cones to 1e-14; anything beyond this is a wrong body.
constexpr double same_volume_relative = 1e-9;

/// Ids of what overlaps, each once, in order: "relief-1, relief-2".
std::string names_of(const plan::SkinResult& skin) {
    std::vector<std::string> ids;
    const auto add = [&](const std::string& id) {
        if (std::find(ids.begin(), ids.end(), id) == ids.end()) ids.push_back(id);
    };
    for (const auto& cut : skin.overlapping) add(cut.id);
    for (const auto& ring : skin.overlapping_raised) add(ring.id);
    std::string text;
    for (const auto& id : ids) text += (text.empty() ? "" : ", ") + id;
    return text;
}

plan::Finding nothing_left(const std::string& where) {
    const std::string which = where.empty() ? "The cuts" : "With " + where + " the cuts";
    return plan::final_stop("nothing-left", where,
                            which + " leave no metal; make them smaller or the part larger.");
}

plan::Finding in_pieces(const std::string& where, std::size_t pieces) {
    const std::string which = where.empty() ? "The cuts" : "With " + where + " the cuts";
    return plan::final_stop("part-in-pieces", where,
                            which + " part the metal into " + std::to_string(pieces) +
                                " pieces; move or shorten one so that the part stays whole.");
}

void check_volume(const Solid& solid, const plan::SkinResult& skin, const std::string& making) {
    const double found = solid.volume_mm3();
    const bool plain = skin.overlapping.empty() && skin.overlapping_raised.empty();
    const auto known = plain ? std::optional(skin.skin.volume_mm3) : skin.volume_mm3;
    if (known && std::abs(found - *known) > same_volume_relative * *known) {
        throw KernelError(making + ": the solid has " + shortest_text(found) + " mm3 where the plan says " +
                          shortest_text(*known) + " mm3");
    }
    const bool only_cut = skin.overlapping_raised.empty();
    const bool too_much = only_cut && found > skin.skin.volume_mm3 * (1.0 + same_volume_relative);
    if (!(found > 0.0) || too_much) {
        throw KernelError(making + ": the solid has " + shortest_text(found) +
                          " mm3, which no cut can leave");
    }
}

}  // namespace

Built build(const plan::Plan& plan, const plan::SkinResult& skin) {
    if (plan.rod) return build_rod(plan);
    const std::string making = plan.name.empty() ? "the solid" : "the solid of " + plan.name;
    const std::string where = names_of(skin);
    if (skin.skin.pieces == 0 && skin.overlapping_raised.empty()) return {nullptr, {nothing_left(where)}};
    SkinSolids made = make_solids(skin.skin, making);
    if (!where.empty()) made = take_overlaps(made, plan, skin, making);
    if (made.solids.empty()) return {nullptr, {nothing_left(where)}};
    if (made.solids.size() > 1) return {nullptr, {in_pieces(where, made.solids.size())}};
    auto body = std::make_shared<const KernelBody>(made.solids.front(), made.names);
    auto solid = std::make_shared<const Solid>(std::move(body));
    check_volume(*solid, skin, making);
    return {std::move(solid), {}};
}

}  // namespace fitup::solid
