#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace fitup::cli {
namespace {

using namespace testing;
using nlohmann::json;

/// A sanitizer reserves terabytes of addresses at start: no limit of them there.
#ifdef __SANITIZE_ADDRESS__
constexpr const char* memory_limit = "";
#else
constexpr const char* memory_limit = "ulimit -v 400000;";
#endif

/// Every file here is wrong: exit 2, a message, nothing written, no word of a library, no crash.
class WrongInput : public Program {
  protected:
    Outcome refuse(const std::string& text) {
        put("p.json", text);
        const Outcome outcome = run("make p.json");
        EXPECT_EQ(outcome.status, 2) << text << "\n" << outcome.err;
        EXPECT_NE(outcome.err.find("p.json"), std::string::npos) << outcome.err;
        for (const char* word : {"json.exception", "terminate", "std::", "Standard_"})
            EXPECT_EQ(outcome.err.find(word), std::string::npos) << outcome.err;
        EXPECT_TRUE(made().empty());
        return outcome;
    }

    std::string with_pattern(const std::string& pattern) { return plate("\"patterns\": [" + pattern + "]"); }
};

TEST_F(WrongInput, all_faults_at_once_with_their_places) {
    const Outcome outcome = refuse(plate(R"("thicknes": 3,
  "material": 7, "quantity": 0,
  "patterns": [{"name": "a", "seen_from": "C", "circle": {"diameter": -5, "count": 0}, "hole": {"kind": "driled", "diameter": 9}}])"));
    for (const char* word : {"p.json:3:", "thicknes", "p.json:4:", "quantity", "seen_from",
                             "patterns[0].circle.diameter", "patterns[0].circle.count", "drilled"})
        EXPECT_NE(outcome.err.find(word), std::string::npos) << word << "\n" << outcome.err;
}

TEST_F(WrongInput, under_json_the_faults_are_one_object) {
    put("p.json", plate("\"thicknes\": 3"));
    const Outcome outcome = run("make p.json --json");
    EXPECT_EQ(outcome.status, 2);
    const json fault = json::parse(outcome.out).at("errors").at(0);
    EXPECT_EQ(fault.at("line"), 3);
    EXPECT_NE(fault.at("message").get<std::string>().find("thickness"), std::string::npos);
    for (const char* key : {"file", "line", "column", "key", "found", "wanted", "message"})
        EXPECT_TRUE(fault.contains(key)) << key;
}

TEST_F(WrongInput, syntax_and_bytes) {
    refuse("");
    refuse("{");
    refuse("{\"format\": 1,}");
    refuse("[1, 2");
    refuse("nonsense");
    refuse("12");
    refuse(std::string("{\"format\"\0: 1}", 13));
    refuse(
        std::string("\x7f"
                    "ELF\x02\x01\x01\0\0\0\0\xff\xfe",
                    14));
    refuse("\xff\xfe{\0}\0");
    refuse(std::string(100000, '['));
    refuse(std::string(100000, '[') + std::string(100000, ']'));
    refuse(plate("\"note\": \"one\", \"note\": \"two\""));
}

TEST_F(WrongInput, numbers_that_are_none_or_too_much) {
    for (const char* number :
         {"NaN", "Infinity", "-Infinity", "1e999", "-1", "0", "1e300", "1e-300", "\"nan mm\"", "\"inf\"",
          "\"1/0 in\"", "\"-3 mm\"", "\"12\"", "\"12 furlongs\"", "true", "null", "[]"}) {
        std::string text = plate();
        text.replace(text.find("\"thickness\": 20"), 15, std::string("\"thickness\": ") + number);
        refuse(text);
    }
}

TEST_F(WrongInput, a_hundred_million_holes_are_refused_before_memory_is_taken) {
    put("p.json",
        with_pattern(
            R"({"name": "a", "seen_from": "B", "circle": {"diameter": 100, "count": 100000000}, "hole": {"kind": "drilled", "diameter": 1}})"));
    const Outcome outcome = run("make p.json", memory_limit);
    EXPECT_EQ(outcome.status, 2) << outcome.err;
    EXPECT_NE(outcome.err.find("2000"), std::string::npos) << outcome.err;
}

TEST_F(WrongInput, missing_units_two_layouts_no_side) {
    std::string text = plate();
    text.replace(text.find("\"units\": \"mm\", "), 15, "");
    EXPECT_NE(refuse(text).err.find("units"), std::string::npos);
    EXPECT_NE(
        refuse(
            with_pattern(
                R"({"name": "a", "seen_from": "B", "circle": {"diameter": 100, "count": 4}, "points": [[50, 0]], "hole": {"kind": "drilled", "diameter": 5}})"))
            .err.find("exactly one"),
        std::string::npos);
    EXPECT_NE(refuse(with_pattern(
                         R"({"name": "a", "points": [[50, 0]], "hole": {"kind": "drilled", "diameter": 5}})"))
                  .err.find("seen_from"),
              std::string::npos);
    refuse(with_pattern(
        R"({"name": "a", "seen_from": "B", "measured_on": "B", "points": [[50, 0]], "hole": {"kind": "drilled", "diameter": 5}})"));
}

TEST_F(WrongInput, unknown_names_get_the_nearest) {
    EXPECT_NE(
        refuse(
            with_pattern(
                R"({"name": "a", "seen_from": "B", "points": [[50, 0]], "hole": {"kind": "tapped", "thread": "M10x1.7", "depth": 12}})"))
            .err.find("M10"),
        std::string::npos);
    std::string text = plate();
    text.replace(text.find("aluminium 6061-T6"), 17, "aluminum 6061-T7");
    EXPECT_NE(refuse(text).err.find("6061-T6"), std::string::npos);
    text = plate();
    text.replace(text.find("adapter_plate"), 13, "adapter_plat");
    EXPECT_NE(refuse(text).err.find("adapter_plate"), std::string::npos);
    EXPECT_NE(
        refuse(plate(R"("housing": {"side": "A", "standard": "SAE 44", "threads": "inch"})")).err.find("SAE"),
        std::string::npos);
    EXPECT_NE(refuse(plate(R"("rules": {"edge-distanc": {"warn": 1}})")).err.find("edge-distance"),
              std::string::npos);
}

TEST_F(WrongInput, names_that_are_paths_or_doubled) {
    for (const char* name : {"../evil", "a/b", "", ".", "with space", "naïve"}) refuse(plate("", name));
    refuse(with_pattern(
        R"({"name": "a", "seen_from": "B", "points": [[50, 0]], "hole": {"kind": "drilled", "diameter": 5}}, {"name": "a", "seen_from": "B", "points": [[-50, 0]], "hole": {"kind": "drilled", "diameter": 5}})"));
}

TEST_F(WrongInput, shapes_that_do_not_exist) {
    std::string text = plate();
    const std::string round = "{\"round\": {\"diameter\": 200}}";
    text.replace(text.find(round), round.size(),
                 R"({"polygon": {"points": [[0,0],[100,100],[100,0],[0,100]]}})");
    EXPECT_NE(refuse(text).err.find("outline.polygon"), std::string::npos);
    refuse(plate(
        R"("registers": [{"side": "A", "kind": "spigot", "diameter": 100, "bore": 120, "height": 5}])"));
    refuse(plate(R"("registers": [{"side": "B", "kind": "recess", "diameter": 100, "depth": 30}])"));
}

TEST_F(WrongInput, results_that_are_not_there_are_told_at_their_keys) {
    const std::string err =
        refuse(with_pattern(
                   R"({"name": "a", "survey": "x.result.json", "hole": {"kind": "drilled", "diameter": 5}})"))
            .err;
    for (const char* words :
         {"patterns[0].survey: found \"x.result.json\", wanted the result file of a survey",
          "`fitup calculate` writes it"})
        EXPECT_NE(err.find(words), std::string::npos) << err;
}

TEST_F(WrongInput, files_that_cannot_be_read) {
    EXPECT_EQ(run("make none.json").status, 4);
    fs::create_directory(folder_ / "folder.json");
    const Outcome outcome = run("make folder.json --json");
    EXPECT_EQ(outcome.status, 4);
    EXPECT_EQ(json::parse(outcome.out).at("errors").at(0).at("file"), "folder.json");
    EXPECT_EQ(run("inspect none.step").status, 4);
    put("junk.step", "ISO-10303-21;\nHEADER;\nrubbish");
    EXPECT_EQ(run("inspect junk.step").status, 4);
    put("junk.stl", "solid nothing");
    EXPECT_EQ(run("inspect junk.stl").status, 4);
    put("empty.stl", "");
    EXPECT_EQ(run("inspect empty.stl").status, 4);
}

}  // namespace
}  // namespace fitup::cli
