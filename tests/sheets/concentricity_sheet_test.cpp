// The budget's picture: texts apart and on the page, bars to scale.
#include "sheets/concentricity_sheet.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "sheets/concentricity_chart.hpp"

namespace fitup::sheets {
namespace {

using namespace calculations;

Concentricity random_budget() {
    Concentricity asked;
    asked.name = "shaft-alignment";
    const int count = *rc::gen::inRange(0, 7);
    for (int i = 0; i < count; ++i) {
        const double size = *rc::gen::inRange(0, 400) / 1000.0;
        asked.contributions.push_back({"a contribution with a long name, no. " + std::to_string(i),
                                       Measure::clearance, 0.0, size, *rc::gen::arbitrary<bool>(), ""});
    }
    if (*rc::gen::arbitrary<bool>() || count == 0)
        asked.bore = DialReadings{0.0,
                                  *rc::gen::inRange(-99, 99) / 100.0,
                                  *rc::gen::inRange(-99, 99) / 100.0,
                                  *rc::gen::inRange(-99, 99) / 100.0,
                                  {},
                                  0.0,
                                  false,
                                  0.0};
    return asked;
}

TEST(ConcentricityChart, texts_do_not_overlap_and_stay_on_the_page) {
    EXPECT_TRUE(rc::check([] {
        const Drawing drawing = concentricity_chart(work_out(random_budget()));
        const auto overlapping = overlapping_texts(drawing);
        RC_ASSERT(overlapping.empty());
        const auto outside = outside_page(drawing);
        RC_ASSERT(outside.empty());
    }));
}

TEST(ConcentricityChart, bars_stand_end_to_end_and_to_scale) {
    Concentricity asked;
    asked.contributions = {{"a", Measure::offset, 0.1, 0.1, true, ""},
                           {"b", Measure::offset, 0.05, 0.05, false, ""}};
    std::vector<std::array<double, 2>> bars;
    for (const auto& item : concentricity_chart(work_out(asked)).items) {
        const Line* line = std::get_if<Line>(&item);
        if (line != nullptr && line->closed && line->points.size() == 4)
            bars.push_back({line->points[0][0], line->points[1][0]});
    }
    ASSERT_EQ(bars.size(), 4u);  // two contributions, worst case, root-sum-square
    const double scale = (bars[0][1] - bars[0][0]) / 0.1;
    EXPECT_NEAR(bars[1][0], bars[0][1], 1e-9);
    EXPECT_NEAR(bars[1][1] - bars[1][0], 0.05 * scale, 1e-9);
    EXPECT_NEAR(bars[2][1] - bars[2][0], 0.15 * scale, 1e-9);
    EXPECT_NEAR(bars[3][1] - bars[3][0], std::sqrt(0.0125) * scale, 1e-9);
}

TEST(ConcentricityText, offset_and_reading_stand_side_by_side) {
    Concentricity asked;
    asked.limit_reading_mm = 0.13;
    asked.contributions = {{"housing", Measure::reading, 0.23, 0.23, true, ""}};
    asked.bore = DialReadings{0, 0.04, 0.1, 0.06, 0.0, 0.0, false, 0.0};
    const std::string text = concentricity_text(work_out(asked));
    for (const char* words :
         {"0.115", "0.23", "9.1", "0.065", "0.13", "move it", "towards 6", "agrees", "returns"})
        EXPECT_NE(text.find(words), std::string::npos) << words << "\n" << text;
}

}  // namespace
}  // namespace fitup::sheets
