#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "parts/kinds.hpp"

/// Small plates for tests: a round one of 430 by 40 mm with whatever a test adds.
namespace fitup::parts::testing {

struct Base {
    std::string units = "mm";
    std::string thickness = "40";
    std::string outline = R"({"round": {"diameter": 430}})";
};

/// A parameter file on three lines: what all have, the base, then `extra` on line 3.
inline std::string plate_text(const std::string& extra, const Base& base = {}) {
    return R"({"format": 1, "part": "adapter_plate", "name": "plate", "material": "mild steel",)"
           "\n"
           R"("units": ")" +
           base.units + R"(", "thickness": )" + base.thickness + R"(, "outline": )" + base.outline +
           (extra.empty() ? "" : ",\n") + extra + "}";
}

inline std::vector<std::string> fault_texts(const std::string& text) {
    std::vector<std::string> texts;
    for (const auto& fault : plan_file(text, "p.json").faults) texts.push_back(parameters::to_text(fault));
    return texts;
}

/// The plan of a file that must be right.
inline plan::Plan plan_of(const std::string& text) {
    Planned planned = plan_file(text, "p.json");
    for (const auto& fault : planned.faults) ADD_FAILURE() << parameters::to_text(fault) << "\nin\n" << text;
    return planned.plan.value_or(plan::Plan{});
}

inline plan::Plan plan_with(const std::string& extra, const Base& base = {}) {
    return plan_of(plate_text(extra, base));
}

/// Faults of a plate with `extra`, without file, line and column.
inline std::vector<std::string> messages_with(const std::string& extra, const Base& base = {}) {
    std::vector<std::string> texts;
    for (const auto& fault : plan_file(plate_text(extra, base), "p.json").faults)
        texts.push_back(fault.message);
    return texts;
}

/// One pattern named `p`, seen from B, of one layout and hole.
inline std::string pattern(const std::string& layout, const std::string& hole,
                           const std::string& seen = R"("seen_from": "B")") {
    return R"("patterns": [{"name": "p", )" + seen + ", " + layout + R"(, "hole": )" + hole + "}]";
}

/// The hole of that kind at [100, 0].
inline plan::Hole hole_of(const std::string& hole, const Base& base = {}) {
    const plan::Plan plan = plan_with(pattern(R"("points": [[100, 0]])", hole), base);
    return plan.holes.empty() ? plan::Hole{} : plan.holes.front();
}

inline const plan::Hole& hole_named(const plan::Plan& plan, const std::string& id) {
    const auto found = std::find_if(plan.holes.begin(), plan.holes.end(),
                                    [&](const plan::Hole& hole) { return hole.id == id; });
    static const plan::Hole none;
    if (found != plan.holes.end()) return *found;
    ADD_FAILURE() << "no hole " << id;
    return none;
}

using Messages = std::vector<std::string>;

}  // namespace fitup::parts::testing
