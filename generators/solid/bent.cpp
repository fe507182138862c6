#include "solid/bent.hpp"

#include <BRepBuilderAPI_Transform.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "plan/joggle.hpp"
#include "solid/joggle_faces.hpp"
#include "solid/kernel_call.hpp"
#include "solid/overlap.hpp"
#include "solid/pieces.hpp"
#include "solid/solid_impl.hpp"
#include "solid/threaded_holes.hpp"
#include "solid/tools.hpp"

namespace fitup::solid {
namespace {

/// How far a hole from the side goes on past its end: out of the lug on the outside, and a little way into
/// the slit, so that no end of it lies in a face.
double past_end_mm(const plan::Plan& plan, double y_mm) {
    if (!plan.arm || !plan.arm->clamp) return beyond_mm;
    const plan::Clamp& clamp = *plan.arm->clamp;
    const bool is_outside = std::abs(y_mm) > clamp.lug_width_mm / 2.0 - plan::same_point_mm;
    return is_outside ? beyond_mm : std::min(beyond_mm, clamp.slit_mm / 4.0);
}

void append_drill(SkinSolids& tools, const plan::Plan& plan, const plan::CrossHole& hole) {
    const gp_Dir direction(hole.direction[0], hole.direction[1], hole.direction[2]);
    const double before_mm = past_end_mm(plan, hole.at_mm[1]);
    const double after_mm = past_end_mm(plan, hole.at_mm[1] + hole.direction[1] * hole.depth_mm);
    const gp_Pnt start =
        gp_Pnt(hole.at_mm[0], hole.at_mm[1], hole.at_mm[2]).Translated(gp_Vec(direction) * -before_mm);
    const TopoDS_Shape drill = BRepPrimAPI_MakeCylinder(gp_Ax2(start, direction), hole.diameter_mm / 2.0,
                                                        before_mm + hole.depth_mm + after_mm)
                                   .Shape();
    tools.solids.push_back(TopoDS::Solid(drill));
    for (TopExp_Explorer faces(drill, TopAbs_FACE); faces.More(); faces.Next())
        tools.names.Bind(faces.Current(), hole.id);
}

/// A leg with all that is cut into it, its face A at z = 0.
SkinSolids leg_solids(const plan::Plan& leg, const std::string& making) {
    const plan::SkinResult skin = plan::skin(leg);
    SkinSolids made = make_solids(skin.skin, making);
    SkinSolids drills;
    for (const plan::CrossHole& hole : leg.cross_holes) append_drill(drills, leg, hole);
    const bool is_plain =
        skin.overlapping.empty() && skin.overlapping_raised.empty() && drills.solids.empty();
    return is_plain ? made : take_overlaps(made, leg, skin, making, drills);
}

SkinSolids lifted(const SkinSolids& leg, double rise_mm) {
    gp_Trsf up;
    up.SetTranslation(gp_Vec(0.0, 0.0, rise_mm));
    BRepBuilderAPI_Transform lift(leg.solids.front(), up, true);
    SkinSolids result;
    result.solids.push_back(TopoDS::Solid(lift.Shape()));
    for (FaceNames::Iterator face(leg.names); face.More(); face.Next())
        result.names.Bind(lift.ModifiedShape(face.Key()), face.Value());
    return result;
}

void insist_on_legs(bool is_there, const std::string& making) {
    if (!is_there) throw KernelError(making + ": a cut or a boss reaches into a bend");
}

/// @param threads_mm3  room of modelled threads, which the closed form does not know
void check_volume(const Solid& solid, const plan::Plan& plan, double threads_mm3, const std::string& making) {
    const double found_mm3 = solid.volume_mm3() + threads_mm3;
    const auto known_mm3 = plan::slab_volume_mm3(plan);
    const double slack_mm3 = thread_relative * threads_mm3;
    const bool is_wrong =
        known_mm3 ? std::abs(found_mm3 - *known_mm3) > same_volume_relative * *known_mm3 + slack_mm3
                  : !(found_mm3 > 0.0);
    if (is_wrong)
        throw KernelError(making + ": the solid has " + shortest_text(found_mm3) + " mm3" +
                          (known_mm3 ? " where the plan says " + shortest_text(*known_mm3) + " mm3" : ""));
}

Built finished(SkinSolids made, const plan::Plan& plan, const std::string& making) {
    insist_on_validity(made, making);
    Threaded threaded = with_threads(std::move(made), plan, making);
    if (!threaded.findings.empty()) return {nullptr, std::move(threaded.findings)};
    auto solid = std::make_shared<const Solid>(
        std::make_shared<const KernelBody>(threaded.part.solids.front(), std::move(threaded.part.names)));
    check_volume(*solid, plan, threaded.taken_mm3, making);
    return {std::move(solid), {}};
}

Built build_joggled(const plan::Plan& plan, const std::string& making) {
    const plan::Joggle& joggle = *plan.body.joggle;
    const auto shape = plan::joggle_shape(joggle, plan.body.thickness_mm);
    const auto both = plan::legs(plan);
    insist_on_legs(shape && both, making);
    const SkinSolids first = leg_solids((*both)[0], making);
    const SkinSolids second = leg_solids((*both)[1], making);
    for (const SkinSolids* leg : {&first, &second}) {
        if (auto findings = unsound_pieces(*leg, ""); !findings.empty()) return {nullptr, findings};
    }
    const plan::JoggleProfile profile = plan::joggle_profile(joggle, plan.body.thickness_mm, *shape);
    return finished(joined_by_joggle(first, lifted(second, joggle.rise_mm), joggle, profile, making), plan,
                    making);
}

}  // namespace

Built build_bent(const plan::Plan& plan) {
    const std::string making = making_text(plan);
    return kernel_call(making, [&]() -> Built {
        if (plan.body.joggle) return build_joggled(plan, making);
        SkinSolids whole = leg_solids(plan, making);
        if (auto findings = unsound_pieces(whole, ""); !findings.empty()) return {nullptr, findings};
        return finished(std::move(whole), plan, making);
    });
}

}  // namespace fitup::solid
