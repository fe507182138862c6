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
        for (const auto& item : drawing.items) {
            const Text* text = std::get_if<Text>(&item);
            if (text == nullptr || text->turn_rad != 0.0) continue;
            const auto box = box_of(*text);
            RC_ASSERT(box[0] >= 0.0 && box[1] >= 0.0 && box[2] <= drawing.width_mm &&
                      box[3] <= drawing.height_mm);
        }
    }));
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
