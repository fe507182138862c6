// From a survey's file to its readings: reduced to centres, with their uncertainty, each fault at its key.
#include "calculations/survey_reading.hpp"

#include <cmath>
#include <filesystem>
#include <fstream>

#include "calculations/survey_files.hpp"
#include "calculations/survey_uncertainty.hpp"

namespace fitup::calculations {
namespace {

using namespace testing;
using Messages = std::vector<std::string>;

const std::string of_every_kind = R"("points": [{"id": "1", "at": [88.21, 41.03]},
             {"id": "2", "touch_x": [-97.62, -87.41], "touch_y": [25.04, 35.18]},
             {"id": "3", "at": [12.38, -101.32], "uncertainty": 0.1},
             {"id": "4"}],
  "spans": [{"between": ["1", "2"], "over": 191.05, "pins": [10, 12]},
            {"between": ["2", "4"], "inside": 72.77, "pins": [10, 10]},
            {"between": ["1", "4"], "centres": 127.97, "uncertainty": 0.1}],
  "angles": [{"at": "1", "from": "2", "to": "4", "angle": -24.1}],
  "clockwise": ["1", "3", "2"],
  "datum": {"origin": "mean of 1, 2", "x_axis": ["2", "1"]})";

TEST(SurveyReading, reduces_every_kind_to_centres) {
    const Survey survey = survey_of(of_every_kind);
    ASSERT_EQ(survey.points.size(), 4u);
    ASSERT_EQ(survey.readings.size(), 10u);
    EXPECT_EQ(reading(survey, "x of 1").value, 88.21);
    EXPECT_NEAR(reading(survey, "x of 2").value, -92.515, 1e-12);
    EXPECT_NEAR(reading(survey, "y of 2").value, 30.11, 1e-12);
    EXPECT_EQ(reading(survey, "x of 2").written, (std::vector<double>{-97.62, -87.41}));
    EXPECT_NEAR(reading(survey, "span 1-2 (over)").value, 191.05 - 11.0, 1e-12);
    EXPECT_NEAR(reading(survey, "span 2-4 (inside)").value, 82.77, 1e-12);
    EXPECT_EQ(reading(survey, "span 1-4").value, 127.97);
    const Reading& angle = reading(survey, "angle at 1 from 2 to 4");
    EXPECT_NEAR(angle.value, -24.1 * std::acos(-1.0) / 180.0, 1e-15);
    EXPECT_EQ((std::array{angle.a, angle.b, angle.c}), (std::array{0, 1, 3}));
    EXPECT_EQ(reading(survey, "y of 1").key, "points[0].at[1]");
    EXPECT_EQ(reading(survey, "x of 2").key, "points[1].touch_x");
    EXPECT_EQ(reading(survey, "span 2-4 (inside)").key, "spans[1]");
    EXPECT_EQ(reading(survey, "span 2-4 (inside)").line, 7);
    EXPECT_EQ(survey.clockwise, (std::array{0, 2, 1}));
    ASSERT_TRUE(survey.datum);
    EXPECT_EQ(survey.datum->words, "origin at the mean of 1 and 2, +X from 2 to 1");
    EXPECT_EQ(survey.datum->origin, (std::vector<int>{0, 1}));
    EXPECT_EQ(survey.datum->x_axis, (std::array{1, 0}));
}

TEST(SurveyReading, takes_defaults_by_kind_and_length) {
    const Survey survey = survey_of(of_every_kind);
    EXPECT_EQ(reading(survey, "x of 1").sigma, 0.04);
    EXPECT_TRUE(reading(survey, "x of 1").sigma_is_default);
    EXPECT_EQ(reading(survey, "x of 3").sigma, 0.1);
    EXPECT_FALSE(reading(survey, "x of 3").sigma_is_default);
    // One contact over the square root of 2.
    EXPECT_NEAR(reading(survey, "x of 2").sigma, 0.0071 / std::sqrt(2.0), 1e-15);
    // 191 mm needs calipers of 300, 72.77 those of 150.
    EXPECT_EQ(reading(survey, "span 1-2 (over)").sigma, 0.025);
    EXPECT_EQ(reading(survey, "span 2-4 (inside)").sigma, 0.015);
    EXPECT_EQ(reading(survey, "span 1-4").sigma, 0.1);
    EXPECT_NEAR(reading(survey, "angle at 1 from 2 to 4").sigma, 2.5 / 60.0 * std::acos(-1.0) / 180.0, 1e-15);
    EXPECT_EQ(caliper_sigma_mm(301.0), 0.04);
    EXPECT_NEAR(caliper_sigma_mm(2500.0), 0.1, 1e-15);
    for (const DefaultUncertainty& row : default_uncertainties()) {
        EXPECT_GT(row.sigma, 0.0) << row.what;
        EXPECT_FALSE(row.source.empty()) << row.what;
    }
}

TEST(SurveyReading, takes_the_files_uncertainty_where_a_reading_has_none) {
    const Survey survey = survey_of(of_every_kind + R"(, "uncertainty": 0.05)");
    EXPECT_EQ(reading(survey, "x of 1").sigma, 0.05);
    EXPECT_EQ(reading(survey, "x of 3").sigma, 0.1);
    EXPECT_NEAR(reading(survey, "y of 2").sigma, 0.05 / std::sqrt(2.0), 1e-15);
    EXPECT_EQ(reading(survey, "span 1-2 (over)").sigma, 0.05);
    EXPECT_FALSE(reading(survey, "span 1-2 (over)").sigma_is_default);
}

TEST(SurveyReading, adds_what_the_kind_of_hole_adds_to_defaults_alone) {
    const Survey survey =
        survey_of(R"("points": [{"id": "a", "touch_x": [1, 11], "touch_y": [1, 11], "kind": "stud"},
        {"id": "b", "at": [50, 0], "kind": "tapped", "uncertainty": 0.02}, {"id": "c", "at": [0, 50], "kind": "dowel"}],
        "spans": [{"between": ["a", "b"], "centres": 45}])");
    EXPECT_NEAR(reading(survey, "x of a").sigma, std::sqrt(0.0071 * 0.0071 / 2.0 + 0.07 * 0.07), 1e-15);
    EXPECT_EQ(reading(survey, "x of b").sigma, 0.02);
    EXPECT_EQ(reading(survey, "y of c").sigma, 0.04);
    EXPECT_NEAR(reading(survey, "span a-b").sigma, std::sqrt(0.015 * 0.015 + 0.07 * 0.07 + 0.1 * 0.1), 1e-15);
    EXPECT_EQ(survey.points[0].kind, "stud");
}

TEST(SurveyReading, contacts_may_come_in_either_order) {
    const Survey survey = survey_of(R"("points": [{"id": "a", "touch_x": [11, 1], "touch_y": [1, 11]},
        {"id": "b", "at": [50, 0]}])");
    EXPECT_EQ(reading(survey, "x of a").value, 6.0);
}

TEST(SurveyReading, reads_inches) {
    const Survey survey =
        survey_of(R"("points": [{"id": "a", "at": [1, "2.5 mm"]}, {"id": "b", "at": [4, 0]}],
        "spans": [{"between": ["a", "b"], "over": 3.4, "pins": ["3/8 in", 0.375], "uncertainty": "2 thou"}])",
                  "in");
    EXPECT_NEAR(reading(survey, "x of a").value, 25.4, 1e-12);
    EXPECT_EQ(reading(survey, "y of a").value, 2.5);
    EXPECT_NEAR(reading(survey, "span a-b (over)").value, (3.4 - 0.375) * 25.4, 1e-12);
    EXPECT_NEAR(reading(survey, "span a-b (over)").sigma, 0.0508, 1e-12);
}

const std::string two = R"("points": [{"id": "1", "at": [0, 0]}, {"id": "2", "at": [50, 0]}])";

TEST(SurveyFaults, ids) {
    EXPECT_EQ(messages_of(R"("points": [{"id": "1", "at": [0, 0]}, {"id": "1", "at": [50, 0]}])"),
              (Messages{"points[1].id: found \"1\", wanted an id that no other point has; the first one "
                        "stands in line 2"}));
    EXPECT_EQ(messages_of(two + R"(, "spans": [{"between": ["1", "3"], "centres": 4}])"),
              (Messages{"spans[0].between[1]: found \"3\", wanted the id of a point; the nearest is \"1\""}));
    EXPECT_EQ(messages_of(two + R"(, "spans": [{"between": ["1", "1"], "centres": 4}])"),
              (Messages{"spans[0].between: from 1 to itself; wanted two different points"}));
    EXPECT_EQ(messages_of(two + R"(, "angles": [{"at": "1", "from": "2", "to": "2", "angle": 4}])"),
              (Messages{"angles[0]: at 1, from 2 to 2; wanted three different points"}));
    EXPECT_EQ(messages_of(R"("points": [{"id": "1", "at": [0, 0]}, {"id": "2 a", "at": [50, 0]}])").size(),
              1u);
}

TEST(SurveyFaults, uncertainty_must_be_over_zero) {
    for (const char* wrong : {"0", "-0.1", "\"0 mm\""}) {
        const auto file = messages_of(two + R"(, "uncertainty": )" + wrong);
        ASSERT_EQ(file.size(), 1u) << wrong;
        EXPECT_EQ(file[0].find("uncertainty: found "), 0u) << file[0];
        EXPECT_NE(file[0].find("over 0"), std::string::npos) << file[0];
        const auto span = messages_of(two + R"(, "spans": [{"between": ["1", "2"], "centres": 50,
                                                            "uncertainty": )" +
                                      wrong + "}]");
        ASSERT_EQ(span.size(), 1u) << wrong;
        EXPECT_EQ(span[0].find("spans[0].uncertainty: found "), 0u) << span[0];
    }
}

TEST(SurveyFaults, contacts_at_one_place) {
    EXPECT_EQ(messages_of(R"("points": [{"id": "1", "touch_x": [5, 5], "touch_y": [1, 2]},
                                        {"id": "2", "at": [50, 0]}])"),
              (Messages{"points[0].touch_x: both contacts are at 5 mm; wanted one from each of two opposite "
                        "sides"}));
}

TEST(SurveyFaults, points_at_one_place_or_nowhere) {
    EXPECT_EQ(messages_of(R"("points": [{"id": "1", "at": [5, 6]}, {"id": "2", "touch_x": [0, 10],
                                         "touch_y": [1, 11]}])"),
              (Messages{"points[1]: as read 2 is at the same place as 1, [5 mm, 6 mm]"}));
    EXPECT_EQ(
        messages_of(R"("points": [{"id": "1", "at": [5, 6]}, {"id": "2"}, {"id": "3", "at": [50, 60]}])"),
        (Messages{"points[1]: no reading tells where 2 is; wanted its coordinates, or spans or angles "
                  "to other points"}));
}

TEST(SurveyFaults, spans_and_their_pins) {
    EXPECT_EQ(messages_of(two + R"(, "spans": [{"between": ["1", "2"], "over": 19, "pins": [10, 10]}])"),
              (Messages{"spans[0].over: found 19, wanted from outside to outside, at least both pins "
                        "together, 20 mm; a gap is `inside`"}));
    const Messages inches =
        messages_of(two + R"(, "spans": [{"between": ["1", "2"], "over": 9.012, "pins": [10, 10]}])");
    ASSERT_EQ(inches.size(), 1u);
    EXPECT_NE(inches[0].find("read in inches it is 228.9 mm"), std::string::npos) << inches[0];
    // The others show that these are inches: no fault, but a suspect.
    EXPECT_TRUE(messages_of(two + R"(, "spans": [{"between": ["1", "2"], "over": 2.362, "pins": [10, 10]}])")
                    .empty());
    const auto missing = messages_of(two + R"(, "spans": [{"between": ["1", "2"], "over": 60}])");
    ASSERT_EQ(missing.size(), 1u);
    EXPECT_NE(missing[0].find("pins"), std::string::npos) << missing[0];
    const auto inside = messages_of(two + R"(, "spans": [{"between": ["1", "2"], "inside": 40}])");
    ASSERT_EQ(inside.size(), 1u);
    EXPECT_NE(inside[0].find("pins"), std::string::npos) << inside[0];
    EXPECT_EQ(
        messages_of(two + R"(, "spans": [{"between": ["1", "2"], "centres": 50, "pins": [10, 10]}])").size(),
        1u);
    EXPECT_EQ(messages_of(two + R"(, "spans": [{"between": ["1", "2"]}])").size(), 1u);
    EXPECT_EQ(messages_of(two + R"(, "spans": [{"between": ["1", "2"], "centres": 0}])").size(), 1u);
}

const std::string triangle = R"("points": [{"id": "1"}, {"id": "2"}, {"id": "3"}],
  "spans": [{"between": ["1", "2"], "centres": 30}, {"between": ["2", "3"], "centres": 40},
            {"between": ["1", "3"], "centres": 50}])";

TEST(SurveyFaults, spans_alone_need_an_order) {
    EXPECT_EQ(
        messages_of(triangle),
        (Messages{"clockwise: missing; wanted the ids of three points in clockwise order as seen; spans "
                  "are the same for a pattern and its mirror image"}));
    EXPECT_TRUE(messages_of(triangle + R"(, "clockwise": ["1", "2", "3"])").empty());
    // An angle has a sense of its own.
    EXPECT_TRUE(
        messages_of(triangle + R"(, "angles": [{"at": "1", "from": "2", "to": "3", "angle": 53}])").empty());
    EXPECT_EQ(messages_of(triangle + R"(, "clockwise": ["1", "2", "1"])").size(), 1u);
    EXPECT_EQ(messages_of(triangle + R"(, "clockwise": ["1", "2"])").size(), 1u);
    EXPECT_EQ(messages_of(triangle + R"(, "clockwise": ["1", "2", "7"])").size(), 1u);
}

TEST(SurveyFaults, an_order_against_the_coordinates) {
    const auto messages = messages_of(R"("points": [{"id": "1", "at": [0, 0]}, {"id": "2", "at": [50, 0]},
        {"id": "3", "at": [0, 50]}], "clockwise": ["1", "2", "3"])");
    ASSERT_EQ(messages.size(), 1u);
    EXPECT_EQ(messages[0].find("clockwise: 1, 2, 3 run anticlockwise by their coordinates"), 0u);
}

TEST(SurveyFaults, what_is_left_out_must_be_there) {
    const Survey survey = survey_of(of_every_kind + R"(, "leave_out": ["span 1-4", "3"])");
    EXPECT_TRUE(reading(survey, "span 1-4").left_out);
    EXPECT_TRUE(reading(survey, "x of 3").left_out);
    EXPECT_TRUE(reading(survey, "y of 3").left_out);
    EXPECT_FALSE(reading(survey, "x of 1").left_out);
    EXPECT_EQ(
        messages_of(of_every_kind + R"(, "leave_out": ["span 1-5"])"),
        (Messages{"leave_out[0]: found \"span 1-5\", wanted the name of a reading, or the id of a point "
                  "with coordinates; the nearest is \"span 1-4\""}));
    // A point without coordinates has none to leave out.
    EXPECT_EQ(messages_of(of_every_kind + R"(, "leave_out": ["4"])").size(), 1u);
}

TEST(SurveyReading, tells_readings_of_the_same_thing_apart) {
    const Survey survey = survey_of(two + R"(, "spans": [{"between": ["1", "2"], "centres": 50},
        {"between": ["1", "2"], "centres": 50.1}, {"between": ["1", "2"], "centres": 50.2}], "leave_out":
        ["span 1-2, again"])");
    EXPECT_FALSE(reading(survey, "span 1-2").left_out);
    EXPECT_EQ(reading(survey, "span 1-2, again").value, 50.1);
    EXPECT_TRUE(reading(survey, "span 1-2, again").left_out);
    EXPECT_EQ(reading(survey, "span 1-2, again (3)").value, 50.2);
}

TEST(SurveyFaults, datum) {
    EXPECT_EQ(messages_of(two + R"(, "datum": {"origin": "mean of 1, 7"})"),
              (Messages{"datum.origin: found \"mean of 1, 7\", wanted a point's id, \"mean of\" different "
                        "ids, or \"circle\"; no point is called \"7\""}));
    EXPECT_EQ(messages_of(two + R"(, "datum": {"origin": "mean of 1 and 1"})").size(), 1u);
    EXPECT_EQ(messages_of(two + R"(, "datum": {"x_axis": ["1", "1"]})").size(), 1u);
    EXPECT_TRUE(survey_of(two + R"(, "datum": {"origin": "circle"})").datum->on_circle);
    EXPECT_EQ(survey_of(two + R"(, "datum": {"x_axis": ["1", "2"]})").datum->words,
              "origin as measured, +X from 1 to 2");
    EXPECT_EQ(survey_of(two + R"(, "datum": {"origin": "2"})").datum->words, "origin at 2, +X as measured");
}

TEST(SurveyFaults, expected_circle_and_trial) {
    EXPECT_EQ(messages_of(two + R"(, "expect": {"circle": {"count": 1}})").size(), 1u);
    EXPECT_EQ(messages_of(R"("points": [{"id": "1", "at": [0, 0]}, {"id": "2", "at": [50, 0]},
        {"id": "3", "at": [50, 50]}], "expect": {"circle": {"count": 2}})"),
              (Messages{"expect.circle.count: found 2, wanted at least the number of points, 3"}));
    const Survey survey = survey_of(two + R"(, "trial": [{"hole": "gearbox-2", "moved": [0.3, -0.1]},
        {"hole": "1", "moved": [0, 0.1], "uncertainty": 0.05}])");
    ASSERT_EQ(survey.trial.size(), 2u);
    EXPECT_EQ(survey.trial[0].point, 1);
    EXPECT_EQ(survey.trial[0].moved_mm.x_mm, 0.3);
    EXPECT_EQ(survey.trial[0].sigma_mm, 0.1);
    EXPECT_EQ(survey.trial[1].sigma_mm, 0.05);
    // A plate counts places, whatever their ids.
    const Survey named = survey_of(R"("points": [{"id": "5", "at": [0, 0]}, {"id": "1", "at": [50, 0]}],
        "trial": [{"hole": "gearbox-1", "moved": [1, 0]}, {"hole": "1", "moved": [0, 1]}])");
    ASSERT_EQ(named.trial.size(), 2u);
    EXPECT_EQ(named.trial[0].point, 0) << "the first place";
    EXPECT_EQ(named.trial[1].point, 1) << "the point of that id";
    EXPECT_EQ(messages_of(two + R"(, "trial": [{"hole": "gearbox-7", "moved": [0, 0]}])").size(), 1u);
    EXPECT_EQ(messages_of(two + R"(, "trial": [{"hole": "1", "moved": [0, 0]}, {"hole": "g-1",
                                    "moved": [0, 0]}])"),
              (Messages{"trial[1].hole: found \"g-1\", wanted a hole that stands once"}));
}

TEST(SurveyReading, tells_all_faults_at_once) {
    const auto messages =
        messages_of(R"("points": [{"id": "1", "touch_x": [5, 5]}, {"id": "2", "att": [1, 2]}],
        "spans": [{"between": ["1", "9"], "centres": 40}, {"between": ["1", "2"], "centres": -1}],
        "leave_out": ["nothing"])");
    EXPECT_EQ(messages.size(), 5u);
}

// What bolts to it ---------------------------------------------------------------------------------------

std::string bolts_to(const std::string& pattern, const std::string& sizes = R"("hole": 11, "fastener": 10)") {
    return two + ", \"bolts_to\": {" + sizes + (pattern.empty() ? "" : ", \"pattern\": " + pattern) + "}";
}

TEST(SurveyReading, sees_the_other_pattern_as_the_survey_is_seen) {
    // The survey is of the casting on B, so that X runs as seen from A.
    const Survey own = survey_of(bolts_to(R"({"measured_on": "B", "points": [[1, 2], [51, 3]]})"));
    ASSERT_TRUE(own.bolts_to);
    EXPECT_EQ(own.bolts_to->pattern_mm, (std::vector<plan::Point>{{1, 2}, {51, 3}}));
    EXPECT_EQ(own.bolts_to->hole_mm, 11.0);
    EXPECT_EQ(own.bolts_to->fastener_mm, 10.0);
    const Survey from_b = survey_of(bolts_to(R"({"seen_from": "B", "points": [[1, 2], [51, 3]]})"));
    EXPECT_EQ(from_b.bolts_to->pattern_mm, (std::vector<plan::Point>{{-1, 2}, {-51, 3}}));
    const Survey circle =
        survey_of(bolts_to(R"({"seen_from": "A", "circle": {"diameter": 100, "count": 4, "start_angle": 0,
                               "skip": [2, 4]}, "rotate": 90, "shift": [1, 0]})"));
    EXPECT_EQ(circle.bolts_to->pattern_mm, (std::vector<plan::Point>{{1, 50}, {1, -50}}));
    const Survey clock =
        survey_of(bolts_to(R"({"seen_from": "A", "clock": {"diameter": 100, "hours": [12, 3]}})"));
    EXPECT_EQ(clock.bolts_to->pattern_mm, (std::vector<plan::Point>{{0, 50}, {50, 0}}));
}

TEST(SurveyFaults, what_it_bolts_to) {
    EXPECT_EQ(
        messages_of(bolts_to("")),
        (Messages{"bolts_to.pattern: missing; wanted the other pattern, or `expect` beside `bolts_to`"}));
    EXPECT_EQ(messages_of(bolts_to(R"({"seen_from": "A", "points": [[0, 0]]})")),
              (Messages{"bolts_to.pattern: the pattern has 1 places for 2 points; wanted one for each, in "
                        "their order"}));
    EXPECT_EQ(messages_of(bolts_to(R"({"seen_from": "A", "points": [[0, 0], [50, 0]]})",
                                   R"("hole": 9, "fastener": 10)")),
              (Messages{"bolts_to.fastener: found 10, wanted at most the hole, 9 mm"}));
    EXPECT_EQ(messages_of(bolts_to(R"({"points": [[0, 0], [50, 0]]})")).size(), 1u);
    EXPECT_EQ(messages_of(bolts_to(R"("plate.json")")).size(), 1u);
    const auto no_file = messages_of(bolts_to(R"("not-there.json#studs")"));
    ASSERT_EQ(no_file.size(), 1u);
    EXPECT_EQ(no_file[0].find("bolts_to.pattern: "), 0u) << no_file[0];
}

TEST(SurveyReading, takes_a_plates_pattern_from_its_file) {
    const auto folder = std::filesystem::temp_directory_path() / "fitup-survey-reading";
    std::filesystem::create_directories(folder);
    std::ofstream(folder / "plate.json")
        << R"({"format": 1, "part": "adapter_plate", "name": "p", "units": "mm",
        "material": "mild steel", "thickness": 20, "outline": {"round": {"diameter": 200}}, "patterns": [
        {"name": "studs", "measured_on": "B", "points": [[1, 2], [51, 3]], "hole": {"kind": "drilled", "diameter": 9}}]})";
    std::ofstream(folder / "wrong.json") << "{}";
    const std::string file = (folder / "s.json").string();
    const Survey survey = survey_of(bolts_to(R"("plate.json#studs")"), "mm", file);
    ASSERT_TRUE(survey.bolts_to);
    EXPECT_EQ(survey.bolts_to->pattern_mm, (std::vector<plan::Point>{{1, 2}, {51, 3}}));
    EXPECT_EQ(survey.bolts_to->pattern_name, "studs");
    EXPECT_EQ(messages_of(bolts_to(R"("plate.json#stud")"), "mm", file),
              (Messages{"bolts_to.pattern: found \"plate.json#stud\", wanted a pattern of that part; the "
                        "nearest is \"plate.json#studs\""}));
    const auto wrong = messages_of(bolts_to(R"("wrong.json#studs")"), "mm", file);
    ASSERT_EQ(wrong.size(), 1u);
    EXPECT_NE(wrong[0].find("wanted a part without faults"), std::string::npos) << wrong[0];
    std::filesystem::remove_all(folder);
}

}  // namespace
}  // namespace fitup::calculations
