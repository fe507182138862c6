#pragma once

#include <string>
#include <vector>

namespace fitup::parameters {

struct Node;

/// One thing wrong with a parameter file. Faults are collected, never thrown.
struct Fault {
    std::string file;
    int line = 0;       ///< from 1; 0 when the fault has no place
    int column = 0;     ///< in characters, from 1
    std::string key;    ///< "patterns[0].circle.count"
    std::string found;  ///< as in the file, shortened where long
    std::string wanted;
    std::string message;  ///< the whole sentence, key path included, without file and place
};

using Faults = std::vector<Fault>;

/// "winch.json:14:22: patterns[0].circle.count: found 0, wanted a whole number from 1 to 2000"
std::string to_text(const Fault& fault);

/// The usual fault at a value: "KEY: found VALUE, wanted WANTED", and "; ADVICE" where there is some.
Fault wrong_value(const std::string& file, const Node& node, std::string key, std::string wanted,
                  const std::string& advice = {});

/// A fault in words of its own: "KEY: SENTENCE".
Fault wrong_in_words(const std::string& file, const Node& node, std::string key, const std::string& sentence);

}  // namespace fitup::parameters
