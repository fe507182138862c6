// Random fair cranks made, read back and measured: against the sum of prisms and the moment of inertia of the
// mesh.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "exchange/make.hpp"
#include "parts/bellcrank.hpp"
#include "parts/cranks.hpp"
#include "plan/prism_sum.hpp"
#include "plan/property.hpp"

namespace fitup::exchange {
namespace {

void quiet(std::string_view) {}

std::string text(double value) { return std::to_string(value); }

/// A fair arm: eye, hole and what goes with it, hundredths of a millimetre so that failures read well.
std::string any_arm(int index, double angle_deg) {
    const auto number = [](int least, int most) {
        return *rc::gen::inRange(least * 100, most * 100 + 1) / 100.0;
    };
    const double eye_mm = number(14, 24);
    const double length_mm = number(45, 110);
    const int kind = *rc::gen::inRange(0, 3);
    const std::string hole = kind == 0   ? R"("bore": )" + text(eye_mm * 0.4)
                             : kind == 1 ? std::string(R"("thread": "M6")")
                                         : R"("slot": {"width": 5, "length": )" + text(number(8, 20)) + "}";
    const double from_mm = *rc::gen::element(0.0, 0.0, -3.0);
    const double height_mm = 8.0 - from_mm + *rc::gen::element(0.0, 2.0, 7.5);
    return R"({"name": "arm-)" + std::to_string(index) + R"(", "length": )" + text(length_mm) +
           R"(, "angle": )" + text(angle_deg) + R"(, "eye": {)" + hole + R"(, "diameter": )" + text(eye_mm) +
           R"(, "height": )" + text(height_mm) + R"(, "from": )" + text(from_mm) + "}}";
}

std::string any_crank() {
    const int count = *rc::gen::inRange(1, 4);
    double angle_deg = *rc::gen::inRange(-180, 180);
    std::string arms;
    for (int i = 0; i < count; ++i) {
        arms += (i > 0 ? ", " : "") + any_arm(i, angle_deg);
        angle_deg += *rc::gen::inRange(60, 140) - (count == 3 ? 20 : 0);
    }
    const double inner_mm = *rc::gen::element(0.0, 4.0, 10.0);
    return parts::testing::crank_text(
        {.arms = "[" + arms + "]", .more = R"("web": {"inner_radius": )" + text(inner_mm) + "}"});
}

/// Moment of inertia about Z of a closed mesh at density 1, from its tetrahedra to the origin.
double axial_moment_mm5(const mesh::Mesh& mesh) {
    double sum = 0.0;
    for (const auto& triangle : mesh.triangles) {
        const auto& a = mesh.vertices[triangle[0]];
        const auto& b = mesh.vertices[triangle[1]];
        const auto& c = mesh.vertices[triangle[2]];
        const double six_volumes = a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) +
                                   a[2] * (b[0] * c[1] - b[1] * c[0]);
        for (const int axis : {0, 1}) {
            const auto k = static_cast<std::size_t>(axis);
            sum += six_volumes *
                   (a[k] * a[k] + b[k] * b[k] + c[k] * c[k] + a[k] * b[k] + b[k] * c[k] + c[k] * a[k]) / 60.0;
        }
    }
    return sum;
}

void expect_made_as_planned() {
    const std::string file = any_crank();
    RC_LOG() << file;
    const parts::Planned planned = parts::plan_file(file, "c.json");
    RC_ASSERT(planned.faults.empty());
    const plan::Plan& plan = *planned.plan;
    const auto prisms = plan::prism_sum(plan);
    // Eyes that run into each other leave no sum; the rule eyes-merge has them.
    RC_PRE(prisms.has_value());
    Body body = examine(plan, quiet);
    RC_ASSERT(body.findings.empty());
    RC_ASSERT(std::abs(body.figures.volume_mm3 / plan::volume_mm3(*prisms) - 1.0) < 1e-9);
    const mesh::Fineness fineness{.chord_mm = 0.01};
    const mesh::Mesh mesh = part_mesh(plan, body, fineness, quiet);
    RC_ASSERT(mesh::is_watertight(mesh));
    const double moment = plan::axial_moment_mm5(*prisms);
    // A chord moves the skin by 0.01 mm at most, at no more than 130 mm from the axis.
    const double slack = body.figures.area_mm2 * fineness.chord_mm * 130.0 * 130.0;
    RC_ASSERT(std::abs(axial_moment_mm5(mesh) - moment) < slack);
    const auto solid = body.solid ? body.solid : kernel().build(plan, body.skin).solid;
    const Measurement found = kernel().measure_step(kernel().step_text(*solid, plan, {}), "c.step");
    const Comparison comparison = compare(plan, expectation(body, 0.0), found, 1e-6);
    for (const Row& row : comparison.rows) {
        if (row.verdict != Verdict::same)
            RC_LOG() << row.what << ": " << row.expected << " / " << row.found << "\n";
    }
    RC_ASSERT(comparison.agrees());
}

TEST(CrankFiles, random_fair_cranks_are_what_the_plan_says) {
    // Two thirds of the plates' number: 200 of 300.
    plan::for_random_cases(expect_made_as_planned, FITUP_PROPERTY_CASES * 2 / 3);
}

}  // namespace
}  // namespace fitup::exchange
