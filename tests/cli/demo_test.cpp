// The demo from the bench to the plate: readings with one wrong, the survey, the stack of the shafts, the
// plate that takes its places and its thickness from both.
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace fitup::cli {
namespace {

using namespace testing;
using nlohmann::json;

class Demo : public Program {
  protected:
    void SetUp() override {
        Program::SetUp();
        fs::create_directory(folder_ / "examples");
        for (const auto& entry : fs::directory_iterator(FITUP_SOURCE_FOLDER "/examples")) {
            if (entry.path().extension() == ".json")
                fs::copy(entry.path(), folder_ / "examples" / entry.path().filename());
        }
    }
};

TEST_F(Demo, goes_from_readings_to_the_plate_that_bolts_up) {
    const Outcome surveyed =
        run("calculate examples/gearbox-face.json examples/shaft-engagement.json --to out --json");
    ASSERT_EQ(surveyed.status, 0) << surveyed.err << surveyed.out;
    const json survey = json::parse(surveyed.out).at("calculations").at(0);
    EXPECT_TRUE(survey.at("suspects").empty()) << "the wrong reading is left out";
    const json& bolts_up = survey.at("bolts_up");
    EXPECT_TRUE(bolts_up.at("possible").get<bool>());
    // Round numbers are at most 0.05 off what was measured; a stud has 0.5 all round.
    EXPECT_GT(bolts_up.at("least_clearance_mm").get<double>(), 0.4);
    EXPECT_LT(bolts_up.at("least_clearance_mm").get<double>(), 0.5);

    const Outcome made = run("make examples/winch-adapter-b.json --to out --json");
    ASSERT_EQ(made.status, 0) << made.err << made.out;
    const json part = json::parse(made.out).at("parts").at(0);
    for (const json& file : part.at("files")) EXPECT_TRUE(file.at("verified").get<bool>()) << file;
    EXPECT_TRUE(fs::exists(folder_ / "out/winch-adapter-rB.step"));
    std::size_t found = 0;
    for (const json& hole : part.at("holes")) {
        if (!hole.at("id").get<std::string>().starts_with("gearbox-")) continue;
        const json& point = survey.at("points").at(found++);
        EXPECT_NEAR(hole.at("at_mm").at(0).get<double>(), -point.at("at_mm").at(0).get<double>(), 1e-9);
        EXPECT_NEAR(hole.at("at_mm").at(1).get<double>(), point.at("at_mm").at(1).get<double>(), 1e-9);
    }
    EXPECT_EQ(found, 8u);
    int tolerances = 0;
    for (const json& finding : part.at("findings")) {
        if (finding.at("rule") != "position-tolerance") continue;
        ++tolerances;
        EXPECT_NE(finding.at("severity"), "stop") << finding;
        EXPECT_GT(finding.at("value").get<double>(), 0.1) << finding;
    }
    EXPECT_EQ(tolerances, 3) << "housing, gearbox and jacking screws";
}

TEST_F(Demo, the_plate_says_what_to_work_out_first) {
    const Outcome outcome = run("make examples/winch-adapter-b.json --to out");
    EXPECT_EQ(outcome.status, 2);
    for (const char* words : {"patterns[1].survey", "thickness.stack", "gearbox-face.result.json"})
        EXPECT_NE(outcome.err.find(words), std::string::npos) << words << outcome.err;
    EXPECT_FALSE(fs::exists(folder_ / "out"));
}

TEST_F(Demo, compare_tells_what_the_survey_moved) {
    ASSERT_EQ(
        run("calculate examples/gearbox-face.json examples/shaft-engagement.json --to out --quiet").status,
        0);
    const Outcome outcome = run("compare examples/winch-adapter.json examples/winch-adapter-b.json");
    EXPECT_EQ(outcome.status, 0) << outcome.err;
    EXPECT_NE(outcome.out.find("gearbox-1"), std::string::npos) << outcome.out;
    EXPECT_EQ(outcome.out.find("housing-1 "), std::string::npos) << outcome.out;
}

}  // namespace
}  // namespace fitup::cli
