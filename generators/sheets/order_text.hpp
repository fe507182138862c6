#pragma once

#include <span>
#include <string>
#include <vector>

#include "plan/finding.hpp"
#include "plan/plan.hpp"

namespace fitup::sheets {

/// A file that goes with an order.
struct OrderedFile {
    std::string kind;         ///< "step", "dxf", ..
    std::string name;         ///< without folder
    std::string remark = {};  ///< in what it differs from the part; "": in nothing
};

/// What the part measures, for a comparison with what the shop's own program says.
struct OrderedSize {
    double volume_mm3 = 0.0;
    double mass_kg = 0.0;
    plan::Box box;
};

/// What a shop needs to quote without a question, as plain text at most 100 columns wide: part, revision,
/// number, material, units, one body, size over all, volume and mass, threads and fits with their limits in
/// numbers, position tolerances (of the findings), what is not modelled, and which file is which.
std::string order_text(const plan::Plan& plan, const OrderedSize& size, const plan::Findings& findings,
                       std::span<const OrderedFile> files);

}  // namespace fitup::sheets
