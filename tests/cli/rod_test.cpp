// A link rod through the program, as a user runs it.
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace fitup::cli {
namespace {

using nlohmann::json;
using testing::Outcome;
using Rods = testing::Program;

TEST_F(Rods, have_the_contracts_figures_and_files) {
    const Outcome made = run("make '" FITUP_SOURCE_FOLDER "/examples/selector-rod.json' --json");
    ASSERT_EQ(made.status, 0) << made.err;
    const json part = json::parse(made.out).at("parts").at(0);
    const json& work = part.at("work");
    EXPECT_NEAR(work.at("cut_length_mm").get<double>(), 327.04, 0.01);
    ASSERT_EQ(work.at("bends").size(), 2u);
    EXPECT_NEAR(work.at("bends").at(0).at("angle_deg").get<double>(),
                std::atan2(38, 45) * 180 / 3.14159265358979, 1e-9);
    for (const char* key : {"mark_mm", "middle_mm", "angle_deg", "turn_deg"})
        EXPECT_TRUE(work.at("bends").at(1).at(key).is_number()) << key;
    EXPECT_LT(work.at("pin_to_pin_mm").at("least"), work.at("pin_to_pin_mm").at("set"));
    EXPECT_LT(work.at("pin_to_pin_mm").at("set"), work.at("pin_to_pin_mm").at("most"));
    EXPECT_GT(work.at("buckling_n").get<double>(), 0);
    EXPECT_TRUE(part.at("holes").empty());
    EXPECT_EQ(this->made(),
              (std::vector<std::string>{"out/selector-rod-bends.csv", "out/selector-rod-drawing.pdf",
                                        "out/selector-rod-drawing.svg", "out/selector-rod-fasteners.csv",
                                        "out/selector-rod-order.txt", "out/selector-rod-sheet.pdf",
                                        "out/selector-rod.3mf", "out/selector-rod.html",
                                        "out/selector-rod.step", "out/selector-rod.stl"}));
    for (const char* file : {"selector-rod.step", "selector-rod.stl"})
        EXPECT_EQ(run("inspect out/" + std::string(file) +
                      " --against '" FITUP_SOURCE_FOLDER "/examples/selector-rod.json'")
                      .status,
                  0)
            << file;
}

TEST_F(Rods, start_with_a_file_that_makes_one_without_a_finding) {
    const Outcome starter = run("start threaded_rod");
    ASSERT_EQ(starter.status, 0);
    put("mine.json", starter.out);
    const Outcome outcome = run("make mine.json --only step,stl,csv,png --json");
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    EXPECT_TRUE(json::parse(outcome.out).at("parts").at(0).at("findings").empty());
    EXPECT_EQ(run("explain threaded_rod fittings.engaged").status, 0);
}

TEST_F(Rods, that_can_not_be_bent_are_wrong_files) {
    put("tight.json",
        R"({"format": 1, "part": "threaded_rod", "name": "r", "units": "in", "material": "mild steel",
        "diameter": 0.25, "path": [[0,0,0], [5,0,0], [5,1,0], [0,1,0]], "bend_radius": 0.75})");
    const Outcome outcome = run("make tight.json");
    EXPECT_EQ(outcome.status, 2);
    EXPECT_NE(outcome.err.find("make bend_radius at most 0.5 in"), std::string::npos) << outcome.err;
    EXPECT_TRUE(made().empty());
}

TEST_F(Rods, that_run_into_themselves_are_stopped_whatever_is_asked) {
    put("loop.json",
        R"({"format": 1, "part": "threaded_rod", "name": "r", "units": "mm", "material": "mild steel",
        "diameter": 8, "path": [[-60,0,0], [120,0,0], [120,120,0], [0,120,4], [0,-60,4]], "bend_radius": 24})");
    EXPECT_EQ(run("make loop.json --despite-rules").status, 3);
    EXPECT_TRUE(made().empty());
}

}  // namespace
}  // namespace fitup::cli
