// What stands in the STEP text, read as plain text (ISO 10303-21), without a kernel.
#include <gtest/gtest.h>

#include <clocale>
#include <locale>
#include <set>
#include <thread>

#include "exchange/kernel.hpp"
#include "exchange/part21.hpp"
#include "solid/plates.hpp"

namespace fitup::exchange {
namespace {

using plan::Side;

/// The kernel writes 13 digits; positions are held to this.
constexpr double place_mm = 1e-6;

plan::Plan featured_plate() {
    plan::Plan plan = plates::round_plate();
    plan.revision = "C";
    plan.holes.push_back(plates::hole("stud-1", {70.123456789, -3.3}, 11));
    plan.holes.back().recess = plan::Recess{Side::A, 20, 6, {}};
    plan.holes.push_back(plates::blind_hole("blind-1", {-62.5, 25.4 / 3}, 8.5, 12));
    return plan;
}

std::string text_of(const plan::Plan& plan, const StepOptions& options = {}) {
    const plan::SkinResult skin = plan::skin(plan);
    return kernel().step_text(*kernel().build(plan, skin).solid, plan, options);
}

bool has(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

/// Whether there is a cylinder of that diameter at that place, lengths in the file divided by `unit_mm`.
bool has_cylinder(const testing::Part21& file, plan::Point at, double diameter_mm, double unit_mm) {
    for (const auto& c : file.cylinders()) {
        if (std::hypot(c.x * unit_mm - at.x_mm, c.y * unit_mm - at.y_mm) < place_mm &&
            std::abs(2 * c.radius * unit_mm - diameter_mm) < place_mm) {
            return true;
        }
    }
    return false;
}

TEST(StepText, every_hole_and_recess_is_where_the_plan_has_it_in_either_unit) {
    const plan::Plan plan = featured_plate();
    for (const auto& [unit, unit_mm] : {std::pair{plan::Units::mm, 1.0}, std::pair{plan::Units::in, 25.4}}) {
        const testing::Part21 file(text_of(plan, {.schema = StepSchema::AP214, .unit = unit, .time_s = {}}));
        for (const auto& hole : plan.holes) {
            EXPECT_TRUE(has_cylinder(file, hole.at_mm, hole.diameter_mm, unit_mm)) << hole.id;
        }
        EXPECT_TRUE(has_cylinder(file, plan.holes[1].at_mm, 20, unit_mm));
        EXPECT_TRUE(has_cylinder(file, {0, 0}, 200, unit_mm));
        EXPECT_EQ(file.cylinders().size(), 5u);
        EXPECT_EQ(file.count("CONICAL_SURFACE"), 1u);
        EXPECT_EQ(file.count("MANIFOLD_SOLID_BREP"), 1u);
    }
}

TEST(StepText, faces_are_named_after_what_makes_them) {
    const auto names = testing::Part21(text_of(featured_plate())).face_names();
    const std::map<std::string, int> wanted{{"outline", 1}, {"bore", 1},   {"stud-1", 3},
                                            {"blind-1", 2}, {"face A", 1}, {"face B", 1}};
    EXPECT_EQ(names, wanted);
}

TEST(StepText, product_material_density_and_colour_are_there) {
    const testing::Part21 file(text_of(featured_plate()));
    ASSERT_EQ(file.count("PRODUCT"), 1u);
    EXPECT_TRUE(has(file.all("PRODUCT")[0], "'winch-adapter-rC','winch-adapter',"));
    EXPECT_TRUE(has(file.all("PRODUCT")[0], "'adapter plate, aluminium 6061-T6'"));
    EXPECT_TRUE(has(file.all("PRODUCT_DEFINITION_FORMATION")[0], "'C'"));
    EXPECT_TRUE(has(file.all("DESCRIPTIVE_REPRESENTATION_ITEM")[0], "'aluminium 6061-T6'"));
    // 2700 kg/m3 in g/cm3.
    EXPECT_TRUE(has(file.all("MEASURE_REPRESENTATION_ITEM")[0], "POSITIVE_RATIO_MEASURE(2.7)"));
    ASSERT_EQ(file.count("COLOUR_RGB"), 1u);
    EXPECT_EQ(file.count("STYLED_ITEM"), 1u);
    const std::string colour = file.all("COLOUR_RGB")[0];
    EXPECT_NEAR(std::stod(colour.substr(colour.find(',') + 1)), 0.80, 1e-6);
}

TEST(StepText, families_of_metal_have_colours_of_their_own) {
    std::set<std::string> colours;
    for (const char* family : {"aluminium", "steel", "stainless", "cast iron", "brass", "plastic", ""}) {
        plan::Plan plan = plates::round_plate();
        plan.material.family = family;
        colours.insert(testing::Part21(text_of(plan)).all("COLOUR_RGB").at(0));
    }
    EXPECT_EQ(colours.size(), 7u);
}

TEST(StepText, the_header_names_us_the_schema_and_the_given_time) {
    const std::string text = text_of(featured_plate());
    EXPECT_TRUE(text.starts_with("ISO-10303-21;"));
    EXPECT_TRUE(has(text, "FILE_NAME('winch-adapter-rC.step','1980-01-01T00:00:00',(''),(''),"));
    EXPECT_TRUE(has(text, "FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214"));
    EXPECT_TRUE(has(text, "'fitup'"));
    EXPECT_FALSE(has(text, "Open CASCADE"));
    EXPECT_FALSE(has(text, "Unknown"));

    StepOptions options;
    options.schema = StepSchema::AP242;
    options.time_s = 1'767'225'599;  // one second before 2026 (date -u -d @1767225599)
    const std::string other = text_of(featured_plate(), options);
    EXPECT_TRUE(has(other, "'2025-12-31T23:59:59'"));
    std::string joined = other.substr(0, other.find("ENDSEC;"));
    std::erase(joined, '\n');
    EXPECT_TRUE(has(joined, "'AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF { 1 0 10303 442 1 1 4 }'"))
        << joined;
}

TEST(StepText, names_beyond_plain_ascii_are_replaced_and_quotes_come_back) {
    plan::Plan plan = plates::round_plate();
    plan.name = "Bj\xC3\xB6rn's plate \\X2\\";
    plan.note = "line one\nline two";
    const std::string text = text_of(plan);
    for (const char c : text) EXPECT_TRUE(c == '\n' || (c >= ' ' && c < 0x7F)) << static_cast<int>(c);
    EXPECT_EQ(kernel().measure_step(text, "plate.step").product_name, "Bj?rn's plate \\X2\\");
}

class CommaPoint : public std::numpunct<char> {
  protected:
    char do_decimal_point() const override { return ','; }
    char do_thousands_sep() const override { return '.'; }
    std::string do_grouping() const override { return "\3"; }
};

TEST(StepText, the_bytes_are_the_same_again_in_other_locales_and_threads) {
    const plan::Plan plan = featured_plate();
    const std::string first = text_of(plan);
    EXPECT_EQ(text_of(plan), first);

    const std::locale before = std::locale::global(std::locale(std::locale::classic(), new CommaPoint));
    std::setlocale(LC_ALL, "de_DE.UTF-8");
    EXPECT_EQ(text_of(plan), first);
    const Measurement found = kernel().measure_step(first, "plate.step");
    std::locale::global(before);
    std::setlocale(LC_ALL, "C");
    EXPECT_NEAR(found.box.most[0], 100.0, 1e-9);

    std::vector<std::string> texts(4);
    std::vector<std::thread> threads;
    for (auto& text : texts) threads.emplace_back([&] { text = text_of(plan); });
    for (auto& thread : threads) thread.join();
    for (const auto& text : texts) EXPECT_EQ(text, first);
}

TEST(StepText, nothing_is_printed) {
    ::testing::internal::CaptureStdout();
    ::testing::internal::CaptureStderr();
    const std::string text = text_of(featured_plate());
    kernel().measure_step(text, "plate.step");
    EXPECT_EQ(::testing::internal::GetCapturedStdout(), "");
    EXPECT_EQ(::testing::internal::GetCapturedStderr(), "");
}

}  // namespace
}  // namespace fitup::exchange
