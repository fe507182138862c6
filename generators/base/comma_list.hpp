#pragma once

#include <span>
#include <string>

namespace fitup {

/// "a, b, c".
inline std::string comma_list(std::span<const std::string> words) {
    std::string text;
    for (const std::string& word : words) text += (text.empty() ? "" : ", ") + word;
    return text;
}

}  // namespace fitup
