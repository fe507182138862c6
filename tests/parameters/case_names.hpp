#pragma once

#include <cctype>
#include <iomanip>
#include <sstream>
#include <string>
#include <string_view>

namespace fitup::parameters {

/// A test's name that stays the same from run to run and is read by a person: the case's place in its list
/// and the words of its message.
inline std::string case_name(std::size_t index, std::string_view message) {
    constexpr std::size_t longest = 60;
    std::ostringstream name;
    name << std::setw(2) << std::setfill('0') << index;
    bool in_word = false;
    for (const char letter : message.substr(0, longest)) {
        const bool is_plain =
            std::isalnum(static_cast<unsigned char>(letter)) != 0 && static_cast<unsigned char>(letter) < 128;
        if (is_plain) name << (in_word ? "" : "_") << letter;
        in_word = is_plain;
    }
    return name.str();
}

}  // namespace fitup::parameters
