#pragma once

#include <string>
#include <vector>

#include "parameters/length.hpp"
#include "parameters/node.hpp"

namespace fitup::parameters {

/// A value that is not the same in two files.
struct Difference {
    std::string key;               ///< path; items of lists by their name or id where they have one
    const Node* before = nullptr;  ///< null: only in the later file
    const Node* after = nullptr;   ///< null: only in the earlier one
};

/// What differs between two values, in the order of the earlier one, then what is new. Places, comments,
/// order of keys and spelling do not count: 1 is 1.0, and in files of the units given "3/8 in" is 9.525 mm.
/// Named items of lists are matched by name, others by their place.
/// @param before_units  what a bare number means in the earlier file; likewise the later one
std::vector<Difference> differences(const Node& before, Units before_units, const Node& after,
                                    Units after_units);

}  // namespace fitup::parameters
