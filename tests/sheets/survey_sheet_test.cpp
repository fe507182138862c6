// A survey's tables and its picture: what stands on them, nothing over anything else, nothing off the page.
#include "sheets/survey_sheet.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "calculations/survey_files.hpp"
#include "sheets/survey_chart.hpp"

namespace fitup::sheets {
namespace {

using namespace calculations;
using calculations::testing::result_of;

const std::string four = R"("points": [{"id": "1", "at": [60, 40]}, {"id": "2", "at": [-60, 40]},
    {"id": "3", "at": [-60, -40]}, {"id": "4", "at": [60, -40]}], "uncertainty": 0.05,
    "spans": [{"between": ["1", "2"], "over": 130.1, "pins": [10, 10]}, {"between": ["2", "3"], "centres": 79.95},
              {"between": ["1", "3"], "inside": 134.2, "pins": [10, 10]}],
    "angles": [{"at": "1", "from": "2", "to": "4", "angle": 90}], "leave_out": ["span 2-3"])";

TEST(SurveySheet, tells_points_readings_and_pattern) {
    const std::string text = survey_text(result_of(four));
    for (const char* part :
         {"seen looking at the casting on B, X to the right and Y up; origin and axes as measured\n",
          "points (mm;", "worst way", "readings (mm;", "span 1-2 (over) ", "130.100", "120.100", "left out",
          "90.000 deg", "readings to spare", "best circle: diameter 144.", "SAE"})
        EXPECT_NE(text.find(part), std::string::npos) << part << "\n" << text;
    for (std::size_t end = text.find('\n'), start = 0; end != std::string::npos;
         start = end + 1, end = text.find('\n', start))
        EXPECT_LE(end - start, 160u) << text.substr(start, end - start);
}

TEST(SurveySheet, speaks_the_files_units) {
    const std::string text =
        survey_text(result_of(R"("points": [{"id": "1", "at": [0, 0]}, {"id": "2", "at": [4, 0]}],
        "spans": [{"between": ["1", "2"], "centres": 4.002}])",
                              "in"));
    EXPECT_NE(text.find("points (in;"), std::string::npos) << text;
    EXPECT_NE(text.find("4.0020"), std::string::npos) << text;
    EXPECT_EQ(text.find("101.6"), std::string::npos) << text;
}

TEST(SurveySheet, names_suspects) {
    SurveyResult result = result_of(four);
    result.fit.suspects = {{8, 0.4, "", {}, {}}};
    EXPECT_NE(survey_text(result).find("span 1-2 (over) (spans[0]): 0.400 mm too much"), std::string::npos);
}

void expect_sound(const Drawing& drawing) {
    for (const auto& pair : overlapping_texts(drawing)) ADD_FAILURE() << pair[0] << " over " << pair[1];
    for (const std::string& name : outside_page(drawing)) ADD_FAILURE() << name << " off the page";
}

bool has_text(const Drawing& drawing, const std::string& words) {
    return std::any_of(drawing.items.begin(), drawing.items.end(), [&](const auto& item) {
        const Text* text = std::get_if<Text>(&item);
        return text != nullptr && text->text.find(words) != std::string::npos;
    });
}

TEST(SurveyChart, says_how_it_is_seen_and_what_is_enlarged) {
    SurveyResult result = result_of(four);
    result.fit.suspects = {{8, 0.4, "one diameter added", {}, {}}, {0, -0.2, "", {}, {}}};
    const Drawing drawing = survey_chart(result);
    expect_sound(drawing);
    for (const char* words :
         {"seen looking at the casting on B, X to the right, Y up", "drawn ", "best circle, diameter 144.",
          "? span 1-2 (over): 0.4 mm too much; one diameter added", "? x of 1: 0.2 mm too little", " mm"})
        EXPECT_TRUE(has_text(drawing, words)) << words;
    for (const char* id : {"1", "2", "3", "4", "X", "Y", "?"}) EXPECT_TRUE(has_text(drawing, id)) << id;
}

TEST(SurveyChart, is_to_scale_and_the_right_way_round) {
    const Drawing drawing = survey_chart(result_of(four));
    // The holes' circles, in the order of the points.
    std::vector<Place> holes;
    for (const auto& item : drawing.items) {
        const RoundLine* round = std::get_if<RoundLine>(&item);
        if (round != nullptr && round->radius_mm == 1.6) holes.push_back(round->centre);
    }
    ASSERT_EQ(holes.size(), 4u);
    const auto apart = [&](std::size_t a, std::size_t b) {
        return std::hypot(holes[a][0] - holes[b][0], holes[a][1] - holes[b][1]);
    };
    EXPECT_NEAR(apart(0, 1) / apart(1, 2), 120.0 / 80.0, 1e-3);
    EXPECT_NEAR(apart(0, 2) / apart(1, 2), std::hypot(120.0, 80.0) / 80.0, 1e-3);
    // 1 lies to the right of 2 and above 4.
    EXPECT_GT(holes[0][0], holes[1][0]);
    EXPECT_LT(holes[0][1], holes[3][1]);
}

TEST(SurveyChart, long_ids_stay_on_the_page) {
    const std::string id(60, 'w');
    SurveyResult result = result_of(R"("points": [{"id": "a)" + id + R"(", "at": [-60, 0]}, {"id": "b)" + id +
                                    R"(", "at": [60, 0]}, {"id": "c", "at": [0, 30]}])");
    result.fit.suspects = {{0, 0.4, "", {}, {}}, {1, 0.4, "", {}, {}}, {2, 0.4, "", {}, {}}};
    expect_sound(survey_chart(result));
}

TEST(SurveyChart, is_sound_for_any_pattern) {
    EXPECT_TRUE(rc::check([] {
        const int count = *rc::gen::inRange(2, 12);
        const double size = std::pow(10.0, *rc::gen::inRange(0, 3));
        std::string text = "\"points\": [";
        for (int i = 0; i < count; ++i) {
            const double x = size * *rc::gen::inRange(-1000, 1000) / 1000.0 + 3.0 * size * i,
                         y = size * *rc::gen::inRange(-1000, 1000) / 1000.0;
            text += std::string(i == 0 ? "" : ", ") + R"({"id": "hole-)" + std::to_string(i + 1) +
                    R"(", "at": [)" + std::to_string(x) + ", " + std::to_string(y) + "]}";
        }
        SurveyResult result = result_of(text + "]");
        for (int i = 0; i < *rc::gen::inRange(0, 4); ++i)
            result.fit.suspects.push_back(
                {i, 0.1 * size, "read in inches, perhaps, or the digits were transposed", {}, {}});
        const Drawing drawing = survey_chart(result);
        RC_ASSERT(overlapping_texts(drawing).empty());
        RC_ASSERT(outside_page(drawing).empty());
    }));
}

}  // namespace
}  // namespace fitup::sheets
