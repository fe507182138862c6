#include "sheets/template_views.hpp"

#include <algorithm>

#include "plan/joggle.hpp"
#include "plan/seen_from.hpp"
#include "sheets/profile.hpp"

namespace fitup::sheets {

namespace {

using plan::Side;

double reach_mm(const plan::Hole& hole) {
    double radius_mm = hole.slot_length_mm.value_or(hole.diameter_mm) / 2.0;
    if (hole.recess) radius_mm = std::max(radius_mm, hole.recess->diameter_mm / 2.0);
    return radius_mm;
}

std::vector<TemplateSpot> spots_of(const plan::Plan& plan, Side seen_from) {
    std::vector<TemplateSpot> spots;
    for (const plan::Hole& hole : plan.holes) {
        spots.push_back({hole.id, plan::seen_from(seen_from, hole.at_mm), reach_mm(hole),
                         hole.through || hole.from == seen_from});
    }
    return spots;
}

std::string side_words(const plan::Plan& plan, Side side) {
    const std::string& name = plan.side_names[side == Side::A ? 0 : 1];
    return std::string("the casting at ") + plan::to_text(side) + (name.empty() ? "" : " (" + name + ")");
}

TemplateView plate_view(const plan::Plan& plan, Side seen_from) {
    const Side lies_on = plan::other(seen_from);
    TemplateView view;
    view.suffix = std::string("-paper-") + plan::to_text(lies_on);
    view.title = plan::file_stem(plan) + ": template for " + side_words(plan, lies_on);
    view.words = {"Lies on the face of " + side_words(plan, lies_on) + ", this side up; or on face " +
                      plan::to_text(seen_from) + " of the plate, this side up.",
                  std::string("Seen from ") + plan::to_text(seen_from) +
                      "; Y is up. Dashed: blind, from the other face."};
    view.curves = side_profile(plan, seen_from).curves;
    view.spots = spots_of(plan, seen_from);
    return view;
}

TemplateView flat_view(const plan::Plan& plan, const plan::Plan& flat, const std::string& words) {
    TemplateView view;
    view.suffix = "-paper";
    view.title = plan::file_stem(plan) + ": template";
    view.words = {words, "Seen from above (side B); X is to the right, Y up."};
    const auto all = profiles(plan);
    if (!all.empty()) {
        view.curves = all.front().curves;
        view.lines = all.front().lines;
    }
    view.spots = spots_of(flat, Side::B);
    return view;
}

}  // namespace

std::vector<TemplateView> template_views(const plan::Plan& plan) {
    if (plan.rod) return {};
    if (plan.crank) return {flat_view(plan, plan, "Lies on the crank's blank, this side up.")};
    if (plan.arm) {
        const auto blank = plan::flat_blank(plan);
        if (!blank) return {};
        return {flat_view(plan, blank->plan, "Lies on the flat strip, this side up, before it is bent.")};
    }
    return {plate_view(plan, Side::B), plate_view(plan, Side::A)};
}

}  // namespace fitup::sheets
