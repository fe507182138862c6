// Each way in which a value can miss its schema, with the sentence that a person reads.
#include "parameters/case_names.hpp"
#include "parameters/judging.hpp"
#include "parameters/schema.hpp"

namespace fitup::parameters {
namespace {

struct Case {
    const char* schema;
    const char* value;
    const char* message;
};

void PrintTo(const Case& sample, std::ostream* out) { *out << sample.message; }

std::string name_of(const testing::TestParamInfo<Case>& sample) {
    return case_name(sample.index, sample.param.message);
}

class Message : public testing::TestWithParam<Case> {};

TEST_P(Message, says_found_and_wanted) {
    EXPECT_EQ(told(GetParam().schema, GetParam().value), std::string("f:1:") + GetParam().message);
}

INSTANTIATE_TEST_SUITE_P(
    Values, Message,
    testing::Values(
        Case{R"({"type": "integer", "minimum": 1, "maximum": 2000})", " 0",
             "2: found 0, wanted a whole number from 1 to 2000"},
        Case{R"({"type": "integer", "minimum": 1})", "1.5", "1: found 1.5, wanted a whole number at least 1"},
        Case{R"({"type": "integer", "maximum": 9})", "10", "1: found 10, wanted a whole number at most 9"},
        Case{R"({"type": "number", "exclusiveMinimum": 0, "maximum": 90, "x-unit": "degrees"})", "0.0",
             "1: found 0.0, wanted a number over 0 and at most 90 (degrees)"},
        Case{R"({"type": "number", "minimum": 0, "exclusiveMaximum": 1})", "1",
             "1: found 1, wanted a number at least 0 and under 1"},
        Case{R"({"type": "number"})", "\"7\"", "1: found \"7\", wanted a number"},
        Case{R"({"type": "string", "minLength": 1, "maxLength": 3})", "\"\"",
             "1: found \"\", wanted a text of 1 to 3 characters"},
        Case{R"({"type": "string", "maxLength": 3})", "\"ØØØØ\"",
             "1: found \"ØØØØ\", wanted a text of at most 3 characters"},
        Case{R"({"type": "string", "pattern": "^a+$", "x-wanted": "one or more a"})", "\"ab\"",
             "1: found \"ab\", wanted one or more a"},
        Case{R"({"type": "boolean"})", "1", "1: found 1, wanted true or false"},
        Case{R"({"type": ["boolean", "integer"]})", "\"x\"",
             "1: found \"x\", wanted true or false or a whole number"},
        Case{R"({"const": 1})", "2", "1: found 2, wanted 1"},
        Case{R"({"enum": ["close", "normal", "loose"]})", "\"nromal\"",
             "1: found \"nromal\", wanted \"close\", \"normal\" or \"loose\"; the nearest is \"normal\""},
        Case{R"({"enum": ["A", "B"]})", "5", "1: found 5, wanted \"A\" or \"B\""},
        Case{R"({"type": "array", "items": {"type": "number"}, "minItems": 2, "maxItems": 2})", "[1]",
             "1: found a list of 1, wanted a list of 2"},
        Case{R"({"type": "array", "minItems": 1})", "[]",
             "1: found an empty list, wanted a list of at least 1"},
        Case{R"({"type": "array", "maxItems": 1})", "[1, 2]",
             "1: found a list of 2, wanted a list of at most 1"},
        Case{R"({"type": "array", "items": {"type": "number"}})", "[1, null]",
             "5: [1]: found null, wanted a number"},
        Case{R"({"uniqueItems": true})", "[1, \"1\", 1.0]",
             "10: [2]: found 1.0 a second time, wanted each item once"},
        Case{R"({"contains": {"const": "x"}})", "[1]",
             "1: found a list of 1, wanted at least one item that is \"x\""},
        Case{R"({"not": {"type": "null"}})", "null", "1: found null, wanted another value"},
        Case{R"({"properties": {"a": false}})", "{\"a\": 1}", "7: a: found 1, wanted nothing here"}),
    name_of);

INSTANTIATE_TEST_SUITE_P(
    Objects, Message,
    testing::Values(
        Case{R"({"type": "object", "required": ["a", "b"]})", "[]",
             "1: found an empty list, wanted an object with a and b"},
        Case{R"({"required": ["a"], "properties": {"a": {"type": "integer", "minimum": 1, "maximum": 9}}})",
             " {}", "2: a: missing; wanted a whole number from 1 to 9"},
        Case{R"({"required": ["a"]})", "{}", "1: a: missing"},
        Case{R"({"properties": {"thickness": {}}, "required": ["thickness"], "additionalProperties": false})",
             R"({"thicknes": 4})", "2: thicknes: unknown key; the nearest is thickness"},
        Case{R"({"properties": {"a": {}, "b": {}}, "additionalProperties": false})", R"({"colour red": 4})",
             "2: [\"colour red\"]: unknown key; there are a and b"},
        Case{R"({"additionalProperties": false})", R"({"a": 4})", "2: a: unknown key"},
        Case{R"({"additionalProperties": {"type": "number"}})", R"({"a": true})",
             "7: a: found true, wanted a number"},
        Case{R"({"patternProperties": {"^x": {"type": "number"}}})", R"({"xa": true, "a": true})",
             "8: xa: found true, wanted a number"},
        Case{R"({"propertyNames": {"maxLength": 2}})", R"({"abc": 1})",
             "2: abc: found \"abc\", wanted another value"},
        Case{R"({"type": "object", "maxProperties": 1})", R"({"a": 1, "b": 2})",
             "1: found an object of 2, wanted an object of at most 1"},
        Case{R"({"type": "object", "minProperties": 1, "properties": {"warn": {}, "stop": {}}})", "{}",
             "1: found an empty object, wanted an object with at least one of warn or stop"},
        Case{R"({"dependencies": {"drill_depth": ["depth"]}})", R"({"drill_depth": 4})",
             "17: drill_depth: found drill_depth alone, wanted depth beside it"},
        Case{R"({"dependencies": {"a": {"required": ["b"]}}})", R"({"a": 4})", "1: b: missing"},
        Case{R"({"not": {"required": ["a", "b"]}})", "{\"a\": 1, \"b\": 2}",
             "10: found a and b, wanted at most one of them"},
        Case{R"({"if": {"required": ["a"]}, "then": {"required": ["b"]}, "else": {"required": ["c"]}})",
             R"({"a": 4})", "1: b: missing"},
        Case{R"({"if": {"required": ["a"]}, "then": {"required": ["b"]}, "else": {"required": ["c"]}})", "{}",
             "1: c: missing"}),
    name_of);

const char* const outlines =
    R"({"type": "object", "minProperties": 1, "maxProperties": 1, "additionalProperties": false,
    "properties": {"round": {}, "rectangle": {}, "polygon": {}}})";
const char* const layouts =
    R"({"oneOf": [{"required": ["circle"]}, {"required": ["points"]}], "required": ["name"],
    "additionalProperties": false, "properties": {"name": {}, "circle": {"type": "object"}, "points": {}}})";
const char* const holes = R"({"oneOf": [
    {"type": "object", "required": ["kind", "for"], "additionalProperties": false,
     "properties": {"kind": {"const": "clearance"}, "for": {"type": "string"}, "kine": {}}},
    {"type": "object", "required": ["kind"], "additionalProperties": false,
     "properties": {"kind": {"const": "drilled"}, "diameter": {"type": "number"}}}]})";
const char* const material =
    R"({"oneOf": [{"type": "string", "minLength": 1}, {"type": "object", "required": ["name"]}]})";
const char* const depth =
    R"({"anyOf": [{"const": "through"}, {"type": ["number", "string"], "format": "length", "x-more-than-mm": 0}]})";

INSTANTIATE_TEST_SUITE_P(
    Choices, Message,
    testing::Values(
        Case{outlines, "{}", "1: found none, wanted exactly one of round, rectangle or polygon"},
        Case{outlines, "{\"round\": 1, \"polygon\": 2}",
             "14: found round and polygon, wanted exactly one of round, rectangle or polygon"},
        Case{outlines, "7", "1: found 7, wanted exactly one of round, rectangle or polygon"},
        Case{outlines, "{\"rond\": 1}", "2: rond: unknown key; the nearest is round"},
        Case{outlines, "{\"rond\": 1, \"round\": 1}", "2: rond: unknown key; the nearest is round"},
        Case{layouts, "{\"name\": 1}", "1: found none, wanted exactly one of circle or points"},
        Case{layouts, "{\"circle\": {}, \"name\": 1, \"points\": 1}",
             "27: found circle and points, wanted exactly one of circle or points"},
        Case{layouts, "{\"name\": 1, \"circel\": {}}", "13: circel: unknown key; the nearest is circle"},
        Case{R"({"anyOf": [{"required": ["a"]}, {"required": ["b"]}]})", "{}",
             "1: found none, wanted at least one of a or b"},
        Case{holes, "{}", "1: kind: missing; wanted \"clearance\" or \"drilled\""},
        Case{holes, "{\"kidn\": \"drilled\"}", "2: kidn: unknown key; the nearest is kind"},
        Case{holes, "{\"kinds\": \"drilled\"}", "2: kinds: unknown key; the nearest is kind"},
        Case{holes, "{\"kine\": 1}", "1: kind: missing; wanted \"clearance\" or \"drilled\""},
        Case{holes, "{\"kind\": \"driled\"}",
             "10: kind: found \"driled\", wanted \"clearance\" or \"drilled\"; the nearest is \"drilled\""},
        Case{holes, "{\"kind\": \"drilled\", \"diameter\": []}",
             "33: diameter: found an empty list, wanted a number"},
        Case{holes, "5", "1: found 5, wanted an object whose kind is \"clearance\" or \"drilled\""},
        Case{material, "5", "1: found 5, wanted a text of at least 1 characters or an object with name"},
        Case{material, "{}", "1: name: missing"},
        Case{depth, "\"thruogh\"",
             "1: found \"thruogh\", wanted \"through\" or a length over 0 mm (12, \"12 mm\", \"1/2 in\"); "
             "the nearest is \"through\""},
        Case{depth, "-1",
             "1: found -1, wanted \"through\" or a length over 0 mm (12, \"12 mm\", \"1/2 in\")"},
        Case{
            R"({"oneOf": [{"type": "array", "items": {"type": "number"}}, {"type": "array", "items": {"type": "null"}}]})",
            "[1, 2, null]", "8: [2]: found null, wanted a number"},
        Case{R"({"oneOf": [{"type": "number"}, {"minimum": 3}]})", "4",
             "1: found 4, wanted what fits one alternative alone"},
        Case{R"({"$ref": "#/definitions/a"})", "4", "1: no schema says what may stand here"},
        Case{R"({"$ref": "#"})", "4", "1: no schema says what may stand here"}),
    name_of);

const char* const length =
    R"({"type": ["number", "string"], "format": "length", "x-more-than-mm": 0, "x-most-mm": 500})";

TEST(LengthRange, is_in_mm_whatever_the_units) {
    const std::string wanted = ", wanted a length over 0 mm and at most 500 mm (12, \"12 mm\", \"1/2 in\")";
    for (const char* sound : {"0.001", "500", "\"500 mm\"", "\"4 thou\"", "\"19-5/8 in\""})
        EXPECT_EQ(told(length, sound), "");
    for (const char* wrong : {"0", "-1", "501", "1e300", "1e-300", "\"0 mm\"", "\"20 in\"", "\"12\"", "\"\"",
                              "true", "[]", "null"}) {
        EXPECT_TRUE(told(length, wrong).ends_with(wanted)) << wrong << ": " << told(length, wrong);
    }
    EXPECT_EQ(told(length, "19.68", Units::in), "");
    EXPECT_EQ(told(length, "20", Units::in), "f:1:1: found 20" + wanted);
    EXPECT_EQ(told(R"({"type": ["number", "string"], "format": "length", "x-least-mm": 0, "x-most-mm": 5})",
                   "-0.1"),
              "f:1:1: found -0.1, wanted a length from 0 mm to 5 mm (12, \"12 mm\", \"1/2 in\")");
}

TEST(LengthRange, without_units_only_what_is_wrong_in_both_is_told) {
    EXPECT_EQ(told(length, "20", {}), "");
    EXPECT_EQ(told(length, "501", {}).substr(0, 16), "f:1:1: found 501");
    EXPECT_EQ(told(length, "-1", {}).substr(0, 15), "f:1:1: found -1");
    EXPECT_EQ(told(length, "\"20 in\"", {}).substr(0, 20), "f:1:1: found \"20 in\"");
}

TEST(Walking, ends_when_a_schema_calls_itself_without_end) {
    EXPECT_EQ(told(R"({"allOf": [{"$ref": "#"}]})", "4"), "f:1:1: no schema says what may stand here");
}

TEST(Walking, a_person_reads_two_hundred_faults_and_no_more) {
    std::string list = "[";
    for (int i = 0; i < 100000; ++i) list += "null,";
    const std::string lines = told(R"({"items": {"type": "number"}})", list + "null]");
    EXPECT_EQ(std::count(lines.begin(), lines.end(), '\n'), 199);
}

TEST(Walking, long_texts_under_a_pattern_do_no_harm) {
    EXPECT_EQ(told(R"({"type": "string", "pattern": "^(a|b)*$", "x-wanted": "a or b"})",
                   "\"" + std::string(1000000, 'a') + "\""),
              "f:1:1: found \"" + std::string(60, 'a') + "...\", wanted a or b");
}

}  // namespace
}  // namespace fitup::parameters
