#include <cmath>
#include <numbers>

#include "parts/plate_shape.hpp"
#include "parts/plates.hpp"

namespace fitup::parts {
namespace {

using namespace testing;
using plan::PocketKind;
using plan::Side;
using std::numbers::pi;

plan::Slab body_of(const std::string& outline, const std::string& extra = "") {
    return plan_with(extra, {.outline = outline}).body;
}

TEST(Outline, of_each_shape_has_its_area) {
    EXPECT_NEAR(body_of(R"({"round": {"diameter": 430}})").outline.area_mm2(), pi * 215.0 * 215.0, 1e-6);
    EXPECT_NEAR(body_of(R"({"rectangle": {"width": 300, "height": 200}})").outline.area_mm2(), 60000.0, 1e-6);
    EXPECT_NEAR(
        body_of(R"({"rectangle": {"width": 300, "height": 200, "corner_radius": 20}})").outline.area_mm2(),
        60000.0 - (4.0 - pi) * 400.0, 1e-6);
    EXPECT_NEAR(
        body_of(R"({"polygon": {"points": [[-100, -100], [-100, 100], [100, 100]]}})").outline.area_mm2(),
        20000.0, 1e-6);
}

TEST(Outline, a_rectangle_may_be_all_corner) {
    EXPECT_NEAR(
        body_of(R"({"rectangle": {"width": 300, "height": 200, "corner_radius": 100}})").outline.area_mm2(),
        100.0 * 200.0 + pi * 1e4, 1e-6);
    EXPECT_NEAR(
        body_of(R"({"rectangle": {"width": 200, "height": 200, "corner_radius": 100}})").outline.area_mm2(),
        pi * 1e4, 1e-6);
}

// Two circles of 50 (26 mm recess or 8 mm hole, and the margin) would be told apart by the box.
TEST(Outline, around_keeps_its_margin_outside_recesses_bore_and_registers) {
    const std::string holes =
        R"("bore": {"diameter": 60}, "registers": [{"side": "A", "kind": "recess", "diameter": 90,
        "depth": 4}], "patterns": [{"name": "p", "seen_from": "B", "points": [[100, 0], [-120, 0]],
        "hole": {"kind": "drilled", "diameter": 8, "recess": {"diameter": 26, "depth": 5}}}])";
    const plan::Box2 box = body_of(R"({"around": {"margin": 14}})", holes).outline.box();
    EXPECT_NEAR(box.most.x_mm, 100.0 + 13.0 + 14.0, 1e-9);
    EXPECT_NEAR(box.least.x_mm, -120.0 - 13.0 - 14.0, 1e-9);
    EXPECT_NEAR(box.most.y_mm, 45.0 + 14.0, 1e-9) << "the register, as the bore is smaller";
}

TEST(Outline, around_nothing_is_a_fault) {
    EXPECT_EQ(messages_with("", {.outline = R"({"around": {"margin": 14}})"}),
              (Messages{"outline.around: there is no hole, bore or register to go around"}));
}

TEST(Outline, of_a_shape_that_does_not_exist_is_a_fault) {
    EXPECT_EQ(
        messages_with("",
                      {.outline = R"({"rectangle": {"width": 300, "height": 200, "corner_radius": 101}})"}),
        (Messages{
            "outline.rectangle.corner_radius: found 101, wanted at most half the shorter side, 100 mm"}));
    EXPECT_EQ(
        messages_with("",
                      {.outline = R"({"polygon": {"points": [[0, 0], [100, 100], [100, 0], [0, 100]]}})"}),
        (Messages{
            "outline.polygon.points: these points make no area, or an edge crosses or touches another"}));
    EXPECT_EQ(
        messages_with("", {.outline = R"({"polygon": {"points": [[0, 0], [50, 50], [100, 100]]}})"}),
        (Messages{
            "outline.polygon.points: these points make no area, or an edge crosses or touches another"}));
    EXPECT_EQ(
        messages_with(
            "", {.outline = R"({"polygon": {"points": [[0, 0], [100, 0], [0, 100]], "corner_radius": 80}})"}),
        (Messages{
            "outline.polygon.corner_radius: found 80, wanted a radius that fits every edge between its two "
            "corners"}));
}

TEST(EdgeBreak, is_noted_or_modelled) {
    const auto noted = plan_with(R"("edge_break": 0.5)").body;
    EXPECT_EQ(noted.edge_break_mm, 0.5);
    EXPECT_FALSE(noted.edge_break_modelled);
    const auto modelled = plan_with(R"("edge_break": {"size": "1/16 in", "modelled": true})").body;
    EXPECT_NEAR(*modelled.edge_break_mm, 1.5875, 1e-12);
    EXPECT_TRUE(modelled.edge_break_modelled);
}

TEST(EdgeBreak, that_eats_an_edge_is_a_fault) {
    EXPECT_EQ(messages_with(R"("edge_break": {"size": 20, "modelled": true})"),
              (Messages{"edge_break.size: found 20, wanted less than half the thickness, 20 mm"}));
    EXPECT_EQ(
        messages_with(R"("edge_break": {"size": 5, "modelled": true})",
                      {.outline = R"({"rectangle": {"width": 300, "height": 200, "corner_radius": 4}})"}),
        (Messages{"edge_break.size: found 5, wanted a size smaller than every edge and corner radius of the "
                  "outline"}));
}

TEST(Register, a_spigot_is_a_ring_from_its_bore) {
    const auto plan = plan_with(R"("bore": {"diameter": 150}, "registers": [
        {"side": "A", "kind": "spigot", "diameter": 361.9, "bore": 330, "height": 5, "fit": "g6", "mates_with": 361.95},
        {"side": "B", "kind": "spigot", "diameter": 200, "height": 3}])");
    ASSERT_EQ(plan.raised.size(), 2u);
    EXPECT_EQ(plan.raised[0].id, "register-A");
    EXPECT_EQ(plan.raised[0].side, Side::A);
    EXPECT_EQ(plan.raised[0].height_mm, 5.0);
    EXPECT_EQ(plan.raised[0].outer.circle()->radius_mm, 361.9 / 2.0);
    EXPECT_EQ(plan.raised[0].inner.at(0).circle()->radius_mm, 165.0);
    EXPECT_EQ(plan.raised[1].inner.at(0).circle()->radius_mm, 75.0) << "the plate's bore by default";
    ASSERT_EQ(plan.registers.size(), 2u);
    EXPECT_TRUE(plan.registers[0].is_spigot);
    EXPECT_EQ(plan.registers[0].mates_with_mm, 361.95);
    ASSERT_TRUE(plan.registers[0].fit);
    EXPECT_EQ(plan.registers[0].fit->upper_um, -18.0) << "ISO 286-2: g6 over 315 to 400 mm is -18 / -54";
    EXPECT_EQ(plan.registers[0].fit->lower_um, -54.0);
    EXPECT_TRUE(plan.pockets.empty());
}

TEST(Register, a_spigot_without_any_bore_is_a_disc) {
    const auto plan =
        plan_with(R"("registers": [{"side": "B", "kind": "spigot", "diameter": 200, "height": 3}])");
    EXPECT_TRUE(plan.raised.at(0).inner.empty());
}

TEST(Register, a_recess_is_a_pocket) {
    const auto plan = plan_with(R"("bore": {"diameter": 150}, "registers": [
        {"side": "B", "kind": "recess", "diameter": 170.05, "depth": 6}, {"side": "B", "kind": "recess", "diameter": 200,
         "depth": 2}])");
    ASSERT_EQ(plan.pockets.size(), 2u);
    EXPECT_EQ(plan.pockets[0].id, "register-B");
    EXPECT_EQ(plan.pockets[1].id, "register-B-2");
    EXPECT_EQ(plan.pockets[0].kind, PocketKind::register_recess);
    EXPECT_NEAR(plan::area_mm2(plan.pockets[0].areas.at(0)), pi * 85.025 * 85.025, 1e-6);
    EXPECT_EQ(plan.pockets[0].depth_mm, 6.0);
    EXPECT_EQ(plan.registers[0].length_mm, 6.0);
    EXPECT_FALSE(plan.registers[0].mates_with_mm);
}

TEST(Register, that_leaves_or_takes_no_metal_is_a_fault) {
    const auto messages = [](const std::string& reg) {
        return messages_with(R"("bore": {"diameter": 150}, "registers": [)" + reg + "]");
    };
    EXPECT_EQ(messages(R"({"side": "A", "kind": "spigot", "diameter": 200, "bore": 200, "height": 5})"),
              (Messages{"registers[0].bore: found 200, wanted less than the spigot's diameter, 200 mm"}));
    EXPECT_EQ(messages(R"({"side": "A", "kind": "spigot", "diameter": 140, "height": 5})"),
              (Messages{"registers[0].diameter: found 140, wanted more than the plate's bore, 150 mm"}));
    EXPECT_EQ(messages(R"({"side": "A", "kind": "spigot", "diameter": 200, "bore": 140, "height": 5})"),
              (Messages{"registers[0].bore: found 140, wanted at least the plate's bore, 150 mm"}));
    EXPECT_EQ(messages(R"({"side": "A", "kind": "recess", "diameter": 150, "depth": 5})"),
              (Messages{"registers[0].diameter: found 150, wanted more than the plate's bore, 150 mm"}));
    EXPECT_EQ(messages(R"({"side": "A", "kind": "recess", "diameter": 170, "depth": 40})"),
              (Messages{"registers[0].depth: found 40, wanted less than the thickness, 40 mm"}));
}

TEST(Relief, of_each_shape_is_a_pocket) {
    const auto plan = plan_with(R"("reliefs": [
        {"side": "B", "circle": {"at": [-60, -105], "diameter": 50}, "depth": 12},
        {"side": "B", "slot": {"from": [-40, 98], "to": [40, 98], "width": 22}, "depth": 10},
        {"side": "A", "rectangle": {"at": [66, 74], "width": 30, "height": 20, "corner_radius": 4, "angle": 90},
         "depth": "through"},
        {"side": "A", "polygon": {"points": [[100, 0], [140, 0], [100, 40]]}, "depth": 5}])");
    ASSERT_EQ(plan.pockets.size(), 4u);
    const double areas_mm2[] = {pi * 625.0, 80.0 * 22.0 + pi * 121.0, 600.0 - (4.0 - pi) * 16.0, 800.0};
    for (std::size_t i = 0; i < 4; ++i) {
        EXPECT_EQ(plan.pockets[i].id, "relief-" + std::to_string(i + 1));
        EXPECT_EQ(plan.pockets[i].kind, PocketKind::relief);
        EXPECT_NEAR(plan::area_mm2(plan.pockets[i].areas.at(0)), areas_mm2[i], 1e-6);
    }
    EXPECT_FALSE(plan.pockets[0].corner_radius_mm);
    EXPECT_EQ(plan.pockets[1].corner_radius_mm, 11.0);
    EXPECT_EQ(plan.pockets[2].corner_radius_mm, 4.0);
    EXPECT_TRUE(plan.pockets[2].through);
    EXPECT_EQ(plan.pockets[2].depth_mm, 40.0);
    EXPECT_NEAR(plan.pockets[2].areas[0].outer.box().most.x_mm, 76.0, 1e-9) << "turned a quarter";
}

TEST(Relief, of_a_shape_that_does_not_exist_is_a_fault) {
    EXPECT_EQ(
        messages_with(R"("reliefs": [{"side": "B", "circle": {"at": [0, 0], "diameter": 50}, "depth": 40}])"),
        (Messages{"reliefs[0].depth: found 40, wanted less than the thickness, 40 mm; or \"through\""}));
    EXPECT_EQ(
        messages_with(
            R"("reliefs": [{"side": "B", "slot": {"from": [5, 5], "to": [5, 5], "width": 9}, "depth": 4}])"),
        (Messages{"reliefs[0].slot: both ends lie at one place, wanted two places (or a circle)"}));
}

// SAE J617 No. 4, found in a published table: pilot bore 361.95 to 362.077, circle 381, 12 holes 3/8-16 or
// M10.
TEST(Housing, brings_pattern_and_spigot) {
    const auto plan = plan_with(R"("bore": {"diameter": 150}, "housing": {"side": "A", "standard": "SAE 4",
                                "threads": "inch"})");
    ASSERT_EQ(plan.holes.size(), 13u);
    EXPECT_TRUE(plan.patterns.at(0).from_standard);
    EXPECT_EQ(plan.patterns[0].name, "housing");
    const double spacing = pi / 6.0;
    for (int i = 0; i < 12; ++i) {
        const plan::Hole& hole = hole_named(plan, "housing-" + std::to_string(i + 1));
        const double angle = pi / 2.0 + spacing / 2.0 + i * spacing;
        EXPECT_NEAR(hole.at_mm.x_mm, 190.5 * std::cos(angle), 1e-9);
        EXPECT_NEAR(hole.at_mm.y_mm, 190.5 * std::sin(angle), 1e-9);
        EXPECT_EQ(hole.from, Side::B) << "from the other side";
        EXPECT_TRUE(hole.through);
        EXPECT_FALSE(hole.recess);
        EXPECT_NEAR(hole.diameter_mm, 13.0 / 32.0 * 25.4, 1e-9) << "ASME B18.2.8 normal";
    }
    ASSERT_EQ(plan.raised.size(), 1u);
    EXPECT_EQ(plan.raised[0].side, Side::A);
    EXPECT_NEAR(plan.raised[0].outer.circle()->radius_mm, (361.95 - 0.05) / 2.0, 1e-9);
    EXPECT_EQ(plan.raised[0].inner.at(0).circle()->radius_mm, 75.0);
    EXPECT_EQ(plan.raised[0].height_mm, 5.0);
    EXPECT_EQ(plan.registers.at(0).mates_with_mm, 361.95);
    EXPECT_EQ(plan.registers[0].mates_most_mm, 362.077);
}

TEST(Housing, on_b_is_drilled_from_a_and_may_be_metric) {
    const auto plan = plan_with(R"("housing": {"side": "B", "standard": "5", "threads": "metric"})",
                                {.outline = R"({"round": {"diameter": 380}})"});
    ASSERT_EQ(plan.holes.size(), 8u) << "J617 No. 5";
    EXPECT_EQ(plan.holes[0].from, Side::A);
    EXPECT_EQ(plan.holes[0].diameter_mm, 11.0) << "ISO 273 medium, M10";
    EXPECT_EQ(plan.raised.at(0).side, Side::B);
}

TEST(Housing, gives_way_to_the_files_own_pattern_and_register) {
    const auto plan = plan_with(R"("housing": {"side": "A", "standard": "SAE 4", "threads": "inch"},
        "registers": [{"side": "A", "kind": "spigot", "diameter": 361.8, "height": 4}],
        "patterns": [{"name": "housing", "seen_from": "B", "points": [[100, 0]], "hole": {"kind": "drilled", "diameter": 8}}])");
    EXPECT_EQ(plan.holes.size(), 1u);
    EXPECT_FALSE(plan.patterns.at(0).from_standard);
    ASSERT_EQ(plan.raised.size(), 1u);
    EXPECT_EQ(plan.raised[0].height_mm, 4.0);
    EXPECT_EQ(plan.registers.at(0).mates_with_mm, 361.95) << "it still enters the housing";
    const auto other = plan_with(R"("housing": {"side": "A", "standard": "SAE 4", "threads": "inch"},
        "registers": [{"side": "B", "kind": "recess", "diameter": 170, "depth": 4}])");
    EXPECT_EQ(other.raised.size(), 1u) << "a register on the other side leaves the brought one";
    EXPECT_FALSE(other.registers.at(1).mates_with_mm);
}

TEST(Housing, with_a_bore_wider_than_its_spigot_is_a_fault) {
    EXPECT_EQ(
        messages_with(
            R"("bore": {"diameter": 370}, "housing": {"side": "A", "standard": "SAE 4", "threads": "inch"})"),
        (Messages{"housing: its spigot of 361.9 mm leaves no ring round the plate's bore of 370 mm"}));
}

}  // namespace
}  // namespace fitup::parts
