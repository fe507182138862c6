// Concentricity against the trade's own budget, every direction by brute force, random assemblies, and an
// indicator swept round real circles.
#include "calculations/concentricity.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "calculations/concentricity_findings.hpp"
#include "calculations/concentricity_reading.hpp"
#include "parameters/open_file.hpp"

namespace fitup::calculations {
namespace {

Contribution offset(std::string name, double offset_mm, bool fixed = false) {
    return {std::move(name), Measure::offset, offset_mm, offset_mm, fixed, ""};
}

/// An adapter's budget from trade practice: 0.115 housing, 0.025 and 0.025 registers, 0.02 plate make an
/// offset of 0.185, a reading of 0.37, where a reading of 0.13 is wanted.
Concentricity budget() {
    Concentricity asked;
    asked.limit_reading_mm = 0.13;
    asked.contributions = {offset("housing", 0.115, true), offset("register A", 0.025),
                           offset("register B", 0.025), offset("plate", 0.02)};
    return asked;
}

TEST(Concentricity, the_trades_budget_does_not_get_there) {
    const ConcentricityResult result = work_out(budget());
    EXPECT_NEAR(result.worst_offset_mm, 0.185, 1e-12);
    EXPECT_NEAR(result.rss_offset_mm, std::sqrt(0.115 * 0.115 + 2 * 0.025 * 0.025 + 0.02 * 0.02), 1e-12);
    EXPECT_FALSE(result.holds);
    ASSERT_EQ(result.findings.size(), 1u);
    EXPECT_EQ(result.findings[0].rule, "concentricity");
    EXPECT_NEAR(*result.findings[0].value, 0.37, 1e-12);
    EXPECT_NEAR(*result.findings[0].limit, 0.13, 1e-12);
    // The housing alone is over the limit, so no fit serves and the dowels must be reamed.
    EXPECT_FALSE(result.all_to);
    for (const char* words :
         {"0.185 mm (0.0073 in) offset, 0.37 mm (0.0146 in) reading",
          "0.065 mm (0.0026 in) offset, 0.13 mm (0.0051 in) reading", "so no fit serves", "ream the dowels"})
        EXPECT_NE(result.findings[0].message.find(words), std::string::npos) << result.findings[0].message;
}

TEST(Concentricity, reaming_at_assembly_leaves_it_to_the_dial) {
    Concentricity asked = budget();
    asked.reamed_at_assembly = true;
    const ConcentricityResult result = work_out(asked);
    EXPECT_TRUE(result.holds);
    EXPECT_EQ(result.findings.at(0).severity, plan::Severity::warn);
}

TEST(Concentricity, measures_are_halved_but_an_offset) {
    Concentricity asked;
    asked.contributions = {{"a", Measure::clearance, 0.02, 0.1, false, ""},
                           {"b", Measure::position, 0.06, 0.06, false, ""},
                           {"c", Measure::reading, 0.04, 0.04, false, ""},
                           {"d", Measure::offset, 0.01, 0.01, false, ""}};
    EXPECT_NEAR(work_out(asked).worst_offset_mm, 0.05 + 0.03 + 0.02 + 0.01, 1e-12);
}

TEST(Concentricity, what_is_proposed_meets_the_limit) {
    Concentricity asked = budget();
    asked.contributions = {{"housing", Measure::reading, 0.05, 0.05, true, ""},
                           {"register", Measure::clearance, 0.02, 0.12, false, ""},
                           {"plate", Measure::offset, 0.01, 0.01, false, ""}};
    const ConcentricityResult result = work_out(asked);
    EXPECT_FALSE(result.holds);
    EXPECT_FALSE(result.contributions[0].alone_to);  // as it is
    ASSERT_TRUE(result.contributions[1].alone_to && result.all_to);
    EXPECT_FALSE(result.contributions[2].alone_to);  // even without it 0.085 are over 0.065
    Concentricity closer = asked;
    closer.contributions[1].most = *result.contributions[1].alone_to;
    EXPECT_NEAR(work_out(closer).worst_offset_mm, 0.065, 1e-12);
    EXPECT_TRUE(work_out(closer).holds);
    Concentricity all = asked;
    for (Contribution& one : all.contributions) {
        if (!one.fixed) one.most *= *result.all_to;
    }
    EXPECT_NEAR(work_out(all).worst_offset_mm, 0.065, 1e-12);
    EXPECT_TRUE(work_out(all).holds);
}

TEST(Concentricity, no_set_of_directions_is_worse_than_the_worst_case) {
    const ConcentricityResult result = work_out(budget());
    double most = 0.0;
    constexpr int steps = 24;
    for (int code = 0; code < steps * steps * steps; ++code) {
        // The first points along X; the others stand at every hour.
        double x = 0.115, y = 0.0;
        int rest = code;
        for (std::size_t i = 1; i < 4; ++i, rest /= steps) {
            const double angle = 2 * std::numbers::pi * (rest % steps) / steps;
            const double length = result.contributions[i].offset_mm;
            x += length * std::cos(angle);
            y += length * std::sin(angle);
        }
        most = std::max(most, std::hypot(x, y));
    }
    EXPECT_NEAR(result.worst_offset_mm, most, 1e-12);
}

TEST(Concentricity, random_assemblies_agree_with_the_root_sum_square) {
    Concentricity asked = budget();
    asked.limit_reading_mm = 0.18;
    const ConcentricityResult result = work_out(asked);
    std::mt19937_64 engine(3);
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> angle(0.0, 2 * std::numbers::pi);
    constexpr int builds = 400'000;
    int within_rss = 0, over = 0;
    double squares = 0.0, fourths = 0.0;
    for (int i = 0; i < builds; ++i) {
        double x = 0, y = 0, side_x = 0, side_y = 0;
        for (const Contribution& one : asked.contributions) {
            const double length = one.offset_mm();
            x += length / 3 * normal(engine);
            y += length / 3 * normal(engine);
            // Lying against one side: its whole offset, some way.
            const double way = angle(engine);
            side_x += length * std::cos(way);
            side_y += length * std::sin(way);
        }
        within_rss += std::hypot(x, y) <= result.rss_offset_mm ? 1 : 0;
        over += std::hypot(x, y) > result.limit_offset_mm ? 1 : 0;
        const double square = side_x * side_x + side_y * side_y;
        squares += square;
        fourths += square * square;
    }
    const auto share_error = [](double share) { return 5 * std::sqrt(share * (1 - share) / builds); };
    EXPECT_NEAR(double(within_rss) / builds, share_within_rss, share_error(share_within_rss));
    EXPECT_NEAR(double(over) / builds, result.share_over, share_error(result.share_over));
    EXPECT_GT(result.share_over, 0.01);
    const double mean_square = squares / builds;
    const double spread = std::sqrt((fourths / builds - mean_square * mean_square) / builds);
    EXPECT_NEAR(mean_square, result.rss_offset_mm * result.rss_offset_mm, 5 * spread);
}

TEST(Concentricity, order_does_not_matter_and_shares_add_up) {
    EXPECT_TRUE(rc::check([] {
        Concentricity asked;
        const int count = *rc::gen::inRange(1, 8);
        for (int i = 0; i < count; ++i)
            asked.contributions.push_back(offset("c" + std::to_string(i), *rc::gen::inRange(1, 500) / 2000.0,
                                                 *rc::gen::arbitrary<bool>()));
        const ConcentricityResult result = work_out(asked);
        std::reverse(asked.contributions.begin(), asked.contributions.end());
        const ConcentricityResult other = work_out(asked);
        RC_ASSERT(std::abs(result.worst_offset_mm - other.worst_offset_mm) < 1e-12);
        RC_ASSERT(std::abs(result.rss_offset_mm - other.rss_offset_mm) < 1e-12);
        RC_ASSERT(result.rss_offset_mm <= result.worst_offset_mm + 1e-12);
        RC_ASSERT(result.holds == other.holds);
        double worst = 0, square = 0;
        for (const ContributionResult& one : result.contributions) {
            worst += one.of_worst_case;
            square += one.of_square;
        }
        RC_ASSERT(std::abs(worst - 1.0) < 1e-9 && std::abs(square - 1.0) < 1e-9);
    }));
}

/// What an indicator on an axis at the origin reads on a circle about (x, y): its plunger goes straight out
/// along the hour, pushed in where the wall is near (inside) or far (outside); 0 at 12.
DialReadings swept(double x, double y, double radius, bool outside) {
    const auto reading = [&](double angle) {
        const double along = x * std::cos(angle) + y * std::sin(angle);
        const double across = -x * std::sin(angle) + y * std::cos(angle);
        const double wall = along + std::sqrt(radius * radius - across * across);
        return outside ? wall : -wall;
    };
    constexpr double right = std::numbers::pi / 2;
    const double zero = reading(right);
    return {0.0, reading(0.0) - zero, reading(-right) - zero, reading(2 * right) - zero, {}, 0.0, outside,
            0.0};
}

TEST(Dial, gives_the_place_back_inside_and_outside) {
    EXPECT_TRUE(rc::check([] {
        const double x = *rc::gen::inRange(-500, 500) / 1000.0, y = *rc::gen::inRange(-500, 500) / 1000.0;
        const bool outside = *rc::gen::arbitrary<bool>();
        const DialResult dial = dial_in(swept(x, y, 75.0, outside));
        // Exact but for rounding: 12 and 6 lie on one line through the axis.
        RC_ASSERT(std::abs(dial.offset_mm[0] - x) < 1e-9 && std::abs(dial.offset_mm[1] - y) < 1e-9);
        RC_ASSERT(std::abs(dial.reading_mm - 2 * std::hypot(x, y)) < 1e-9);
        RC_ASSERT(std::abs(dial.move_mm[0] + x) < 1e-9 && std::abs(dial.move_mm[1] + y) < 1e-9);
        // The sum fails by the square of the offset over the radius only, and the next term of its series.
        const double square = x * x + y * y;
        RC_ASSERT(std::abs(dial.sum_error_mm) <= square / 75.0 * (1.0 + square / (75.0 * 75.0)) + 1e-9);
        RC_ASSERT(dial.sum_agrees);
        // After the move every reading is the same.
        const DialReadings after = swept(x + dial.move_mm[0], y + dial.move_mm[1], 75.0, outside);
        RC_ASSERT(std::abs(after.at_3) < 1e-9 && std::abs(after.at_6) < 1e-9 && std::abs(after.at_9) < 1e-9);
    }));
}

TEST(Dial, the_reading_is_what_a_whole_sweep_shows) {
    const double x = 0.03, y = -0.11;
    double least = 1e9, most = -1e9;
    for (int i = 0; i < 3600; ++i) {
        const double angle = i * std::numbers::pi / 1800;
        const double across = -x * std::sin(angle) + y * std::cos(angle);
        const double wall = x * std::cos(angle) + y * std::sin(angle) + std::sqrt(75 * 75 - across * across);
        least = std::min(least, wall);
        most = std::max(most, wall);
    }
    EXPECT_NEAR(dial_in(swept(x, y, 75.0, false)).reading_mm, most - least, 1e-6);
}

TEST(Dial, sag_passes_for_an_offset_until_it_is_taken_out) {
    // An arm that hangs by 0.04 at the bottom adds its half at 3 and 9.
    DialReadings readings = swept(0.05, 0.02, 75.0, false);
    readings.at_3 += -0.04 / 2;
    readings.at_6 += -0.04;
    readings.at_9 += -0.04 / 2;
    const DialResult with_sag = dial_in(readings);
    EXPECT_NEAR(with_sag.offset_mm[1], 0.02 - 0.02, 1e-9);
    EXPECT_TRUE(with_sag.sum_agrees);
    readings.sag_mm = -0.04;
    EXPECT_NEAR(dial_in(readings).offset_mm[1], 0.02, 1e-9);
    EXPECT_NEAR(dial_in(readings).offset_mm[0], 0.05, 1e-9);
}

TEST(Dial, sums_that_disagree_and_a_last_reading_that_stays_away_are_told) {
    Concentricity asked;
    asked.bore = DialReadings{0, 0.02, 0.1, 0.04, 0.03, 0.0, false, 0.0};
    const ConcentricityResult result = work_out(asked);
    EXPECT_NEAR(result.bore->sum_error_mm, 0.04, 1e-12);
    EXPECT_FALSE(result.bore->sum_agrees);
    EXPECT_FALSE(result.bore->returns);
    ASSERT_EQ(result.findings.size(), 2u);
    EXPECT_EQ(result.findings[0].rule, "dial-sum");
    EXPECT_EQ(result.findings[1].rule, "dial-return");
    EXPECT_TRUE(result.holds);
}

TEST(Dial, says_which_way_and_how_far) {
    // A bore that lies 0.1 to the left and 0.05 up of the shaft must go right and down.
    Concentricity asked;
    asked.bore = swept(-0.1, 0.05, 75.0, false);
    const ConcentricityResult result = work_out(asked);
    EXPECT_GT(asked.bore->at_9, asked.bore->at_3 - 1.0);
    EXPECT_LT(asked.bore->at_9, asked.bore->at_3);  // the left wall is further away
    EXPECT_EQ(move_text(result.bore->move_mm),
              "0.1 mm (0.0039 in) right (towards 3) and 0.05 mm (0.002 in) down (towards 6)");
    EXPECT_EQ(move_text({0.0, 0.0}), "nowhere");
    ASSERT_EQ(result.findings.size(), 1u);
    EXPECT_EQ(result.findings[0].rule, "dial-in");
}

TEST(Dial, a_leaning_face_is_given_by_its_rise) {
    // A plane that rises 0.3 mm in a metre to the right, swept on 400 mm: 0.12 from side to side.
    const double slope = 0.0003;
    Concentricity asked;
    asked.face = DialReadings{0, slope * 200, 0, -slope * 200, {}, 0.0, false, 400.0};
    const ConcentricityResult result = work_out(asked);
    EXPECT_NEAR(result.face->reading_mm, 0.12, 1e-12);
    EXPECT_NEAR(result.face->offset_mm[0], 0.12, 1e-12);
    EXPECT_TRUE(result.findings.empty());  // under 0.127
}

ReadConcentricity read(const std::string& more, const std::string& file = "c.json") {
    const std::string text =
        R"({"format": 1, "calculation": "concentricity", "name": "c", "units": "mm", )" + more + "}";
    const std::vector<std::string> kinds{"concentricity"};
    return read_concentricity(
        parameters::open_file(text, file, parameters::Role::calculation, kinds).document);
}

TEST(ConcentricityReading, limits_are_readings_unless_said_to_be_offsets) {
    EXPECT_NEAR(read(R"("housing": "SAE 4")").asked.value().limit_reading_mm, 0.127, 1e-12);
    EXPECT_NEAR(read(R"("housing": "SAE 4", "limit": {"reading": "5 thou"})").asked.value().limit_reading_mm,
                0.127, 1e-12);
    EXPECT_NEAR(read(R"("housing": "SAE 4", "limit": {"offset": "5 thou"})").asked.value().limit_reading_mm,
                0.254, 1e-12);
}

TEST(ConcentricityReading, housings_bring_what_the_standard_allows) {
    // SAE J617 and J1033 in a clutch maker's manual, full reading in inches.
    const std::pair<const char*, double> rows[] = {{"SAE 6", 0.007},   {"SAE 5", 0.008}, {"SAE 4", 0.009},
                                                   {"SAE 3", 0.010},   {"SAE 2", 0.011}, {"SAE 1", 0.012},
                                                   {"SAE 1/2", 0.014}, {"SAE 0", 0.016}, {"SAE 00", 0.019}};
    for (const auto& [name, reading_in] : rows) {
        const auto asked = read(std::string(R"("housing": ")") + name + "\"").asked;
        ASSERT_TRUE(asked) << name;
        EXPECT_NEAR(asked->contributions.at(0).most, 25.4 * reading_in, 1e-9) << name;
        EXPECT_EQ(asked->contributions.at(0).measure, Measure::reading);
        EXPECT_TRUE(asked->contributions.at(0).fixed);
    }
}

TEST(ConcentricityReading, fits_come_from_the_tables_and_a_press_centres) {
    const auto asked = read(R"("contributions": [
        {"name": "pin", "fit": {"diameter": 12, "hole": "H7", "shaft": "m6"}},
        {"name": "register", "fit": {"diameter": 170, "hole": "H7", "shaft": "g6"}},
        {"name": "pressed", "clearance": [-0.03, -0.01]}])")
                           .asked;
    ASSERT_TRUE(asked);
    // ISO 286-2: H7 at 12 is 0 to 18, m6 7 to 18; H7 at 170 is 0 to 40, g6 -39 to -14 micrometres.
    EXPECT_NEAR(asked->contributions[0].most, 0.011, 1e-12);
    EXPECT_EQ(asked->contributions[0].least, 0.0);
    EXPECT_NEAR(asked->contributions[1].least, 0.014, 1e-12);
    EXPECT_NEAR(asked->contributions[1].most, 0.079, 1e-12);
    EXPECT_EQ(asked->contributions[2].most, 0.0);
}

TEST(ConcentricityReading, the_demo_plate_brings_its_registers) {
    const auto read_demo =
        read(R"("housing": "SAE 4", "plate": "winch-adapter.json")", FITUP_SOURCE_FOLDER "/examples/c.json");
    ASSERT_TRUE(read_demo.asked) << read_demo.faults.at(0).message;
    const Concentricity& asked = *read_demo.asked;
    ASSERT_EQ(asked.contributions.size(), 3u);
    // The spigot of 361.9 in the housing's pilot of 361.95 to 362.08; the recess of 170.05 on 170.
    EXPECT_EQ(asked.contributions[1].name, "winch-adapter register-A");
    EXPECT_NEAR(asked.contributions[1].least, 0.05, 1e-9);
    EXPECT_NEAR(asked.contributions[1].most, 0.18, 0.01);
    EXPECT_EQ(asked.contributions[2].name, "winch-adapter register-B");
    EXPECT_NEAR(asked.contributions[2].most, 0.05, 1e-9);
    ASSERT_EQ(asked.looser.size(), 1u);  // the bore, 4 thou
    EXPECT_NE(asked.looser[0].find("bore"), std::string::npos);
    EXPECT_TRUE(asked.reamed_at_assembly);
}

TEST(ConcentricityReading, mistakes_are_told_at_their_keys) {
    const auto only = [](const ReadConcentricity& read) {
        EXPECT_EQ(read.faults.size(), 1u);
        return read.faults.empty() ? std::string() : read.faults.front().message;
    };
    EXPECT_TRUE(
        only(read(R"("housing": "SAE 44")")).starts_with("housing: found \"SAE 44\", wanted a housing"));
    EXPECT_EQ(only(read(R"("contributions": [{"name": "a", "clearance": [0.2, 0.1]}])")),
              "contributions[0].clearance: found a list of 2, wanted the least clearance first and the "
              "greatest after it");
    EXPECT_EQ(only(read(R"("contributions": [{"name": "a", "offset": 1}, {"name": "a", "offset": 2}])")),
              "contributions[1].name: found \"a\", wanted a name that no other contribution has");
    EXPECT_TRUE(
        only(
            read(R"("contributions": [{"name": "a", "fit": {"diameter": 12, "hole": "m6", "shaft": "m6"}}])"))
            .starts_with("contributions[0].fit.hole: found \"m6\", wanted a hole's tolerance class"));
    EXPECT_TRUE(only(read(R"("plate": "no-such.json")")).starts_with("plate: "));
    EXPECT_TRUE(only(read(R"("plate": "selector-crank.json")", FITUP_SOURCE_FOLDER "/examples/c.json"))
                    .find("wanted an adapter plate; this part is a bellcrank") != std::string::npos);
    for (const char* wrong : {R"("limit": 3)", R"("limit": {"reading": 1, "offset": 1}, "housing": "SAE 4")",
                              R"("contributions": [{"name": "a"}])",
                              R"("contributions": [{"name": "a", "offset": 1, "reading": 2}])",
                              R"("readings": {"12": 0, "3": 0, "6": 0})", R"("note": "nothing to work out")"})
        EXPECT_FALSE(read(wrong).asked) << wrong;
}

}  // namespace
}  // namespace fitup::calculations
