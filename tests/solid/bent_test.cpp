// Bent strips as solids: exact surfaces, closed-form volumes, one sound body.
#include "solid/bent.hpp"

#include <gtest/gtest.h>

#include <BRepAdaptor_Surface.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <cmath>
#include <map>
#include <numbers>

#include "base/error.hpp"
#include "parts/arms.hpp"
#include "parts/kinds.hpp"
#include "plan/joggle.hpp"
#include "solid/solid_impl.hpp"
#include "sound.hpp"

namespace fitup::solid {
namespace {

using parts::testing::ArmText;

constexpr double pi = std::numbers::pi;
/// Sums of some tens of faces, each exact to 1e-15.
constexpr double volume_relative = 1e-11;

plan::Plan plan_of(const ArmText& arm) {
    const parts::Planned planned = parts::plan_file(parts::testing::arm_text(arm), "a.json");
    if (!planned.plan) throw std::invalid_argument(parameters::to_text(planned.faults.front()));
    return *planned.plan;
}

ArmText joggled(const std::string& rise, const std::string& run, const std::string& radius) {
    return {.joggle = R"({"rise": )" + rise + R"(, "start": 27, "run": )" + run + R"(, "inside_radius": )" +
                      radius + "}"};
}

/// Radii of the cylinders whose axis lies along Y, by the name of their face.
std::multimap<std::string, double> bend_radii(const Solid& solid) {
    std::multimap<std::string, double> radii;
    const KernelBody& body = body_of(solid);
    for (TopExp_Explorer faces(body.shape, TopAbs_FACE); faces.More(); faces.Next()) {
        const BRepAdaptor_Surface surface(TopoDS::Face(faces.Current()), false);
        if (surface.GetType() != GeomAbs_Cylinder) continue;
        if (std::abs(surface.Cylinder().Axis().Direction().Y()) < 0.5) continue;
        radii.emplace(body.names.Find(faces.Current()), surface.Cylinder().Radius());
    }
    return radii;
}

TEST(Bent, a_joggle_is_true_cylinders_of_inside_and_outside_radius) {
    for (const char* rise : {"9", "-9"}) {
        const Solid solid = built(plan_of(joggled(rise, "24", "6")));
        expect_valid(solid);
        const auto radii = bend_radii(solid);
        ASSERT_EQ(radii.size(), 4u);
        for (const char* bend : {"bend-1", "bend-2"}) {
            const auto [first, last] = radii.equal_range(bend);
            std::vector<double> both;
            for (auto radius = first; radius != last; ++radius) both.push_back(radius->second);
            std::sort(both.begin(), both.end());
            ASSERT_EQ(both.size(), 2u) << bend;
            EXPECT_DOUBLE_EQ(both[0], 6.0);
            EXPECT_DOUBLE_EQ(both[1], 12.0);
        }
    }
}

// Width x thickness x mid-line, two round ends, a boss, bore and slot, all by hand.
TEST(Bent, volume_is_the_closed_form) {
    for (const double rise_mm : {9.0, -9.0}) {
        const Solid solid = built(plan_of(joggled(rise_mm > 0 ? "9" : "-9", "24", "6")));
        const double angle = std::atan2(9.0 - 18.0, 24.0) + std::atan2(18.0, std::sqrt(576.0 + 81.0 - 324.0));
        const double mid_line = 27.0 + 40.0 + 18.0 * angle + std::sqrt(576.0 + 81.0 - 324.0);
        const double joins = std::sqrt(169.0 - 121.0);
        const double half_angle = std::asin(11.0 / 13.0);
        // The boss's disc stands out of the strip's round end; the strip starts where they meet.
        const double disc = 169.0 * (pi - half_angle) + 11.0 * joins - 22.0 * joins;
        const double slab = 6.0 * (22.0 * mid_line + disc + pi * 121.0 / 2.0);
        const double slot = 8.0 * 10.0 + pi * 16.0;
        const double volume = slab + 8.0 * pi * 169.0 - 14.0 * pi * 36.0 - 6.0 * slot;
        EXPECT_NEAR(solid.volume_mm3(), volume, volume_relative * volume);
        const plan::Box box = solid.box();
        EXPECT_NEAR(box.least[2], std::min(0.0, rise_mm), 1e-9);
        EXPECT_NEAR(box.most[2], std::max(14.0, 6.0 + rise_mm), 1e-9);
        EXPECT_NEAR(box.least[0], -13.0, 1e-9);
        EXPECT_NEAR(box.most[0], 102.0, 1e-9);
    }
}

TEST(Bent, bends_may_meet_without_a_straight_and_be_quarter_turns) {
    // R 9: least run of a rise of 9 is sqrt(9 (36 - 9)); a run of 18 makes quarter turns.
    for (const auto& [rise, run] :
         {std::pair{"9", "15.58845726811990"}, {"18", "18"}, {"30", "18"}, {"-30", "18"}}) {
        const plan::Plan plan = plan_of(joggled(rise, run, "6"));
        const Solid solid = built(plan);
        expect_valid(solid);
        const double volume = *plan::slab_volume_mm3(plan);
        EXPECT_NEAR(solid.volume_mm3(), volume, volume_relative * volume) << rise << " in " << run;
    }
}

TEST(Bent, the_eye_is_cut_at_its_own_level) {
    ArmText arm = joggled("-9", "24", "6");
    arm.eye = R"({"bore": 8})";
    EXPECT_EQ(walls_named(built(plan_of(arm)), "eye"),
              (std::vector<std::string>{"hole r 4 at 86, 0 from -9 to -3"}));
}

constexpr const char* clamped =
    R"({"bore": 12, "boss": {"diameter": 26, "height": 14}, "clamp": {"slit": 2, "bolt": "M6"}})";

/// What slit and bolt take out of the lugs of a clamp, in closed form.
double clamp_cut_mm3(const plan::Plan& plan) {
    const plan::Clamp& clamp = *plan.arm->clamp;
    const double half = clamp.slit_mm / 2.0;
    const double bore = plan.holes[0].diameter_mm / 2.0;
    // Of the slit's stripe from the axis to the lugs' end the bore has taken its part already.
    const double in_bore = half * std::sqrt(bore * bore - half * half) + bore * bore * std::asin(half / bore);
    const double slit = clamp.slit_mm * clamp.lug_end_mm - in_bore;
    double drilled = 0.0;
    for (const plan::CrossHole& hole : plan.cross_holes)
        drilled += pi / 4.0 * hole.diameter_mm * hole.diameter_mm * hole.depth_mm;
    return slit * clamp.lug_height_mm + drilled;
}

TEST(Bent, a_clamped_arm_is_whole_less_slit_and_bolt) {
    for (const char* joggle : {R"({"rise": 9, "start": 27, "run": 24, "inside_radius": 6})",
                               R"({"rise": -9, "start": 27, "run": 24, "inside_radius": 6})", ""}) {
        ArmText arm{.joggle = joggle, .pivot = clamped};
        const plan::Plan plan = plan_of(arm);
        const Solid solid = built(plan);
        expect_valid(solid);
        plan::Plan whole = plan;
        whole.cross_holes.clear();
        whole.pockets.clear();
        const double volume = *plan::slab_volume_mm3(whole) - clamp_cut_mm3(plan);
        EXPECT_NEAR(solid.volume_mm3(), volume, 1e-9 * volume) << joggle;
    }
}

TEST(Bent, lugs_wider_than_the_boss_have_a_shoulder) {
    ArmText arm{
        .pivot =
            R"({"bore": 9, "boss": {"diameter": 15, "height": 20}, "clamp": {"slit": 1.5, "bolt": "M8"}})"};
    const plan::Plan plan = plan_of(arm);
    ASSERT_GT(plan.arm->clamp->lug_width_mm, 22.0);
    const Solid solid = built(plan);
    expect_valid(solid);
    plan::Plan whole = plan;
    whole.cross_holes.clear();
    whole.pockets.clear();
    const double volume = *plan::slab_volume_mm3(whole) - clamp_cut_mm3(plan);
    EXPECT_NEAR(solid.volume_mm3(), volume, 1e-9 * volume);
}

TEST(Bent, a_cut_in_a_bend_is_told_and_nothing_is_made) {
    plan::Plan plan = plan_of({});
    plan.holes[1].at_mm.x_mm = 45.0;
    EXPECT_THROW(build(plan, plan::skin(plan)), KernelError);
}

}  // namespace
}  // namespace fitup::solid
