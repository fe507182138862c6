// Rules unverified-figure and override, and whether every rule that speaks is listed.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>

#include "rules/plates.hpp"

namespace fitup::rules {
namespace {

using namespace plates;
using plan::Severity;
using plan::Side;

const plan::Finding* figure(const plan::Findings& findings, const std::string& where) {
    return find(findings, "unverified-figure", where);
}

TEST(UnverifiedFigure, a_threads_row_is_told_once_with_all_its_holes) {
    plan::Plan plan = with(disc(), {tapped("gearbox-1", {100.0, 0.0}, 20.0, 26.0),
                                    tapped("gearbox-2", {-100.0, 0.0}, 20.0, 26.0)});
    EXPECT_EQ(find(judge(plan), "unverified-figure"), nullptr);
    for (plan::Hole& hole : plan.holes) hole.thread->source = "ISO 261; tap drill from memory, unverified";
    const auto findings = judge(plan);
    const plan::Finding* finding = figure(findings, "gearbox-1, gearbox-2");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::note);
    EXPECT_EQ(finding->source, "ISO 261; tap drill from memory, unverified");
    EXPECT_NE(finding->message.find("M10"), std::string::npos);
    ASSERT_TRUE(finding->at_mm);
}

// ASME B18.2.8, 3/8: the close hole's row is recalled, the normal one's was seen in print (the table's own
// words).
TEST(UnverifiedFigure, the_clearance_row_of_just_this_diameter_counts) {
    plan::Plan plan = with(disc(), {clearance("housing-1", {150.0, 0.0}, 25.0 / 64.0 * 25.4, "3/8", 9.525)});
    const auto findings = judge(plan);
    ASSERT_NE(figure(findings, "housing-1"), nullptr);
    EXPECT_NE(figure(findings, "housing-1")->message.find("close clearance hole for 3/8"), std::string::npos);
    plan.holes[0].diameter_mm = 13.0 / 32.0 * 25.4;
    EXPECT_EQ(find(judge(plan), "unverified-figure"), nullptr);
}

TEST(UnverifiedFigure, heads_fits_registers_and_materials_count) {
    plan::Plan plan = with(disc(), {bore(150.0), clearance("housing-1", {150.0, 0.0}, 10.1, "own", 9.525)});
    plan.holes[0].fit = plan::Fit{"H7", 150.0, 0.0, 40.0, "from memory, unverified"};
    plan.holes[1].recess = plan::Recess{Side::B, 27.0, 11.0, plan::SunkFastener{}};
    plan.holes[1].recess->holds->source = "from memory (DIN 3124), unverified";
    plan.holes[1].recess->holds->unverified = true;
    plan.registers.push_back({});
    plan.registers[0].side = Side::B;
    plan.registers[0].is_spigot = true;
    plan.registers[0].diameter_mm = 170.0;
    plan.registers[0].fit = plan::Fit{"h6", 170.0, -25.0, 0.0, "from memory, unverified"};
    plan.material.source = "from memory, unverified";
    const auto findings = judge(plan);
    for (const char* where : {"bore", "housing-1", "register-B", "material"})
        EXPECT_NE(figure(findings, where), nullptr) << where;
    plan.holes[0].fit->source = plan.registers[0].fit->source = plan.material.source = "ISO 286-2";
    plan.holes[1].recess->holds->unverified = false;
    EXPECT_EQ(find(judge(plan), "unverified-figure"), nullptr);
}

/// SAE No. 3 stands in the table with a thread that was recalled, No. 4 without one.
plan::Plan on_housing(double circle_mm) {
    plan::Plan plan = disc();
    plan.holes = {hole("housing-1", {circle_mm / 2.0, 0.0}, 10.0)};
    add_pattern(plan, "housing").from_standard = true;
    plan.patterns[0].circle_diameter_mm = circle_mm;
    plan.body.outline = plan::Contour(plan::Circle{{}, 300.0});
    return plan;
}

TEST(UnverifiedFigure, the_housings_row_counts) {
    const auto findings = judge(on_housing(428.625));
    ASSERT_NE(figure(findings, "housing"), nullptr);
    EXPECT_NE(figure(findings, "housing")->message.find("SAE 3"), std::string::npos);
    EXPECT_EQ(find(judge(on_housing(381.0)), "unverified-figure"), nullptr);
    plan::Plan own = on_housing(428.625);
    own.patterns[0].from_standard = false;
    EXPECT_EQ(find(judge(own), "unverified-figure"), nullptr);
}

plan::Plan with_rule(plan::Plan plan, plan::RuleOverride entry) {
    plan.rule_overrides.push_back(std::move(entry));
    return plan;
}

TEST(Override, says_what_is_in_force_and_what_the_materials_own_limit_was) {
    plan::Plan plan = with(disc(), {tapped("gearbox-1", {100.0, 0.0}, 11.0, 24.0)});
    plan.material = steel();
    const auto usual = judge(plan);
    ASSERT_NE(find(usual, "thread-engagement"), nullptr);
    EXPECT_EQ(find(usual, "override"), nullptr);
    const auto findings = judge(with_rule(plan, {"thread-engagement", 1.0, {}, 7}));
    EXPECT_EQ(find(findings, "thread-engagement"), nullptr);
    const plan::Finding* finding = find(findings, "override", "thread-engagement");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->value, 1.0);
    EXPECT_EQ(finding->limit, 1.25);  // steel's, not the table's 2 d
    EXPECT_EQ(finding->unit, "d");
    EXPECT_EQ(finding->message.find("line 7 of the file: thread-engagement warns at 1 d in place of 1.25 d"),
              0u)
        << finding->message;
}

// AISC 360-16 Tables J3.4M: M20 26 mm (1.3 d), M16 22 mm (1.375 d).
TEST(Override, says_both_steps_and_the_range_that_sizes_give) {
    plan::Plan plan = with(disc(), {clearance("housing-1", {150.0, 0.0}, 22.0, "M20", 20.0),
                                    clearance("housing-2", {-150.0, 0.0}, 17.5, "M16", 16.0)});
    plan.material = steel();
    const auto findings = judge(with_rule(plan, {"edge-distance", 1.2, 0.9, 3}));
    ASSERT_NE(find(findings, "override"), nullptr);
    EXPECT_NE(
        find(findings, "override")
            ->message.find("warns at 1.2 d in place of 1.3 to 1.375 d and stops at 0.9 d in place of 1 d"),
        std::string::npos)
        << find(findings, "override")->message;
}

TEST(Override, a_stop_that_nothing_lifts_says_so_and_stays) {
    plan::Plan plan = with(disc(), {hole("gearbox-1", {300.0, 0.0}, 10.0)});
    const auto findings = judge(with_rule(plan, {"off-part", 5.0, 5.0, 3}));
    EXPECT_NE(find(findings, "off-part"), nullptr);
    ASSERT_NE(find(findings, "override", "off-part"), nullptr);
    EXPECT_NE(find(findings, "override")->message.find("can't be overridden"), std::string::npos);
}

/// Names that sources give to findings and limits: where a rule's name stands in these calls.
std::set<std::string> names_in_sources(const std::filesystem::path& folder) {
    const std::regex first(R"((?:finding_of|note_of|final_stop_of|final_stop|\.of)\(\s*"([a-z-]+)\")");
    const std::regex third(R"(hole_finding\([^,;]+,[^,;]+,\s*"([a-z-]+)\")");
    std::set<std::string> names;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(folder)) {
        if (entry.path().extension() != ".cpp") continue;
        std::ostringstream text;
        text << std::ifstream(entry.path()).rdbuf();
        const std::string source = text.str();
        for (const std::regex& call : {first, third}) {
            for (std::sregex_iterator it(source.begin(), source.end(), call), end; it != end; ++it)
                names.insert((*it)[1]);
        }
    }
    return names;
}

TEST(Rules, every_rule_that_speaks_is_explained_and_every_rule_explained_speaks) {
    const auto names = names_in_sources(std::filesystem::path(FITUP_SOURCE_FOLDER) / "generators");
    EXPECT_GT(names.size(), 20u);
    for (const std::string& name : names) EXPECT_NE(find_rule(name), nullptr) << name;
    for (const Rule& rule : all_rules()) EXPECT_TRUE(names.contains(rule.name)) << rule.name;
}

TEST(Rules, each_has_a_meaning_and_a_source_and_one_name) {
    std::set<std::string> names;
    for (const Rule& rule : all_rules()) {
        EXPECT_TRUE(names.insert(rule.name).second) << rule.name;
        EXPECT_FALSE(rule.meaning.empty()) << rule.name;
        EXPECT_FALSE(rule.source.empty()) << rule.name;
    }
}

}  // namespace
}  // namespace fitup::rules
