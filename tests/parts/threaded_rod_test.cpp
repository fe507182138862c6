#include "parts/threaded_rod.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "plates.hpp"
#include "rods.hpp"

namespace fitup::parts {
namespace {

using namespace testing;

std::vector<std::string> messages(const RodText& rod) {
    std::vector<std::string> texts;
    for (const auto& fault : plan_file(rod_text(rod), "r.json").faults) texts.push_back(fault.message);
    return texts;
}

using Messages = std::vector<std::string>;

const plan::WorkItem& item(const plan::Work& work, const std::string& key) {
    for (const plan::WorkItem& candidate : work) {
        if (candidate.key == key) return candidate;
    }
    throw std::out_of_range(key);
}

RodText straight(const std::string& length, const std::string& ends) {
    return {.path = R"("length": )" + length, .ends = ends};
}

TEST(ThreadedRod, has_corners_ends_and_fittings_as_the_file_says) {
    const plan::Plan plan = plan_of(rod_text({.more = two_fittings() + R"(, "load": {"push": 200})"}));
    ASSERT_TRUE(plan.rod);
    const plan::Rod& rod = *plan.rod;
    EXPECT_EQ(rod.corners.size(), 4u);
    EXPECT_DOUBLE_EQ(rod.ends[0].diameter_mm, 8);
    EXPECT_DOUBLE_EQ(rod.ends[1].diameter_mm, 6) << "turned down to its thread";
    EXPECT_EQ(rod.ends[1].thread->hand, plan::Hand::left);
    EXPECT_DOUBLE_EQ(rod.ends[1].thread->depth_mm, 20);
    EXPECT_EQ(rod.fittings[1]->name, "fitting");
    EXPECT_DOUBLE_EQ(rod.fittings[0]->engaged_mm, (8 + 18) / 2.0);
    EXPECT_DOUBLE_EQ(rod.fittings[1]->engaged_mm, (6 + 14) / 2.0);
    EXPECT_DOUBLE_EQ(rod.load->push_n, 200);
    EXPECT_DOUBLE_EQ(rod.load->pull_n, 0);
}

TEST(ThreadedRod, may_be_straight_plain_and_in_inches) {
    RodText inches = straight("10", R"([{}, {"chamfer": "1 mm"}])");
    inches.units = "in";
    inches.diameter = R"("1/2 in")";
    const plan::Plan plan = plan_of(rod_text(inches));
    EXPECT_EQ(plan.rod->corners.back(), (plan::Point3{254, 0, 0}));
    EXPECT_DOUBLE_EQ(plan.rod->diameter_mm, 12.7);
    EXPECT_DOUBLE_EQ(plan.rod->ends[1].chamfer_mm, 1);
    EXPECT_FALSE(plan.rod->ends[0].thread);
}

TEST(ThreadedRod, may_have_one_thread_and_one_fitting) {
    RodText rod = straight("200", R"([{"thread": "M8", "length": 25}, {}])");
    rod.more = R"("fittings": [{"pin_offset": 30, "thread_depth": 18}, "none"])";
    const plan::Plan plan = plan_of(rod_text(rod));
    EXPECT_TRUE(plan.rod->fittings[0]);
    EXPECT_FALSE(plan.rod->fittings[1]);
    rod.more = R"("fittings": ["none", {"pin_offset": 30, "thread_depth": 18}])";
    EXPECT_EQ(messages(rod),
              (Messages{"fittings[1]: the last end has no thread to screw a fitting onto; give it "
                        "one, or say \"none\" here"}));
}

TEST(ThreadedRod, is_told_which_corner_is_too_tight_and_what_would_do) {
    const auto tight =
        messages({.path = R"("path": [[0,0,0], [120,0,0], [120,30,0], [0,30,0]], "bend_radius": 24)"});
    EXPECT_EQ(
        tight,
        (Messages{
            "path[1]: too tight for bend_radius 24 mm: from corner 2 to corner 3 are 30 mm and the bends "
            "take 48 mm; move the corners at least 48 mm apart, or make bend_radius at most 15 mm"}));
    // What the message says would do does.
    EXPECT_TRUE(messages({.path = R"("path": [[0,0,0], [120,0,0], [120,48,0], [0,48,0]], "bend_radius": 24)"})
                    .empty());
    EXPECT_TRUE(messages({.path = R"("path": [[0,0,0], [120,0,0], [120,30,0], [0,30,0]], "bend_radius": 15)"})
                    .empty());
}

TEST(ThreadedRod, is_told_of_corners_that_are_none) {
    EXPECT_EQ(messages({.path = R"("path": [[0,0,0], [60,0,0], [120,0,0], [120,90,0]], "bend_radius": 24)"}),
              (Messages{"path[1]: the rod does not bend here (0 degrees); leave this corner out"}));
    EXPECT_EQ(messages({.path = R"("path": [[0,0,0], [120,0,0], [120,0,0], [120,90,0]], "bend_radius": 24)"}),
              (Messages{"path[2]: the same place as the corner before it; leave one out"}));
    EXPECT_EQ(
        messages({.path = R"("path": [[0,0,0], [120,0,0], [20,0,0]], "bend_radius": 24)"}),
        (Messages{"path[1]: the rod turns straight back here, which no radius can round; give a hairpin two "
                  "corners"}));
}

TEST(ThreadedRod, needs_a_radius_where_it_bends) {
    EXPECT_EQ(
        messages({.path = R"("path": [[0,0,0], [120,0,0], [120,90,0]])"}),
        (Messages{"bend_radius: missing; wanted the radius of the bends, to the centreline; for this rod "
                  "something like 24 mm"}));
    EXPECT_EQ(
        messages({.path = R"("path": [[0,0,0], [120,0,0], [120,90,0]], "bend_radius": 4)"}),
        (Messages{
            "bend_radius: found 4, wanted over half the rod's diameter (4 mm); the inside of a bend would "
            "cross itself"}));
    EXPECT_TRUE(messages({.path = R"("path": [[0,0,0], [120,0,0]])"}).empty());
}

TEST(ThreadedRod, has_threads_that_fit_it) {
    const RodText long_thread{.ends = R"([{"thread": "M8", "length": 112}, {}])"};
    const auto found = messages(long_thread);
    ASSERT_EQ(found.size(), 1u);
    EXPECT_TRUE(found[0].starts_with("ends[0].length: found 112, wanted at most 111.")) << found[0];
    EXPECT_EQ(
        messages({.ends = R"([{"thread": "M10", "length": 20}, {}])"}),
        (Messages{"ends[0].thread: found \"M10\", wanted a thread no thicker than the rod; M10 is 10 mm, the "
                  "rod 8 mm"}));
    EXPECT_EQ(
        messages(straight("40", R"([{"thread": "M8", "length": 25}, {"thread": "M8", "length": 25}])")),
        (Messages{"length: both ends take 50 mm of a rod of 40 mm; make it longer or the threads shorter"}));
    EXPECT_TRUE(
        messages(straight("50", R"([{"thread": "M8", "length": 25}, {"thread": "M8", "length": 25}])"))
            .empty())
        << "threaded all along";
    EXPECT_FALSE(
        messages(straight("40", R"([{"thread": "M6", "length": 20}, {"thread": "M6", "length": 20}])"))
            .empty())
        << "two shoulders with nothing between them";
    const auto modelled = [](const std::string& length) {
        return messages(straight(length, R"([{"thread": "M8", "length": 25, "model_as": "thread"},
                                             {"thread": "M8", "length": 25, "model_as": "thread"}])"));
    };
    EXPECT_EQ(modelled("52.5").size(), 1u) << "two run-outs with nothing between them";
    EXPECT_TRUE(modelled("52.501").empty());
}

TEST(ThreadedRod, has_modelled_threads_of_a_fair_length_with_room_to_run_out) {
    const auto modelled = [](const std::string& length) {
        return messages(
            straight("2000", R"([{"thread": "M8", "model_as": "thread", "length": )" + length + "}, {}]"));
    };
    EXPECT_TRUE(modelled("625").empty());
    EXPECT_EQ(modelled("626"),
              (Messages{"ends[0].length: found 626, wanted at most 500 turns of a modelled thread "
                        "(625 mm); model a longer one as \"plain\""}));
    EXPECT_EQ(modelled("0.5").size(), 1u) << "no longer than its chamfer";
    const std::string tight = R"("path": [[0,0,0], [50,0,0], [50,60,0]], "bend_radius": 24)";
    EXPECT_TRUE(messages({.path = tight, .ends = R"([{"thread": "M8", "length": 26}, {}])"}).empty());
    const auto no_room =
        messages({.path = tight, .ends = R"([{"thread": "M8", "length": 26, "model_as": "thread"}, {}])"});
    EXPECT_EQ(no_room,
              (Messages{"ends[0].length: found 26, wanted at most 24.75 mm; the straight at this end is 26 "
                        "mm long, and the thread runs out over one pitch more"}));
}

TEST(ThreadedRodWork, of_a_rod_that_closes_on_itself_has_no_infinite_figure) {
    const plan::Work work = work_of(plan_of(rod_text(
        {.path =
             R"("path": [[50,0,0], [100,0,0], [100,100,0], [0,100,0], [0,0,0], [50,0,0]], "bend_radius": 24)",
         .ends = "[{}, {}]",
         .more = R"("load": {"push": 10})"})));
    const auto& beside = std::get<plan::Work>(item(work, "beside_straight").value);
    for (const plan::WorkItem& figure : beside) EXPECT_TRUE(std::isfinite(std::get<double>(figure.value)));
}

TEST(ThreadedRod, has_chamfers_that_leave_a_face) {
    EXPECT_EQ(messages({.ends = R"([{"chamfer": 4}, {}])"}),
              (Messages{"ends[0].chamfer: found 4, wanted under 4 mm; the end would come to a point"}));
    EXPECT_EQ(messages({.ends = R"([{"thread": "M8", "length": 3, "chamfer": 3}, {}])"}),
              (Messages{"ends[0].chamfer: found 3, wanted under 3 mm; the thread is no longer"}));
}

TEST(ThreadedRod, has_fittings_that_hold_no_more_thread_than_there_is) {
    const auto with = [](const std::string& fitting) {
        return messages({.more = R"("fittings": [)" + fitting + R"(, "none"])"});
    };
    EXPECT_EQ(with(R"({"pin_offset": 30, "thread_depth": 18, "engaged": 19})"),
              (Messages{"fittings[0].engaged: found 19, wanted at most 18 mm; the fitting is no deeper"}));
    EXPECT_EQ(with(R"({"pin_offset": 30, "thread_depth": 40, "engaged": 26})"),
              (Messages{"fittings[0].engaged: found 26, wanted at most 25 mm; the thread is no longer"}));
    EXPECT_EQ(
        with(R"({"pin_offset": 10, "thread_depth": 18})"),
        (Messages{
            "fittings[0].pin_offset: the rod's end would stand beyond the pin: 13 mm of thread are in the "
            "fitting; make the offset longer or say `engaged`"}));
}

TEST(ThreadedRod, is_either_a_path_or_a_length) {
    EXPECT_FALSE(messages({.path = R"("bend_radius": 24)"}).empty());
    EXPECT_FALSE(messages({.path = R"("path": [[0,0,0], [120,0,0]], "length": 120)"}).empty());
    EXPECT_FALSE(messages({.path = R"("path": [[0,0,0]])"}).empty());
    EXPECT_FALSE(messages(straight("0", "[{}, {}]")).empty());
    EXPECT_FALSE(messages(straight("100", R"([{"thread": "M8"}, {}])")).empty())
        << "a thread needs its length";
    EXPECT_FALSE(messages(straight("100", R"([{}])")).empty());
}

TEST(ThreadedRodWork, has_the_figures_of_the_contract) {
    const plan::Plan plan =
        plan_of(rod_text({.more = two_fittings() + R"(, "load": {"push": 200, "pull": 100})"}));
    const plan::Work work = work_of(plan);
    const double first = std::atan2(40, 50);
    EXPECT_GT(std::get<double>(item(work, "cut_length_mm").value), 300);
    const auto& bends = std::get<std::vector<plan::Work>>(item(work, "bends").value);
    ASSERT_EQ(bends.size(), 2u);
    EXPECT_NEAR(std::get<double>(item(bends[0], "mark_mm").value), 120 - 24 * std::tan(first / 2), 1e-9);
    EXPECT_NEAR(std::get<double>(item(bends[0], "angle_deg").value), first * 180 / 3.14159265358979, 1e-9);
    EXPECT_DOUBLE_EQ(std::get<double>(item(bends[0], "turn_deg").value), 0);
    EXPECT_NEAR(std::get<double>(item(bends[0], "middle_mm").value),
                120 - 24 * std::tan(first / 2) + 12 * first, 1e-9);
    const auto& reach = std::get<plan::Work>(item(work, "pin_to_pin_mm").value);
    EXPECT_LT(std::get<double>(item(reach, "least").value), std::get<double>(item(reach, "set").value));
    EXPECT_GT(std::get<double>(item(reach, "most").value), std::get<double>(item(reach, "set").value));
    const double length = std::get<double>(item(reach, "set").value);
    const double pi = 3.14159265358979;
    EXPECT_NEAR(std::get<double>(item(work, "buckling_n").value),
                pi * pi * 200e3 * pi * std::pow(8, 4) / 64 / (length * length), 1e-3)
        << "slender, so Euler's";
    EXPECT_EQ(std::get<std::vector<plan::Work>>(item(work, "adjustment").value).size(), 2u);
}

TEST(ThreadedRodWork, leaves_out_what_the_material_does_not_tell) {
    RodText rod = straight("200", "[{}, {}]");
    rod.material = R"({"name": "unknown", "density": 5000})";
    const plan::Work work = work_of(plan_of(rod_text(rod)));
    EXPECT_THROW(item(work, "buckling_n"), std::out_of_range);
    EXPECT_DOUBLE_EQ(std::get<double>(item(work, "cut_length_mm").value), 200);
}

}  // namespace
}  // namespace fitup::parts
