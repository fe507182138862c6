// The lettering, against the rule by which it is swept: a point is in a letter when it lies within half a
// stroke of its centrelines.
#include "plan/lettering.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "plan/stroke.hpp"

namespace fitup::plan {
namespace {

const std::string all_letters =
    "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-./+:=%_,;()[]'\"!?<>&#*{}|\\~^`@$abcdefghijklmnopqrstuvwxyz"
    "\xE2\x8C\x80\xC3\x98\xE2\x86\xA7\xE2\x8C\xB4\xE2\x8C\xB5\xC2\xB1\xC2\xB0\xC3\x97";

double distance_to_lines_mm(const std::vector<std::vector<Point>>& lines, Point point) {
    double least_mm = 1e300;
    for (const auto& line : lines) {
        least_mm = std::min(least_mm, distance_mm(line.front(), point));
        for (std::size_t i = 1; i < line.size(); ++i)
            least_mm = std::min(least_mm,
                                distance_mm(nearest_point(line_stroke(line[i - 1], line[i]), point), point));
    }
    return least_mm;
}

bool is_inside(const std::vector<Area>& areas, Point point) {
    for (const Area& area : areas) {
        if (!area.outer.contains(point)) continue;
        bool in_island = false;
        for (const Contour& island : area.islands) in_island = in_island || island.contains(point);
        if (!in_island) return true;
    }
    return false;
}

class EachLetter : public testing::TestWithParam<std::string_view> {};

TEST_P(EachLetter, covers_what_the_pen_covers) {
    const std::string text(GetParam());
    ASSERT_TRUE(has_letter(text));
    for (const auto& [height_mm, stroke] :
         {std::array{3.0, stroke_share}, std::array{8.0, stroke_share}, std::array{120.0, stroke_share},
          std::array{5.0, 0.12}, std::array{4.0, 0.15}}) {
        const auto areas = lettering(text, height_mm, stroke);
        const auto lines = lettering_lines(text, height_mm, stroke);
        ASSERT_FALSE(areas.empty());
        constexpr int steps = 60;
        for (int i = 0; i < steps * steps; ++i) {
            const Point point{(i % steps + 0.37) / steps * height_mm - height_mm / 2,
                              (i / steps + 0.61) / steps * height_mm * 1.1 - height_mm * 0.55};
            const double depth_mm = stroke * height_mm / 2 - distance_to_lines_mm(lines, point);
            if (std::abs(depth_mm) < 1e-6 * height_mm) continue;
            ASSERT_EQ(is_inside(areas, point), depth_mm > 0) << point.x_mm << ", " << point.y_mm;
        }
    }
}

INSTANTIATE_TEST_SUITE_P(Lettering, EachLetter, testing::ValuesIn(split_into_letters(all_letters)),
                         [](const auto& info) {
                             std::string name = "x";
                             for (const char byte : info.param)
                                 name += std::to_string(static_cast<unsigned char>(byte)) + "_";
                             return name;
                         });

TEST(Lettering, no_two_letters_look_the_same_but_the_two_diameter_signs) {
    std::map<std::vector<std::vector<std::array<double, 2>>>, std::string> seen;
    for (const std::string_view letter : split_into_letters(all_letters)) {
        std::vector<std::vector<std::array<double, 2>>> lines;
        for (const auto& line : lettering_lines(letter, 6.0)) {
            lines.emplace_back();
            for (const Point& point : line) lines.back().push_back({point.x_mm, point.y_mm});
        }
        const auto [twin, is_new] = seen.emplace(lines, letter);
        EXPECT_TRUE(is_new || letter == "\xC3\x98") << letter << " looks like " << twin->second;
    }
}

TEST(Lettering, a_letter_that_there_is_none_for_shows_as_a_box) {
    const std::string umlaut = "\xC3\xA4";
    EXPECT_FALSE(has_letter(umlaut));
    EXPECT_EQ(split_into_letters("a" + umlaut + "b").size(), 3u);
    const auto areas = lettering(umlaut, 7.0);
    ASSERT_EQ(areas.size(), 1u);
    EXPECT_EQ(areas[0].islands.size(), 1u);
    EXPECT_EQ(lettering(" ", 7.0).size(), 0u);
    // Cut off in the middle of a letter, and bytes that start none: still a box each, never read beyond.
    EXPECT_EQ(lettering_lines("\xE2\x8C", 7.0).size(), 1u);
    EXPECT_EQ(lettering_lines("\x80", 7.0).size(), 1u);
}

TEST(Lettering, is_as_high_as_asked_and_lies_about_its_middle) {
    for (const std::string text : {"TOP", "A", "H8"}) {
        Box2 all{{1e300, 1e300}, {-1e300, -1e300}};
        for (const Area& area : lettering(text, 8)) all = joined(all, area.outer.box());
        EXPECT_NEAR(all.most.y_mm, 4, 1e-9) << text;
        EXPECT_NEAR(all.least.y_mm, -4, 1e-9) << text;
        EXPECT_NEAR(all.most.x_mm + all.least.x_mm, 0, 1e-9) << text;
    }
}

TEST(Lettering, is_as_wide_as_it_says) {
    for (const std::string text : {"TOP", "1", "-", "FIT CHECK ONLY", "W%_"}) {
        for (const double stroke : {0.1, 0.15}) {
            Box2 all{{1e300, 1e300}, {-1e300, -1e300}};
            for (const Area& area : lettering(text, 5, stroke)) all = joined(all, area.outer.box());
            EXPECT_NEAR(all.most.x_mm - all.least.x_mm, lettering_width_mm(text, 5, stroke), 1e-9) << text;
        }
    }
    EXPECT_EQ(lettering_width_mm("", 5), 0.0);
    EXPECT_TRUE(has_letter("A") && has_letter(" ") && has_letter("%"));
}

TEST(Lettering, closed_letters_have_their_islands) {
    const auto islands = [](const char* text) { return lettering(text, 10).at(0).islands.size(); };
    EXPECT_EQ(islands("O"), 1u);
    EXPECT_EQ(islands("A"), 1u);
    EXPECT_EQ(islands("8"), 2u);
    EXPECT_EQ(islands("B"), 2u);
    EXPECT_EQ(islands("L"), 0u);
}

TEST(Lettering, a_line_and_a_dot_are_what_they_are) {
    // I: a slot 7.2 between its ends' centres, 0.8 wide; the dot: a disc.
    const double pi = std::acos(-1.0);
    EXPECT_NEAR(lettering("I", 8).at(0).outer.area_mm2(), 7.2 * 0.8 + pi * 0.16, 1e-12);
    EXPECT_NEAR(lettering(".", 8).at(0).outer.area_mm2(), pi * 0.16, 1e-12);
}

}  // namespace
}  // namespace fitup::plan
