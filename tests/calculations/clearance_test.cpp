#include "calculations/clearance.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "calculations/lever_shape.hpp"
#include "calculations/swing.hpp"
#include "parts/kinds.hpp"

namespace fitup::calculations {

namespace {

constexpr double deg = 3.14159265358979323846 / 180.0;

plan::Plan planned(const std::string& more, double rise_mm = 9.0) {
    const std::string text = R"({"format": 1, "part": "offset_arm", "name": "arm", "units": "mm",
        "material": "mild steel", "strip": {"width": 22, "thickness": 6}, "length": 86, "pivot": {"bore": 12},
        "joggle": {"rise": )" +
                             std::to_string(rise_mm) +
                             R"(, "start": 27, "run": 24, "inside_radius": 9}, "eye": {"bore": 6.4})" + more +
                             "}";
    const parts::Planned planned = parts::plan_file(text, "arm.json");
    for (const auto& fault : planned.faults) ADD_FAILURE() << parameters::to_text(fault);
    return *planned.plan;
}

/// A lever of one round bar along X from the axis: the hull of two balls' worth of discs, flat at z 0 to 6.
std::vector<Convex> flat_lever(double length_mm, double width_mm) {
    Convex body;
    for (const double z_mm : {0.0, 6.0}) {
        for (const double x_mm : {0.0, length_mm})
            body.rounds.push_back({{x_mm, 0, z_mm}, {0, 0, 1}, width_mm / 2});
    }
    enclose(body);
    return {body};
}

ObstacleShape pin(double x_mm, double y_mm, double diameter_mm, double low_mm = -50, double high_mm = 50) {
    return shape_of("pin", plan::RoundBar{{x_mm, y_mm, low_mm}, {x_mm, y_mm, high_mm}, diameter_mm});
}

TEST(Clearance, of_a_pin_beside_a_round_ended_lever_is_closed_form) {
    // The pin's axis from the lever's middle line, less both radii; all in the plane.
    const auto lever = flat_lever(80, 20);
    const auto far =
        least_clearance(lever, pin(110, 0, 8), Angle::from_degrees(-40), Angle::from_degrees(35));
    EXPECT_NEAR(far.least_mm, 110 - 80 - 10 - 4, 1e-9 + far.error_mm);
    EXPECT_NEAR(far.at_deg, 0.0, 0.5);
    EXPECT_LE(far.error_mm, 0.01);
    // Beside the lever at the end of its swing: 60 mm out at 50 degrees, the lever comes to 35.
    const auto beside = least_clearance(lever, pin(60 * std::cos(50 * deg), 60 * std::sin(50 * deg), 8),
                                        Angle::from_degrees(-40), Angle::from_degrees(35));
    EXPECT_NEAR(beside.least_mm, 60 * std::sin(15 * deg) - 10 - 4, 0.01);
    EXPECT_NEAR(beside.at_deg, 35.0, 0.05);
    // Above the lever: plain height.
    const auto above = least_clearance(lever, pin(50, 3, 8, 9.25, 20), Angle(), Angle::from_degrees(10));
    EXPECT_NEAR(above.least_mm, 3.25, above.error_mm + 1e-9);
}

TEST(Clearance, sees_a_touch_between_whole_degrees) {
    // A pin that the lever's far end just reaches at 12.5 degrees only; at every whole degree there is room.
    const auto lever = flat_lever(80, 2);
    const double reach_mm = 80 + 1;
    const double at = 12.5 * deg;
    for (const double gap_mm : {0.02, -0.0005}) {
        const double out_mm = reach_mm + 0.25 + gap_mm;
        const auto found = least_clearance(lever, pin(out_mm * std::cos(at), out_mm * std::sin(at), 0.5),
                                           Angle::from_degrees(-30), Angle::from_degrees(31));
        if (gap_mm > 0.0) {
            EXPECT_NEAR(found.least_mm, gap_mm, 0.005);
            EXPECT_FALSE(found.touches);
        } else {
            EXPECT_LE(found.least_mm - found.error_mm, 0.0);
        }
        EXPECT_NEAR(found.at_deg, 12.5, 0.2);
    }
    // A thin pin through which the lever's flank sweeps for a third of a degree.
    const auto thin = flat_lever(80, 0.4);
    const double out = 60, thin_at = 7.43 * deg;
    double nearest_whole = 1e9;
    for (int whole = 0; whole <= 15; ++whole)
        nearest_whole = std::min(nearest_whole, out * std::abs(std::sin(whole * deg - thin_at)) - 0.2 - 0.05);
    EXPECT_GT(nearest_whole, 0.1);
    EXPECT_TRUE(least_clearance(thin, pin(out * std::cos(thin_at), out * std::sin(thin_at), 0.1), Angle(),
                                Angle::from_degrees(15))
                    .touches);
}

/// Least over the swing in steps of 1e-4 rad, by the distance at each pose alone.
double brute_force(std::span<const Convex> lever, const ObstacleShape& obstacle, double from, double to) {
    double least = 1e300;
    const int steps = int((to - from) / 1e-4) + 1;
    for (int i = 0; i <= steps; ++i) {
        const double at = from + (to - from) * i / steps;
        for (const Convex& piece : lever) {
            for (const Convex& still : obstacle.pieces)
                least =
                    std::min(least, separation(piece, still, {std::cos(at), -std::sin(at)}, 1e-7).upper_mm);
        }
    }
    return least;
}

TEST(Clearance, agrees_with_brute_force_on_random_scenes) {
    EXPECT_TRUE(rc::check("steps of 1e-4 rad", [] {
        const auto mm = [](int least, int most) {
            return *rc::gen::inRange(least * 100, most * 100) / 100.0;
        };
        const std::vector<Convex> lever = flat_lever(mm(20, 120), mm(4, 40));
        const Vector from{mm(-150, 150), mm(-150, 150), mm(-40, 40)};
        const Vector to = from + Vector{mm(-60, 60), mm(-60, 60), mm(1, 60)};
        const ObstacleShape bar = shape_of("bar", plan::RoundBar{from, to, mm(1, 20)});
        const Vector corner{mm(-150, 150), mm(-150, 150), mm(-40, 40)};
        const ObstacleShape box =
            shape_of("box", plan::Block{corner, corner + Vector{mm(1, 60), mm(1, 60), mm(1, 30)}});
        const double start = mm(-3, 3), end = start + mm(0, 1);
        for (const ObstacleShape* obstacle : {&bar, &box}) {
            const Clearance found =
                least_clearance(lever, *obstacle, Angle::from_radians(start), Angle::from_radians(end));
            const double brute = brute_force(lever, *obstacle, start, end);
            RC_ASSERT(found.error_mm <= 0.01);
            RC_ASSERT(brute >= found.least_mm - found.error_mm - 1e-6);
            // The steps themselves may miss by a radius times half a step, about 0.01 mm.
            RC_ASSERT(brute <= found.least_mm + 0.012);
            if (!found.touches)
                RC_ASSERT(std::abs(length(found.on_lever - found.on_obstacle) - found.least_mm) < 1e-6);
        }
    }));
}

TEST(Clearance, distances_of_boxes_and_points_are_exact) {
    // Boxes along the axes: per-axis gaps. Touching, overlapping and nearly touching ones too.
    EXPECT_TRUE(rc::check("axis-parallel boxes", [] {
        const auto mm = [](int least, int most) { return double(*rc::gen::inRange(least, most)); };
        const Vector a{mm(-20, 20), mm(-20, 20), mm(-20, 20)}, b{mm(-20, 20), mm(-20, 20), mm(-20, 20)};
        const Vector sa{mm(1, 15), mm(1, 15), mm(1, 15)}, sb{mm(1, 15), mm(1, 15), mm(1, 15)};
        const ObstacleShape first = shape_of("a", plan::Block{a, a + sa}),
                            second = shape_of("b", plan::Block{b, b + sb});
        double squared = 0.0;
        for (std::size_t i = 0; i < 3; ++i) {
            const double gap = std::max({0.0, b[i] - (a[i] + sa[i]), a[i] - (b[i] + sb[i])});
            squared += gap * gap;
        }
        const Separation apart = separation(first.pieces[0], second.pieces[0], {}, 1e-9);
        RC_ASSERT(std::abs(apart.upper_mm - std::sqrt(squared)) < 1e-6);
        RC_ASSERT(apart.lower_mm <= std::sqrt(squared) + 1e-9);
        RC_ASSERT(apart.lower_mm >= std::sqrt(squared) - 1e-6);
    }));
}

TEST(Convex, reaches_as_far_as_its_discs_do_along_their_axis_too) {
    // Support of a disc in closed form: centre . d + radius * sine of the angle to the axis. Directions along
    // the axis to the last digit are those that a flat end meets.
    EXPECT_TRUE(rc::check([] {
        const auto number = [] { return *rc::gen::inRange(-100000, 100000) / 997.0; };
        const Vector from{number(), number(), number()}, along{number(), number(), number() + 300.0};
        const double radius = *rc::gen::inRange(1, 20000) / 1000.0;
        const Convex body = shape_of("bar", plan::RoundBar{from, from + along, 2 * radius}).pieces[0];
        const Vector axis = unit(along), off{number() * 1e-17, number() * 1e-17, number() * 1e-17};
        for (const Vector& direction : {axis, axis * -1.0, axis + off, Vector{0, 0, 1}, Vector{1, 0, 0}}) {
            const double sine = length(cross(direction, axis));
            const double exact = std::max(dot(from, direction), dot(from + along, direction)) + radius * sine;
            const Vector found = farthest(body, direction);
            RC_ASSERT(std::abs(dot(found, direction) - exact) < 1e-9);
            // On one of the two end circles, not beyond and not within.
            const double at_first = length(found - from), at_last = length(found - from - along);
            RC_ASSERT(std::min(std::abs(at_first - radius), std::abs(at_last - radius)) < 1e-9);
        }
    }));
}

/// A box's surface as triangles.
mesh::Mesh box_mesh(const Vector& low, const Vector& high) {
    mesh::Mesh mesh;
    for (int i = 0; i < 8; ++i)
        mesh.vertices.push_back(
            {(i & 1) ? high[0] : low[0], (i & 2) ? high[1] : low[1], (i & 4) ? high[2] : low[2]});
    mesh.triangles = {{0, 2, 3}, {0, 3, 1}, {4, 5, 7}, {4, 7, 6}, {0, 1, 5}, {0, 5, 4},
                      {2, 6, 7}, {2, 7, 3}, {0, 4, 6}, {0, 6, 2}, {1, 3, 7}, {1, 7, 5}};
    return mesh;
}

TEST(Clearance, a_shell_of_triangles_is_a_solid) {
    const auto lever = flat_lever(40, 10);
    const Vector low{60, -20, -5}, high{90, 20, 30};
    const ObstacleShape shell = shape_of("shell", box_mesh(low, high), 0.005);
    const ObstacleShape solid = shape_of("solid", plan::Block{low, high});
    const Angle from = Angle::from_degrees(-35), to = Angle::from_degrees(80);
    const Clearance by_shell = least_clearance(lever, shell, from, to),
                    by_solid = least_clearance(lever, solid, from, to);
    EXPECT_NEAR(by_shell.least_mm, by_solid.least_mm, 1e-9 + by_shell.error_mm + by_solid.error_mm);
    EXPECT_GE(by_shell.error_mm, 0.005);
    // Wholly inside: no triangle is near, and yet it is in the metal.
    const ObstacleShape around = shape_of("around", box_mesh({-200, -200, -50}, {200, 200, 60}), 0.005);
    EXPECT_TRUE(least_clearance(lever, around, from, to).touches);
    EXPECT_TRUE(is_inside(around, {0, 0, 0}));
    EXPECT_FALSE(is_inside(around, {201, 0, 0}));
}

TEST(LeverShape, covers_the_arm_and_little_more) {
    // Sampled against the joggle's own profile: heights of the strip's surfaces along its middle, bends
    // included.
    for (const double rise_mm : {9.0, -7.0, 14.5}) {
        const plan::Plan plan = planned("", rise_mm);
        const std::vector<Convex> shape = lever_shape(plan).pieces;
        double top = -1e9, low = 1e9, right = -1e9, left = 1e9;
        for (const Convex& piece : shape) {
            top = std::max(top, farthest(piece, {0, 0, 1})[2]);
            low = std::min(low, farthest(piece, {0, 0, -1})[2]);
            right = std::max(right, farthest(piece, {1, 0, 0})[0]);
            left = std::min(left, farthest(piece, {-1, 0, 0})[0]);
        }
        EXPECT_NEAR(top, std::max(6.0, 6.0 + rise_mm), 0.0025) << rise_mm;
        EXPECT_NEAR(low, std::min(0.0, rise_mm), 0.0025) << rise_mm;
        EXPECT_NEAR(right, 86.0 + 11.0, 1e-9);
        EXPECT_NEAR(left, -11.0, 1e-9);
    }
}

TEST(LeverShape, of_a_crank_holds_its_outline_and_bosses) {
    const parts::Planned crank = parts::plan_file(
        R"({"format": 1, "part": "bellcrank", "name": "crank", "units": "mm", "material": "mild steel",
            "thickness": 8, "pivot": {"bore": 14, "hub_diameter": 30, "hub_height": 20, "hub_from": -6},
            "arms": [{"name": "a", "length": 64, "angle": 0, "eye": {"bore": 6.4, "diameter": 18, "height": 12, "from": -2}},
                     {"name": "b", "length": 40, "angle": 100, "eye": {"slot": {"length": 20, "width": 6.4}, "diameter": 18}}],
            "web": {"inner_radius": 8}})",
        "crank.json");
    ASSERT_TRUE(crank.plan);
    const std::vector<Convex> shape = lever_shape(*crank.plan).pieces;
    const plan::Contour& outline = crank.plan->body.outline;
    // Points on a grid: inside the outline each is in a piece, well outside in none.
    int inside = 0, outside = 0;
    for (double x = -40; x <= 90; x += 1.7) {
        for (double y = -40; y <= 80; y += 1.9) {
            Convex point;
            point.points = {{x, y, 4.0}};
            enclose(point);
            double nearest = 1e9;
            for (const Convex& piece : shape)
                nearest = std::min(nearest, separation(piece, point, {}, 1e-9).upper_mm);
            const bool is_metal = outline.contains({x, y});
            const double to_outline = outline.distance_to_mm({x, y});
            if (is_metal) {
                EXPECT_LT(nearest, 1e-7) << x << ", " << y;
                ++inside;
            } else {
                EXPECT_NEAR(nearest, to_outline, 0.0025) << x << ", " << y;
                ++outside;
            }
        }
    }
    EXPECT_GT(inside, 300);
    EXPECT_GT(outside, 300);
    double top = -1e9, low = 1e9;
    for (const Convex& piece : shape) {
        top = std::max(top, farthest(piece, {0, 0, 1})[2]);
        low = std::min(low, farthest(piece, {0, 0, -1})[2]);
    }
    EXPECT_NEAR(top, 14.0, 1e-9);
    EXPECT_NEAR(low, -6.0, 1e-9);
}

TEST(LeverShape, of_a_clamped_arm_reaches_to_its_lugs_end) {
    const parts::Planned arm = parts::plan_file(
        R"({"format": 1, "part": "offset_arm", "name": "arm", "units": "mm", "material": "mild steel",
            "strip": {"width": 22, "thickness": 6}, "length": 86,
            "pivot": {"bore": 16, "boss": {"diameter": 30, "height": 14}, "clamp": {"slit": 2, "bolt": "M6"}},
            "eye": {"bore": 6.4}})",
        "arm.json");
    for (const auto& fault : arm.faults) ADD_FAILURE() << parameters::to_text(fault);
    ASSERT_TRUE(arm.plan);
    const std::vector<Convex> shape = lever_shape(*arm.plan).pieces;
    const plan::Contour& outline = arm.plan->body.outline;
    for (double x = -45; x <= 100; x += 1.3) {
        for (double y = -25; y <= 25; y += 1.1) {
            Convex point;
            point.points = {{x, y, 3.0}};
            enclose(point);
            double nearest = 1e9;
            for (const Convex& piece : shape)
                nearest = std::min(nearest, separation(piece, point, {}, 1e-9).upper_mm);
            if (outline.contains({x, y}))
                EXPECT_LT(nearest, 1e-7) << x << ", " << y;
            else
                EXPECT_NEAR(nearest, outline.distance_to_mm({x, y}), 1e-6) << x << ", " << y;
        }
    }
}

TEST(Swing, stops_under_the_clearance_wanted_and_not_over_it) {
    const auto with = [](double clearance_mm, const std::string& rules = "") {
        return planned(
            R"(, "swing": {"from": -31, "to": 31}, "clearance": )" + std::to_string(clearance_mm) +
            R"(, "keep_clear": [{"name": "screw", "cylinder": {"from": [70, 22, -20], "to": [70, 22, 4],
                          "diameter": 10}}])" +
            rules);
    };
    const auto findings = [](const plan::Plan& plan) {
        std::vector<ObstacleShape> obstacles{
            shape_of("screw", std::get<plan::RoundBar>(plan.swing->keep_clear[0].shape))};
        return swing_findings(plan, swing_clearances(plan, obstacles));
    };
    EXPECT_TRUE(findings(with(4.99)).empty());  // the screw's head lies 5 mm under the raised leg
    const auto stopped = findings(with(5.01));
    ASSERT_EQ(stopped.size(), 1u);
    EXPECT_EQ(stopped[0].rule, "swing-clearance");
    EXPECT_EQ(stopped[0].severity, plan::Severity::stop);
    EXPECT_EQ(stopped[0].where, "screw");
    EXPECT_NEAR(*stopped[0].value, 5.0, 0.005);
    EXPECT_TRUE(findings(with(5.01, R"(, "rules": {"swing-clearance": {"stop": 4.5}})")).empty());
    const auto warned = findings(with(1.0, R"(, "rules": {"swing-clearance": {"warn": 6}})"));
    ASSERT_EQ(warned.size(), 1u);
    EXPECT_EQ(warned[0].severity, plan::Severity::warn);
}

std::vector<Clearance> clearances_beside(const std::string& cylinder, double rise_mm = 9.0) {
    const plan::Plan plan = planned(R"(, "swing": {"from": -31, "to": 31}, "clearance": 0, "keep_clear": [
                                        {"name": "it", "cylinder": )" +
                                        cylinder + "}]",
                                    rise_mm);
    const std::vector<ObstacleShape> obstacles{
        shape_of("it", std::get<plan::RoundBar>(plan.swing->keep_clear[0].shape))};
    return swing_clearances(plan, obstacles);
}

TEST(Swing, a_shaft_in_the_pivots_bore_is_measured_to_the_wall) {
    // The bore is 12 wide.
    const auto least = [](const std::string& cylinder) { return clearances_beside(cylinder).at(0).least_mm; };
    EXPECT_NEAR(least(R"({"from": [0, 0, -30], "to": [0, 0, 40], "diameter": 11.4})"), 0.3, 1e-12);
    EXPECT_NEAR(least(R"({"from": [0.06, 0.08, 40], "to": [0.06, 0.08, -30], "diameter": 11.4})"), 0.2,
                1e-12);
    // Beside the metal, not in it: the end's height over the lever counts.
    EXPECT_NEAR(least(R"({"from": [0, 0, 8.5], "to": [0, 0, 40], "diameter": 11.4})"), 2.5, 1e-4);
    for (const char* touching : {R"({"from": [0, 0, -30], "to": [0, 0, 40], "diameter": 12})",
                                 R"({"from": [0.31, 0, -30], "to": [0.31, 0, 40], "diameter": 11.4})",
                                 R"({"from": [0, 0, -30], "to": [0.01, 0, 40], "diameter": 13})"})
        EXPECT_TRUE(clearances_beside(touching).at(0).touches) << touching;
}

TEST(Swing, what_the_levers_chords_stand_out_is_told_and_not_held_against_it) {
    const std::string under = R"({"from": [70, 22, -20], "to": [70, 22, 4], "diameter": 10})";
    const Clearance joggled = clearances_beside(under).at(0);
    EXPECT_GE(joggled.error_mm, chord_within_mm);
    EXPECT_LE(joggled.error_mm, 0.01);
    EXPECT_LT(joggled.less_by_mm, 2 * clearance_within_mm);
    EXPECT_LT(clearances_beside(under, 0.0).at(0).error_mm, chord_within_mm) << "a flat arm has no chords";
}

}  // namespace

}  // namespace fitup::calculations
