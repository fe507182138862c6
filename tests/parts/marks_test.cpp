#include "plates.hpp"

namespace fitup::parts {
namespace {

using namespace testing;

std::string mark(const std::string& more) {
    return R"("marks": [{"text": "TOP", "at": [0, 195], "height": 8, )" + more + "}]";
}

TEST(Marks, become_shallow_pockets_about_their_middle) {
    const plan::Plan plan = plan_with(mark(R"("side": "B", "depth": 0.5)"));
    ASSERT_EQ(plan.pockets.size(), 1u);
    const plan::Pocket& pocket = plan.pockets.front();
    EXPECT_EQ(pocket.id, "mark-1");
    EXPECT_EQ(pocket.kind, plan::PocketKind::mark);
    EXPECT_DOUBLE_EQ(pocket.depth_mm, 0.5);
    ASSERT_EQ(pocket.areas.size(), 3u);
    const plan::Box2 first = pocket.areas.front().outer.box();
    EXPECT_NEAR(first.most.y_mm, 199, 1e-9);
    EXPECT_NEAR(first.least.y_mm, 191, 1e-9);
    EXPECT_LT(first.most.x_mm, 0) << "on B the first letter stands left";
}

TEST(Marks, on_face_a_run_the_other_way_so_that_they_read_right_looking_at_it) {
    const plan::Plan plan = plan_with(mark(R"("side": "A", "depth": 0.5)"));
    EXPECT_GT(plan.pockets.front().areas.front().outer.box().least.x_mm, 0);
}

TEST(Marks, turn_anticlockwise_as_seen) {
    const plan::Plan plan = plan_with(mark(R"("side": "B", "depth": 0.5, "angle": 90)"));
    EXPECT_LT(plan.pockets.front().areas.front().outer.box().most.y_mm, 195) << "the text starts below";
    const plan::Plan from_a = plan_with(mark(R"("side": "A", "depth": 0.5, "angle": 90)"));
    EXPECT_LT(from_a.pockets.front().areas.front().outer.box().most.y_mm, 195);
}

TEST(Marks, as_deep_as_the_plate_are_refused) {
    EXPECT_EQ(messages_with(mark(R"("side": "B", "depth": 40)")),
              (Messages{"marks[0].depth: found 40, wanted less than the plate's thickness, 40 mm"}));
}

TEST(Marks, have_no_small_letters) {
    EXPECT_EQ(
        messages_with(R"("marks": [{"text": "Top", "side": "B", "at": [0, 195], "height": 8, "depth": 1}])"),
        (Messages{"marks[0].text: found \"Top\", wanted 1 to 40 capital letters (A to Z), digits, - . / + or "
                  "spaces"}));
}

}  // namespace
}  // namespace fitup::parts
