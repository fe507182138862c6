#pragma once

#include <span>
#include <string_view>

namespace fitup {

/// A text file compiled into the program, by its name without extension.
struct Embedded {
    std::string_view name;
    std::string_view text;
};

}  // namespace fitup
