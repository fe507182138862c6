#pragma once

#include <span>
#include <string_view>

namespace fitup {

/// A text file compiled into the program, by its name without extension.
struct Embedded {
    std::string_view name;
    std::string_view text;
};

/// The text of that name; empty where there is none.
inline std::string_view embedded_text(std::span<const Embedded> files, std::string_view name) {
    for (const Embedded& file : files) {
        if (file.name == name) return file.text;
    }
    return {};
}

}  // namespace fitup
