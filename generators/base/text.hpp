#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace fitup {

/// Shortest decimal text that reads back as the same double, whatever the locale ("12.7", "1e-09").
std::string shortest_text(double value);

/// Text with exactly `decimals` decimals, whatever the locale; never "-0.00".
std::string fixed_text(double value, int decimals);

/// Like fixed_text, without trailing zeros ("12.7", "40").
std::string short_text(double value, int most_decimals = 3);

/// Reads a decimal number that fills the whole text; nothing for anything else (also "nan", "inf",
/// hexadecimal).
std::optional<double> parse_number(std::string_view text);

/// The candidate that takes the fewest slips of the fingers (case ignored): a letter put in, left out or
/// changed, or two neighbours swapped. Nothing where one word in three letters would have to be a slip; one
/// is always allowed.
std::optional<std::string> nearest_word(std::string_view word, std::span<const std::string> candidates);

/// "a, b or c".
std::string or_list(std::span<const std::string> words);

/// ASCII lower case.
std::string lower_case(std::string_view text);

}  // namespace fitup
