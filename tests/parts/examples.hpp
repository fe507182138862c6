#pragma once

#include <gtest/gtest.h>

#include <string>

#include "base/file.hpp"
#include "parts/kinds.hpp"

namespace fitup::parts::testing {

/// The plan of a part of the demo ("deck-arm.json").
inline plan::Plan example_plan(const std::string& name) {
    const std::string file = std::string(FITUP_SOURCE_FOLDER "/examples/") + name;
    Planned planned = plan_file(read_file(file), file);
    for (const auto& fault : planned.faults) ADD_FAILURE() << parameters::to_text(fault);
    return planned.plan.value_or(plan::Plan{});
}

}  // namespace fitup::parts::testing
