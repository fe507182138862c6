// Verdicts on patterns with holes and fasteners, and finished plates as measured.
#include "calculations/as_made.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <numbers>

#include "calculations/laying.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using plan::Point;

std::vector<Point> studs() {
    return {{38.4, 112.6},  {101.7, 67.2},  {118.3, -12.8}, {84.9, -88.1},
            {-9.6, -121.4}, {-96.2, -77.5}, {-119.8, 6.3},  {-71.5, 94.8}};
}

BoltingCase bolting(std::vector<Point> first, std::vector<Point> second, double hole = 11.0,
                    double bolt = 10.0) {
    BoltingCase one;
    for (std::size_t i = 0; i < first.size(); ++i) one.ids.push_back("stud-" + std::to_string(i + 1));
    one.holes_mm.assign(first.size(), hole);
    one.fasteners_mm.assign(first.size(), bolt);
    one.first_mm = std::move(first);
    one.second_mm = std::move(second);
    return one;
}

std::vector<Point> moved(const std::vector<Point>& points, double turn_rad, Point shift) {
    std::vector<Point> result;
    for (const Point& point : points) result.push_back(plan::turned(point, turn_rad) + shift);
    return result;
}

double any(double least, double most) {
    return least + (most - least) * double(*rc::gen::inRange(0, 1'000'001)) / 1e6;
}

TEST(BoltsUp, equal_patterns_leave_all_their_slack) {
    const BoltingCase one = bolting(studs(), moved(studs(), 0.4, {7, -3}));
    const BoltsUp worked = bolt_up(one);
    EXPECT_TRUE(worked.fit.possible());
    EXPECT_NEAR(worked.fit.least_clearance_mm, 0.5, 1e-9);
    EXPECT_NEAR(*worked.hole_that_would_do_mm, 10.0, 1e-8);
    EXPECT_NEAR(worked.position_tolerance_mm, 0.5, 1e-12);
    EXPECT_FALSE(worked.odds);
    EXPECT_FALSE(worked.fits_mirrored);
    EXPECT_TRUE(bolts_up_findings(one, worked, "it").empty());
}

TEST(BoltsUp, the_hole_that_would_do_just_does) {
    EXPECT_TRUE(rc::check("with that diameter the least clearance is nil", [] {
        std::vector<Point> second = studs();
        for (Point& place : second) place = place + Point{any(-1.5, 1.5), any(-1.5, 1.5)};
        BoltingCase one = bolting(studs(), second);
        const BoltsUp worked = bolt_up(one);
        one.holes_mm.assign(one.ids.size(), *worked.hole_that_would_do_mm);
        RC_ASSERT(std::abs(bolt_up(one).fit.least_clearance_mm) < 1e-9);
        RC_ASSERT(bolts_up_findings(one, worked, "it").empty() == worked.fit.possible());
    }));
}

TEST(BoltsUp, other_numbers_and_a_mirror_image_are_named) {
    std::vector<Point> second = studs();
    std::rotate(second.begin(), second.begin() + 3, second.end());
    const BoltingCase shifted = bolting(studs(), second);
    const BoltsUp worked = bolt_up(shifted);
    EXPECT_FALSE(worked.fit.possible());
    ASSERT_TRUE(worked.other_order);
    EXPECT_EQ(worked.other_order->at(3), 0u);
    EXPECT_NE(bolts_up_findings(shifted, worked, "it").front().message.find("another order"),
              std::string::npos);

    std::vector<Point> mirror;
    for (const Point& place : studs()) mirror.push_back({-place.x_mm, place.y_mm});
    const BoltingCase mirrored = bolting(studs(), mirror);
    const BoltsUp seen = bolt_up(mirrored);
    EXPECT_FALSE(seen.fit.possible());
    EXPECT_TRUE(seen.fits_mirrored);
    const plan::Findings findings = bolts_up_findings(mirrored, seen, "it");
    EXPECT_EQ(findings.front().severity, plan::Severity::stop);
    EXPECT_NE(findings.front().message.find("measured from the other side?"), std::string::npos);
}

TEST(BoltsUp, one_bad_hole_is_the_one_to_open) {
    std::vector<Point> second = studs();
    second[4] = second[4] + Point{1.5, 0.0};
    const BoltsUp worked = bolt_up(bolting(studs(), second));
    EXPECT_FALSE(worked.fit.possible());
    ASSERT_TRUE(worked.openings.one);
    EXPECT_EQ(*worked.openings.one, 4u);
    // The others shift by up to their half millimetre and turn; what is left of 1.5 is short of the slack by
    // less than 1.5 - 0.5, and by no less than what shift and turn together can't give.
    EXPECT_GT(worked.openings.one_mm, 0.0);
    EXPECT_LT(worked.openings.one_mm, 2.0 * (1.5 - 0.5));
}

TEST(BoltsUp, a_small_chance_is_worth_a_warning) {
    BoltingCase one = bolting(studs(), studs());
    one.doubt.made_within_mm = 3.0;
    one.doubt.samples = 20'000;
    const BoltsUp worked = bolt_up(one);
    ASSERT_TRUE(worked.odds);
    EXPECT_LT(worked.odds->probability, 0.9);
    const plan::Findings findings = bolts_up_findings(one, worked, "it");
    ASSERT_EQ(findings.size(), 1u);
    EXPECT_EQ(findings.front().severity, plan::Severity::warn);
}

AsMade plate_with(double turn_rad, Point shift, std::size_t bad, Point by) {
    AsMade made;
    made.drawn_mm = studs();
    std::vector<Point> as_cut = studs();
    as_cut[bad] = as_cut[bad] + by;
    made.measured_mm = moved(as_cut, turn_rad, shift);
    for (std::size_t i = 0; i < made.drawn_mm.size(); ++i) {
        made.ids.push_back("stud-" + std::to_string(i + 1));
        made.zone_mm.push_back(0.5);
    }
    made.castings.push_back({"stud", "stud as drawn", bolting(made.measured_mm, studs())});
    return made;
}

TEST(AsMade, a_true_plate_is_nowhere_off_wherever_it_lay) {
    EXPECT_TRUE(rc::check("axes of the survey don't matter", [] {
        const AsMade made = plate_with(any(-3, 3), {any(-99, 99), any(-99, 99)}, 0, {});
        const AsMadeResult result = work_out(made);
        RC_ASSERT(result.worst_mm < 1e-9);
        RC_ASSERT(result.holds);
        RC_ASSERT(result.findings.empty());
        RC_ASSERT(std::abs(result.castings.front().fit.least_clearance_mm - 0.5) < 1e-9);
    }));
}

TEST(AsMade, a_wrong_hole_stands_out_alone) {
    EXPECT_TRUE(rc::check("the others stay where they are drawn", [] {
        const auto bad = std::size_t(*rc::gen::inRange(0, 8));
        const Point by{any(-3, 3), any(-3, 3)};
        const AsMadeResult result = work_out(plate_with(any(-3, 3), {any(-9, 9), any(-9, 9)}, bad, by));
        for (std::size_t i = 0; i < result.holes.size(); ++i) {
            const Point expected = i == bad ? by : Point{};
            RC_ASSERT(plan::length(result.holes[i].by_mm - expected) < 1e-5);
        }
    }));
}

TEST(AsMade, no_other_laying_has_a_less_sum_of_distances) {
    EXPECT_TRUE(rc::check("turned and shifted a little, the sum grows", [] {
        std::vector<FastenerPair> pairs;
        for (const Point& place : studs())
            pairs.push_back({place + Point{any(-2, 2), any(-2, 2)}, place, 0.0});
        const Laying best = least_sum_laying(pairs);
        const auto sum_of = [&](const Laying& laying) {
            double sum = 0.0;
            for (const FastenerPair& pair : pairs)
                sum += plan::length(pair.first_mm - laid(laying, pair.second_mm));
            return sum;
        };
        for (int k = 0; k < 50; ++k) {
            const double size = std::pow(10.0, any(-5, 0));
            const Laying other{best.turn_rad + any(-size, size) / 100.0,
                               best.shift_mm + Point{any(-size, size), any(-size, size)}};
            RC_ASSERT(sum_of(other) >= sum_of(best) - 1e-6);
        }
    }));
}

TEST(AsMade, what_some_laying_brings_within_its_zone_is_within) {
    // Three holes spread by the same growth: laid on one another each is within, though the laying that shows
    // wrong holes may put one outside.
    AsMade made = plate_with(0.0, {}, 0, {});
    for (Point& place : made.measured_mm) place = place * (1.0 + 0.24 / 130.0);
    const AsMadeResult result = work_out(made);
    EXPECT_TRUE(result.findings.empty());
    for (const HoleOff& hole : result.holes) EXPECT_TRUE(hole.within_zone) << hole.id;
}

TEST(AsMade, a_hole_too_far_off_is_told_by_hole_and_by_casting) {
    const AsMade made = plate_with(0.3, {5, 5}, 6, {0.0, 2.2});
    const AsMadeResult result = work_out(made);
    EXPECT_FALSE(result.holds);
    EXPECT_EQ(*result.castings.front().openings.one, 6u);
    const bool named = std::any_of(result.findings.begin(), result.findings.end(), [](const auto& finding) {
        return finding.rule == "position-tolerance" && finding.where == "stud-7";
    });
    EXPECT_TRUE(named);
    EXPECT_EQ(result.findings.front().rule, "bolts-up");
}

}  // namespace

}  // namespace fitup::calculations
