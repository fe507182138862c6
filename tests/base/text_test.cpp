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

}  // namespace
}  // namespace fitup
