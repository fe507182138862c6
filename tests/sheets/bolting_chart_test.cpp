// Pictures of patterns laid on one another, and lengths in the file's own unit.
#include "sheets/bolting_chart.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "base/length_text.hpp"

namespace fitup::sheets {
namespace {

using namespace calculations;

/// Studs on a circle, the other pattern's each off by so much.
BoltingCase off_by(const std::vector<plan::Point>& offs) {
    BoltingCase one;
    for (std::size_t i = 0; i < offs.size(); ++i) {
        const double turn = 6.283185307 * double(i) / double(offs.size());
        const plan::Point at{90 * std::cos(turn), 90 * std::sin(turn)};
        one.ids.push_back("stud-" + std::to_string(i + 1));
        one.first_mm.push_back(at);
        one.second_mm.push_back({at.x_mm + offs[i].x_mm, at.y_mm + offs[i].y_mm});
        one.holes_mm.push_back(11.0);
        one.fasteners_mm.push_back(10.0);
    }
    return one;
}

BoltingCase random_case() {
    std::vector<plan::Point> offs(std::size_t(*rc::gen::inRange(1, 25)));
    for (plan::Point& off : offs)
        off = {*rc::gen::inRange(-800, 800) / 1000.0, *rc::gen::inRange(-800, 800) / 1000.0};
    return off_by(offs);
}

TEST(BoltingChart, has_nothing_over_anything_else) {
    EXPECT_TRUE(rc::check([] {
        const BoltingCase one = random_case();
        const Drawing drawing = bolting_chart(one, bolt_up(one).fit, "a plate and what it bolts to");
        const auto outside = outside_page(drawing);
        RC_ASSERT(outside.empty());
        const auto overlapping = overlapping_texts(drawing);
        RC_ASSERT(overlapping.empty());
    }));
}

/// The dots and crosses lie as far off their rings' middles as the fit says, on one scale.
TEST(BoltingChart, dots_lie_where_the_fit_lays_them) {
    const BoltingCase one = off_by({{0.1, 0.2}, {-0.9, 0.3}, {0.0, 0.0}, {0.4, -0.8}, {0.7, 0.7}});
    const BoltFit fit = bolt_up(one).fit;
    const Drawing drawing = bolting_chart(one, fit, "t");
    std::vector<RoundLine> rings;
    std::vector<Line> ways;
    for (const auto& item : drawing.items) {
        if (const auto* ring = std::get_if<RoundLine>(&item); ring != nullptr && ring->fill_grey == 1.0)
            rings.push_back(*ring);
        if (const auto* line = std::get_if<Line>(&item); line != nullptr && line->pen->width_mm == narrow_mm)
            ways.push_back(*line);
    }
    ASSERT_EQ(rings.size(), 5u);
    ASSERT_EQ(ways.size(), 5u);
    const double enlarged = rings[0].radius_mm / 0.5;
    for (std::size_t i = 0; i < 5; ++i) {
        const plan::Point there = laid(fit, one.second_mm[i]);
        EXPECT_NEAR(ways[i].points[1][0] - rings[i].centre[0], enlarged * (there.x_mm - one.first_mm[i].x_mm),
                    1e-9);
        EXPECT_NEAR(ways[i].points[1][1] - rings[i].centre[1],
                    -enlarged * (there.y_mm - one.first_mm[i].y_mm), 1e-9);
        const bool is_inside = std::hypot(ways[i].points[1][0] - rings[i].centre[0],
                                          ways[i].points[1][1] - rings[i].centre[1]) <= rings[i].radius_mm;
        EXPECT_EQ(is_inside, fit.clearances_mm[i] >= -1e-9);
    }
}

TEST(LengthText, is_in_one_unit) {
    EXPECT_EQ(LengthText(false).with_unit(12.3456), "12.346 mm");
    EXPECT_EQ(LengthText(true).with_unit(12.7), "0.5 in");
    EXPECT_EQ(LengthText(true).number(0.0254), "0.001");
}

}  // namespace
}  // namespace fitup::sheets
