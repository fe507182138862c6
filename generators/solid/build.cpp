#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "solid/bent.hpp"
#include "solid/kernel_call.hpp"
#include "solid/overlap.hpp"
#include "solid/pieces.hpp"
#include "solid/rod_solid.hpp"
#include "solid/skin_solid.hpp"
#include "solid/solid_impl.hpp"
#include "solid/threaded_holes.hpp"

namespace fitup::solid {
namespace {

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

/// @param threads_mm3  room of modelled threads, which the skin does not know
void check_volume(const Solid& solid, const plan::SkinResult& skin, double threads_mm3,
                  const std::string& making) {
    const double found = solid.volume_mm3() + threads_mm3;
    const double slack = thread_relative * threads_mm3;
    const bool plain = skin.overlapping.empty() && skin.overlapping_raised.empty();
    const auto known = plain ? std::optional(skin.skin.volume_mm3) : skin.volume_mm3;
    if (known && std::abs(found - *known) > same_volume_relative * *known + slack) {
        throw KernelError(making + ": the solid has " + shortest_text(found) + " mm3 where the plan says " +
                          shortest_text(*known) + " mm3");
    }
    const bool only_cut = skin.overlapping_raised.empty();
    const bool too_much = only_cut && found > skin.skin.volume_mm3 * (1.0 + same_volume_relative) + slack;
    if (!(found > 0.0) || too_much) {
        throw KernelError(making + ": the solid has " + shortest_text(found) +
                          " mm3, which no cut can leave");
    }
}

}  // namespace

Built build(const plan::Plan& plan, const plan::SkinResult& skin) {
    if (plan.rod) return build_rod(plan);
    if (!plan::is_prism(plan)) return build_bent(plan);
    const std::string making = making_text(plan);
    const std::string where = names_of(skin);
    SkinSolids made;
    const bool is_metal = skin.skin.pieces > 0 || !skin.overlapping_raised.empty();
    if (is_metal) made = make_solids(skin.skin, making);
    if (is_metal && !where.empty()) {
        made = take_overlaps(made, plan, skin, making);
        insist_on_validity(made, making);
    }
    if (auto findings = unsound_pieces(made, where); !findings.empty()) return {nullptr, findings};
    Threaded threaded = with_threads(std::move(made), plan, making);
    if (!threaded.findings.empty()) return {nullptr, std::move(threaded.findings)};
    auto body = std::make_shared<const KernelBody>(threaded.part.solids.front(), threaded.part.names);
    auto solid = std::make_shared<const Solid>(std::move(body));
    check_volume(*solid, skin, threaded.taken_mm3, making);
    return {std::move(solid), {}};
}

}  // namespace fitup::solid
