#include "parts/recess.hpp"

#include <cmath>

#include "parts/plates.hpp"

namespace fitup::parts {
namespace {

using namespace testing;
using plan::Side;

/// Table values in inches are given in mm to a thousandth or finer.
constexpr double table_mm = 1e-3;

plan::Recess recess_of(const std::string& bolt, const std::string& recess) {
    const plan::Hole hole =
        hole_of(R"({"kind": "clearance", "for": ")" + bolt + R"(", "recess": )" + recess + "}");
    EXPECT_TRUE(hole.recess);
    return hole.recess.value_or(plan::Recess{});
}

// ASME B18.2.2: 3/8 nut 14.275 across flats, 8.560 high; ASME B18.21.1 type A narrow: 20.625 wide, 1.651
// thick. The drive end of a socket, 24 mm, is the widest: 26 mm.
TEST(Recess, of_an_inch_nut_is_wide_enough_for_the_sockets_drive_end_and_flush) {
    const auto recess = recess_of("3/8", R"({"for": "nut"})");
    EXPECT_EQ(recess.side, Side::B);
    EXPECT_EQ(recess.diameter_mm, 26.0);
    EXPECT_NEAR(recess.depth_mm, 8.560 + 1.651, table_mm);
    ASSERT_TRUE(recess.holds);
    EXPECT_EQ(recess.holds->tool_outside_mm, 24.0);
    EXPECT_NEAR(recess.holds->washer_outside_mm, 20.625, table_mm);
}

// ISO 4032: M16 nut 24 across flats, 14.8 high; ISO 7089: 30 wide, 3 thick; socket for 24: 33 mm.
TEST(Recess, of_a_large_nut_is_wide_enough_for_the_socket) {
    const auto recess = recess_of("M16", R"({"for": "nut", "diameter": "auto", "depth": "flush"})");
    EXPECT_EQ(recess.diameter_mm, 35.0);
    EXPECT_NEAR(recess.depth_mm, 14.8 + 3.0, 1e-9);
}

// Ring spanner of 9/16 in (A-A-1346A): 22.047 mm; it has no drive end.
TEST(Recess, for_a_ring_spanner_needs_no_room_for_a_drive_end) {
    EXPECT_EQ(recess_of("3/8", R"({"for": "nut", "tool": "ring"})").diameter_mm, std::ceil(22.047 + 2.0));
}

// ISO 4762: M8 head 13.27 wide, 8 high; ISO 7089: 16 wide, 1.6 thick.
TEST(Recess, of_a_cap_screw_is_as_wide_as_washer_or_head_ask) {
    const auto with_washer = recess_of("M8", R"({"for": "cap screw"})");
    EXPECT_EQ(with_washer.diameter_mm, 18.0);
    EXPECT_NEAR(with_washer.depth_mm, 9.6, 1e-9);
    const auto without = recess_of("M8", R"({"for": "cap screw", "washer": "none"})");
    EXPECT_EQ(without.diameter_mm, 16.0);
    EXPECT_EQ(without.depth_mm, 8.0);
    EXPECT_EQ(without.holds->washer_outside_mm, 0.0);
}

// ISO 4014: M10 head 16 across flats, 6.58 high (grade A, greatest).
TEST(Recess, of_a_hex_bolt_takes_the_head) {
    const auto recess = recess_of("M10", R"({"for": "hex bolt"})");
    EXPECT_EQ(recess.diameter_mm, 26.0);
    EXPECT_NEAR(recess.depth_mm, 6.58 + 2.0, 1e-9);
}

TEST(Recess, lies_on_the_holes_own_side_unless_stated) {
    const auto plan =
        plan_with(pattern(R"("points": [[100, 0]])",
                          R"({"kind": "clearance", "for": "M8", "from": "A", "recess": {"for": "nut"}})"));
    EXPECT_EQ(plan.holes[0].recess->side, Side::A);
    EXPECT_EQ(recess_of("M8", R"({"for": "nut", "side": "A"})").side, Side::A);
}

TEST(Recess, of_stated_sizes_keeps_what_it_holds) {
    const auto recess = recess_of("M10", R"({"for": "nut", "diameter": 30, "depth": "1/2 in"})");
    EXPECT_EQ(recess.diameter_mm, 30.0);
    EXPECT_NEAR(recess.depth_mm, 12.7, 1e-12);
    ASSERT_TRUE(recess.holds);
    EXPECT_EQ(recess.holds->across_flats_mm, 16.0);
}

TEST(Recess, a_plain_one_needs_no_fastener) {
    const auto hole =
        hole_of(R"({"kind": "drilled", "diameter": 8, "recess": {"diameter": 20, "depth": 3}})");
    EXPECT_EQ(hole.recess->diameter_mm, 20.0);
    EXPECT_FALSE(hole.recess->holds);
    EXPECT_EQ(
        messages_with(pattern(R"("points": [[100, 0]])",
                              R"({"kind": "drilled", "diameter": 8, "recess": {"for": "nut", "depth": 3}})")),
        (Messages{"patterns[0].hole.recess.diameter: missing; wanted a length; only a clearance hole says "
                  "which size of nut it is for"}));
}

TEST(Recess, without_a_socket_that_large_needs_a_length) {
    EXPECT_EQ(
        messages_with(
            pattern(R"("points": [[100, 0]])",
                    R"({"kind": "clearance", "for": "M24", "recess": {"for": "nut", "diameter": "auto"}})")),
        (Messages{
            "patterns[0].hole.recess.diameter: found \"auto\", wanted a length; the tables have no hand "
            "socket that large"}));
    const auto stated = recess_of("M24", R"({"for": "nut", "diameter": 56})");
    EXPECT_EQ(stated.diameter_mm, 56.0);
    EXPECT_NEAR(stated.depth_mm, 21.5 + 4.0, 1e-9);
}

TEST(Recess, of_a_shape_that_does_not_exist_is_a_fault) {
    const auto messages = [](const std::string& hole) {
        return messages_with(pattern(R"("points": [[100, 0]])", hole));
    };
    EXPECT_EQ(messages(R"({"kind": "drilled", "diameter": 8, "recess": {"diameter": 8, "depth": 3}})"),
              (Messages{"patterns[0].hole.recess.diameter: found 8, wanted more than the hole's 8 mm"}));
    EXPECT_EQ(messages(R"({"kind": "drilled", "diameter": 8, "recess": {"diameter": 18, "depth": 40}})"),
              (Messages{"patterns[0].hole.recess.depth: found 40, wanted less than the thickness, 40 mm"}));
    EXPECT_EQ(
        messages(R"({"kind": "drilled", "diameter": 8, "depth": 5, "recess": {"diameter": 18, "depth": 6}})"),
        (Messages{"patterns[0].hole.recess.depth: found 6, wanted less than the hole's depth, 5 mm"}));
    EXPECT_EQ(
        messages(R"({"kind": "drilled", "diameter": 8, "depth": 15,
                           "recess": {"diameter": 18, "depth": 6, "side": "A"}})"),
        (Messages{
            "patterns[0].hole.recess.side: found \"A\", wanted B, the face the blind hole is made from"}));
}

TEST(Countersink, keeps_diameter_and_angle) {
    const auto hole = hole_of(
        R"({"kind": "clearance", "for": "M8", "countersink": {"diameter": 18, "angle": 90, "side": "A"}})");
    ASSERT_TRUE(hole.countersink);
    EXPECT_EQ(hole.countersink->side, Side::A);
    EXPECT_EQ(hole.countersink->diameter_mm, 18.0);
    EXPECT_EQ(hole.countersink->angle, Angle::from_degrees(90.0));
    EXPECT_NEAR(depth_mm(*hole.countersink, 9.0), 4.5, 1e-12);
}

TEST(Countersink, deeper_than_its_hole_is_a_fault) {
    EXPECT_EQ(
        messages_with(pattern(R"("points": [[100, 0]])", R"({"kind": "drilled", "diameter": 8, "depth": 5,
                                    "countersink": {"diameter": 20, "angle": 90}})")),
        (Messages{
            "patterns[0].hole.countersink.diameter: found 20, wanted a cone less deep than the hole's depth, "
            "5 mm; it comes out 6 mm deep"}));
}

}  // namespace
}  // namespace fitup::parts
