// STEP files measured: our own against the plan, the kernel's own manner of writing against closed forms.
#include <gtest/gtest.h>

#include <BRepBuilderAPI_Transform.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRep_Builder.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS_Compound.hxx>
#include <numbers>

#include "base/error.hpp"
#include "exchange/foreign_step.hpp"
#include "exchange/kernel.hpp"
#include "solid/plates.hpp"

namespace fitup::exchange {
namespace {

using plan::Side;
using std::numbers::pi;

constexpr double place_mm = 1e-6;
constexpr double relative = 1e-9;

Measurement read_back(const plan::Plan& plan, const StepOptions& options = {}) {
    const solid::Built built = kernel().build(plan, plan::skin(plan));
    return kernel().measure_step(kernel().step_text(*built.solid, plan, options), "plate.step");
}

std::vector<Cylinder> named(const Measurement& found, const std::string& name) {
    std::vector<Cylinder> result;
    for (const auto& cylinder : found.cylinders) {
        if (cylinder.names == std::vector<std::string>{name}) result.push_back(cylinder);
    }
    return result;
}

TEST(StepMeasure, every_feature_comes_back) {
    plan::Plan plan = plates::round_plate();
    plan.raised.push_back({"register-A", Side::A, plan::Contour(plan::Circle{{0, 0}, 95}), {}, 5});
    plan.raised.back().inner.emplace_back(plan::Circle{{0, 0}, 90});
    plan.holes.push_back(plates::blind_hole("blind", {0, 70}, 10, 12));
    plan.holes.push_back(plates::hole("slot", {-60, 0}, 8));
    plan.holes.back().slot_length_mm = 20;
    plan.holes.back().slot_direction = Angle::from_degrees(25);
    plan.holes.push_back(plates::hole("sunk", {50, 50}, 8));
    plan.holes.back().countersink = plan::Countersink{Side::B, 16, Angle::from_degrees(90)};
    const plan::Skin skin = plan::skin(plan).skin;
    for (const auto unit : {plan::Units::mm, plan::Units::in}) {
        StepOptions options;
        options.unit = unit;
        const Measurement found = read_back(plan, options);
        EXPECT_EQ(found.unit, unit == plan::Units::mm ? "mm" : "in");
        EXPECT_EQ(found.product_name, "winch-adapter");
        EXPECT_EQ(found.bodies, 1);
        EXPECT_TRUE(found.closed);
        EXPECT_NEAR(found.volume_mm3, skin.volume_mm3, relative * skin.volume_mm3);
        EXPECT_NEAR(found.area_mm2, skin.area_mm2, relative * skin.area_mm2);
        for (std::size_t i = 0; i < 3; ++i) {
            EXPECT_NEAR(found.box.least[i], skin.box.least[i], place_mm);
            EXPECT_NEAR(found.box.most[i], skin.box.most[i], place_mm);
        }
        const auto blind = named(found, "blind");
        ASSERT_EQ(blind.size(), 1u);
        EXPECT_TRUE(blind[0].is_hole);
        EXPECT_NEAR(blind[0].radius_mm, 5, place_mm);
        EXPECT_NEAR(blind[0].low_mm, 8, place_mm);
        EXPECT_NEAR(blind[0].high_mm, 20, place_mm);
        EXPECT_NEAR(blind[0].axis_point[1], 70, place_mm);
        EXPECT_EQ(blind[0].axis[2], 1.0);
        EXPECT_EQ(blind[0].sweep_deg, 360.0);
        const auto ends = named(found, "slot");
        ASSERT_EQ(ends.size(), 2u);
        for (const auto& end : ends) EXPECT_NEAR(end.sweep_deg, 180.0, 1e-6);
        EXPECT_NEAR(std::hypot(ends[0].axis_point[0] - ends[1].axis_point[0],
                               ends[0].axis_point[1] - ends[1].axis_point[1]),
                    12, place_mm);
        ASSERT_EQ(named(found, "outline").size(), 1u);
        EXPECT_FALSE(named(found, "outline")[0].is_hole);
        ASSERT_EQ(found.cones.size(), 2u);
        const ConeFace& point = found.cones[0].radius_low_mm < 1 ? found.cones[0] : found.cones[1];
        EXPECT_NEAR(point.radius_low_mm, 0, place_mm);
        EXPECT_NEAR(point.radius_high_mm, 5, place_mm);
        EXPECT_NEAR(point.low_mm, 8 - 5 / std::tan(59 * pi / 180), place_mm);
        EXPECT_TRUE(point.is_hole);
    }
}

TEST(StepMeasure, a_wall_of_two_half_cylinders_is_one_hole) {
    using plan::Arc;
    plan::Plan plan = plates::round_plate();
    const plan::Contour ring(std::vector<plan::Edge>{{{68, 0}, Arc{{60, 0}}}, {{52, 0}, Arc{{60, 0}}}});
    plan.pockets.push_back(plates::relief("window", ring, Side::B, 20));
    plan.pockets.back().through = true;
    const auto walls = named(read_back(plan), "window");
    ASSERT_EQ(walls.size(), 1u);
    EXPECT_EQ(walls[0].sweep_deg, 360.0);
}

TEST(StepMeasure, a_boolean_part_comes_back) {
    plan::Plan plan = plates::round_plate();
    plan.holes.push_back(plates::blind_hole("blind", {65, 0}, 12, 10));
    plan.pockets.push_back(
        plates::relief("relief-1", plan::rectangle({70, 0}, 20, 30, 3, Angle()), Side::A, 8));
    const solid::Built built = kernel().build(plan, plan::skin(plan));
    const Measurement found = kernel().measure_step(kernel().step_text(*built.solid, plan, {}), "plate.step");
    EXPECT_EQ(found.bodies, 1);
    EXPECT_TRUE(found.closed);
    EXPECT_NEAR(found.volume_mm3, built.solid->volume_mm3(), relative * found.volume_mm3);
    EXPECT_EQ(named(found, "blind").size(), 1u);
}

TEST(StepMeasure, a_tilted_foreign_rod_with_ball) {
    gp_Trsf turn;
    turn.SetRotation(gp_Ax1(gp_Pnt(1, 2, 3), gp_Dir(1, 1, 0)), 0.4);
    TopoDS_Compound both;
    const BRep_Builder builder;
    builder.MakeCompound(both);
    builder.Add(both, BRepBuilderAPI_Transform(BRepPrimAPI_MakeCylinder(7, 30).Shape(), turn, true).Shape());
    builder.Add(both, BRepPrimAPI_MakeSphere(gp_Pnt(100, 0, 0), 9).Shape());
    const Measurement found = kernel().measure_step(testing::foreign_step(both), "foreign.step");
    EXPECT_EQ(found.bodies, 2);
    EXPECT_TRUE(found.closed);
    const double volume = pi * 49 * 30 + pi * 4 / 3 * 729;
    EXPECT_NEAR(found.volume_mm3, volume, relative * volume);
    EXPECT_NEAR(found.area_mm2, pi * (98 + 14 * 30) + 4 * pi * 81, 1e-6);
    ASSERT_EQ(found.cylinders.size(), 1u);
    EXPECT_FALSE(found.cylinders[0].is_hole);
    EXPECT_NEAR(found.cylinders[0].high_mm - found.cylinders[0].low_mm, 30, place_mm);
    const auto& axis = found.cylinders[0].axis;
    EXPECT_NEAR(axis[2], std::cos(0.4), 1e-9);
}

TEST(StepMeasure, an_open_shell_is_not_closed_and_has_no_body) {
    const TopoDS_Shape box = BRepPrimAPI_MakeBox(10, 20, 30).Shape();
    const BRep_Builder builder;
    TopoDS_Shell shell;
    builder.MakeShell(shell);
    TopExp_Explorer faces(box, TopAbs_FACE);
    for (int i = 0; i < 5; ++i, faces.Next()) builder.Add(shell, faces.Current());
    const Measurement found = kernel().measure_step(testing::foreign_step(shell), "open.step");
    EXPECT_EQ(found.bodies, 0);
    EXPECT_FALSE(found.closed);
    EXPECT_EQ(found.volume_mm3, 0.0);
}

}  // namespace
}  // namespace fitup::exchange
