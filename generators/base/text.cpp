#include "base/text.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <numeric>

namespace fitup {

namespace {

/// Optimal string alignment distance (the restricted Damerau-Levenshtein distance): a letter put in, left out
/// or changed, or two neighbours swapped, is one slip each; no letter takes part in two.
std::size_t edit_distance(std::string_view a, std::string_view b) {
    // Row i holds the distances from the first i letters of `a` to each beginning of `b`.
    std::vector<std::size_t> row(b.size() + 1), before(b.size() + 1), twice_before(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 1; i <= a.size(); ++i) {
        std::swap(twice_before, before);
        std::swap(before, row);
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t changed = before[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            row[j] = std::min({changed, row[j - 1] + 1, before[j] + 1});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                row[j] = std::min(row[j], twice_before[j - 2] + 1);
        }
    }
    return row.back();
}

bool is_zero_text(std::string_view text) {
    return std::all_of(text.begin(), text.end(), [](char c) { return c == '-' || c == '0' || c == '.'; });
}

}  // namespace

std::string shortest_text(double value) {
    std::array<char, 40> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value).ptr;
    return {buffer.data(), end};
}

std::string fixed_text(double value, int decimals) {
    std::array<char, 400> buffer{};
    const auto end =
        std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed, decimals)
            .ptr;
    std::string text(buffer.data(), end);
    if (text.front() == '-' && is_zero_text(text)) text.erase(0, 1);
    return text;
}

std::string short_text(double value, int most_decimals) {
    std::string text = fixed_text(value, most_decimals);
    if (text.find('.') == std::string::npos) return text;
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

std::optional<double> parse_number(std::string_view text) {
    double value = 0.0;
    const auto result = std::from_chars(text.data(), text.data() + text.size(), value);
    if (result.ec != std::errc{} || result.ptr != text.data() + text.size() || !std::isfinite(value))
        return {};
    return value;
}

std::optional<std::string> nearest_word(std::string_view word, std::span<const std::string> candidates) {
    const std::string wanted = lower_case(word);
    std::optional<std::string> nearest;
    std::size_t least = std::max<std::size_t>(1, wanted.size() / 3) + 1;
    for (const std::string& candidate : candidates) {
        const std::size_t distance = edit_distance(wanted, lower_case(candidate));
        if (distance < least) {
            least = distance;
            nearest = candidate;
        }
    }
    return nearest;
}

std::string or_list(std::span<const std::string> words) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) text += i + 1 == words.size() ? " or " : ", ";
        text += words[i];
    }
    return text;
}

std::string lower_case(std::string_view text) {
    std::string lower(text);
    for (char& c : lower) {
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    }
    return lower;
}

}  // namespace fitup
