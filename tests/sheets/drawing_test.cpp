// Charts and their files: nothing over anything else, nothing off the page, and what other programs read
// back.
#include "sheets/drawing.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <limits>

#include "sheets/chart.hpp"
#include "sheets/render.hpp"

namespace fitup::sheets {
namespace {

Drawing bar() {
    Drawing drawing;
    drawing.width_mm = 150;
    drawing.height_mm = 50;
    drawing.title = "bar";
    drawing.items.emplace_back(Line{{{20, 20}, {120, 20}, {120, 30}, {20, 30}}, true, std::nullopt, 0.0});
    drawing.items.emplace_back(Text{{20, 45}, "100 mm \xC3\x98 \xC2\xB1 \xC2\xB0", 4.0, Anchor::left, 0.0});
    return drawing;
}

TEST(Ticks, are_round_and_within) {
    EXPECT_EQ(ticks(0, 10, 5), (std::vector<double>{0, 2, 4, 6, 8, 10}));
    EXPECT_TRUE(ticks(1, 1, 5).empty());
    EXPECT_TRUE(ticks(0, std::numeric_limits<double>::infinity(), 5).empty());
    EXPECT_TRUE(rc::check([] {
        const double least = *rc::gen::inRange(-100000, 100000) / 37.0;
        const double most = least + *rc::gen::inRange(1, 1000000) / 1013.0;
        const auto values = ticks(least, most, 8);
        RC_ASSERT(values.size() >= 3 && values.size() <= 10);
        for (const double value : values) RC_ASSERT(value >= least - 1e-6 && value <= most + 1e-6);
    }));
}

TEST(Chart, labels_do_not_overlap_and_stay_on_the_page) {
    EXPECT_TRUE(rc::check([] {
        Chart chart;
        chart.title = "a title";
        std::vector<double> outputs;
        for (int i = 0; i < *rc::gen::inRange(1, 12); ++i) {
            const double middle = *rc::gen::inRange(-4000, 4000) / 100.0;
            chart.bands.push_back({middle - 1, middle + 1, false, "position " + std::to_string(i)});
            outputs.insert(outputs.end(), {middle - 1, middle + 1});
        }
        chart.x = axis_over("input", {-30, 30});
        chart.y = axis_over("output", outputs);
        const Drawing drawing = chart_drawing(chart);
        const auto overlapping = overlapping_texts(drawing);
        RC_ASSERT(overlapping.empty());
        const auto outside = outside_page(drawing);
        RC_ASSERT(outside.empty());
    }));
}

TEST(Text, widths_are_those_of_the_font) {
    std::string ascii;
    for (char letter = ' '; letter <= '~'; ++letter) {
        ascii += letter;
        const std::string one(1, letter);
        EXPECT_NEAR(text_width_mm(one, 5.0), renderer().text_width_mm(one, 5.0), 0.01) << letter;
    }
    EXPECT_NEAR(text_width_mm(ascii, 5.0), renderer().text_width_mm(ascii, 5.0), 0.2);
    // Diameter, plus-minus, degree, micro, umlaut: never wider than reckoned.
    const std::string others = "\xC3\x98\xC2\xB1\xC2\xB0\xC2\xB5\xC3\x84";
    EXPECT_GE(text_width_mm(others, 5.0), renderer().text_width_mm(others, 5.0));
}

TEST(Text, boxes_that_are_turned_overlap_where_they_cross) {
    const Text along{{0, 0}, "a text along", 3.0, Anchor::middle, 0.0};
    Text across{{0, 10}, "a text across", 3.0, Anchor::middle, 1.5707963267948966};
    EXPECT_TRUE(overlap(along, across));
    across.at = {0, 20};
    EXPECT_FALSE(overlap(along, across));
    // Corner to corner: the boxes along the axes would overlap, the turned ones do not.
    const Text slanted{{14, -14}, "slanted text", 3.0, Anchor::middle, 0.7853981633974483};
    EXPECT_FALSE(overlap(along, Text{{-14, 14}, "slanted text", 3.0, Anchor::middle, 0.7853981633974483}));
    EXPECT_FALSE(overlap(slanted, Text{{6, -6}, "slanted text", 3.0, Anchor::middle, 0.7853981633974483}));
}

TEST(Text, lines_and_circles_that_run_over_it_are_seen) {
    // Its box: from 0 to the text's width, from -3 up to 0, and some way under the base line.
    const Text text{{0, 0}, "abc", 3.0, Anchor::left, 0.0};
    const Pen pen{0.5};
    EXPECT_TRUE(overlap(text, Line{{{-5, -1}, {50, -2}}, false, pen, {}}));
    EXPECT_FALSE(overlap(text, Line{{{-5, -1}, {50, -2}}, false, {}, {}})) << "nothing is drawn";
    EXPECT_FALSE(overlap(text, Line{{{-5, -3.3}, {50, -3.3}}, false, pen, {}}));
    EXPECT_TRUE(overlap(text, Line{{{-5, -3.2}, {50, -3.2}}, false, pen, {}})) << "half the pen reaches in";
    // Past a corner, where the boxes along the axes would meet.
    EXPECT_FALSE(overlap(text, Line{{{-4, -2}, {1, -7}}, false, pen, {}}));
    // Only its closing side runs over the text.
    EXPECT_FALSE(overlap(text, Line{{{3, -9}, {90, -9}, {90, 9}, {3, 9}}, false, pen, {}}));
    EXPECT_TRUE(overlap(text, Line{{{3, -9}, {90, -9}, {90, 9}, {3, 9}}, true, pen, {}}));
    EXPECT_FALSE(overlap(text, RoundLine{{2, -1}, 20.0, 0.0, 6.2831853, pen, {}})) << "all round it";
    EXPECT_TRUE(overlap(text, RoundLine{{21, -1}, 20.0, 0.0, 6.2831853, pen, {}}));
    EXPECT_FALSE(overlap(text, RoundLine{{21, -1}, 20.0, -1.0, 2.0, pen, {}})) << "its far side only";
}

TEST(Drawing, what_is_off_the_page_is_named) {
    Drawing drawing = bar();
    EXPECT_TRUE(outside_page(drawing).empty());
    drawing.items.emplace_back(Text{{149, 20}, "over the edge", 3.0, Anchor::left, 0.0});
    drawing.items.emplace_back(Line{{{-1, 2}, {3, 4}}, false, Pen{}, std::nullopt});
    drawing.items.emplace_back(RoundLine{{148, 20}, 3.0, 0.0, 6.28, Pen{}, std::nullopt});
    EXPECT_EQ(outside_page(drawing), (std::vector<std::string>{"over the edge", "line", "circle"}));
}

TEST(Render, a_picture_has_the_dots_asked_for) {
    const Drawing drawing = bar();
    const std::string png = renderer().png(drawing, 20.0);
    EXPECT_EQ(png.substr(1, 3), "PNG");
    const auto big_endian = [&](std::size_t at) {
        unsigned value = 0;
        for (std::size_t i = 0; i < 4; ++i) value = value * 256 + static_cast<unsigned char>(png[at + i]);
        return value;
    };
    EXPECT_EQ(big_endian(16), 3000u);  // PNG: width and height in the first chunk
    EXPECT_EQ(big_endian(20), 1000u);
    EXPECT_TRUE(png == renderer().png(drawing, 20.0));
}

TEST(Render, svg_and_pdf_have_the_pages_size_and_the_same_bytes) {
    const std::string svg = renderer().svg(bar());
    EXPECT_NE(svg.find("width=\"150mm\""), std::string::npos) << svg.substr(0, 300);
    EXPECT_NE(svg.find("height=\"50mm\""), std::string::npos);
    EXPECT_NE(svg.find("</svg>"), std::string::npos);
    EXPECT_TRUE(svg == renderer().svg(bar()));
    const std::string pdf = renderer().pdf(bar());
    EXPECT_EQ(pdf.substr(0, 5), "%PDF-");
    // 150 x 50 mm in points of 1/72 inch.
    EXPECT_NE(pdf.find("425.19"), std::string::npos);
    EXPECT_NE(pdf.find("141.73"), std::string::npos);
    EXPECT_TRUE(pdf == renderer().pdf(bar()));
}

}  // namespace
}  // namespace fitup::sheets
