#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace fitup::cli {
namespace {

using namespace testing;
using nlohmann::json;

class Commands : public Program {};

TEST_F(Commands, misspelt_ones_are_named_with_the_nearest) {
    EXPECT_NE(run("mke p.json").err.find("did you mean make"), std::string::npos);
    EXPECT_NE(run("make p.json --chrod 1").err.find("--chord"), std::string::npos);
    EXPECT_EQ(run("mke p.json").status, 2);
    EXPECT_EQ(run("").status, 2);
    EXPECT_EQ(run("make").status, 2);
    EXPECT_EQ(run("--help").status, 0);
    EXPECT_EQ(run("--version").status, 0);
    EXPECT_EQ(run("make --help").status, 0);
}

TEST_F(Commands, start_prints_a_file_that_makes_a_part) {
    const Outcome starter = run("start adapter_plate");
    ASSERT_EQ(starter.status, 0);
    put("mine.json", starter.out);
    const Outcome outcome = run("make mine.json --json");
    EXPECT_EQ(outcome.status, 0) << outcome.err;
    const json result = json::parse(outcome.out);
    for (const json& finding : result.at("parts").at(0).at("findings"))
        EXPECT_EQ(finding.at("severity"), "note") << finding;
    EXPECT_NE(run("start adaptor_plate").err.find("adapter_plate"), std::string::npos);
}

TEST_F(Commands, explain_tells_keys_and_rules) {
    const Outcome whole = run("explain adapter_plate");
    EXPECT_EQ(whole.status, 0);
    EXPECT_NE(whole.out.find("thickness"), std::string::npos);
    const Outcome key = run("explain adapter_plate patterns.circle.count");
    EXPECT_EQ(key.status, 0);
    EXPECT_NE(key.out.find("2000"), std::string::npos) << key.out;
    EXPECT_EQ(run("explain adapter_plate thicknes").status, 2);
    const Outcome rules = run("explain rules");
    EXPECT_NE(rules.out.find("edge-distance"), std::string::npos);
    EXPECT_EQ(run("explain rules web").status, 0);
}

TEST_F(Commands, lookup_shows_figures_with_their_sources) {
    const Outcome thread = run("lookup threads M10");
    EXPECT_EQ(thread.status, 0);
    EXPECT_NE(thread.out.find("8.5"), std::string::npos) << thread.out;
    EXPECT_NE(thread.out.find("ISO"), std::string::npos);
    EXPECT_NE(run("lookup housings 'SAE 4'").out.find("381"), std::string::npos);
    EXPECT_NE(run("lookup fits H7 25").out.find("21"), std::string::npos);
    EXPECT_EQ(run("lookup thread M10").status, 2);
    EXPECT_EQ(run("lookup threads M10x9").status, 2);
    const Outcome object = run("lookup heads M10 --json");
    EXPECT_NE(object.out.find("unverified"), std::string::npos) << object.out;
    EXPECT_TRUE(json::parse(object.out).contains("lookup"));
}

TEST_F(Commands, inspect_agrees_with_what_was_made_and_finds_what_was_not) {
    put("p.json", plate(six_holes()));
    ASSERT_EQ(run("make p.json").status, 0);
    for (const char* file : {"out/small-plate.step", "out/small-plate.stl"}) {
        const Outcome same = run(std::string("inspect ") + file + " --against p.json");
        EXPECT_EQ(same.status, 0) << same.out << same.err;
    }
    std::string moved = plate(six_holes());
    moved.replace(moved.find("\"start_angle\": 10"), 17, "\"start_angle\": 10.1");
    put("moved.json", moved);
    for (const char* file : {"out/small-plate.step", "out/small-plate.stl"}) {
        const Outcome outcome = run(std::string("inspect ") + file + " --against moved.json --json");
        EXPECT_EQ(outcome.status, 3);
        const json rows = json::parse(outcome.out).at("inspections").at(0).at("rows");
        EXPECT_TRUE(std::any_of(rows.begin(), rows.end(), [](const json& row) {
            return row.at("verdict") == "moved";
        })) << rows.dump(1);
    }
    put("bare.json", plate());
    const Outcome extra = run("inspect out/small-plate.step --against bare.json");
    EXPECT_EQ(extra.status, 3);
    EXPECT_NE(extra.out.find("extra"), std::string::npos) << extra.out;
    const Outcome alone = run("inspect out/small-plate.step");
    EXPECT_EQ(alone.status, 0);
    EXPECT_NE(alone.out.find("11"), std::string::npos);
}

TEST_F(Commands, check_and_make_find_the_same_and_check_writes_nothing) {
    put("p.json", plate(six_holes()));
    const json checked = json::parse(run("check p.json --json").out).at("parts").at(0);
    EXPECT_TRUE(made().empty());
    const json make = json::parse(run("make p.json --json").out).at("parts").at(0);
    for (const char* key : {"findings", "holes", "volume_mm3", "mass_kg", "bounding_box_mm"})
        EXPECT_EQ(checked.at(key), make.at(key)) << key;
}

TEST_F(Commands, quiet_says_nothing_when_all_is_well) {
    put("p.json", plate());
    const Outcome outcome = run("make p.json --quiet");
    EXPECT_EQ(outcome.out + outcome.err, "");
}

TEST_F(Commands, no_colour_in_a_pipe) { EXPECT_EQ(run("check --help").out.find('\x1b'), std::string::npos); }

TEST_F(Commands, completions_are_sound_shell_and_the_manual_names_every_option) {
    ASSERT_EQ(shell("'" FITUP_PROGRAM "' completion bash > fitup.bash && bash -n fitup.bash").status, 0);
    EXPECT_EQ(
        shell("bash -c '. ./fitup.bash; COMP_WORDS=(fitup lo); COMP_CWORD=1; _fitup; echo $COMPREPLY' > .out")
            .out,
        "lookup\n");
    const std::string manual = run("manual").out;
    for (const char* option : {"to", "only", "chord", "angle", "json", "quiet", "against", "within"})
        EXPECT_NE(manual.find(std::string("\\-\\-") + option), std::string::npos) << option;
    EXPECT_EQ(run("completion tcsh").status, 2);
}

}  // namespace
}  // namespace fitup::cli
