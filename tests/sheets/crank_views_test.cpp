// A crank from above and cut open: what to dimension, against the file's numbers.
#include "sheets/crank_views.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "parts/examples.hpp"
#include "sheets/views.hpp"

namespace fitup::sheets {
namespace {

double size_mm(const KeyedView& keyed, const std::string& name) {
    for (const KeyLength& key : keyed.keys.lengths) {
        if (key.name == name) return key.size_mm;
    }
    ADD_FAILURE() << "no length " << name;
    return 0.0;
}

TEST(CrankViews, dimensions_are_the_files) {
    const CrankViews views = crank_views(parts::testing::example_plan("selector-crank.json"));
    EXPECT_NEAR(size_mm(views.top, "arm rod"), 64, 1e-12);
    EXPECT_NEAR(size_mm(views.top, "arm selector"), 29, 1e-12);
    EXPECT_NEAR(size_mm(views.top, "eye rod"), 18, 1e-12);
    EXPECT_NEAR(size_mm(views.top, "hub"), 30, 1e-12);
    EXPECT_NEAR(size_mm(views.top, "pivot bore"), 14, 1e-12);
    // The selector's arm at -90 degrees, the rod's at 0: from it on anticlockwise.
    ASSERT_EQ(views.top.keys.angles.size(), 1u);
    EXPECT_EQ(views.top.keys.angles[0].name, "selector to rod");
    EXPECT_NEAR(views.top.keys.angles[0].size.degrees(), 90, 1e-9);
    EXPECT_NEAR(std::sin(views.top.keys.angles[0].from_rad), -1, 1e-12);
    EXPECT_NEAR(size_mm(views.section, "thickness"), 8, 1e-12);
    EXPECT_NEAR(size_mm(views.section, "hub height"), 20, 1e-12);
    EXPECT_NEAR(size_mm(views.section, "hub below"), 6, 1e-12);
    EXPECT_NEAR(size_mm(views.section, "eye height rod"), 8, 1e-12);
    EXPECT_NEAR(size_mm(views.section, "eye height selector"), 10, 1e-12);
}

TEST(CrankViews, lengths_are_shown_true) {
    const CrankViews views = crank_views(parts::testing::example_plan("selector-crank.json"));
    for (const KeyedView* one : {&views.top, &views.section}) {
        for (const KeyLength& key : one->keys.lengths) {
            EXPECT_NEAR(std::hypot(key.to.x_mm - key.from.x_mm, key.to.y_mm - key.from.y_mm), key.size_mm,
                        1e-9)
                << key.name;
            EXPECT_NEAR(std::hypot(key.along.x_mm, key.along.y_mm), 1, 1e-12);
        }
    }
    // In the section the arms lie to both sides of the hub, as long as they are.
    ASSERT_NE(testing::mark(views.section.view, "rod"), nullptr);
    EXPECT_NEAR(std::abs(testing::mark(views.section.view, "rod")->at.x_mm), 64, 1e-9);
    EXPECT_NEAR(testing::mark(views.section.view, "rod")->at.x_mm *
                    testing::mark(views.section.view, "selector")->at.x_mm,
                -64.0 * 29.0, 1e-6);
}

}  // namespace
}  // namespace fitup::sheets
