#include "sheets/milled_list.hpp"

#include <algorithm>

#include "base/both_units.hpp"
#include "base/text.hpp"
#include "plan/seen_from.hpp"
#include "plan/stroke.hpp"
#include "sheets/size_text.hpp"

namespace fitup::sheets {

namespace {

using plan::Side;

std::optional<plan::Point> centre_of(const plan::Contour& contour) {
    const plan::Circle* circle = contour.circle();
    return circle != nullptr ? std::optional(circle->centre) : std::nullopt;
}

std::string fit_words(const plan::Plan& plan, Side side) {
    for (const plan::Register& one : plan.registers) {
        if (one.side == side && one.fit) return ", " + limits_text(*one.fit);
    }
    return "";
}

std::string diameter_words(const plan::Circle& circle) {
    return "diameter " + both_units(2.0 * circle.radius_mm);
}

std::string reach_words(const plan::Plan& plan, const plan::Box2& box) {
    const auto text = [&](double length_mm) {
        return plan.units == plan::Units::in ? readout_in(length_mm) : readout_mm(length_mm);
    };
    return "X " + text(box.least.x_mm) + " to " + text(box.most.x_mm) + ", Y " + text(box.least.y_mm) +
           " to " + text(box.most.y_mm) + (plan.units == plan::Units::in ? " in" : " mm");
}

MilledShape standing(const plan::Plan& plan, const plan::Raised& ring) {
    MilledShape shape;
    shape.id = ring.id;
    const plan::Contour outer = plan::seen_from(ring.side, ring.outer);
    shape.centre_mm = centre_of(outer);
    const bool is_register = ring.id.starts_with("register");
    shape.what = is_register ? "spigot, " : "boss, ";
    shape.what +=
        outer.circle() != nullptr ? diameter_words(*outer.circle()) : reach_words(plan, outer.box());
    shape.what += ", stands " + both_units(ring.height_mm) + " out of the face";
    if (ring.inner.size() == 1 && ring.inner.front().circle() != nullptr)
        shape.what += ", open inside to " + diameter_words(*ring.inner.front().circle());
    if (is_register) shape.what += fit_words(plan, ring.side);
    return shape;
}

const char* word_of(plan::PocketKind kind) {
    switch (kind) {
        case plan::PocketKind::register_recess:
            return "recess";
        case plan::PocketKind::hollow:
            return "pocket";
        case plan::PocketKind::relief:
            return "relief";
        case plan::PocketKind::mark:
            return "letters";
    }
    return "pocket";
}

plan::Box2 box_of(const plan::Pocket& pocket) {
    plan::Box2 all = plan::seen_from(pocket.side, pocket.areas.front().outer).box();
    for (const plan::Area& area : pocket.areas)
        all = plan::joined(all, plan::seen_from(pocket.side, area.outer).box());
    return all;
}

MilledShape cut_in(const plan::Plan& plan, const plan::Pocket& pocket) {
    MilledShape shape;
    shape.id = pocket.id;
    shape.through = pocket.through;
    shape.depth_mm = pocket.depth_mm;
    shape.what = std::string(word_of(pocket.kind)) + ", ";
    const plan::Circle* circle = pocket.areas.size() == 1 ? pocket.areas.front().outer.circle() : nullptr;
    if (circle != nullptr) {
        shape.centre_mm = plan::seen_from(pocket.side, pocket.areas.front().outer).circle()->centre;
        shape.what += diameter_words(*circle);
    } else {
        shape.what += reach_words(plan, box_of(pocket));
    }
    if (pocket.corner_radius_mm && pocket.kind != plan::PocketKind::mark)
        shape.what += ", inside corners R " + both_units(*pocket.corner_radius_mm);
    if (pocket.kind == plan::PocketKind::register_recess) shape.what += fit_words(plan, pocket.side);
    return shape;
}

}  // namespace

std::vector<MilledShape> milled_shapes(const plan::Plan& plan, Side side) {
    std::vector<MilledShape> shapes;
    for (const plan::Raised& ring : plan.raised) {
        if (ring.side == side) shapes.push_back(standing(plan, ring));
    }
    for (const plan::Pocket& pocket : plan.pockets) {
        if (pocket.side == side) shapes.push_back(cut_in(plan, pocket));
    }
    return shapes;
}

}  // namespace fitup::sheets
