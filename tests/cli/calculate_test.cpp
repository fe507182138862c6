// Calculations, trials and comparisons as a user meets them.
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace fitup::cli {
namespace {

using namespace testing;
using nlohmann::json;

class Calculate : public Program {
  protected:
    /// The demo linkage with the parts it names.
    void put_demo() {
        for (const char* name : {"winch-selector", "deck-arm", "selector-crank", "selector-rod"})
            put(std::string(name) + ".json",
                content(std::string(FITUP_SOURCE_FOLDER "/examples/") + name + ".json"));
    }

    /// `file` with the first `from` replaced by `to`, under another name.
    void change(const std::string& file, const std::string& from, const std::string& to,
                const std::string& other) {
        std::string text = content(folder_ / file);
        ASSERT_NE(text.find(from), std::string::npos) << from;
        text.replace(text.find(from), from.size(), to);
        put(other, text);
    }
};

TEST_F(Calculate, the_demo_selects_everywhere_and_leaves_its_files) {
    put_demo();
    const Outcome outcome = run("calculate winch-selector.json --json");
    ASSERT_EQ(outcome.status, 0) << outcome.err << outcome.out;
    const json result = json::parse(outcome.out);
    const json& one = result.at("calculations").at(0);
    EXPECT_EQ(one.at("calculation"), "linkage");
    ASSERT_EQ(one.at("positions").size(), 5u);
    double worst = 1e9;
    for (const json& position : one.at("positions")) {
        EXPECT_EQ(position.at("verdict"), "selects");
        const double got = position.at("got_deg"), wanted = position.at("wanted_deg");
        EXPECT_NEAR(position.at("error_deg").get<double>(), got - wanted, 1e-9);
        worst = std::min(worst, position.at("margin_deg").get<double>());
        EXPECT_GT(position.at("lost_motion_deg").at("worn").get<double>(),
                  position.at("lost_motion_deg").at("new").get<double>());
    }
    EXPECT_NEAR(one.at("worst_margin_deg").get<double>(), worst, 1e-12);
    for (const char* key : {"crank.arm_out", "rod-1.length", "rod-2.length"})
        EXPECT_GT(one.at("solved").at(key).get<double>(), 0.0) << key;
    EXPECT_GT(one.at("builds").at("all_select").get<double>(), 0.9);
    for (const char* file : {"winch-selector.result.json", "winch-selector.svg", "winch-selector.png",
                             "winch-selector-positions.svg", "winch-selector-positions.png"})
        EXPECT_TRUE(fs::exists(folder_ / "out" / file)) << file;
    const json written = json::parse(content(folder_ / "out/winch-selector.result.json"));
    EXPECT_EQ(written.at("positions"), one.at("positions"));
}

TEST_F(Calculate, the_same_file_gives_the_same_bytes) {
    put_demo();
    ASSERT_EQ(run("calculate winch-selector.json --to one --quiet").status, 0);
    ASSERT_EQ(run("calculate winch-selector.json --to two --quiet").status, 0);
    for (const char* file :
         {"winch-selector.result.json", "winch-selector.svg", "winch-selector-positions.png"})
        EXPECT_EQ(content(folder_ / "one" / file), content(folder_ / "two" / file)) << file;
}

TEST_F(Calculate, says_what_to_change_in_which_part) {
    put_demo();
    change("selector-crank.json", "\"length\": 29,", "\"length\": 33,", "selector-crank.json");
    const Outcome outcome = run("calculate winch-selector.json");
    EXPECT_EQ(outcome.status, 0) << outcome.err;
    EXPECT_NE(outcome.out.find("in selector-crank.json set arms[1].length to 29 mm"), std::string::npos)
        << outcome.out;
}

TEST_F(Calculate, a_position_that_falls_between_ends_with_three_and_names_its_neighbours) {
    put_demo();
    change("winch-selector.json", "\"between\": [25, 55]}", "\"between\": [40, 55]}", "l.json");
    const Outcome outcome = run("calculate l.json --json");
    EXPECT_EQ(outcome.status, 3);
    const json result = json::parse(outcome.out);
    bool found = false;
    for (const json& position : result.at("calculations").at(0).at("positions")) {
        if (position.at("verdict") != "falls between") continue;
        found = true;
        const std::string neighbours = position.at("neighbours");
        EXPECT_TRUE(neighbours.starts_with("between ") || neighbours.starts_with("beyond ")) << neighbours;
    }
    EXPECT_TRUE(found);
    EXPECT_TRUE(fs::exists(folder_ / "out/winch-selector.result.json"));
}

TEST_F(Calculate, a_chain_that_opens_says_where_and_by_how_much) {
    put("open.json", R"({"format": 1, "calculation": "linkage", "name": "open", "units": "mm",
        "levers": [{"name": "a", "pivot": [0, 0, 0], "rest": [0, 1, 0], "arm": 80},
                   {"name": "b", "pivot": [200, 0, 0], "rest": [0, 1, 0], "arm": 50}],
        "rods": [{"length": 200}],
        "positions": [{"name": "p", "input": 0, "output": 0, "window": 40},
                      {"name": "q", "input": 60, "output": 90, "window": 5}]})");
    const Outcome outcome = run("calculate open.json --json");
    EXPECT_EQ(outcome.status, 3);
    const json result = json::parse(outcome.out);
    const json& findings = result.at("calculations").at(0).at("findings");
    const auto opens = std::find_if(findings.begin(), findings.end(),
                                    [](const json& one) { return one.at("rule") == "chain-closes"; });
    ASSERT_NE(opens, findings.end()) << findings;
    // Straight out: the rod and the second arm in line, 250 mm from its pivot, by the law of cosines.
    const double opens_at = std::asin((250.0 * 250.0 - 200.0 * 200.0 - 80.0 * 80.0) / (2.0 * 200.0 * 80.0)) *
                            180.0 / 3.14159265358979323846;
    const std::string message = opens->at("message");
    EXPECT_NE(message.find(" of " + std::to_string(int(opens_at))), std::string::npos)
        << message << " " << opens_at;
    EXPECT_NEAR(
        opens->at("value").get<double>(),
        std::sqrt(200.0 * 200 + 80.0 * 80 + 2 * 200 * 80 * std::sin(60 * 3.14159265358979 / 180)) - 250.0,
        1e-6);
}

TEST_F(Calculate, wrong_files_are_told_all_at_once_and_write_nothing) {
    put("bad.json", R"({"format": 1, "calculation": "linkage", "name": "bad", "units": "mm",
        "levers": [{"name": "a", "pivot": [0, 0, 0], "rest": [0, 0, 1], "arm": 80},
                   {"name": "b", "pivot": [0, 0, 50], "rest": [0, 1, 0], "arm": 0},
                   {"name": "b", "pivot": [0, 90, 50], "arm": {"between": [50, 20]}}],
        "rods": [{"length": 200}],
        "positions": [{"name": "p", "input": 0, "output": 0, "window": 4},
                      {"name": "q", "input": 20, "output": 6, "window": [-3, 3]},
                      {"name": "r", "input_travel": 500, "at": 100, "output": 30, "window": [1, 3]}],
        "stops": {"input": [10, -10]}, "joint_play": {"new": 0.2, "worn": 0.1}})");
    const Outcome outcome = run("calculate bad.json --json");
    EXPECT_EQ(outcome.status, 2);
    const json result = json::parse(outcome.out);
    std::string all;
    for (const json& error : result.at("errors")) {
        EXPECT_GT(error.at("line").get<int>(), 0);
        all += error.at("message").get<std::string>() + "\n";
    }
    for (const char* wanted : {"not square to the axis", "one and the same axis", "levers[1].arm: found 0",
                               "a name that no other has", "the least first", "1 rods for 3 levers",
                               "windows of p and q overlap by 1", "twice the radius", "[below, above]",
                               "least angle first", "at least the play of a new joint"})
        EXPECT_NE(all.find(wanted), std::string::npos) << wanted << "\n" << all;
    EXPECT_FALSE(fs::exists(folder_ / "out"));
    EXPECT_EQ(run("make bad.json").status, 2);
    EXPECT_NE(run("check bad.json").err.find("fitup calculate"), std::string::npos);
}

TEST_F(Calculate, a_missing_or_wrong_part_is_told_at_its_key) {
    put_demo();
    change("winch-selector.json", "deck-arm.json", "no-such.json", "missing.json");
    change("winch-selector.json", "\"part\": \"deck-arm.json\"", "\"part\": \"selector-rod.json\"",
           "kind.json");
    change("winch-selector.json", "\"arm\": \"rod\"", "\"arm\": \"rodd\"", "arm.json");
    EXPECT_NE(run("calculate missing.json").err.find("levers[0].arm.part"), std::string::npos);
    EXPECT_NE(run("calculate kind.json").err.find("threaded_rod"), std::string::npos);
    EXPECT_NE(run("calculate arm.json").err.find("the nearest is \"rod\""), std::string::npos);
    EXPECT_FALSE(fs::exists(folder_ / "out"));
}

TEST_F(Calculate, travel_along_a_chord_is_the_angle_it_makes) {
    put_demo();
    // 30 degrees at 300 mm: a chord of 2 * 300 * sin 15.
    const double chord = 600.0 * std::sin(15.0 * 3.14159265358979323846 / 180.0);
    change("winch-selector.json", "\"name\": \"fast\", \"input\": 30",
           "\"name\": \"fast\", \"input_travel\": " + std::to_string(chord) + ", \"at\": 300", "chord.json");
    const Outcome outcome = run("calculate chord.json --json --only json");
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const json result = json::parse(outcome.out);
    EXPECT_NEAR(result.at("calculations").at(0).at("positions").at(4).at("input_deg").get<double>(), 30.0,
                1e-5);
    EXPECT_FALSE(fs::exists(folder_ / "out/winch-selector.svg"));
}

TEST_F(Calculate, a_rod_that_sweeps_past_a_post_is_told_and_one_that_touches_it_stops) {
    put_demo();
    const Outcome clear = run("calculate winch-selector.json --only json --json");
    ASSERT_EQ(clear.status, 0) << clear.err;
    const json result = json::parse(clear.out);
    const json& rows = result.at("calculations").at(0).at("rod_clearances");
    ASSERT_EQ(rows.size(), 2u);
    EXPECT_GT(rows.at(0).at("least_clearance_mm").get<double>(), 5.0);
    EXPECT_LE(rows.at(0).at("error_mm").get<double>(), 0.01);
    change("winch-selector.json", "[200, 90, -40], \"to\": [200, 90, 60]",
           "[200, 40, -40], \"to\": [200, 40, 60]", "touch.json");
    const Outcome touch = run("calculate touch.json --only json");
    EXPECT_EQ(touch.status, 3);
    EXPECT_NE(touch.out.find("swing-clearance  rod-1, deck frame post"), std::string::npos) << touch.out;
    change("winch-selector.json", ", \"diameter\": \"1/4 in\"", "", "thin.json");
    change("thin.json", ", \"diameter\": 8", "", "thin.json");
    EXPECT_NE(run("calculate thin.json").err.find("no rod has a `diameter`"), std::string::npos);
}

TEST_F(Calculate, a_folder_that_cannot_be_written_ends_with_four) {
    put_demo();
    put("out", "a file where a folder should be");
    const Outcome outcome = run("calculate winch-selector.json");
    EXPECT_EQ(outcome.status, 4);
    EXPECT_NE(outcome.err.find("nothing is written"), std::string::npos) << outcome.err;
}

class Try : public Calculate {};

TEST_F(Try, finds_the_least_rise_that_clears_the_cover_screw_and_keeps_the_file) {
    put_demo();
    change("deck-arm.json", "{\"rise\": 9,", "{\"rise\": 6, /* to be found */", "low.json");
    const Outcome outcome = run("try low.json --vary joggle.rise=6:12:0.25 --keep --json");
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const json result = json::parse(outcome.out).at("try");
    ASSERT_EQ(result.at("candidates").size(), 25u);
    // The screw's head ends 7 mm up and 1.5 mm are wanted: 8.5, by plain height.
    EXPECT_EQ(result.at("best").at("values").at("joggle.rise"), 8.5);
    for (const json& one : result.at("candidates")) {
        const double rise = one.at("values").at("joggle.rise");
        EXPECT_EQ(one.at("passes").get<bool>(), rise >= 8.5) << one;
        if (rise > 11.0) continue;  // the flange is nearer then
        EXPECT_NEAR(one.at("figures").at("swing.least_clearance_mm").get<double>(), std::max(0.0, rise - 7.0),
                    2e-4);
    }
    std::string expected = content(folder_ / "low.json");
    expected.replace(expected.find("\"rise\": 6,"), 10, "\"rise\": 8.5,");
    EXPECT_EQ(content(folder_ / "out/deck-arm-kept.json"), expected);
    EXPECT_TRUE(fs::exists(folder_ / "out/deck-arm-try.svg"));
    EXPECT_EQ(run("check out/deck-arm-kept.json").status, 0);
}

TEST_F(Try, a_grid_over_a_plate_and_a_calculation) {
    put_demo();
    put("plate.json",
        R"({"format": 1, "part": "adapter_plate", "name": "plate", "units": "in", "material": "mild steel",
        "thickness": "5/8 in", "outline": {"round": {"diameter": 6}}, "bore": {"diameter": 1.5},
        "patterns": [{"name": "bolts", "seen_from": "B", "circle": {"diameter": 4.5, "count": 6},
                      "hole": {"kind": "drilled", "diameter": 0.4}}]})");
    const Outcome plate =
        run("try plate.json --vary patterns.bolts.circle.diameter=4:6:0.5 --vary thickness=0.5:0.75:0.125 "
            "--json");
    ASSERT_EQ(plate.status, 0) << plate.err;
    const json grid = json::parse(plate.out).at("try");
    EXPECT_EQ(grid.at("candidates").size(), 15u);
    EXPECT_EQ(grid.at("vary").at(1).at("own"), 0.625);
    EXPECT_FALSE(grid.at("candidates").at(14).at("passes").get<bool>());  // holes across the outline
    const Outcome linkage = run("try winch-selector.json --vary levers.selector.arm=44:52:4 --json");
    ASSERT_EQ(linkage.status, 0) << linkage.err;
    const json trial = json::parse(linkage.out).at("try");
    ASSERT_EQ(trial.at("candidates").size(), 3u);
    EXPECT_TRUE(trial.at("candidates").at(0).at("figures").contains("worst_margin_deg"));
}

TEST_F(Try, nothing_that_passes_ends_with_three_and_a_wrong_value_is_a_row) {
    put_demo();
    const Outcome outcome = run("try deck-arm.json --vary joggle.rise=2:4:1 --json");
    EXPECT_EQ(outcome.status, 3);
    EXPECT_TRUE(json::parse(outcome.out).at("try").at("best").is_null());
    const Outcome wrong = run("try deck-arm.json --vary joggle.inside_radius=5:65:30 --json");
    const json rows = json::parse(wrong.out).at("try");
    EXPECT_NE(rows.at("candidates").at(2).at("result").get<std::string>().find("wrong file: "),
              std::string::npos);
}

TEST_F(Try, wrong_calls_are_told_with_the_nearest_key) {
    put_demo();
    const auto told = [&](const std::string& vary, const std::string& wanted) {
        const Outcome outcome = run("try deck-arm.json --vary " + vary);
        EXPECT_EQ(outcome.status, 2) << vary;
        EXPECT_NE(outcome.err.find(wanted), std::string::npos) << outcome.err;
    };
    told("joggle.ris=1:2:1", "the nearest is \"rise\"");
    told("strip=1:2:1", "a number or a length");
    told("name=1:2:1", "a number or a length");
    told("length=5:1:1", "least value first");
    told("length=1:5:0", "a step over 0");
    told("length=1:5", "KEY=FROM:TO:STEP");
    told("length=1:nan:1", "is no number");
    told("length=1:1e9:0.001", "at most 100000");
    told("length=1:2:1 --vary length=1:2:1", "varied twice");
    EXPECT_FALSE(fs::exists(folder_ / "out"));
}

class Compare : public Calculate {};

TEST_F(Compare, tells_values_holes_findings_and_figures) {
    put_demo();
    change("deck-arm.json", "{\"rise\": 9,", "{\"rise\": 8,", "lower.json");
    const Outcome outcome = run("compare deck-arm.json lower.json --json");
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const json found = json::parse(outcome.out).at("compare");
    ASSERT_EQ(found.at("values").size(), 1u);
    EXPECT_EQ(found.at("values").at(0).at("key"), "joggle.rise");
    ASSERT_EQ(found.at("holes").size(), 1u);
    EXPECT_EQ(found.at("holes").at(0).at("id"), "eye");
    EXPECT_NEAR(found.at("holes").at(0).at("moved_mm").get<double>(), 1.0, 1e-9);
    bool came = false, mass = false;
    for (const json& one : found.at("findings"))
        came = came || (one.at("change") == "came" &&
                        one.at("finding").get<std::string>().find("swing-clearance") != std::string::npos);
    for (const json& one : found.at("figures")) mass = mass || one.at("key") == "mass_kg";
    EXPECT_TRUE(came);
    EXPECT_TRUE(mass);
}

TEST_F(Compare, spelling_units_and_comments_are_no_difference) {
    put_demo();
    change("deck-arm.json", "\"length\": 86,", "\"length\": \"86 mm\", // the same", "same.json");
    const Outcome outcome = run("compare deck-arm.json same.json");
    EXPECT_EQ(outcome.status, 0);
    EXPECT_EQ(outcome.out, "no difference\n");
}

TEST_F(Compare, results_with_results_and_not_a_part_with_a_calculation) {
    put_demo();
    ASSERT_EQ(run("calculate winch-selector.json --only json").status, 0);
    change("winch-selector.json", "\"worn\": 0.3", "\"worn\": 0.5", "worn.json");
    ASSERT_EQ(run("calculate worn.json --only json --to later").status, 0);
    const Outcome outcome =
        run("compare out/winch-selector.result.json later/winch-selector.result.json --json");
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    bool lost = false;
    const json found = json::parse(outcome.out).at("compare");
    for (const json& one : found.at("figures"))
        lost = lost || one.at("key").get<std::string>().find("lost_motion_deg.worn") != std::string::npos;
    EXPECT_TRUE(lost) << outcome.out;
    EXPECT_EQ(run("compare winch-selector.json deck-arm.json").status, 2);
    EXPECT_EQ(run("compare winch-selector.json no-such.json").status, 4);
}

}  // namespace
}  // namespace fitup::cli
