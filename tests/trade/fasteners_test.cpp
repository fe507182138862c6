#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "trade/names.hpp"
#include "trade/trade.hpp"

namespace fitup::trade {
namespace {

/// ISO 273 and ASME B18.2.8 as printed.
TEST(ClearanceHoles, printed_values) {
    EXPECT_DOUBLE_EQ(find_clearance_hole("M10", "normal")->diameter_mm, 11.0);
    EXPECT_DOUBLE_EQ(find_clearance_hole("M10", "close")->diameter_mm, 10.5);
    EXPECT_DOUBLE_EQ(find_clearance_hole("M12", "loose")->diameter_mm, 14.5);
    EXPECT_DOUBLE_EQ(find_clearance_hole("3/8", "normal")->diameter_mm, 25.4 * 13.0 / 32.0);
    EXPECT_DOUBLE_EQ(find_clearance_hole("1/2", "close")->diameter_mm, 25.4 * 17.0 / 32.0);
}

TEST(ClearanceHoles, a_threads_name_stands_for_its_size) {
    const ClearanceHole* wanted = find_clearance_hole("3/8", "normal");
    for (const char* name : {"3/8-16 UNC", "3/8-24", "3/8 BSW", "3/8\"", "3/8 in", "3/8 UNC-2B"}) {
        EXPECT_EQ(find_clearance_hole(name, "normal"), wanted) << name;
    }
    EXPECT_EQ(find_clearance_hole("M10x1.25", "close"), find_clearance_hole("m10", "Close"));
    EXPECT_EQ(find_clearance_hole("No. 10", "close"), find_clearance_hole("#10", "close"));
}

TEST(ClearanceHoles, unknown_ones_give_nothing) {
    EXPECT_EQ(find_clearance_hole("M11", "normal"), nullptr);
    EXPECT_EQ(find_clearance_hole("M10", "sloppy"), nullptr);
    EXPECT_EQ(find_clearance_hole("", "normal"), nullptr);
    EXPECT_EQ(find_clearance_hole("2 BA", "normal"), nullptr);
}

TEST(ClearanceHoles, fits_widen_in_order_and_clear_the_screw) {
    for (const ClearanceHole& hole : clearance_holes()) {
        const double close = find_clearance_hole(hole.designation, "close")->diameter_mm;
        const double normal = find_clearance_hole(hole.designation, "normal")->diameter_mm;
        const double loose = find_clearance_hole(hole.designation, "loose")->diameter_mm;
        EXPECT_TRUE(hole.nominal_mm < close && close < normal && normal < loose) << hole.designation;
    }
}

/// ISO 4032, ASME B18.2.2 and BS 1083 as printed.
TEST(Nuts, each_thread_takes_its_own_standards_nut) {
    EXPECT_DOUBLE_EQ(find_nut("M10")->across_flats_mm, 16.0);
    EXPECT_DOUBLE_EQ(find_nut("M10x1.25")->height_mm, 8.4);
    EXPECT_NEAR(find_nut("3/8")->across_flats_mm, 0.562 * 25.4, 0.001);
    EXPECT_EQ(find_nut("3/8-24 UNF"), find_nut("3/8"));
    EXPECT_NEAR(find_nut("3/8 BSW")->across_flats_mm, 0.600 * 25.4, 0.001);
    EXPECT_EQ(find_nut("3/8 BSF")->series.substr(0, 7), "BS 1083");
    EXPECT_EQ(find_nut("M11"), nullptr);
    EXPECT_EQ(find_nut("2 BA"), nullptr);
}

TEST(Nuts, one_of_unknown_height_is_never_given) {
    EXPECT_EQ(find_nut("3/16 BSF"), nullptr);
    for (const Nut& nut : nuts()) {
        const Nut* found = find_nut(nut.designation);
        EXPECT_TRUE(!found || found->height_mm > 0.0) << nut.designation;
    }
}

/// A hexagon's corners: 2 s / sqrt 3, up to the rounding of the corners that the standards allow.
TEST(Nuts, corners_belong_to_their_flats) {
    for (const Nut& nut : nuts()) {
        const double sharp_mm = nut.across_flats_mm * 2.0 / std::sqrt(3.0);
        EXPECT_NEAR(nut.across_corners_mm, sharp_mm, 0.012 * sharp_mm)
            << nut.designation << ' ' << nut.series;
    }
}

/// ISO 4762 and ASME B18.3: a cap screw's head is as high as the screw is thick, within the inch table's
/// rounding.
TEST(Heads, cap_screw_heads_are_as_high_as_the_screw_is_thick) {
    for (const Head& head : heads()) {
        if (head.kind != "cap screw") continue;
        const double nominal_mm = find_clearance_hole(head.designation, "normal")->nominal_mm;
        EXPECT_NEAR(head.height_mm, nominal_mm, 0.0006 * 25.4) << head.designation;
        EXPECT_GT(head.width_mm, nominal_mm * 1.4) << head.designation;
        EXPECT_LT(head.key_mm, nominal_mm) << head.designation;
    }
}

/// The hexagon of a bolt is that of its nut, save ASME 7/16 and 9/16, where the nut is one size larger (ASME
/// B18.2.1, B18.2.2).
TEST(Heads, hexagons_match_the_nuts) {
    // Flats and corners are each rounded to 0.001 in.
    constexpr double rounded_twice_mm = 0.0005 * 25.4 * (1.0 + 1.1548);

    for (const Head& head : heads()) {
        if (head.kind != "hex bolt") continue;
        const double nut_mm = find_nut(head.designation)->across_flats_mm;
        const bool is_smaller = head.designation == "7/16" || head.designation == "9/16";
        EXPECT_NEAR(head.width_mm, is_smaller ? nut_mm - 1.6 : nut_mm, 0.01) << head.designation;
        EXPECT_NEAR(head.across_corners_mm, head.width_mm * 2.0 / std::sqrt(3.0), rounded_twice_mm)
            << head.designation;
    }
}

TEST(Heads, finders_and_range) {
    EXPECT_DOUBLE_EQ(find_head("M10", "cap screw")->width_mm, 16.27);
    EXPECT_DOUBLE_EQ(find_head("M10x1.5", "hex bolt")->width_mm, 16.0);
    EXPECT_DOUBLE_EQ(find_head("3/8-16 UNC", "Hex Bolt")->height_mm, 0.243 * 25.4);
    EXPECT_EQ(find_head("3/8 BSW", "hex bolt"), nullptr);
    EXPECT_EQ(find_head("M10", "nut"), nullptr);
    for (const char* size : {"M3", "M24", "#4", "1"})
        EXPECT_NE(find_head(size, "cap screw"), nullptr) << size;
    for (const char* size : {"M5", "M24", "1/4", "1"})
        EXPECT_NE(find_head(size, "hex bolt"), nullptr) << size;
    for (const Head& head : heads()) EXPECT_TRUE(head.source.unverified) << head.designation;
}

TEST(Washers, normal_metric_and_narrow_inch) {
    EXPECT_DOUBLE_EQ(find_washer("M10")->outside_mm, 20.0);
    EXPECT_DOUBLE_EQ(find_washer("3/8-16 UNC")->outside_mm, 0.812 * 25.4);
    EXPECT_EQ(find_washer("3/8")->series, "ASME B18.21.1 type A narrow");
    EXPECT_EQ(find_washer("#10")->series, "ASME B18.21.1 type A preferred");
    EXPECT_EQ(find_washer("M11"), nullptr);
    for (const Washer& washer : washers()) {
        EXPECT_GT(washer.inside_mm, find_clearance_hole(washer.designation, "normal")
                                        ? find_clearance_hole(washer.designation, "normal")->nominal_mm
                                        : 0.0);
    }
}

TEST(ToolRoom, the_row_or_the_next_larger_one) {
    EXPECT_DOUBLE_EQ(find_tool_room(16.0, "hand socket")->outside_mm, 23.0);
    EXPECT_DOUBLE_EQ(find_tool_room(14.275, "hand socket")->across_flats_mm, 15.0);
    EXPECT_DOUBLE_EQ(find_tool_room(5.5, "hand socket")->across_flats_mm, 10.0);
    EXPECT_DOUBLE_EQ(find_tool_room(14.275, "ring spanner")->outside_mm, 22.047);
    EXPECT_EQ(find_tool_room(40.0, "hand socket"), nullptr);
    EXPECT_EQ(find_tool_room(10.0, "hammer"), nullptr);
}

/// A 7/16 nut measures up to 0.438 in and takes a 7/16 spanner, not a 1/2.
TEST(ToolRoom, a_rounded_inch_hexagon_takes_its_own_spanner) {
    EXPECT_DOUBLE_EQ(find_tool_room(find_nut("1/4")->across_flats_mm, "ring spanner")->across_flats_mm,
                     11.112);
}

TEST(ToolRoom, every_tool_is_wider_than_the_corners) {
    for (const ToolRoom& room : tool_rooms()) {
        EXPECT_GT(room.outside_mm, room.across_flats_mm * 2.0 / std::sqrt(3.0)) << room.across_flats_mm;
    }
}

TEST(Fasteners, names_are_unique_and_known) {
    const auto names = fastener_names();
    EXPECT_EQ(std::set<std::string>(names.begin(), names.end()).size(), names.size());
    EXPECT_NE(std::find(names.begin(), names.end(), "3/8"), names.end());
    EXPECT_NE(std::find(names.begin(), names.end(), "M10"), names.end());
}

TEST(Names, one_key_for_many_spellings) {
    EXPECT_EQ(name_key("No. 10-24 UNC"), "#10-24unc");
    EXPECT_EQ(name_key("M3.5"), "m3.5");
    EXPECT_EQ(name_key("M10 x .75"), "m10x.75");
    EXPECT_EQ(name_key("3/8 inch"), "3/8");
    EXPECT_EQ(name_key("Nodular iron"), "nodulariron");
    EXPECT_EQ(name_key("in"), "in");
    EXPECT_EQ(name_key(""), "");
    EXPECT_EQ(fastener_key("M12x1.25"), "m12");
    EXPECT_EQ(fastener_key("#10-32 UNF"), "#10");
    EXPECT_EQ(fastener_key("1 BSF"), "1");
}

}  // namespace
}  // namespace fitup::trade
