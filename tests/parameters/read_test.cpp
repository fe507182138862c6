#include <gtest/gtest.h>

#include <clocale>
#include <cmath>

#include "parameters/case_names.hpp"
#include "parameters/node.hpp"

namespace fitup::parameters {
namespace {

/// The faults of a text as the terminal shows them, a line each.
std::string faults_of(std::string_view text) {
    const Document document = read_json(text, "plate.json");
    std::string lines;
    for (const Fault& fault : document.faults) lines += to_text(fault) + "\n";
    return lines;
}

Node root_of(std::string_view text) {
    Document document = read_json(text, "plate.json");
    EXPECT_TRUE(document.faults.empty()) << faults_of(text);
    return document.root.value_or(Node{});
}

TEST(Reading, every_kind_of_value) {
    const Node root =
        root_of(R"({"a": null, "b": true, "c": -3.50, "d": "Ø\u00e9\n", "e": [1, 2.0, 1e2], "f": {}})");
    EXPECT_EQ(root.find("a")->type, Node::Type::null);
    EXPECT_TRUE(root.find("b")->truth);
    EXPECT_EQ(root.find("c")->number, -3.5);
    EXPECT_EQ(root.find("c")->text, "-3.50");
    EXPECT_FALSE(root.find("c")->whole);
    EXPECT_EQ(root.find("d")->text, "Øé\n");
    EXPECT_EQ(root.find("e")->items.size(), 3u);
    EXPECT_TRUE(root.find("e")->items[1].whole);
    EXPECT_TRUE(root.find("e")->items[2].whole);
    EXPECT_TRUE(root.find("f")->members.empty());
    EXPECT_FALSE(root.has("g"));
}

TEST(Reading, places_count_characters_and_skip_comments) {
    const Node root =
        root_of("\xEF\xBB\xBF{ // ends here\r\"Ø\": /* \n\n */ \"Ø\", \"b\":\r\n\t[ 12.5e-1,true ]}");
    EXPECT_EQ(root.line, 1);
    EXPECT_EQ(root.column, 1);
    EXPECT_EQ(root.members[0].line, 2);
    EXPECT_EQ(root.members[0].column, 1);
    EXPECT_EQ(root.members[0].value.line, 4);
    EXPECT_EQ(root.members[0].value.column, 5);
    EXPECT_EQ(root.members[1].column, 10);
    const Node& list = root.members[1].value;
    EXPECT_EQ(list.line, 5);
    EXPECT_EQ(list.column, 2);
    EXPECT_EQ(list.items[1].column, 12);
}

TEST(Reading, numbers_keep_their_point_in_a_comma_locale) {
    std::setlocale(LC_ALL, "de_DE.UTF-8");
    const Node root = root_of("[0.4995, -0, -0.0, 18446744073709551616, 5e-324]");
    std::setlocale(LC_ALL, "C");
    EXPECT_EQ(root.items[0].number, 0.4995);
    EXPECT_FALSE(std::signbit(root.items[1].number));
    EXPECT_FALSE(std::signbit(root.items[2].number));
    EXPECT_EQ(root.items[3].number, 18446744073709551616.0);
    EXPECT_EQ(root.items[4].number, 5e-324);
}

TEST(Reading, a_file_that_is_no_text_is_refused) {
    EXPECT_EQ(faults_of(""), "plate.json: found an empty file, wanted a JSON object\n");
    EXPECT_EQ(faults_of(std::string_view("{\"a\": 1}\0{", 10)),
              "plate.json:1:9: found a NUL byte, wanted a text file saved as UTF-8; this is no JSON file\n");
    EXPECT_EQ(faults_of("\xFF\xFE{"), "plate.json: found a UTF-16 file, wanted a text file saved as UTF-8\n");
    EXPECT_EQ(faults_of("{\n \"note\": \"\xE9t\xE9\"}"),
              "plate.json:2:11: found the byte 0xE9, wanted a text file saved as UTF-8\n");
    EXPECT_EQ(faults_of("// \xC0\xAF"),
              "plate.json:1:4: found the byte 0xC0, wanted a text file saved as UTF-8\n");
    EXPECT_EQ(faults_of("\"\xED\xA0\x80\""),
              "plate.json:1:2: found the byte 0xED, wanted a text file saved as UTF-8\n");
    EXPECT_EQ(faults_of(std::string(16 * 1024 * 1024 + 1, ' ')),
              "plate.json: found a file of 16.0 MiB, wanted at most 16 MiB\n");
}

TEST(Reading, a_file_of_16_MiB_is_read) {
    std::string text = "[1]";
    text.resize(std::size_t{16} * 1024 * 1024, ' ');
    EXPECT_EQ(root_of(text).items.size(), 1u);
}

TEST(Reading, a_flood_of_values_is_refused) {
    const auto list_of = [](int zeros) {
        std::string text = "[0";
        for (int i = 1; i < zeros; ++i) text += ",0";
        return text + "]";
    };
    EXPECT_EQ(faults_of(list_of(499999)), "");
    EXPECT_EQ(faults_of(list_of(8000000)),
              "plate.json:1:1000002: found more than 500000 values, wanted at most 500000\n");
}

TEST(Reading, a_key_twice_names_both_places) {
    const std::string text = "{\"a\": [{\"b c\": 1,\n  \"b c\": 2}], \"a\": 3, \"a\": 4}";
    EXPECT_EQ(
        faults_of(text),
        "plate.json:2:3: a[0][\"b c\"]: found the key a second time, wanted each key once in an object; "
        "the first is at 1:9\n"
        "plate.json:2:15: a: found the key a second time, wanted each key once in an object; the first is at "
        "1:2\n"
        "plate.json:2:23: a: found the key a second time, wanted each key once in an object; the first is at "
        "1:2\n");
    EXPECT_EQ(read_json(text, "").root->find("a")->type, Node::Type::list);
}

TEST(Reading, deep_nesting_is_refused_before_it_hurts) {
    const std::string sixty_four = std::string(64, '[') + std::string(64, ']');
    EXPECT_EQ(faults_of(sixty_four), "");
    const std::string refused =
        "plate.json:1:65: found lists and objects nested deeper than 64, wanted at most 64\n";
    EXPECT_EQ(faults_of("[" + sixty_four + "]"), refused);
    EXPECT_EQ(faults_of(std::string(1000000, '[')), refused);
}

TEST(Reading, numbers_beyond_a_double_are_refused) {
    EXPECT_EQ(faults_of("{\"thickness\": 1e999}"),
              "plate.json:1:15: thickness: found 1e999, wanted a number of a size that can be worked with\n");
    EXPECT_EQ(faults_of("[1, -" + std::string(400, '9') + "]"),
              "plate.json:1:5: [1]: found -" + std::string(59, '9') +
                  "..., wanted a number of a size that can be worked with\n");
}

struct Refusal {
    const char* text;
    const char* message;
};

void PrintTo(const Refusal& sample, std::ostream* out) { *out << sample.message; }

class Syntax : public testing::TestWithParam<Refusal> {};

TEST_P(Syntax, is_told_in_plain_words) {
    EXPECT_EQ(faults_of(GetParam().text), std::string("plate.json:") + GetParam().message + "\n");
    EXPECT_FALSE(read_json(GetParam().text, "").root);
}

INSTANTIATE_TEST_SUITE_P(
    Places, Syntax,
    testing::Values(
        Refusal{" \n ", "2:2: found the end of the file, wanted a JSON object"},
        Refusal{"// nothing", "1:11: found the end of the file, wanted a JSON object"},
        Refusal{"{\"a\": [1, 2", "1:12: found the end of the file, wanted ]; the [ at 1:7 is never closed"},
        Refusal{"{\n\"a\":", "2:5: found the end of the file, wanted }; the { at 1:1 is never closed"},
        Refusal{"{\"a\": 1 /* b", "1:9: found /*, wanted */ at the end of the comment"},
        Refusal{"{\"a\": 1, # b\n}", "1:10: found #, wanted a key in double quotes"},
        Refusal{"{\"a\": / 1}", "1:7: found /, wanted a value; a comment begins with // or /*"},
        Refusal{"{\"a\": 1,}",
                "1:9: found a comma before }, wanted a key in double quotes; take the comma away"},
        Refusal{"[1, ]", "1:5: found a comma before ], wanted a value; take the comma away"},
        Refusal{"{\"a\": 1 \"b\": 2}", "1:9: found \"b\", wanted a comma or }"},
        Refusal{"[1 2]", "1:4: found 2, wanted a comma or ]"},
        Refusal{"[1}", "1:3: found }, wanted a comma or ]"},
        Refusal{"{\"a\" 1}", "1:6: found 1, wanted a colon after the key"},
        Refusal{"{\"a\": }", "1:7: found }, wanted a value"},
        Refusal{"{\"a\":: 1}", "1:6: found :, wanted a value"},
        Refusal{"{a: 1}", "1:2: found a, wanted a key in double quotes or }"},
        Refusal{"{'a': 1}", "1:2: found ', wanted a key in double quotes or }"},
        Refusal{"{\"a\": 'b'}", "1:7: found ', wanted a text in straight double quotes"},
        Refusal{"{\"a\": “b”}", "1:7: found “, wanted a text in straight double quotes"},
        Refusal{"{\"a\": mm}", "1:7: found mm, wanted a value; a text stands in double quotes"},
        Refusal{"[nan]", "1:2: found nan, wanted a value or ]; a text stands in double quotes"},
        Refusal{"[-Infinity]", "1:2: found -Infinity, wanted a number such as 12, -0.5 or 1e3"},
        Refusal{"[True]", "1:2: found True, wanted a value or ]; a text stands in double quotes"},
        Refusal{"[.5]", "1:2: found .5, wanted a number such as 12, -0.5 or 1e3"},
        Refusal{"[+5]", "1:2: found +5, wanted a number such as 12, -0.5 or 1e3"},
        Refusal{"[5.]", "1:2: found 5., wanted a number such as 12, -0.5 or 1e3"},
        Refusal{"[1,5,]", "1:6: found a comma before ], wanted a value; take the comma away"},
        Refusal{"[012]",
                "1:2: found 012, wanted a number such as 12, -0.5 or 1e3; "
                "a length with a unit or a fraction stands in double quotes (\"3/8 in\")"},
        Refusal{"{\"a\": 40mm}",
                "1:7: found 40mm, wanted a number such as 12, -0.5 or 1e3; "
                "a length with a unit or a fraction stands in double quotes (\"3/8 in\")"},
        Refusal{"{\"a\": 3/8}",
                "1:7: found 3/8, wanted a number such as 12, -0.5 or 1e3; "
                "a length with a unit or a fraction stands in double quotes (\"3/8 in\")"},
        Refusal{"{} x", "1:4: found x, wanted nothing after the end of the JSON text"},
        Refusal{"{}}", "1:3: found }, wanted nothing after the end of the JSON text"},
        Refusal{"[\"a]", "1:5: found the end of the file, wanted a double quote at the end of the text"},
        Refusal{"[\"a\n\"]", "1:4: found the end of the line, wanted a double quote at the end of the text"},
        Refusal{"[\"a\tb\"]", "1:4: found a control character, wanted \\t, \\n or \\u with four digits"},
        Refusal{"[\"C:\\winch\"]",
                "1:5: found \\winch, wanted one of \\\" \\\\ \\/ \\b \\f \\n \\r \\t, or \\u with the four "
                "digits of a "
                "character"},
        Refusal{"[\"\\ud800x\"]",
                "1:3: found \\ud800x, wanted one of \\\" \\\\ \\/ \\b \\f \\n \\r \\t, or \\u with the four "
                "digits of a "
                "character"}),
    [](const auto& sample) { return case_name(sample.index, sample.param.message); });

TEST(Shown, values_are_short_and_safe_for_a_terminal) {
    const Node root =
        root_of(R"(["M10x1.5", -3.0, true, null, [], [1,2,3,4], {}, {"a":1}, "\u001b[31m\u0000\"\\"])");
    std::vector<std::string> texts;
    for (const Node& item : root.items) texts.push_back(shown(item));
    EXPECT_EQ(texts,
              (std::vector<std::string>{"\"M10x1.5\"", "-3.0", "true", "null", "an empty list", "a list of 4",
                                        "an empty object", "an object", R"("\u001b[31m\u0000\"\\")"}));
    EXPECT_EQ(in_quotes(std::string(61, 'x')), "\"" + std::string(60, 'x') + "...\"");
    EXPECT_EQ(in_quotes("ØØ"), "\"ØØ\"");
}

TEST(Paths, odd_keys_stand_in_brackets) {
    EXPECT_EQ(key_path(key_path(key_path("", "patterns"), 0), "circle"), "patterns[0].circle");
    EXPECT_EQ(key_path("rules", "a.b"), "rules[\"a.b\"]");
    EXPECT_EQ(key_path("", ""), "[\"\"]");
}

TEST(SameValue, ignores_spelling_and_order) {
    EXPECT_TRUE(same_value(root_of("{\"a\": 1, \"b\": [null]}"), root_of("{\"b\": [null], \"a\": 1.0}")));
    EXPECT_FALSE(same_value(root_of("[1]"), root_of("[true]")));
    EXPECT_FALSE(same_value(root_of("{\"a\": 1}"), root_of("{\"b\": 1}")));
    EXPECT_FALSE(same_value(root_of("[0]"), root_of("[]")));
}

}  // namespace
}  // namespace fitup::parameters
