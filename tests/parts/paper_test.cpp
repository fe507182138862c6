// `paper`, `drawing` and `mockup` of a part's file.
#include <gtest/gtest.h>

#include "parts/plates.hpp"

namespace fitup::parts {
namespace {

using testing::fault_texts;
using testing::plate_text;

const std::string bore = R"("bore": {"diameter": 100})";

TEST(Paper, is_A4_without_correction_unless_the_file_says_otherwise) {
    const plan::Paper plain = plan_file(plate_text(bore), "p.json").papers.paper;
    EXPECT_EQ(plain.size.name, "A4");
    EXPECT_EQ(plain.size.height_mm, 297.0);
    EXPECT_EQ(plain.measured_mm, (std::array<double, 2>{0.0, 0.0}));
    const plan::Paper told =
        plan_file(plate_text(bore + R"(, "paper": {"size": "Tabloid", "measured": [179.2, "7.1 in"]})"),
                  "p.json")
            .papers.paper;
    EXPECT_EQ(told.size.name, "Tabloid");
    EXPECT_NEAR(told.size.width_mm, 11 * 25.4, 1e-9);
    EXPECT_NEAR(told.measured_mm[0], 179.2, 1e-12);
    EXPECT_NEAR(told.measured_mm[1], 180.34, 1e-12);
}

TEST(Paper, a_size_that_is_none_and_a_bar_that_is_far_off_are_faults) {
    const auto faults = fault_texts(plate_text(bore + R"(, "paper": {"size": "A2", "measured": [90, 180]})"));
    ASSERT_EQ(faults.size(), 2u);
    EXPECT_NE(faults[0].find("paper.size"), std::string::npos) << faults[0];
    EXPECT_NE(faults[0].find("Letter"), std::string::npos) << faults[0];
    EXPECT_NE(faults[1].find("paper.measured[0]"), std::string::npos) << faults[1];
    EXPECT_NE(faults[1].find("172"), std::string::npos) << faults[1];
}

TEST(Drawing, is_on_A3_in_third_angle_and_on_Tabloid_in_inches) {
    const plan::DrawingSheet plain = plan_file(plate_text(bore), "p.json").papers.drawing;
    EXPECT_EQ(plain.size.name, "A3");
    EXPECT_EQ(plain.projection, plan::Projection::third);
    EXPECT_FALSE(plain.both_units);
    const std::string inches = plate_text(bore, {.units = "in"});
    EXPECT_EQ(plan_file(inches, "p.json").papers.drawing.size.name, "Tabloid");
    const plan::DrawingSheet told =
        plan_file(
            plate_text(bore + R"(, "drawing": {"size": "A4", "projection": "first", "both_units": true})"),
            "p.json")
            .papers.drawing;
    EXPECT_EQ(told.size.name, "A4");
    EXPECT_EQ(told.projection, plan::Projection::first);
    EXPECT_TRUE(told.both_units);
    EXPECT_EQ(fault_texts(plate_text(bore + R"(, "drawing": {"projection": "second"})")).size(), 1u);
}

TEST(Mockup, takes_what_the_file_says) {
    const plan::Mockup plain = plan_file(plate_text(bore), "p.json").papers.mockup;
    EXPECT_EQ(plain.thickness_mm, 5.0);
    EXPECT_EQ(plain.hole_allowance_mm, 0.3);
    EXPECT_EQ(plain.shrinkage, 0.0);
    EXPECT_FALSE(plain.bed_mm);
    const plan::Mockup told =
        plan_file(
            plate_text(
                bore +
                R"(, "mockup": {"thickness": 4, "hole_allowance": "0.01 in", "shrinkage": 0.003, "bed": [250, 210]})"),
            "p.json")
            .papers.mockup;
    EXPECT_EQ(told.thickness_mm, 4.0);
    EXPECT_NEAR(told.hole_allowance_mm, 0.254, 1e-12);
    EXPECT_EQ(told.shrinkage, 0.003);
    ASSERT_TRUE(told.bed_mm);
    EXPECT_EQ(*told.bed_mm, (std::array<double, 2>{250.0, 210.0}));
}

}  // namespace
}  // namespace fitup::parts
