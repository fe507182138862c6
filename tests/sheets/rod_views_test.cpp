// Rods in true lengths: keys against the rod's own path, silhouettes against a walk along the surface.
#include "sheets/rod_views.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>

#include "base/vector3.hpp"
#include "parts/examples.hpp"
#include "parts/plates.hpp"
#include "parts/rods.hpp"
#include "plan/property.hpp"
#include "plan/rod_path.hpp"
#include "sheets/rod_frame.hpp"
#include "sheets/view_lines.hpp"
#include "sheets/views.hpp"

namespace fitup::sheets {
namespace {

using parts::testing::rod_text;
using plan::Point;

plan::Plan rod_of(const parts::testing::RodText& text) { return parts::testing::plan_of(rod_text(text)); }

plan::Plan straight_rod(const std::string& length, const std::string& ends) {
    return rod_of({.path = R"("length": )" + length, .ends = ends});
}

const KeyLength* find_length(const KeyedView& keyed, const std::string& name) {
    for (const KeyLength& key : keyed.keys.lengths) {
        if (key.name == name) return &key;
    }
    return nullptr;
}

constexpr const char* both_m8 = R"([{"thread": "M8", "length": 25}, {"thread": "M6", "length": 20}])";

TEST(RodViews, a_long_straight_rod_is_broken_and_keeps_its_true_length) {
    const RodViews views = rod_views(straight_rod("400", both_m8));
    ASSERT_EQ(views.views.size(), 1u);
    EXPECT_FALSE(views.stock.has_value());
    const KeyedView& rod = views.views[0];
    const KeyLength* length = find_length(rod, "length");
    ASSERT_NE(length, nullptr);
    EXPECT_NEAR(length->size_mm, 400, 1e-12);
    EXPECT_NEAR(length->to.x_mm, 16 * 8, 1e-12);
    // Two wavy lines, each from side to side of the bar.
    const auto thin = testing::lines(rod.view, LineKind::thread);
    const auto waves = std::count_if(thin.begin(), thin.end(), [](const ViewLine& line) {
        return line.points.size() > 2 && std::abs(line.points.front().y_mm + 4) < 1e-9 &&
               std::abs(line.points.back().y_mm - 4) < 1e-9;
    });
    EXPECT_EQ(waves, 2);
    // Nothing crosses the break but the centre line.
    const double middle = (25 + 16 * 8 - 20) / 2.0;
    for (const ViewLine& line : testing::lines(rod.view, LineKind::visible))
        EXPECT_FALSE(std::min(line.points[0].x_mm, line.points[1].x_mm) < middle &&
                     std::max(line.points[0].x_mm, line.points[1].x_mm) > middle);
}

TEST(RodViews, a_short_straight_rod_is_whole_and_so_is_one_with_room) {
    EXPECT_NEAR(box(rod_views(straight_rod("150", both_m8)).views[0].view).most.x_mm, 153, 1e-9);
    EXPECT_NEAR(box(rod_views(straight_rod("400", both_m8), {.most_mm = 400}).views[0].view).most.x_mm, 403,
                1e-9);
    // Asked for less than its ends and the break take, it is as short as they let it.
    const KeyedView tight = rod_views(straight_rod("400", both_m8), {.most_mm = 10}).views[0];
    EXPECT_GT(find_length(tight, "length")->to.x_mm, 25 + 20 + 8);
}

TEST(RodViews, ends_show_chamfer_thread_and_shoulder) {
    const plan::Plan plan =
        straight_rod("150", R"([{"thread": "M6", "length": 20, "chamfer": 0.8}, {"chamfer": 1}])");
    const View view = rod_views(plan).views[0].view;
    const auto across = [&](double x, double half) {
        const auto lines = testing::lines(view, LineKind::visible);
        return std::count_if(lines.begin(), lines.end(), [&](const ViewLine& line) {
            return std::abs(line.points[0].x_mm - x) < 1e-9 && std::abs(line.points[1].x_mm - x) < 1e-9 &&
                   std::abs(std::abs(line.points[0].y_mm) - half) < 1e-9 &&
                   std::abs(std::abs(line.points[1].y_mm) - half) < 1e-9;
        });
    };
    EXPECT_EQ(across(0, 2.2), 1);  // the face, inside the chamfer
    EXPECT_EQ(across(0.8, 3), 1);  // where the chamfer ends
    EXPECT_GE(across(20, 3), 1);   // the end of the thread
    EXPECT_EQ(across(20, 4), 1);   // the shoulder
    EXPECT_EQ(across(150, 3), 1);
    EXPECT_EQ(across(149, 4), 1);
    // The root of M6: its pitch is 1, ISO 68-1's depth 5/8 of the triangle's height, sqrt(3)/2 of the pitch.
    const double root = 3 - 5.0 / 8 * std::sqrt(3.0) / 2;
    for (const ViewLine& line : testing::lines(view, LineKind::thread))
        EXPECT_NEAR(std::abs(line.points[0].y_mm), root, 1e-9);
    EXPECT_EQ(testing::lines(view, LineKind::thread).size(), 2u);
}

TEST(RodViews, a_rod_bent_in_one_plane_has_one_view_and_its_stock) {
    const RodViews views = rod_views(
        rod_of({.path = R"("path": [[0,0,0],[100,0,0],[130,0,40],[230,0,40]], "bend_radius": 20)"}));
    ASSERT_EQ(views.views.size(), 1u);
    const KeyedView& view = views.views[0];
    // The XZ plane from the front: X to the right, Z up.
    EXPECT_NEAR(find_length(view, "leg 2")->size_mm, 50, 1e-9);
    EXPECT_NEAR(find_length(view, "leg 2")->to.x_mm, 130, 1e-9);
    EXPECT_NEAR(find_length(view, "leg 2")->to.y_mm, 40, 1e-9);
    ASSERT_EQ(view.keys.angles.size(), 2u);
    EXPECT_NEAR(view.keys.angles[0].size.degrees(), std::atan2(40, 30) * 180 / 3.14159265358979, 1e-9);
    EXPECT_NEAR(view.keys.angles[0].from_rad, 0.0, 1e-9);
    EXPECT_EQ(view.keys.radii.size(), 2u);
    // Each bend as two arcs of true radius.
    std::vector<double> radii;
    for (const ViewArc& arc : testing::arcs(view.view, LineKind::visible)) radii.push_back(arc.radius_mm);
    std::sort(radii.begin(), radii.end());
    ASSERT_EQ(radii.size(), 4u);
    EXPECT_NEAR(radii.front(), 16, 1e-9);
    EXPECT_NEAR(radii.back(), 24, 1e-9);
}

TEST(RodViews, stock_is_marked_where_the_bench_marks_it) {
    const plan::Plan plan = parts::testing::example_plan("selector-rod.json");
    const plan::RodPath path = plan::rod_path(*plan.rod);
    const RodViews views = rod_views(plan);
    ASSERT_TRUE(views.stock.has_value());
    EXPECT_NEAR(find_length(*views.stock, "cut length")->size_mm, path.length_mm, 1e-12);
    for (std::size_t k = 0; k < path.bends.size(); ++k) {
        const std::string number = std::to_string(k + 1);
        EXPECT_NEAR(find_length(*views.stock, "mark " + number)->size_mm, path.bends[k].mark_mm, 1e-12);
        EXPECT_NEAR(testing::mark(views.stock->view, "bend " + number)->at.x_mm, path.bends[k].middle_mm,
                    1e-12);
    }
    EXPECT_EQ(testing::lines(views.stock->view, LineKind::bend).size(), 2 * path.bends.size());
}

TEST(RodViews, the_demos_rod_shows_all_its_straights_true_in_front_and_top) {
    const plan::Plan plan = parts::testing::example_plan("selector-rod.json");
    const RodViews views = rod_views(plan);
    ASSERT_EQ(views.views.size(), 2u);
    EXPECT_EQ(views.views[0].view.name, "front");
    const plan::RodPath path = plan::rod_path(*plan.rod);
    for (std::size_t k = 0; k < path.straights.size(); ++k) {
        const std::string name = "straight " + std::to_string(k + 1);
        const KeyLength* front = find_length(views.views[0], name);
        const KeyLength* top = find_length(views.views[1], name);
        ASSERT_NE(front == nullptr, top == nullptr) << name;
        EXPECT_NEAR((front ? front : top)->size_mm, path.straights[k].length_mm, 1e-9);
    }
}

/// A random path of three to five corners that the program takes.
std::optional<plan::Plan> any_rod() {
    std::string path = R"("path": [[0, 0, 0], [80, 0, 0])";
    plan::Point3 at{80, 0, 0};
    const int more = *rc::gen::inRange(1, 4);
    for (int k = 0; k < more; ++k) {
        for (double& one : at) one += *rc::gen::inRange(-90, 91);
        path += ", [" + std::to_string(int(at[0])) + ", " + std::to_string(int(at[1])) + ", " +
                std::to_string(int(at[2])) + "]";
    }
    const auto planned =
        parts::plan_file(rod_text({.path = path + R"(], "bend_radius": 14)", .ends = both_m8}), "r.json");
    return planned.plan;
}

TEST(RodViews, silhouettes_of_random_rods_lie_where_the_surface_turns_away) {
    int rods = 0;
    plan::for_random_cases([&rods] {
        const auto plan = any_rod();
        if (!plan) return;
        ++rods;
        const plan::RodPath path = plan::rod_path(*plan->rod);
        const double radius = plan->rod->diameter_mm / 2;
        const auto frames = frames_of(path);
        const RodViews views = rod_views(*plan);
        RC_ASSERT(views.views.size() == frames.size());
        std::vector<plan::RodPath::Place> places;
        for (double along = 0.0; along < path.length_mm; along += 0.5) places.push_back(path.place_at(along));
        for (std::size_t v = 0; v < frames.size(); ++v) {
            const ViewFrame& frame = frames[v];
            const plan::Box2 whole = box(views.views[v].view);
            for (std::size_t k = 60; k + 60 < places.size(); k += 7) {
                const Vector aside = cross(places[k].along, frame.towards);
                if (length(aside) < 0.05) continue;
                for (const double side : {radius, -radius}) {
                    const Point at = frame.of(places[k].at + unit(aside) * side);
                    RC_ASSERT(at.x_mm > whole.least.x_mm - 0.03 && at.x_mm < whole.most.x_mm + 0.03);
                    const bool is_covered = std::any_of(places.begin(), places.end(), [&](const auto& other) {
                        return plan::distance_mm(frame.of(other.at), at) < 0.9995 * radius;
                    });
                    if (is_covered) continue;
                    RC_ASSERT(testing::distance_mm(views.views[v].view, LineKind::visible, at) < 0.03);
                }
            }
        }
    });
    EXPECT_GT(rods, FITUP_PROPERTY_CASES / 5);
}

TEST(RodViews, keys_of_random_rods_are_true_or_say_that_they_are_not_shown_so) {
    plan::for_random_cases([] {
        const auto plan = any_rod();
        if (!plan) return;
        const plan::RodPath path = plan::rod_path(*plan->rod);
        const RodViews views = rod_views(*plan);
        std::size_t straights = 0;
        for (const KeyedView& keyed : views.views) {
            for (const KeyLength& key : keyed.keys.lengths) {
                const double shown = plan::distance_mm(key.from, key.to);
                if (key.name.ends_with("(true)"))
                    RC_ASSERT(shown < key.size_mm);
                else
                    RC_ASSERT(std::abs(shown - key.size_mm) < 1e-6);
                if (key.name.starts_with("straight")) ++straights;
            }
            for (const KeyRadius& key : keyed.keys.radii)
                RC_ASSERT(std::abs(plan::distance_mm(key.centre, key.at) - key.size_mm) < 1e-6);
        }
        const auto with_length = std::count_if(path.straights.begin(), path.straights.end(),
                                               [](const auto& straight) { return straight.length_mm > 0; });
        RC_ASSERT(straights <= std::size_t(with_length));
        // Only one that runs straight towards the eye in the first view has no place there.
        RC_ASSERT(straights + 1 >= std::size_t(with_length));
        // The frames are right-handed and square.
        for (const ViewFrame& frame : frames_of(path)) {
            RC_ASSERT(length(cross(frame.right, frame.up) - frame.towards) < 1e-12);
            RC_ASSERT(std::abs(length(frame.right) - 1) < 1e-12);
        }
    });
}

}  // namespace
}  // namespace fitup::sheets
