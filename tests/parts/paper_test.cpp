// `paper` of a part's file.
#include <gtest/gtest.h>

#include "parts/plates.hpp"

namespace fitup::parts {
namespace {

using testing::fault_texts;
using testing::plate_text;

const std::string bore = R"("bore": {"diameter": 100})";

TEST(Paper, is_A4_without_correction_unless_the_file_says_otherwise) {
    const plan::Paper plain = plan_file(plate_text(bore), "p.json").paper;
    EXPECT_EQ(plain.size.name, "A4");
    EXPECT_EQ(plain.size.height_mm, 297.0);
    EXPECT_EQ(plain.measured_mm, (std::array<double, 2>{0.0, 0.0}));
    const plan::Paper told =
        plan_file(plate_text(bore + R"(, "paper": {"size": "Tabloid", "measured": [179.2, "7.1 in"]})"),
                  "p.json")
            .paper;
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

}  // namespace
}  // namespace fitup::parts
