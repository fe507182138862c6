#include "parameters/length.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <cmath>

#include "base/text.hpp"

namespace fitup::parameters {
namespace {

Node number(std::string spelling, double value) {
    Node node = node_of(Node::Type::number);
    node.number = value;
    node.text = std::move(spelling);
    return node;
}

TEST(Length, texts_of_the_contract) {
    EXPECT_EQ(length_mm("12 mm"), 12.0);
    EXPECT_EQ(length_mm("0.4995 in"), 12.6873);  // 0.4995 x 25.4 worked out by hand
    EXPECT_EQ(length_mm("3/8 in"), 9.525);       // handbook: 3/8 in is 9.525 mm
    EXPECT_EQ(length_mm("1-1/4 in"), 31.75);     // handbook: 1 1/4 in is 31.75 mm
    EXPECT_EQ(length_mm("1 1/4 in"), 31.75);
    EXPECT_EQ(length_mm("4 thou"), 0.1016);
    EXPECT_EQ(length_mm("-18.4 mm"), -18.4);
    EXPECT_EQ(length_mm("-1-1/4 in"), -31.75);
    EXPECT_EQ(length_mm(".5in"), 12.7);
    EXPECT_EQ(length_mm("1/2 mm"), 0.5);
    EXPECT_EQ(length_mm("0.33333333333333331483 in"), 1.0 / 3.0 * 25.4);
}

TEST(Length, zero_has_no_sign) {
    EXPECT_FALSE(std::signbit(*length_mm("-0 mm")));
    EXPECT_FALSE(std::signbit(*length_mm("-0/8 in")));
}

TEST(Length, other_texts_are_none) {
    for (const char* text : {"",       " ",        "12",       "mm",          "12 cm",
                             "12 MM",  "12 mm ",   " 12 mm",   "12 m",        "12 inch",
                             "1,5 mm", "1e3 mm",   "nan mm",   "inf in",      "infinity in",
                             "1/0 in", "0/0 in",   "1-5/4 in", "1--1/4 in",   "--1 mm",
                             "+1 mm",  "5. mm",    ". mm",     "-",           "- mm",
                             "-in",    "0x10 mm",  "3/ in",    "/8 in",       "3/8",
                             "1 1/4",  "1/2/3 in", "1.5/2 in", "1-1.5/2 in",  "12 mm mm",
                             "12\tmm", "1 2 mm",   "12 \" in", "\xC2\xBD in", "1-9999999/10000000 in",
                             "mmmmmm", "i",        "t"}) {
        EXPECT_FALSE(length_mm(text)) << text;
    }
    EXPECT_FALSE(length_mm(std::string(100000, '9') + " mm"));
    EXPECT_FALSE(length_mm(std::string("12 mm\0", 6)));
}

TEST(Length, a_number_is_in_the_files_units) {
    EXPECT_EQ(length_mm(number("12", 12.0), Units::mm), 12.0);
    EXPECT_EQ(length_mm(number("0.4995", 0.4995), Units::in), 12.6873);
    EXPECT_EQ(length_mm(number("1e1", 10.0), Units::in), 254.0);
    EXPECT_EQ(length_mm(number("", 2.0), Units::in), 50.8);
    EXPECT_EQ(length_mm(text_node("1 in"), Units::mm), 25.4);
    EXPECT_FALSE(length_mm(node_of(Node::Type::boolean), Units::mm));
    EXPECT_FALSE(length_mm(Node{}, Units::in));
}

/// A second way: long double, whose 64 bits make its own rounding harmless.
TEST(Length, every_64th_of_an_inch_is_rounded_once) {
    for (int sixty_fourths = 1; sixty_fourths <= 64 * 40; ++sixty_fourths) {
        const std::string text = std::to_string(sixty_fourths) + "/64 in";
        EXPECT_EQ(length_mm(text), static_cast<double>(sixty_fourths * 254.0L / 640.0L)) << text;
    }
}

TEST(Length, a_number_and_its_text_are_the_same_to_the_last_bit) {
    const bool held = rc::check([] {
        const int tenths_of_thou = *rc::gen::inRange(-10000000, 10000000);
        const std::string spelling = fixed_text(tenths_of_thou / 10000.0, *rc::gen::inRange(4, 7));
        const auto from_text = length_mm(spelling + " in");
        RC_ASSERT(from_text == length_mm(number(spelling, *parse_number(spelling)), Units::in));
        RC_ASSERT(*from_text == static_cast<double>(tenths_of_thou * 254.0L / 100000.0L));
    });
    EXPECT_TRUE(held);
}

}  // namespace
}  // namespace fitup::parameters
