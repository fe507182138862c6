// Surveys as a user meets them.
#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace fitup::cli {
namespace {

using namespace testing;
using nlohmann::json;

class SurveyProgram : public Program {
  protected:
    /// The demo as it was before its wrong reading was left out.
    void put_demo() {
        for (const char* name : {"gearbox-face", "winch-adapter"})
            put(std::string(name) + ".json",
                content(std::string(FITUP_SOURCE_FOLDER "/examples/") + name + ".json"));
        std::string text = content(folder_ / "gearbox-face.json");
        const std::string left_out = "\"leave_out\": [\"span 8-3 (over)\"],";
        put("gearbox-face.json", text.erase(text.find(left_out), left_out.size()));
    }

    json worked(const std::string& file, int status = 0) {
        const Outcome outcome = run("calculate " + file + " --json");
        EXPECT_EQ(outcome.status, status) << outcome.err << outcome.out;
        return json::parse(outcome.out).at("calculations").at(0);
    }
};

std::string survey(const std::string& more, const std::string& units = "mm") {
    return R"({"format": 1, "calculation": "survey", "name": "face", "units": ")" + units +
           "\", \"measured_on\": \"A\",\n" + more + "}\n";
}

const std::string square = R"("points": [{"id": "1", "at": [60, 40]}, {"id": "2", "at": [-60, 40]},
  {"id": "3", "at": [-60, -40]}, {"id": "4"}], "uncertainty": 0.05,
  "spans": [{"between": ["1", "4"], "centres": 80}, {"between": ["3", "4"], "over": 130, "pins": [10, 10]},
            {"between": ["2", "4"], "inside": 134.222, "pins": [10, 10]}])";

TEST_F(SurveyProgram, the_demo_agrees_with_the_adapters_pattern) {
    put_demo();
    const json one = worked("gearbox-face.json");
    EXPECT_EQ(one.at("calculation"), "survey");
    EXPECT_EQ(one.at("measured_on"), "B");
    const std::vector<std::array<double, 2>> wanted{{38.4, 112.6}, {101.7, 67.2},  {118.3, -12.8},
                                                    {84.9, -88.1}, {-9.6, -121.4}, {-96.2, -77.5},
                                                    {-119.8, 6.3}, {-71.5, 94.8}};
    const json& points = one.at("points");
    ASSERT_EQ(points.size(), wanted.size());
    for (std::size_t i = 0; i < wanted.size(); ++i) {
        EXPECT_EQ(points[i].at("id"), std::to_string(i + 1));
        const auto at = points[i].at("at_mm").get<std::array<double, 2>>();
        // 4 and 8 hang on the spans, one of which is wrong.
        EXPECT_LT(std::hypot(at[0] - wanted[i][0], at[1] - wanted[i][1]), 0.25) << i + 1;
        EXPECT_GT(points[i].at("sigma_mm").get<double>(), 0.0);
        EXPECT_LT(points[i].at("sigma_mm").get<double>(), 0.05);
    }
    EXPECT_EQ(one.at("covariance_mm2").size(), 16u);
    for (const char* file : {"gearbox-face.result.json", "gearbox-face.svg", "gearbox-face.png"})
        EXPECT_TRUE(fs::exists(folder_ / "out" / file)) << file;
}

/// 229.81 was written for 229.18.
TEST_F(SurveyProgram, the_demos_wrong_reading_is_found_and_named) {
    put_demo();
    const json one = worked("gearbox-face.json");
    ASSERT_FALSE(one.at("suspects").empty());
    const json& suspect = one.at("suspects").at(0);
    EXPECT_EQ(suspect.at("reading"), "span 8-3 (over)");
    EXPECT_EQ(suspect.at("key"), "spans[8]");
    EXPECT_NEAR(suspect.at("by_mm").get<double>(), 0.63, 0.1);
    const std::string blunder = suspect.at("blunder");
    EXPECT_NE(blunder.find("229.81 for 229.18"), std::string::npos) << blunder;
    EXPECT_NEAR(suspect.at("corrected_mm").get<double>(), 229.18 - 10.995, 1e-9);
    const json findings = one.at("findings");
    EXPECT_TRUE(std::any_of(findings.begin(), findings.end(), [](const json& finding) {
        return finding.at("rule") == "suspect-reading" && finding.at("severity") == "warn" &&
               finding.at("where") == "span 8-3 (over)";
    }));
    std::string mended = content(folder_ / "gearbox-face.json");
    mended.replace(mended.find("229.81"), 6, "229.18");
    put("gearbox-face.json", mended);
    const json without = worked("gearbox-face.json");
    EXPECT_TRUE(without.at("suspects").empty());
    for (const json& point : without.at("points")) EXPECT_LT(point.at("sigma_mm").get<double>(), 0.02);
    EXPECT_GT(without.at("chance").get<double>(), 0.001);
}

TEST_F(SurveyProgram, a_result_read_back_gives_the_points_again) {
    put("s.json", survey(square));
    const json one = worked("s.json");
    const json written = json::parse(content(folder_ / "out/face.result.json"));
    EXPECT_EQ(written.at("points"), one.at("points"));
    EXPECT_EQ(written.at("calculation"), "survey");
    EXPECT_EQ(written.at("name"), "face");
    EXPECT_EQ(written.at("measured_on"), "A");
    EXPECT_EQ(written.at("datum"), "origin and axes as measured");
    // 80 from 1, 120 from 3 and 144.222 from 2, which the coordinates share in.
    const auto at = written.at("points").at(3).at("at_mm").get<std::array<double, 2>>();
    EXPECT_NEAR(at[0], 60.0, 1e-3);
    EXPECT_NEAR(at[1], -40.0, 1e-3);
    // The numbers are written so that they read back as the same doubles.
    put("again.json", written.dump());
    EXPECT_EQ(json::parse(content(folder_ / "again.json")).at("points"), written.at("points"));
    EXPECT_EQ(written.at("readings").size(), 9u);
    const json& reading = written.at("readings").at(7);
    EXPECT_EQ(reading.at("name"), "span 3-4 (over)");
    EXPECT_EQ(reading.at("key"), "spans[1]");
    EXPECT_EQ(reading.at("value_mm"), 120.0);
    EXPECT_NEAR(reading.at("residual_mm").get<double>(),
                reading.at("value_mm").get<double>() - reading.at("fitted_mm").get<double>(), 1e-12);
}

TEST_F(SurveyProgram, a_plate_takes_its_holes_from_the_result) {
    put_demo();
    const json one = worked("gearbox-face.json");
    put("plate.json", plate(R"("patterns": [{"name": "gearbox", "survey": "out/gearbox-face.result.json",
        "hole": {"kind": "drilled", "diameter": 8}}])"));
    const std::string text = content(folder_ / "plate.json");
    put("plate.json", std::string(text).replace(text.find("200"), 3, "430"));
    const Outcome outcome = run("check plate.json --json");
    ASSERT_NE(outcome.status, 2) << outcome.out << outcome.err;
    const json holes = json::parse(outcome.out).at("parts").at(0).at("holes");
    std::size_t found = 0;
    for (const json& hole : holes) {
        const std::string id = hole.at("id");
        if (!id.starts_with("gearbox-")) continue;
        const auto seen = one.at("points").at(found++).at("at_mm").get<std::array<double, 2>>();
        // The casting on B is looked at through the plate: X is mirrored.
        EXPECT_NEAR(hole.at("at_mm").at(0).get<double>(), -seen[0], 1e-9) << id;
        EXPECT_NEAR(hole.at("at_mm").at(1).get<double>(), seen[1], 1e-9) << id;
    }
    EXPECT_EQ(found, 8u);
}

TEST_F(SurveyProgram, exact_readings_give_the_points_back) {
    put("exact.json",
        survey(
            R"("points": [{"id": "a"}, {"id": "b"}, {"id": "c"}, {"id": "d"}], "clockwise": ["a", "c", "b"],
        "spans": [{"between": ["a", "b"], "centres": 40}, {"between": ["a", "c"], "centres": 30},
                  {"between": ["b", "c"], "centres": 50}, {"between": ["a", "d"], "centres": 50},
                  {"between": ["b", "d"], "centres": 30}, {"between": ["c", "d"], "centres": 40}])"));
    const json one = worked("exact.json");
    EXPECT_EQ(one.at("datum"), "origin at a, +X from a to b");
    const std::vector<std::array<double, 2>> wanted{{0, 0}, {40, 0}, {0, -30}, {40, -30}};
    // a, c, b run clockwise when c lies above +X.
    for (std::size_t i = 0; i < wanted.size(); ++i) {
        const auto at = one.at("points").at(i).at("at_mm").get<std::array<double, 2>>();
        EXPECT_NEAR(at[0], wanted[i][0], 1e-9) << i;
        EXPECT_NEAR(at[1], -wanted[i][1], 1e-9) << i;
    }
    EXPECT_EQ(one.at("circle").at("diameter_mm").get<double>(), 50.0);
}

TEST_F(SurveyProgram, an_inch_file_speaks_inches_and_writes_millimetres) {
    put("in.json", survey(R"("points": [{"id": "1", "at": [1, 2]}, {"id": "2", "at": [5, 2]}],
        "spans": [{"between": ["1", "2"], "over": 4.5, "pins": [0.5, "1/2 in"]}])",
                          "in"));
    const Outcome outcome = run("calculate in.json");
    EXPECT_EQ(outcome.status, 0) << outcome.err;
    EXPECT_NE(outcome.out.find("points (in;"), std::string::npos) << outcome.out;
    EXPECT_NE(outcome.out.find("4.5000"), std::string::npos) << outcome.out;
    const json one = worked("in.json");
    EXPECT_NEAR(one.at("points").at(0).at("at_mm").at(0).get<double>(), 25.4, 1e-9);
}

TEST_F(SurveyProgram, wrong_files_end_with_two_and_say_everything_at_once) {
    put("wrong.json", survey(R"("points": [{"id": "1", "at": [0, 0]}, {"id": "1", "at": [50, 0]}],
        "spans": [{"between": ["1", "7"], "centres": 40}, {"between": ["1", "1"], "centres": 4}], "unit": 3)"));
    const Outcome outcome = run("calculate wrong.json --json");
    EXPECT_EQ(outcome.status, 2);
    const json errors = json::parse(outcome.out).at("errors");
    std::vector<std::string> keys;
    for (const json& error : errors) keys.push_back(error.at("key"));
    EXPECT_EQ(keys,
              (std::vector<std::string>{"points[1].id", "spans[0].between[1]", "spans[1].between", "unit"}));
    EXPECT_FALSE(fs::exists(folder_ / "out"));
}

TEST_F(SurveyProgram, readings_that_make_no_pattern_are_a_wrong_file) {
    put("open.json",
        survey(R"("points": [{"id": "1"}, {"id": "2"}, {"id": "3"}], "clockwise": ["1", "2", "3"],
        "spans": [{"between": ["1", "2"], "centres": 10}, {"between": ["2", "3"], "centres": 20},
                  {"between": ["1", "3"], "centres": 50}])"));
    const Outcome open = run("calculate open.json");
    EXPECT_EQ(open.status, 2) << open.out;
    EXPECT_NE(open.err.find("open.json:"), std::string::npos) << open.err;
    EXPECT_NE(open.err.find("spans["), std::string::npos) << open.err;
    put("few.json", survey(R"("points": [{"id": "1"}, {"id": "2"}, {"id": "3"}], "clockwise": ["1", "2", "3"],
        "spans": [{"between": ["1", "2"], "centres": 10}, {"between": ["2", "3"], "centres": 20}])"));
    const Outcome few = run("calculate few.json");
    EXPECT_EQ(few.status, 2) << few.out;
    EXPECT_NE(few.err.find("few.json:"), std::string::npos) << few.err;
    EXPECT_FALSE(fs::exists(folder_ / "out"));
}

TEST_F(SurveyProgram, the_starter_works_and_is_explained) {
    const Outcome start = run("start survey");
    EXPECT_EQ(start.status, 0);
    put("mine.json", start.out);
    const Outcome outcome = run("calculate mine.json");
    EXPECT_EQ(outcome.status, 0) << outcome.err << outcome.out;
    for (const char* words : {"points (mm;", "readings (mm;", "what pattern it is", "default-uncertainty"})
        EXPECT_NE(outcome.out.find(words), std::string::npos) << words << "\n" << outcome.out;
    EXPECT_EQ(outcome.out.find("suspect-reading"), std::string::npos) << outcome.out;
    const Outcome explain = run("explain survey spans");
    EXPECT_EQ(explain.status, 0);
    EXPECT_NE(explain.out.find("Distances between two holes or studs."), std::string::npos) << explain.out;
    EXPECT_EQ(run("explain survey points.touch_x").status, 0);
}

TEST_F(SurveyProgram, the_same_file_gives_the_same_bytes) {
    put_demo();
    ASSERT_EQ(run("calculate gearbox-face.json --to one --quiet").status, 0);
    ASSERT_EQ(run("calculate gearbox-face.json --to two --quiet").status, 0);
    for (const char* file : {"gearbox-face.result.json", "gearbox-face.svg", "gearbox-face.png"})
        EXPECT_EQ(content(folder_ / "one" / file), content(folder_ / "two" / file)) << file;
}

TEST_F(SurveyProgram, tries_a_reading_at_many_values) {
    put("s.json", survey(square));
    const Outcome outcome = run("try s.json --vary 'spans[0].centres=79.9:80.1:0.1' --json");
    EXPECT_EQ(outcome.status, 0) << outcome.err << outcome.out;
    EXPECT_EQ(json::parse(outcome.out).at("try").at("candidates").size(), 3u);
}

}  // namespace
}  // namespace fitup::cli
