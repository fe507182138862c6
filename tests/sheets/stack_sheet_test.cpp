// A stack's picture and tables: texts apart and on the page, arrows to scale, every figure there.
#include "sheets/stack_sheet.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "sheets/stack_chart.hpp"

namespace fitup::sheets {
namespace {

using namespace calculations;

Stack stack_of(int links, int closings) {
    Stack stack;
    stack.name = "engagement";
    for (int i = 0; i < links; ++i)
        stack.links.push_back({"a link of the chain no. " + std::to_string(i),
                               *rc::gen::inRange(-9000, 9000) / 100.0, *rc::gen::inRange(0, 50) / 100.0,
                               *rc::gen::inRange(0, 50) / 100.0, true});
    for (int c = 0; c < closings; ++c) {
        Closing closing{"closing " + std::to_string(c), Interval{2, 6}, {}};
        for (std::size_t i = 0; i < stack.links.size(); ++i)
            closing.through.push_back({i, *rc::gen::arbitrary<bool>() ? 1.0 : -1.0});
        stack.closings.push_back(std::move(closing));
    }
    return stack;
}

TEST(StackChart, texts_do_not_overlap_and_stay_on_the_page) {
    EXPECT_TRUE(rc::check([] {
        const Stack stack = stack_of(*rc::gen::inRange(1, 9), *rc::gen::inRange(1, 4));
        const Drawing drawing = stack_chart(work_out(stack));
        const auto overlapping = overlapping_texts(drawing);
        RC_ASSERT(overlapping.empty());
        const auto outside = outside_page(drawing);
        RC_ASSERT(outside.empty());
    }));
}

/// Lengths of the wide lines on the page that lie level: the links' arrows, the closing's and the scale's.
std::vector<double> arrows(const Drawing& drawing) {
    std::vector<double> lengths;
    for (const auto& item : drawing.items) {
        const Line* line = std::get_if<Line>(&item);
        const bool is_arrow = line != nullptr && line->points.size() == 2 && line->pen &&
                              line->pen->width_mm == wide_mm && line->points[0][1] == line->points[1][1];
        if (is_arrow) lengths.push_back(line->points[1][0] - line->points[0][0]);
    }
    return lengths;
}

TEST(StackChart, arrows_are_to_scale_and_end_where_the_sum_does) {
    Stack stack;
    stack.links = {{"a", 100, 0, 0, true}, {"b", 60, 0, 0, true}, {"c", -10, 0, 0, true}};
    stack.closings = {{"gap", {}, {{0, 1.0}, {1, -1.0}, {2, 1.0}}}};
    const auto lengths = arrows(stack_chart(work_out(stack)));
    ASSERT_EQ(lengths.size(), 5u);  // three links, the gap, the scale
    EXPECT_NEAR(lengths[1] / lengths[0], -0.6, 1e-9);
    EXPECT_NEAR(lengths[2] / lengths[0], -0.1, 1e-9);
    EXPECT_NEAR(lengths[3] / lengths[0], 0.3, 1e-9);
}

TEST(StackText, both_extremes_add_up_before_the_eye) {
    Stack stack;
    stack.links = {{"a", 10, 0.2, 0.1, true}, {"b", 4, 0.3, 0.3, true}};
    stack.closings = {{"gap", Interval{5, 7}, {{0, 1.0}, {1, -1.0}}}};
    const std::string text = stack_text(work_out(stack));
    for (const char* words : {"+0.2 -0.1", "9.9 ", "10.2 ", "4.3 ", "3.7 ", "5.6 to 6.5", "0.6 / 0.5"})
        EXPECT_NE(text.find(words), std::string::npos) << words << "\n" << text;
}

}  // namespace
}  // namespace fitup::sheets
