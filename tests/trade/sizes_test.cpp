#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "trade/trade.hpp"

namespace fitup::trade {
namespace {

/// Diameters of the drills whose name has this character, in the table's order.
template <class Match>
std::vector<double> diameters(Match match) {
    std::vector<double> found;
    for (const Drill& drill : drills()) {
        if (match(drill.name)) found.push_back(drill.diameter_mm);
    }
    return found;
}

bool is_strictly_rising(const std::vector<double>& values) {
    return std::adjacent_find(values.begin(), values.end(), std::greater_equal<>()) == values.end();
}

TEST(Drills, each_series_is_strictly_ordered) {
    auto numbers = diameters([](const std::string& name) { return name.front() == '#'; });
    ASSERT_EQ(numbers.size(), 80u);
    std::reverse(numbers.begin(), numbers.end());
    EXPECT_TRUE(is_strictly_rising(numbers));
    const auto letters =
        diameters([](const std::string& name) { return name.size() == 1 && name[0] >= 'A'; });
    ASSERT_EQ(letters.size(), 26u);
    EXPECT_TRUE(is_strictly_rising(letters));
    const auto metric = diameters([](const std::string& name) { return name.ends_with(" mm"); });
    EXPECT_EQ(metric.size(), 195u);
    EXPECT_TRUE(is_strictly_rising(metric));
}

TEST(Drills, fractions_are_every_64th_exactly) {
    const auto fractions =
        diameters([](const std::string& name) { return name.find('/') != std::string::npos || name == "1"; });
    ASSERT_EQ(fractions.size(), 64u);
    for (std::size_t i = 0; i < 64; ++i)
        EXPECT_NEAR(fractions[i], 25.4 * static_cast<double>(i + 1) / 64.0, 1e-9);
}

/// ASME B94.11M, as printed in number and letter drill charts.
TEST(Drills, printed_sizes) {
    EXPECT_DOUBLE_EQ(find_drill("#7")->diameter_mm, 0.2010 * 25.4);
    EXPECT_DOUBLE_EQ(find_drill("No. 80")->diameter_mm, 0.0135 * 25.4);
    EXPECT_DOUBLE_EQ(find_drill("f")->diameter_mm, 0.2570 * 25.4);
    EXPECT_DOUBLE_EQ(find_drill("5/16 in")->diameter_mm, 7.9375);
    EXPECT_DOUBLE_EQ(find_drill("8.5")->diameter_mm, 8.5);
    EXPECT_EQ(find_drill("8"), find_drill("8.0 mm"));
    EXPECT_EQ(find_drill("#81"), nullptr);
    EXPECT_EQ(find_drill(""), nullptr);
}

TEST(Drills, the_largest_not_over_a_size) {
    EXPECT_EQ(largest_drill_up_to(12.0 - 0.3, false)->name, "11.7 mm");
    EXPECT_EQ(largest_drill_up_to(11.699, false)->name, "11.6 mm");
    EXPECT_EQ(largest_drill_up_to(12.0 - 0.3, true)->name, "29/64");
    EXPECT_EQ(largest_drill_up_to(0.5, false)->name, "#77");
    EXPECT_EQ(largest_drill_up_to(100.0, false)->name, "25.0 mm");
    EXPECT_EQ(largest_drill_up_to(100.0, true)->name, "1");
    EXPECT_EQ(largest_drill_up_to(0.2, true), nullptr);
    EXPECT_EQ(largest_drill_up_to(std::nan(""), true), nullptr);
}

TEST(Drills, a_size_names_the_common_drill) {
    EXPECT_EQ(drill_of(6.35)->name, "1/4");
    EXPECT_EQ(drill_of(10.31875)->name, "13/32");
    EXPECT_EQ(drill_of(11.0)->name, "11.0 mm");
    EXPECT_EQ(drill_of(5.1054)->name, "#7");
    EXPECT_EQ(drill_of(10.03), nullptr);
}

/// SAE J617 No. 4 (two published tables in inches: circle 15 in, pilot 14.250 +0.005 in, 12 holes).
TEST(Housings, sae_4_is_the_standards) {
    const Housing* four = find_housing("SAE 4");
    ASSERT_NE(four, nullptr);
    EXPECT_DOUBLE_EQ(four->bolt_circle_mm, 15.0 * 25.4);
    EXPECT_DOUBLE_EQ(four->pilot_least_mm, 14.250 * 25.4);
    EXPECT_NEAR(four->pilot_most_mm, 14.255 * 25.4, 1e-9);
    EXPECT_EQ(four->hole_count, 12);
    EXPECT_EQ(four->thread_inch, "3/8-16 UNC");
    EXPECT_EQ(four->thread_metric, "M10");
    EXPECT_DOUBLE_EQ(four->first_hole_from_vertical_deg, 15.0);
    EXPECT_DOUBLE_EQ(four->face_depth_mm, 100.1);
}

TEST(Housings, names_in_any_manner) {
    for (const char* name : {"4", "SAE No. 4", "sae 4", "SAE #4", "No 4", "SAE4"}) {
        EXPECT_EQ(find_housing(name), find_housing("SAE 4")) << name;
    }
    EXPECT_EQ(find_housing("SAE 1/2")->hole_count, 12);
    EXPECT_EQ(find_housing("1/2"), find_housing("SAE No. 1/2"));
    EXPECT_EQ(find_housing("00")->hole_count, 16);
    for (const char* name : {"7", "SAE", "", "SAE 44", "4M"}) EXPECT_EQ(find_housing(name), nullptr) << name;
    for (const std::string& name : housing_names()) EXPECT_NE(find_housing(name), nullptr) << name;
}

TEST(Housings, holes_start_half_a_spacing_from_the_vertical_and_miss_pilot_and_edge) {
    for (const Housing& housing : housings()) {
        EXPECT_DOUBLE_EQ(housing.first_hole_from_vertical_deg, 180.0 / housing.hole_count)
            << housing.designation;
        const Thread* inch = find_thread(housing.thread_inch);
        const Thread* metric = find_thread(housing.thread_metric);
        ASSERT_TRUE(inch && metric) << housing.designation;
        const double hole_mm = std::max(inch->major_mm, metric->major_mm);
        EXPECT_GT(housing.bolt_circle_mm - hole_mm, housing.pilot_most_mm) << housing.designation;
        EXPECT_LT(housing.bolt_circle_mm + hole_mm, housing.flange_outside_mm) << housing.designation;
    }
}

TEST(Materials, the_names_that_files_use) {
    EXPECT_EQ(find_material("mild steel")->name, "mild steel A36");
    EXPECT_EQ(find_material("aluminum 6061-T6"), find_material("aluminium 6061-T6"));
    EXPECT_EQ(find_material("6061"), find_material("Aluminium 6061 T6"));
    EXPECT_EQ(find_material("stainless 304")->family, "stainless");
    EXPECT_EQ(find_material("gray cast iron")->family, "cast iron");
    EXPECT_EQ(find_material("SS 304"), find_material("1.4301"));
    for (const char* name : {"", "unobtainium", "aluminium", "steel", "stainless"}) {
        EXPECT_EQ(find_material(name), nullptr) << name;
    }
}

TEST(Materials, every_name_and_alias_is_one_materials_own) {
    for (const MaterialRow& material : materials()) {
        EXPECT_EQ(find_material(material.name), &material);
        for (const std::string& alias : material.aliases) EXPECT_EQ(find_material(alias), &material) << alias;
    }
}

TEST(Materials, values_are_of_the_familys_order) {
    const std::set<std::string> families{"aluminium", "steel", "stainless", "cast iron", "brass", "plastic"};
    for (const MaterialRow& material : materials()) {
        EXPECT_TRUE(families.contains(material.family)) << material.name;
        EXPECT_TRUE(material.density_kg_m3 > 900.0 && material.density_kg_m3 < 9000.0) << material.name;
        EXPECT_TRUE(material.expansion_per_k > 9e-6 && material.expansion_per_k < 1e-4) << material.name;
        EXPECT_FALSE(material.expansion_source.text.empty());
    }
    EXPECT_FALSE(find_material("cast iron")->yield_mpa);
    EXPECT_DOUBLE_EQ(*find_material("6061")->yield_mpa, 276.0);
}

}  // namespace
}  // namespace fitup::trade
