#include "parameters/explain.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "parameters/references.hpp"

namespace fitup::parameters {
namespace {

TEST(Explain, a_key_with_its_range_and_whether_it_must_stand) {
    EXPECT_EQ(explain("adapter_plate", "patterns.circle.count").text,
              "patterns.circle.count\n"
              "  Number of holes, skipped ones included.\n"
              "  wanted: a whole number from 1 to 2000\n"
              "  required\n");
    EXPECT_EQ(explain("adapter_plate", "rules.web.stop").text,
              "rules.web.stop\n"
              "  The limit that stops the part.\n"
              "  wanted: a number\n"
              "  default: the rule's own\n");
}

TEST(Explain, an_index_is_passed_over) {
    const std::string plain = explain("adapter_plate", "patterns.circle.start_angle").text;
    const std::string indexed = explain("adapter_plate", "patterns[3].circle.start_angle").text;
    EXPECT_EQ(plain.substr(plain.find('\n')), indexed.substr(indexed.find('\n')));
}

TEST(Explain, what_only_some_kinds_have_says_so) {
    const std::string text = explain("adapter_plate", "patterns.hole.drill_depth").text;
    EXPECT_NE(text.find("only with kind \"tapped\""), std::string::npos) << text;
    EXPECT_EQ(explain("adapter_plate", "patterns.hole.from").text.find("only with"), std::string::npos);
    EXPECT_NE(explain("adapter_plate", "outline.round").text.find("one of several"), std::string::npos);
    EXPECT_NE(explain("adapter_plate", "patterns.points").text.find("one of several"), std::string::npos);
}

TEST(Explain, the_whole_kind_lists_its_keys_and_what_is_inside) {
    const Explanation all = explain("adapter_plate", "");
    EXPECT_TRUE(all.found);
    EXPECT_EQ(all.text.substr(0, 15), "adapter_plate: ");
    EXPECT_NE(all.text.find("\n  outline\n"), std::string::npos);
    EXPECT_NE(all.text.find("      keys: round, rectangle, polygon, around\n"), std::string::npos);
}

TEST(Explain, an_unknown_key_gets_the_nearest) {
    const Explanation near = explain("adapter_plate", "outline.rond");
    EXPECT_FALSE(near.found);
    EXPECT_EQ(near.text, "adapter_plate has no key \"outline.rond\"; did you mean outline.round?");
    EXPECT_EQ(explain("adapter_plate", "recess").text,
              "adapter_plate has no key \"recess\"; did you mean patterns.hole.recess?");
    EXPECT_EQ(explain("adapter_plate", "flux_capacity").text, "adapter_plate has no key \"flux_capacity\"");
    EXPECT_FALSE(explain("adapter_plate", ".").found);
    EXPECT_FALSE(explain("adapter_plate", "..outline").found);
    EXPECT_FALSE(explain("no_such_kind", "").found);
}

TEST(Explain, every_key_of_every_schema_has_a_text_of_bounded_width) {
    for (const std::string& name : compiled_schema_names()) {
        for (const std::string& key : keys(name)) {
            const Explanation explanation = explain(name, key);
            ASSERT_TRUE(explanation.found) << name << " " << key;
            EXPECT_GT(std::count(explanation.text.begin(), explanation.text.end(), '\n'), 2)
                << name << " " << key;
            for (std::size_t at = 0; at < explanation.text.size();) {
                const std::size_t end = explanation.text.find('\n', at);
                ASSERT_NE(end, std::string::npos);
                EXPECT_LE(end - at, 100u) << explanation.text.substr(at, end - at);
                at = end + 1;
            }
        }
    }
}

TEST(Keys, are_dotted_and_stand_once) {
    std::vector<std::string> all = keys("adapter_plate");
    for (const char* key : {"outline", "outline.round.diameter", "patterns.hole.recess.depth",
                            "rules.NAME.warn", "registers.kind"}) {
        EXPECT_EQ(std::count(all.begin(), all.end(), key), 1) << key;
    }
    std::sort(all.begin(), all.end());
    EXPECT_EQ(std::unique(all.begin(), all.end()), all.end());
    EXPECT_TRUE(keys("no_such_kind").empty());
}

}  // namespace
}  // namespace fitup::parameters
