#pragma once

#include <string>
#include <variant>
#include <vector>

namespace fitup::plan {

struct WorkItem;

/// What a kind of part is worked out to be, beyond what every part has: lengths to cut and mark, ratios,
/// loads.
using Work = std::vector<WorkItem>;

/// One figure, or a group of them.
struct WorkItem {
    std::string key;    ///< of the result object, with its unit: "cut_length_mm"
    std::string label;  ///< for people, without unit: "cut length"
    /// A number in the key's unit, words, several numbers, a group, a list of groups (a row each), yes or no,
    /// a list of points.
    std::variant<double, std::string, std::vector<double>, Work, std::vector<Work>, bool,
                 std::vector<std::vector<double>>>
        value;
};

}  // namespace fitup::plan
