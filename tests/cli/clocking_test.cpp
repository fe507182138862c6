// Clocking as a user meets it.
#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace fitup::cli {
namespace {

using namespace testing;
using nlohmann::json;

class ClockingCommand : public Program {
  protected:
    void put_demo() {
        for (const char* name : {"winch-adapter", "gearbox-clocking"})
            put(std::string(name) + ".json",
                content(std::string(FITUP_SOURCE_FOLDER "/examples/") + name + ".json"));
    }
    /// Two rings of twelve holes, the inner one named still, with keys after the plate's name.
    void put_rings(const std::string& keys) {
        put("rings.json", plate(R"("patterns": [
            {"name": "outer", "seen_from": "B", "circle": {"diameter": 150, "count": 12}, "hole": {"kind": "drilled", "diameter": 10}},
            {"name": "still", "seen_from": "B", "circle": {"diameter": 130, "count": 12}, "hole": {"kind": "drilled", "diameter": 10}}])"));
        put("turn.json", R"({"format": 1, "calculation": "clocking", "name": "turn", "units": "mm",
            "plate": "rings.json", )" +
                             keys + "}");
    }
};

TEST_F(ClockingCommand, the_demo_passes_and_what_it_writes_is_true) {
    put_demo();
    const Outcome outcome = run("calculate gearbox-clocking.json --json");
    ASSERT_EQ(outcome.status, 0) << outcome.err << outcome.out;
    const json result = json::parse(outcome.out);
    const json& one = result.at("calculations").at(0);
    EXPECT_EQ(one.at("calculation"), "clocking");
    EXPECT_TRUE(one.at("passes"));
    for (const char* file : {"gearbox-clocking.result.json", "gearbox-clocking.svg", "gearbox-clocking.png"})
        EXPECT_TRUE(fs::exists(folder_ / "out" / file)) << file;
    // With `rotate` as it says the plate has that web as it stands, so that nothing is left to turn.
    std::string text = content(folder_ / "winch-adapter.json");
    for (const json& pattern : one.at("patterns")) {
        const std::string name = "\"name\": \"" + pattern.at("pattern").get<std::string>() + "\",";
        ASSERT_NE(text.find(name), std::string::npos);
        text.replace(text.find(name), name.size(),
                     name + " \"rotate\": " + pattern.at("rotate_deg").dump() + ",");
    }
    put("winch-adapter.json", text);
    const json again = json::parse(run("calculate gearbox-clocking.json --json").out);
    const json& turned = again.at("calculations").at(0);
    EXPECT_NEAR(turned.at("now").at("least_web_mm"), one.at("least_web_mm"), 1e-6);
    EXPECT_NEAR(turned.at("least_web_mm"), one.at("least_web_mm"), 1e-4);
}

TEST_F(ClockingCommand, nothing_passes_ends_with_three_and_says_what_would) {
    put_rings(R"("turn": "outer", "web": 12)");
    const Outcome outcome = run("calculate turn.json --json");
    EXPECT_EQ(outcome.status, 3) << outcome.err;
    const json result = json::parse(outcome.out);
    const json& one = result.at("calculations").at(0);
    EXPECT_FALSE(one.at("passes"));
    EXPECT_TRUE(one.at("passing_deg").empty());
    EXPECT_EQ(one.at("findings").at(0).at("rule"), "clocking");
    EXPECT_EQ(one.at("findings").at(0).at("severity"), "stop");
    ASSERT_FALSE(one.at("would_pass").empty());
    // The file with the bolt circle that it names passes.
    const json& change = one.at("would_pass").at(0);
    std::string text = content(folder_ / "rings.json");
    const std::string own = change.at("key") == "patterns.outer.circle.diameter" ? "150" : "130";
    text.replace(text.find("\"diameter\": " + own), 15, "\"diameter\": " + change.at("to_mm").dump());
    put("rings.json", text);
    EXPECT_EQ(run("calculate turn.json").status, 0);
}

TEST_F(ClockingCommand, wrong_files_are_told_at_their_keys) {
    put_rings(R"("turn": ["outr", "still", "still"], "over": [90, 30])");
    const Outcome outcome = run("calculate turn.json --json");
    EXPECT_EQ(outcome.status, 2);
    const json result = json::parse(outcome.out);
    std::string keys;
    for (const json& error : result.at("errors")) keys += error.at("key").get<std::string>() + " ";
    EXPECT_NE(keys.find("turn[0]"), std::string::npos) << keys;
    EXPECT_NE(keys.find("turn[2]"), std::string::npos) << keys;
    EXPECT_NE(keys.find("over"), std::string::npos) << keys;
    EXPECT_NE(outcome.out.find("outer"), std::string::npos) << outcome.out;
    EXPECT_FALSE(fs::exists(folder_ / "out"));
}

TEST_F(ClockingCommand, a_plate_that_is_none_or_wrong_is_told) {
    put_rings(R"("turn": "outer")");
    fs::remove(folder_ / "rings.json");
    EXPECT_EQ(run("calculate turn.json").status, 2);
    EXPECT_NE(run("calculate turn.json").err.find("rings.json"), std::string::npos);
    put("rings.json", content(FITUP_SOURCE_FOLDER "/examples/selector-crank.json"));
    EXPECT_NE(run("calculate turn.json").err.find("an adapter plate"), std::string::npos);
    put("rings.json", plate(R"("patterns": [{"name": "outer"}])"));
    const Outcome wrong = run("calculate turn.json");
    EXPECT_EQ(wrong.status, 2);
    EXPECT_NE(wrong.err.find("a plate without faults"), std::string::npos) << wrong.err;
}

TEST_F(ClockingCommand, patterns_about_different_places_cant_turn_together) {
    put("rings.json", plate(R"("patterns": [
        {"name": "a", "seen_from": "B", "shift": [2, 0], "circle": {"diameter": 150, "count": 6}, "hole": {"kind": "drilled", "diameter": 10}},
        {"name": "b", "seen_from": "B", "circle": {"diameter": 110, "count": 6}, "hole": {"kind": "drilled", "diameter": 10}}])"));
    put("turn.json", R"({"format": 1, "calculation": "clocking", "name": "turn", "units": "mm",
        "plate": "rings.json", "turn": ["a", "b"]})");
    const Outcome outcome = run("calculate turn.json");
    EXPECT_EQ(outcome.status, 2);
    EXPECT_NE(outcome.err.find("shift"), std::string::npos) << outcome.err;
}

}  // namespace
}  // namespace fitup::cli
