// Stacks as a user meets them, and the plate that takes its thickness from one.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace fitup::cli {
namespace {

using namespace testing;
using nlohmann::json;

class Stacks : public Program {
  protected:
    void put_demo() {
        put("shaft-engagement.json", content(FITUP_SOURCE_FOLDER "/examples/shaft-engagement.json"));
    }

    void change(const std::string& from, const std::string& to) {
        std::string text = content(folder_ / "shaft-engagement.json");
        ASSERT_NE(text.find(from), std::string::npos) << from;
        put("shaft-engagement.json", text.replace(text.find(from), from.size(), to));
    }
};

TEST_F(Stacks, the_demo_makes_the_plate_forty_thick) {
    put_demo();
    const Outcome outcome = run("calculate shaft-engagement.json --json");
    ASSERT_EQ(outcome.status, 0) << outcome.err << outcome.out;
    const json result = json::parse(outcome.out);
    const json& one = result.at("calculations").at(0);
    EXPECT_EQ(one.at("calculation"), "stack");
    EXPECT_EQ(one.at("solved"), json({{"plate", 40.0}}));
    const json& range = one.at("solved_ranges").at(0).at("serves");
    EXPECT_NEAR(range.at(0).get<double>(), 39.15, 1e-9);
    EXPECT_NEAR(range.at(1).get<double>(), 40.85, 1e-9);
    ASSERT_EQ(one.at("closes").size(), 2u);
    EXPECT_EQ(one.at("closes").at(0).at("name"), "spline engagement");
    EXPECT_NEAR(one.at("closes").at(1).at("worst_case").at(0).get<double>(), 2.85, 1e-9);
    EXPECT_FALSE(one.contains("worst_case"));  // two closings
    for (const char* file : {"shaft-engagement.result.json", "shaft-engagement.svg", "shaft-engagement.png"})
        EXPECT_TRUE(fs::exists(folder_ / "out" / file)) << file;
}

TEST_F(Stacks, the_demo_plate_is_as_thick_as_its_stack_says) {
    put_demo();
    ASSERT_EQ(run("calculate shaft-engagement.json --quiet").status, 0);
    const std::string demo = content(FITUP_SOURCE_FOLDER "/examples/winch-adapter.json");
    put("winch-adapter.json", demo);
    std::string by_stack = demo;
    const std::string from = "\"thickness\": 40,";
    ASSERT_NE(demo.find(from), std::string::npos);
    by_stack.replace(demo.find(from), from.size(),
                     R"("thickness": {"stack": "out/shaft-engagement.result.json"},)");
    put("by-stack.json", by_stack);
    ASSERT_EQ(run("make winch-adapter.json --only step --to plain --quiet", "SOURCE_DATE_EPOCH=0").status, 0);
    ASSERT_EQ(run("make by-stack.json --only step --to stacked --quiet", "SOURCE_DATE_EPOCH=0").status, 0);
    EXPECT_EQ(content(folder_ / "plain/winch-adapter.step"), content(folder_ / "stacked/winch-adapter.step"));
    EXPECT_NE(run("check by-stack.json").out.find("thickness-stack"), std::string::npos);
}

TEST_F(Stacks, a_survey_and_a_stack_make_a_plate) {
    put_demo();
    ASSERT_EQ(run("calculate shaft-engagement.json --quiet").status, 0);
    put("face.result.json",
        R"({"calculation": "survey", "name": "face", "measured_on": "B", "datum": "mean of 1 and 3", "points": [
            {"id": "1", "at_mm": [70, 0], "sigma_mm": 0.05}, {"id": "2", "at_mm": [0, 70], "sigma_mm": 0.05},
            {"id": "3", "at_mm": [-70, 10], "sigma_mm": 0.05}]})");
    std::string text = plate(
        R"("patterns": [{"name": "studs", "survey": "face.result.json", "hole": {"kind": "clearance", "for": "M10"}}])");
    const std::string from = "\"thickness\": 20";
    text.replace(text.find(from), from.size(),
                 R"("thickness": {"stack": "out/shaft-engagement.result.json"})");
    put("plate.json", text);
    const Outcome outcome = run("make plate.json --only step,csv --json");
    ASSERT_EQ(outcome.status, 0) << outcome.err << outcome.out;
    const json result = json::parse(outcome.out);
    const json& one = result.at("parts").at(0);
    EXPECT_EQ(one.at("bounding_box_mm").at(1).at(2), 40.0);
    const json& hole = one.at("holes").at(1);
    EXPECT_EQ(hole.at("id"), "studs-1");
    EXPECT_EQ(hole.at("at_mm").at(0), -70.0);  // measured on the casting at B
    EXPECT_EQ(hole.at("position_sigma_mm"), 0.05);
    EXPECT_NE(outcome.out.find("from the survey face.result.json (datum: mean of 1 and 3)"),
              std::string::npos);
}

TEST_F(Stacks, one_closing_alone_has_its_ranges_at_the_top) {
    put("gap.json",
        R"({"format": 1, "calculation": "stack", "name": "gap", "units": "in", "closes": {"name": "gap", "through": ["a", "-b"]},
            "links": [{"name": "a", "size": 2, "tolerance": 0.003}, {"name": "b", "size": 1.75, "tolerance": 0.004}]})");
    const Outcome outcome = run("calculate gap.json --json");
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const json result = json::parse(outcome.out);
    const json& one = result.at("calculations").at(0);
    EXPECT_NEAR(one.at("worst_case").at(0).get<double>(), 25.4 * 0.243, 1e-9);
    EXPECT_NEAR(one.at("statistical").at(1).get<double>(), 25.4 * 0.255, 1e-9);
    EXPECT_TRUE(one.at("solved").empty());
}

TEST_F(Stacks, no_size_serves_ends_with_three_and_names_both) {
    put_demo();
    change("[38, 46]", "[38, 43]");
    const Outcome outcome = run("calculate shaft-engagement.json");
    EXPECT_EQ(outcome.status, 3) << outcome.err;
    EXPECT_NE(outcome.out.find("no size serves"), std::string::npos) << outcome.out;
    const json written = json::parse(content(folder_ / "out/shaft-engagement.result.json"));
    EXPECT_TRUE(written.at("solved").empty());
    EXPECT_EQ(written.at("exclusion").at("at_least_for"), "spline engagement");
    const std::string message = written.at("findings").at(0).at("message");
    for (const char* words : {"spline engagement asks for at least 42.15 mm", "end gap for at most 40.85 mm",
                              "they exclude each other by 1.3 mm"})
        EXPECT_NE(message.find(words), std::string::npos) << words << "\n" << message;
}

TEST_F(Stacks, wrong_files_say_so_at_their_keys_and_write_nothing) {
    put_demo();
    change("\"-plate\", \"shaft\"]", "\"-plat\", \"shaft\"]");
    change("\"pilot\", \"size\"", "\"pilot\", \"sise\"");
    const Outcome outcome = run("calculate shaft-engagement.json");
    EXPECT_EQ(outcome.status, 2);
    for (const char* words :
         {"closes[0].through[1]: found \"-plat\"", "the nearest is \"plate\"", "links[3].sise: unknown key"})
        EXPECT_NE(outcome.err.find(words), std::string::npos) << words << "\n" << outcome.err;
    EXPECT_TRUE(made().empty());
}

TEST_F(Stacks, start_explain_try_and_compare_know_it) {
    ASSERT_EQ(run("start stack").status, 0);
    put("mine.json", run("start stack").out);
    EXPECT_EQ(run("calculate mine.json --quiet").status, 0);
    EXPECT_NE(run("explain stack closes").out.find("through"), std::string::npos);
    const Outcome trial = run("try mine.json --vary links.shaft.size=102:104:0.5");
    EXPECT_EQ(trial.status, 0) << trial.err;
    EXPECT_NE(trial.out.find("solved.plate"), std::string::npos) << trial.out;
}

}  // namespace
}  // namespace fitup::cli
