#pragma once

#include <gtest/gtest.h>

#include <utility>

#include "mesh/rod_mesh.hpp"
#include "parts/examples.hpp"
#include "plan/skin.hpp"
#include "rules/rules.hpp"
#include "sheets/report_page.hpp"

/// Reports of parts of the demo and of small ones, without a kernel.
namespace fitup::sheets::testing {

/// A page on its own feet: it keeps what the input refers to.
struct Sample {
    plan::Plan plan;
    plan::Findings findings = {};
    plan::Work work = {};
    std::string bytes = "{}";

    mesh::Mesh mesh_at(const mesh::Fineness& fineness) const {
        return plan.rod ? mesh::rod_mesh(*plan.rod, fineness)
                        : mesh::mesh_of(plan::skin(plan).skin, fineness);
    }

    ReportInput input() const {
        ReportView view =
            report_view([this](const auto& fineness) { return mesh_at(fineness); }, plan.rod.has_value());
        return {.plan = plan,
                .size = {mesh::volume_mm3(view.mesh), 0.5, mesh::box(view.mesh)},
                .work = work,
                .findings = findings,
                .files = {{"step", "part.step", 12345, true, "read back: 7 comparisons"}},
                .parameter_file = "part.json",
                .parameter_bytes = bytes,
                .view = std::move(view),
                .drawings = {}};
    }

    std::string page() const { return report_page(input()); }
};

inline Sample sample(const std::string& example) {
    Sample made{.plan = parts::testing::example_plan(example)};
    made.findings = rules::judge(made.plan);
    made.work = parts::work_of(made.plan);
    return made;
}

inline Sample sample_of_text(const std::string& text) {
    parts::Planned planned = parts::plan_file(text, "p.json");
    for (const auto& fault : planned.faults) ADD_FAILURE() << parameters::to_text(fault);
    return {.plan = planned.plan.value_or(plan::Plan{}), .bytes = text};
}

}  // namespace fitup::sheets::testing
