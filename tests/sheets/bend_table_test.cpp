#include "sheets/bend_table.hpp"

#include <gtest/gtest.h>

namespace fitup::sheets {
namespace {

plan::Plan rod(std::vector<plan::Point3> corners) {
    plan::Plan plan;
    plan.rod = plan::Rod{};
    plan.rod->diameter_mm = 6.35;
    plan.rod->bend_radius_mm = 20;
    plan.rod->corners = std::move(corners);
    return plan;
}

/// Marks by hand: 80 up to the first bend, a quarter of 20 is 31.416, 60 between the bends.
TEST(BendTable, lists_marks_angles_and_turns_in_both_units) {
    const std::string csv = bend_table_csv(rod({{0, 0, 0}, {100, 0, 0}, {100, 100, 0}, {100, 100, 100}}));
    EXPECT_EQ(csv,
              "bend,mark_mm,mark_in,middle_mm,middle_in,angle_deg,turn_deg,radius_mm,radius_in,"
              "straight_before_mm,straight_before_in\r\n"
              "1,80.00,3.1496,95.71,3.7680,90.00,0.00,20.00,0.7874,80.00,3.1496\r\n"
              "2,171.42,6.7487,187.12,7.3671,90.00,90.00,20.00,0.7874,60.00,2.3622\r\n"
              "end,282.83,11.1351,,,,,,,80.00,3.1496\r\n");
}

TEST(BendTable, of_a_straight_rod_is_its_cut_length) {
    const plan::Plan plan = rod({{0, 0, 0}, {254, 0, 0}});
    EXPECT_EQ(bend_table_text(plan),
              "Cut 254.00 mm (10.0000 in) of 6.35 mm (0.2500 in) stock.\nStraight: no bends.\n");
    EXPECT_NE(bend_table_csv(plan).find("end,254.00,10.0000"), std::string::npos);
}

}  // namespace
}  // namespace fitup::sheets
