#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "plan/pattern_fastener.hpp"

namespace fitup::parts {

/// What a part's file says of the fasteners of its patterns (`"fastener"`), which changes nothing of the
/// plan. REQUIRES: a file's text that plan_file() plans without faults.
std::vector<plan::PatternFastener> pattern_fasteners(std::string_view bytes, const std::string& file);

}  // namespace fitup::parts
