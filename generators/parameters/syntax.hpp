#pragma once

#include <string>
#include <string_view>

#include "parameters/fault.hpp"
#include "parameters/place.hpp"

namespace fitup::parameters {

/// How far a text was sound JSON: what was read last, and inside what.
struct Progress {
    enum class Last { nothing, opening, key, value };
    Last last = Last::nothing;
    /// The innermost open object or list, '{' or '[', and where it was opened; '\0' outside all.
    char open = '\0';
    int open_line = 0;
    int open_column = 0;
    /// Where the last key or value begins; `end` is one past it.
    Cursor begin{""};
    Cursor end{""};
};

/// What is wrong behind the sound part of a text that is not JSON, in plain words and at its place.
Fault syntax_fault(const Progress& progress, const std::string& file);

}  // namespace fitup::parameters
