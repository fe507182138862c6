#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace fitup::parameters {

struct Node;

/// One thing wrong with a parameter file. Faults are collected, never thrown.
struct Fault {
    std::string file = {};
    int line = 0;            ///< from 1; 0 when the fault has no place
    int column = 0;          ///< in characters, from 1
    std::string key = {};    ///< "patterns[0].circle.count"
    std::string found = {};  ///< as in the file, shortened where long
    std::string wanted = {};
    std::string message = {};  ///< the whole sentence, key path included, without file and place
};

using Faults = std::vector<Fault>;

/// "winch.json:14:22: patterns[0].circle.count: found 0, wanted a whole number from 1 to 2000"
std::string to_text(const Fault& fault);

/// The path of a member or an item: "patterns" and 0 make "patterns[0]", that and "circle"
/// "patterns[0].circle". Keys of other characters than letters, digits, - and _ stand in brackets and quotes.
std::string key_path(const std::string& parent, std::string_view key);
std::string key_path(const std::string& parent, std::size_t index);

/// Completes a fault that has its place and key: "KEY: found FOUND, wanted WANTED", "; ADVICE" where there is
/// some.
Fault fault_of(Fault place, const std::string& found, const std::string& wanted,
               const std::string& advice = {});

/// The usual fault at a value: fault_of() with the value as it stands in the file.
Fault wrong_value(const std::string& file, const Node& node, std::string key, const std::string& wanted,
                  const std::string& advice = {});

/// A fault in words of its own: "KEY: SENTENCE".
Fault wrong_in_words(const std::string& file, const Node& node, std::string key, const std::string& sentence);

}  // namespace fitup::parameters
