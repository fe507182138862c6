#include "base/text.hpp"

#include <gtest/gtest.h>

#include <clocale>

namespace fitup {
namespace {

TEST(Text, numbers_keep_their_point_in_a_comma_locale) {
    std::setlocale(LC_ALL, "de_DE.UTF-8");
    EXPECT_EQ(fixed_text(1234.5, 2), "1234.50");
    EXPECT_EQ(shortest_text(0.1), "0.1");
    EXPECT_EQ(parse_number("3.25"), 3.25);
    std::setlocale(LC_ALL, "C");
}

TEST(Text, no_negative_zero) {
    EXPECT_EQ(fixed_text(-0.0004, 2), "0.00");
    EXPECT_EQ(short_text(-0.0), "0");
}

TEST(Text, trailing_zeros_go_but_not_those_of_whole_numbers) {
    EXPECT_EQ(short_text(40.0), "40");
    EXPECT_EQ(short_text(12.70), "12.7");
    EXPECT_EQ(short_text(100.0, 0), "100");
}

TEST(Text, only_whole_decimal_numbers_parse) {
    EXPECT_FALSE(parse_number("nan"));
    EXPECT_FALSE(parse_number("inf"));
    EXPECT_FALSE(parse_number("1,5"));
    EXPECT_FALSE(parse_number("12 "));
    EXPECT_FALSE(parse_number(""));
}

TEST(Text, nearest_word_is_near_or_nothing) {
    const std::vector<std::string> keys{"thickness", "outline", "material"};
    EXPECT_EQ(nearest_word("thicknes", keys), "thickness");
    EXPECT_EQ(nearest_word("MATERAIL", keys), "material");
    EXPECT_FALSE(nearest_word("colour", keys));
}

TEST(Text, swapped_neighbours_are_one_slip) {
    const std::vector<std::string> keys{"at", "depth", "kind"};
    EXPECT_EQ(nearest_word("depht", keys), "depth");
    EXPECT_EQ(nearest_word("ta", keys), "at");
    EXPECT_EQ(nearest_word("kidn", keys), "kind");
    EXPECT_FALSE(nearest_word("kidm", keys));
    // "ca" to "abc": the restricted distance is 3, the unrestricted one 2 (no letter takes part in two
    // slips).
    EXPECT_FALSE(nearest_word("cazzzz", std::vector<std::string>{"abczzzz"}));
    EXPECT_EQ(nearest_word("cazzzzzzz", std::vector<std::string>{"abczzzzzzz"}), "abczzzzzzz");
    // A swap counts once however often letters repeat, and no swap is free.
    EXPECT_EQ(nearest_word("AAB", std::vector<std::string>{"aba", "bbb"}), "aba");
    EXPECT_EQ(nearest_word("", std::vector<std::string>{"a", "ab"}), "a");
}

}  // namespace
}  // namespace fitup
