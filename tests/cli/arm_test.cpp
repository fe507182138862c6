// The offset arm as a user meets it: the example made, its result object, its hole list.
#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace fitup::cli {
namespace {

using namespace testing;
using nlohmann::json;

class ArmCommand : public Program {
  protected:
    std::string example() {
        return put("deck-arm.json", content(FITUP_SOURCE_FOLDER "/examples/deck-arm.json")).string();
    }
};

TEST_F(ArmCommand, the_example_is_made_and_verified) {
    const Outcome outcome = run("make '" + example() + "' --json");
    ASSERT_EQ(outcome.status, 0) << outcome.err << outcome.out;
    const json part = json::parse(outcome.out).at("parts").at(0);
    for (const json& file : part.at("files")) EXPECT_TRUE(file.at("verified").get<bool>()) << file;
    const json& work = part.at("work");
    // The worked example of a joggle: see tests/plan/joggle_test.cpp.
    EXPECT_NEAR(work.at("bend_angle_deg").get<double>(), 24.0515, 5e-5);
    EXPECT_NEAR(work.at("developed_length_mm").get<double>(), 87.4013, 5e-5);
    EXPECT_NEAR(work.at("cut_length_mm").get<double>(), 114.4013, 5e-5);
    ASSERT_EQ(work.at("bend_marks_mm").size(), 2u);
    EXPECT_NEAR(work.at("bend_marks_mm").at(1).get<double>(), 38.0 + 21.8248, 5e-5);
    EXPECT_EQ(work.at("clamp").at("bolt"), "M6");
    ASSERT_EQ(part.at("holes").size(), 4u);
    EXPECT_EQ(part.at("holes").at(1).at("id"), "eye");
    EXPECT_EQ(part.at("holes").at(1).at("at_mm"), (json{86.0, 0.0, 15.0})) << "on the risen leg's upper face";
    EXPECT_EQ(part.at("holes").at(3).at("id"), "pinch-tapped");
    EXPECT_EQ(part.at("holes").at(3).at("direction"), (json{0.0, -1.0, 0.0}));
}

TEST_F(ArmCommand, the_hole_list_has_the_pinch_bolts_holes_on_their_edge) {
    ASSERT_EQ(run("make '" + example() + "' --only csv").status, 0);
    const std::string csv = content(folder_ / "out/deck-arm-holes.csv");
    EXPECT_NE(csv.find("+Y,drill 5.0 mm,tap drill,tapped,pinch-tapped"), std::string::npos) << csv;
    EXPECT_NE(csv.find("+Y,M6 tap,tap,tapped,pinch-tapped"), std::string::npos) << csv;
    EXPECT_NE(csv.find("+Y,drill 6.6 mm,drill,clearance,pinch-clear"), std::string::npos) << csv;
    EXPECT_NE(csv.find("B,end mill for slot 8 mm,mill slot,drilled,eye,86.00"), std::string::npos) << csv;
}

TEST_F(ArmCommand, inspect_tells_one_arm_from_another) {
    ASSERT_EQ(run("make '" + example() + "'").status, 0);
    EXPECT_EQ(run("inspect out/deck-arm.step --against deck-arm.json").status, 0);
    EXPECT_EQ(run("inspect out/deck-arm.stl --against deck-arm.json").status, 0);
    std::string other = content(folder_ / "deck-arm.json");
    other.replace(other.find("\"rise\": 9"), 9, "\"rise\": 8");
    put("other.json", other);
    EXPECT_EQ(run("inspect out/deck-arm.step --against other.json").status, 3);
}

TEST_F(ArmCommand, a_joggle_without_an_angle_is_a_wrong_file_with_the_number_to_take) {
    std::string file = content(FITUP_SOURCE_FOLDER "/examples/deck-arm.json");
    file.replace(file.find("\"run\": 24"), 9, "\"run\": 12");
    put("bad.json", file);
    const Outcome outcome = run("make bad.json");
    EXPECT_EQ(outcome.status, 2);
    EXPECT_NE(outcome.err.find("joggle.run: found 12, wanted at least 15.589 mm"), std::string::npos)
        << outcome.err;
    EXPECT_TRUE(made().empty());
}

TEST_F(ArmCommand, the_starter_makes_a_sound_arm) {
    ASSERT_EQ(shell("'" FITUP_PROGRAM "' start offset_arm >start.json").status, 0);
    EXPECT_EQ(run("make start.json").status, 0);
}

/// An arm that swings beside what `keep_clear` says.
std::string arm_beside(const std::string& keep_clear, double clearance_mm) {
    return R"({"format": 1, "part": "offset_arm", "name": "arm", "units": "mm", "material": "mild steel",
  "strip": {"width": 22, "thickness": 6}, "length": 86, "pivot": {"bore": 12}, "eye": {"bore": 6.4},
  "swing": {"from": -31, "to": 31}, "clearance": )" +
           std::to_string(clearance_mm) + R"(, "keep_clear": [{"name": "stud", )" + keep_clear + "}]}";
}

TEST_F(ArmCommand, a_step_obstacle_is_as_near_as_the_cylinder_it_holds) {
    put("stud.json", R"({"format": 1, "part": "threaded_rod", "name": "stud", "units": "mm",
  "material": "stainless 304", "diameter": 20, "path": [[70, 78, -30], [70, 78, 30]]})");
    ASSERT_EQ(run("make stud.json --to .").status, 0);
    const auto swing = [&](const std::string& keep_clear, double clearance_mm, int status) {
        put("arm.json", arm_beside(keep_clear, clearance_mm));
        const Outcome outcome = run("check arm.json --json");
        EXPECT_EQ(outcome.status, status) << outcome.err << outcome.out;
        return json::parse(outcome.out).at("parts").at(0).at("work").at("swing");
    };
    const std::string cylinder = R"("cylinder": {"from": [70, 78, -30], "to": [70, 78, 30], "diameter": 20})";
    const json exact = swing(cylinder, 0.5, 0), step = swing(R"("step": "stud.step")", 0.5, 0);
    const auto number = [](const json& object, const char* key) { return object.at(key).get<double>(); };
    EXPECT_LE(number(step, "error_mm"), 0.01);
    EXPECT_GT(number(step, "error_mm"), number(exact, "error_mm"));
    EXPECT_NEAR(number(step, "least_clearance_mm"), number(exact, "least_clearance_mm"),
                number(step, "error_mm") + number(exact, "error_mm"));
    EXPECT_GT(number(step.at("each").at(0), "triangles"), 20.0);
    // A clearance that only the triangles' doubt takes away is not given.
    const double least_mm = number(step, "least_clearance_mm");
    swing(R"("step": "stud.step")", least_mm - 1e-9, 3);
    swing(R"("step": "stud.step")", least_mm - 0.011, 0);
}

TEST_F(ArmCommand, a_step_obstacle_that_is_missing_or_damaged_is_named) {
    put("arm.json", arm_beside(R"("step": "casting.step")", 0.5));
    for (const char* text : {"", "no step at all"}) {
        if (*text) put("casting.step", text);
        const Outcome outcome = run("make arm.json --to out");
        EXPECT_EQ(outcome.status, 4) << outcome.err;
        EXPECT_NE(outcome.err.find("casting.step: "), std::string::npos) << outcome.err;
        EXPECT_NE(outcome.err.find("what \"stud\" in keep_clear names"), std::string::npos) << outcome.err;
        EXPECT_FALSE(fs::exists(folder_ / "out"));
    }
}

TEST_F(ArmCommand, explain_says_that_holes_count_as_metal) {
    const Outcome outcome = run("explain offset_arm keep_clear");
    EXPECT_EQ(outcome.status, 0);
    EXPECT_NE(outcome.out.find("lever count as metal"), std::string::npos) << outcome.out;
}

}  // namespace
}  // namespace fitup::cli
