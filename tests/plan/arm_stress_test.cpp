// Strength and springback of a bent strip, against handbook examples and limits that must come out.
#include "plan/arm_stress.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "plan/springback.hpp"

namespace fitup::plan {
namespace {

// Shigley, Mechanical Engineering Design, the crane hook of the section on curved beams (from memory): a
// rectangle of 0.75 x 4 in, inside radius 2 in, 5000 lbf at the section's centre of curvature: 16.9 kpsi
// inside.
TEST(CurvedBar, the_handbooks_crane_hook_comes_out) {
    EXPECT_NEAR(curved_bar_stress_mpa(5000.0 * 4.0, 5000.0, 0.75, 4.0, 2.0) / 1000.0, 16.9, 0.05);
}

TEST(CurvedBar, a_wide_bend_is_a_straight_bar) {
    // 6 M / (w t^2)
    const double straight = 6.0 * 1800.0 / (22.0 * 36.0);
    EXPECT_NEAR(curved_bar_stress_mpa(1800.0, 0.0, 22.0, 6.0, 1e5), straight, 1e-3 * straight);
    EXPECT_GT(curved_bar_stress_mpa(1800.0, 0.0, 22.0, 6.0, 6.0), straight)
        << "a tight bend bears more inside";
}

/// Saint-Venant's series for the shear stress at the middle of a rectangle's long side (Timoshenko, Theory of
/// Elasticity): G theta t [1 - 8 / pi^2 sum 1 / (n^2 cosh(n pi w / 2 t))], n odd.
double exact_torsion_mpa(double torque, double w, double t) {
    double shear = 0.0, stiffness = 0.0;
    for (int n = 1; n < 60; n += 2) {
        const double arg = n * M_PI * w / (2.0 * t);
        shear += 1.0 / (n * n * std::cosh(arg));
        stiffness += std::tanh(arg) / std::pow(n, 5);
    }
    const double twist =
        torque / (w * t * t * t / 3.0 * (1.0 - 192.0 / std::pow(M_PI, 5) * t / w * stiffness));
    return twist * t * (1.0 - 8.0 / (M_PI * M_PI) * shear);
}

TEST(Torsion, of_a_rectangle_is_within_four_percent_of_the_series) {
    for (const double width_mm : {6.0, 9.0, 12.0, 22.0, 60.0}) {
        const double exact = exact_torsion_mpa(1000.0, width_mm, 6.0);
        EXPECT_NEAR(torsion_stress_mpa(1000.0, width_mm, 6.0) / exact, 1.0, 0.045) << width_mm;
    }
    EXPECT_EQ(torsion_stress_mpa(1000.0, 6.0, 22.0), torsion_stress_mpa(1000.0, 22.0, 6.0));
}

Plan arm(double rise_mm, double force_n) {
    Plan plan;
    plan.body.thickness_mm = 6.0;
    plan.body.joggle = Joggle{rise_mm, 27.0, 24.0, 6.0, 0.42};
    plan.arm = Arm{86.0, 22.0, 0.0, 0, force_n, {}};
    return plan;
}

// By hand: bending 6 x 200 x 59 / (6 x 22^2) = 24.38; twist 1800 / (22 x 36) x (3 + 1.8 x 6 / 22) = 7.934.
TEST(JoggleStress, is_bending_and_twist_across_and_a_curved_bar_along) {
    const auto stress = joggle_stress(arm(9.0, 200.0));
    ASSERT_TRUE(stress);
    EXPECT_NEAR(stress->across_mpa, std::hypot(24.380, std::sqrt(3.0) * 7.9339), 1e-3);
    EXPECT_NEAR(stress->along_mpa, curved_bar_stress_mpa(1800.0, 200.0, 22.0, 6.0, 6.0), 1e-12);
    EXPECT_EQ(joggle_stress(arm(-9.0, 200.0))->across_mpa, stress->across_mpa) << "down is as up";
    EXPECT_NEAR(joggle_stress(arm(9.0, 400.0))->along_mpa, 2.0 * stress->along_mpa, 1e-12);
}

TEST(JoggleStress, without_force_or_joggle_there_is_none) {
    Plan plan = arm(9.0, 200.0);
    plan.arm->rod_force_n.reset();
    EXPECT_FALSE(joggle_stress(plan));
    plan = arm(9.0, 200.0);
    plan.body.joggle.reset();
    EXPECT_FALSE(joggle_stress(plan));
}

Material mild_steel() { return {"mild steel", 7850.0, 200.0, 250.0, {}, "steel", "test"}; }

// Trade practice has the closed form at 0.3 to 0.7 degrees in 90 for mild steel and stainless round about 1
// t.
TEST(Springback, runs_from_the_closed_form_to_what_the_trade_sees) {
    const auto back = springback(mild_steel(), 6.0, 6.0, Angle::from_degrees(90.0));
    ASSERT_TRUE(back);
    EXPECT_GT(back->least.degrees(), 0.2);
    EXPECT_LT(back->least.degrees(), 0.7);
    EXPECT_DOUBLE_EQ(back->most.degrees(), 3.0);
    Material stainless = mild_steel();
    stainless.family = "stainless";
    EXPECT_DOUBLE_EQ(springback(stainless, 6.0, 6.0, Angle::from_degrees(45.0))->most.degrees(), 3.5);
}

TEST(Springback, of_an_unknown_material_is_not_guessed) {
    EXPECT_FALSE(springback({"oddium", 5000.0, {}, {}, {}, "", "test"}, 6.0, 6.0, Angle::from_degrees(90.0)));
}

}  // namespace
}  // namespace fitup::plan
