#include <gtest/gtest.h>

#include <filesystem>

#include "base/error.hpp"
#include "base/file.hpp"
#include "parameters/schema.hpp"

namespace fitup::parameters {
namespace {

std::string told(std::string_view text, std::string_view schema = "adapter_plate") {
    std::string lines;
    for (const Fault& fault : check(read_json(text, "winch.json"), schema)) lines += to_text(fault) + "\n";
    return lines;
}

TEST(Check, all_faults_of_a_file_at_once_in_the_files_order) {
    const char* const text = R"({
  "format": 1, "part": "adapter_plate", "name": "../winch", "units": "mm", "material": "aluminium 6061-T6",
  "thicknes": 40,
  "outline": {"round": {"diameter": "430"}},
  "patterns": [
    {"name": "housing", "seen_from": "B", "circle": {"diameter": 381, "count": 0}, "points": [[0, 0]],
     "hole": {"kind": "tapped", "thread": "M10", "from": "b"}}
  ],
  "name": "again"
})";
    EXPECT_EQ(
        told(text),
        "winch.json:2:49: name: found \"../winch\", wanted 1 to 64 letters (a to z), digits, - or _\n"
        "winch.json:3:3: thicknes: unknown key; the nearest is thickness\n"
        "winch.json:4:37: outline.round.diameter: found \"430\", wanted a length over 0 mm and at most 20000 "
        "mm "
        "(12, \"12 mm\", \"1/2 in\")\n"
        "winch.json:6:80: patterns[0].circle.count: found 0, wanted a whole number from 1 to 2000\n"
        "winch.json:6:84: patterns[0]: found circle and points, wanted exactly one of circle, clock, points "
        "or survey\n"
        "winch.json:7:58: patterns[0].hole.from: found \"b\", wanted \"A\" or \"B\"; the nearest is \"B\"\n"
        "winch.json:9:3: name: found the key a second time, wanted each key once in an object; the first is "
        "at 2:41\n");
}

TEST(Check, a_fault_is_data_as_well) {
    const Faults faults = check(read_json("{\"units\": \"cm\"}", "a.json"), "adapter_plate");
    ASSERT_EQ(faults.size(), 7u);  // six keys missing, and the units
    EXPECT_EQ(faults.back().key, "units");
    EXPECT_EQ(faults.back().found, "\"cm\"");
    EXPECT_EQ(faults.back().wanted, "\"mm\" or \"in\"");
    EXPECT_EQ(faults.back().line, 1);
    EXPECT_EQ(faults.back().column, 11);
    EXPECT_EQ(faults.front().found, "nothing");
    EXPECT_EQ(faults.front().line, 1);
    EXPECT_EQ(faults.front().column, 1);
}

TEST(Check, what_is_no_object_and_what_is_no_json) {
    EXPECT_EQ(told("[]"),
              "winch.json:1:1: found an empty list, wanted an object with format, part, name, units, "
              "material, thickness "
              "and outline\n");
    EXPECT_EQ(told("{"),
              "winch.json:1:2: found the end of the file, wanted }; the { at 1:1 is never closed\n");
    EXPECT_THROW(check(read_json("{}", ""), "no_such_kind"), Error);
}

TEST(Check, starter_files_are_sound) {
    const std::filesystem::path folder = FITUP_SOURCE_FOLDER "/generators/parts/starters";
    int files = 0;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        EXPECT_EQ(told(read_file(entry.path()), entry.path().stem().string()), "") << entry.path();
        ++files;
    }
    EXPECT_GT(files, 0);
}

TEST(SchemaText, is_the_file_itself) {
    EXPECT_EQ(schema_text("common"), read_file(FITUP_SOURCE_FOLDER "/schemas/common.json"));
    EXPECT_EQ(schema_text("no_such_kind"), "");
}

}  // namespace
}  // namespace fitup::parameters
