// What goes in at once: bolts with room, and dowels or a register without.
#include "calculations/located.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

namespace fitup::calculations {
namespace {

constexpr double pi = 3.14159265358979323846;

/// Bolts of 10 in holes of 11 on a circle of 160, then two dowels with a play on 120.
struct Sizes {
    int bolts = 4;
    double play_mm = 0.02;
};

BoltingCase plate(const Sizes& sizes = {}) {
    BoltingCase all;
    const auto add = [&all](const std::string& id, plan::Point at, double hole, double fastener) {
        all.ids.push_back(id);
        all.first_mm.push_back(at);
        all.second_mm.push_back(at);
        all.holes_mm.push_back(hole);
        all.fasteners_mm.push_back(fastener);
    };
    for (int i = 0; i < sizes.bolts; ++i) {
        const double turn = 2 * pi * i / sizes.bolts + 0.3;
        add("bolt-" + std::to_string(i + 1), {80 * std::cos(turn), 80 * std::sin(turn)}, 11, 10);
    }
    add("pin-1", {60, 0}, 8 + sizes.play_mm, 8);
    add("pin-2", {-60, 0}, 8 + sizes.play_mm, 8);
    return all;
}

void move(BoltingCase& all, std::size_t from, std::size_t to, plan::Point by) {
    for (std::size_t i = from; i < to; ++i)
        all.second_mm[i] = {all.second_mm[i].x_mm + by.x_mm, all.second_mm[i].y_mm + by.y_mm};
}

TEST(Located, true_parts_have_half_the_dowels_play) {
    const LocatedFit fit = located_fit(plate(), 4);
    EXPECT_TRUE(fit.fit.possible());
    EXPECT_NEAR(fit.fit.least_clearance_mm, 0.01, 1e-9);
    EXPECT_TRUE(located_findings(plate(), 4, fit, "engine").empty());
}

TEST(Located, bolts_all_off_by_more_than_their_room_bind_on_the_dowels) {
    BoltingCase all = plate();
    move(all, 0, 4, {0.6, 0.0});
    const LocatedFit fit = located_fit(all, 4);
    EXPECT_FALSE(fit.fit.possible());
    // Shared out evenly: 0.5 - (0.6 - t) = 0.01 - t.
    EXPECT_NEAR(fit.fit.least_clearance_mm, -0.045, 1e-9);
    ASSERT_TRUE(fit.open_all_mm);
    // The dowels give 0.01: 0.5 + d / 2 = 0.6 - 0.01.
    EXPECT_NEAR(*fit.open_all_mm, 0.18, 2e-6);
    EXPECT_FALSE(fit.one);
    const auto findings = located_findings(all, 4, fit, "engine as drawn");
    ASSERT_EQ(findings.size(), 1u);
    EXPECT_EQ(findings[0].severity, plan::Severity::stop);
    EXPECT_NE(findings[0].message.find("with pin-1, pin-2 in place the bolts don't go in"), std::string::npos)
        << findings[0].message;
    EXPECT_NE(findings[0].message.find("open every bolt hole by 0.18 mm"), std::string::npos)
        << findings[0].message;
}

TEST(Located, one_bolt_off_is_opened_alone) {
    BoltingCase all = plate();
    move(all, 2, 3, {0.0, 0.8});
    const LocatedFit fit = located_fit(all, 4);
    EXPECT_FALSE(fit.fit.possible());
    ASSERT_TRUE(fit.one);
    EXPECT_EQ(*fit.one, 2u);
    // The dowels hold all but a turn and a shift of some hundredths.
    EXPECT_GT(fit.one_mm, 2 * (0.8 - 0.5) - 0.1);
    EXPECT_LT(fit.one_mm, 2 * (0.8 - 0.5));
    EXPECT_NEAR(*fit.open_all_mm, fit.one_mm, 1e-5);
}

TEST(Located, dowels_that_miss_each_other_are_told_as_such) {
    BoltingCase all = plate();
    move(all, 4, 5, {0.3, 0.0});
    const LocatedFit fit = located_fit(all, 4);
    EXPECT_FALSE(fit.fit.possible());
    // 0.3 on the distance of the two, 0.15 each, less half the play.
    EXPECT_NEAR(fit.locators_missing_mm, 0.15 - 0.01, 1e-9);
    EXPECT_FALSE(fit.open_all_mm);
    const auto findings = located_findings(all, 4, fit, "engine as drawn");
    ASSERT_EQ(findings.size(), 1u);
    EXPECT_NE(findings[0].message.find("ream the dowels"), std::string::npos) << findings[0].message;
}

TEST(Located, holes_opened_as_told_go_together_and_less_does_not) {
    EXPECT_TRUE(rc::check([] {
        BoltingCase all = plate({*rc::gen::inRange(1, 7), 0.04});
        const std::size_t bolts = all.ids.size() - 2;
        for (std::size_t i = 0; i < bolts; ++i)
            move(all, i, i + 1,
                 {*rc::gen::inRange(-900, 900) / 1000.0, *rc::gen::inRange(-900, 900) / 1000.0});
        const LocatedFit fit = located_fit(all, bolts);
        if (fit.fit.possible()) return;
        RC_ASSERT(bool(fit.open_all_mm));
        BoltingCase opened = all;
        for (std::size_t i = 0; i < bolts; ++i) opened.holes_mm[i] += *fit.open_all_mm;
        RC_ASSERT(located_fit(opened, bolts).fit.possible());
        for (std::size_t i = 0; i < bolts; ++i) opened.holes_mm[i] -= 1e-4;
        RC_ASSERT(!located_fit(opened, bolts).fit.possible());
        if (!fit.one) return;
        BoltingCase one = all;
        one.holes_mm[*fit.one] += fit.one_mm;
        RC_ASSERT(located_fit(one, bolts).fit.possible());
    }));
}

}  // namespace
}  // namespace fitup::calculations
