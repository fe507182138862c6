// Concentricity as a user meets it.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace fitup::cli {
namespace {

using namespace testing;
using nlohmann::json;

class ConcentricityFiles : public Program {
  protected:
    void put_budget(const std::string& more) {
        put("c.json",
            R"({"format": 1, "calculation": "concentricity", "name": "c", "units": "mm", "limit": {"reading": 0.13},
  "contributions": [{"name": "housing", "offset": 0.115, "fixed": true}, {"name": "register A", "offset": 0.025},
    {"name": "register B", "offset": 0.025}, {"name": "plate", "offset": 0.02}])" +
                more + "}");
    }
};

TEST_F(ConcentricityFiles, a_budget_over_its_limit_ends_with_three_and_says_both_words) {
    put_budget("");
    const Outcome outcome = run("calculate c.json --json");
    EXPECT_EQ(outcome.status, 3) << outcome.err;
    const json result = json::parse(outcome.out);
    const json& one = result.at("calculations").at(0);
    EXPECT_NEAR(one.at("worst_case").at("offset_mm").get<double>(), 0.185, 1e-12);
    EXPECT_NEAR(one.at("worst_case").at("reading_mm").get<double>(), 0.37, 1e-12);
    EXPECT_NEAR(one.at("limit").at("reading_mm").get<double>(), 0.13, 1e-12);
    EXPECT_EQ(one.at("contributions").size(), 4u);
    EXPECT_EQ(one.at("holds"), false);
    for (const char* file : {"c.result.json", "c.svg", "c.png"})
        EXPECT_TRUE(fs::exists(folder_ / "out" / file)) << file;
    const std::string text = run("calculate c.json").out;
    EXPECT_NE(text.find("at worst                                 0.185      0.37        14.6"),
              std::string::npos)
        << text;
}

TEST_F(ConcentricityFiles, dowels_reamed_at_assembly_leave_it_to_the_dial) {
    put_budget(R"(, "reamed_at_assembly": true, "readings": {"12": 0, "3": 0.1, "6": 0.3, "9": 0.2})");
    const Outcome outcome = run("calculate c.json --json");
    EXPECT_EQ(outcome.status, 0) << outcome.err;
    const json result = json::parse(outcome.out);
    const json& dial = result.at("calculations").at(0).at("dial");
    EXPECT_NEAR(dial.at("lies_mm").at(0).get<double>(), 0.05, 1e-12);
    EXPECT_NEAR(dial.at("lies_mm").at(1).get<double>(), 0.15, 1e-12);
    EXPECT_NEAR(dial.at("move_mm").at(1).get<double>(), -0.15, 1e-12);
    EXPECT_EQ(dial.at("sum_agrees"), true);
}

TEST_F(ConcentricityFiles, the_demo_and_the_starter_work_out) {
    EXPECT_EQ(run("calculate '" FITUP_SOURCE_FOLDER "/examples/shaft-alignment.json'").status, 0);
    put("mine.json", run("start concentricity").out);
    EXPECT_EQ(run("calculate mine.json --quiet").status, 0);
    EXPECT_NE(run("explain concentricity readings").out.find("12_again"), std::string::npos);
    EXPECT_NE(run("explain rules").out.find("dial-sum"), std::string::npos);
}

TEST_F(ConcentricityFiles, mistakes_are_told_all_at_once) {
    put("c.json", R"({"format": 1, "calculation": "concentricity", "name": "c", "units": "mm",
  "housing": "SAE 44", "plate": "none.json", "reading": {"12": 0}})");
    const Outcome outcome = run("calculate c.json");
    EXPECT_EQ(outcome.status, 2);
    for (const char* words :
         {"housing: found \"SAE 44\"", "plate: none.json", "reading: unknown key; the nearest is readings"})
        EXPECT_NE(outcome.err.find(words), std::string::npos) << words << "\n" << outcome.err;
}

}  // namespace
}  // namespace fitup::cli
