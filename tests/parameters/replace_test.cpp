// One value of a file's text changed, and nothing else.
#include "parameters/replace.hpp"

#include <gtest/gtest.h>

#include "parameters/differences.hpp"

namespace fitup::parameters {
namespace {

std::string with(const std::string& text, const std::string& key, const std::string& token) {
    const Document document = read_json(text, "a.json");
    EXPECT_TRUE(document.faults.empty());
    const FoundKey found = find_key(*document.root, key);
    EXPECT_NE(found.node, nullptr) << found.complaint;
    return found.node != nullptr ? replaced(text, *found.node, token) : "";
}

TEST(Replace, keeps_comments_line_ends_blanks_and_letters) {
    const std::string text =
        "\xEF\xBB\xBF{ // caf\xC3\xA9 {\r\n\t\"a\" : [1 , {\"name\": \"\xC3\xA9t\xC3\xA9\", \"b\":  "
        "-2.50e1/* x */}],\r\n"
        "  \"t\": \"3/8 in\" }\r\n";
    std::string expected = text;
    expected.replace(expected.find("-2.50e1"), 7, "7");
    EXPECT_EQ(with(text, "a[1].b", "7"), expected);
    EXPECT_EQ(with(text, "a.\xC3\xA9t\xC3\xA9.b", "7"), expected);
    expected = text;
    expected.replace(expected.find("\"3/8 in\""), 8, "0.5");
    EXPECT_EQ(with(text, "t", "0.5"), expected);
    expected = text;
    expected.replace(expected.find("[1 ,") + 1, 1, "22");
    EXPECT_EQ(with(text, "a[0]", "22"), expected);
}

TEST(Replace, finds_by_name_and_says_what_is_there_instead) {
    const Document document = read_json(
        R"({"joggle": {"rise": 1}, "patterns": [{"name": "gearbox", "x": 1}, {"name": "housing"}]})", "a");
    EXPECT_NE(find_key(*document.root, "patterns.gearbox.x").node, nullptr);
    EXPECT_NE(find_key(*document.root, "patterns.gearbx").complaint.find("the nearest is \"gearbox\""),
              std::string::npos);
    EXPECT_NE(find_key(*document.root, "joggle.ris").complaint.find("the nearest is \"rise\""),
              std::string::npos);
    EXPECT_NE(find_key(*document.root, "patterns[2]").complaint.find("2 items"), std::string::npos);
    for (const char* wrong :
         {"", ".", "[", "patterns[", "patterns[x]", "patterns[-1]", "joggle.rise.more", "joggle[0]"})
        EXPECT_EQ(find_key(*document.root, wrong).node, nullptr) << wrong;
}

TEST(Differences, match_named_items_and_lengths) {
    const Document before = read_json(
        R"({"a": 1, "t": "3/8 in", "list": [{"name": "p", "x": 1}, {"name": "q", "x": 2}], "gone": 1})", "a");
    const Document after = read_json(
        R"({"list": [{"x": 2.0, "name": "q"}, {"name": "p", "x": 3}, {"name": "r"}], "t": 9.525, "a": 1.0})",
        "b");
    const auto found = differences(*before.root, Units::mm, *after.root, Units::mm);
    ASSERT_EQ(found.size(), 3u);
    EXPECT_EQ(found[0].key, "list.p.x");
    EXPECT_EQ(found[1].key, "list.r");
    EXPECT_EQ(found[1].before, nullptr);
    EXPECT_EQ(found[2].key, "gone");
    EXPECT_EQ(found[2].after, nullptr);
}

}  // namespace
}  // namespace fitup::parameters
