#include "parameters/length.hpp"

#include <cstdint>

#include "base/text.hpp"
#include "base/units.hpp"

namespace fitup::parameters {

namespace {

/// An exact fraction, both halves small enough that a double holds them.
struct Fraction {
    std::int64_t over = 0;
    std::int64_t under = 1;
};

/// Longest run of digits whose value, 254 times over, is still below 2^53, so that one division is the only
/// rounding.
constexpr std::size_t most_digits = 13;

std::optional<std::int64_t> whole_number(std::string_view digits) {
    if (digits.empty() || digits.size() > most_digits) return {};
    std::int64_t value = 0;
    for (const char c : digits) {
        if (c < '0' || c > '9') return {};
        value = value * 10 + (c - '0');
    }
    return value;
}

/// "12", "0.4995", ".5": an exact fraction of a power of ten.
std::optional<Fraction> decimal(std::string_view text) {
    const std::size_t point = text.find('.');
    if (point == std::string_view::npos) {
        const auto whole = whole_number(text);
        return whole ? std::optional(Fraction{*whole, 1}) : std::nullopt;
    }
    const std::string digits = std::string(text.substr(0, point)) + std::string(text.substr(point + 1));
    const auto value = whole_number(digits);
    if (!value || point + 1 == text.size()) return {};
    Fraction fraction{*value, 1};
    for (std::size_t i = point + 1; i < text.size(); ++i) fraction.under *= 10;
    return fraction;
}

/// "3/8"; in a mixed number it must be less than one.
std::optional<Fraction> plain_fraction(std::string_view text) {
    constexpr std::size_t most = 6;
    const std::size_t stroke = text.find('/');
    if (stroke == std::string_view::npos || stroke > most || text.size() - stroke > most + 1) return {};
    const auto over = whole_number(text.substr(0, stroke));
    const auto under = whole_number(text.substr(stroke + 1));
    if (!over || !under || *under == 0) return {};
    return Fraction{*over, *under};
}

/// "1-1/4", "1 1/4".
std::optional<Fraction> mixed_number(std::string_view text) {
    constexpr std::size_t most = 6;
    const std::size_t gap = text.find_first_of("- ");
    if (gap == std::string_view::npos || gap > most) return {};
    const auto whole = whole_number(text.substr(0, gap));
    const auto part = plain_fraction(text.substr(gap + 1));
    if (!whole || !part || part->over >= part->under) return {};
    return Fraction{*whole * part->under + part->over, part->under};
}

std::optional<Fraction> unsigned_number(std::string_view text) {
    if (const auto number = decimal(text)) return number;
    if (const auto number = plain_fraction(text)) return number;
    return mixed_number(text);
}

/// A number times `over / under`, rounded once: both products are exact in a double.
double times(const Fraction& number, std::int64_t over, std::int64_t under) {
    return static_cast<double>(number.over * over) /
           (static_cast<double>(number.under) * static_cast<double>(under));
}

std::optional<double> in_unit(const Fraction& number, std::string_view unit) {
    if (unit == "mm") return times(number, 1, 1);
    if (unit == "in") return times(number, 254, 10);
    if (unit == "thou") return times(number, 254, 10000);
    return {};
}

/// Decimals longer than most_digits, as calculators print them: no longer exact to the last bit.
std::optional<double> long_decimal(std::string_view text, std::string_view unit) {
    if (text.empty() || text.find_first_not_of("0123456789.") != std::string_view::npos) return {};
    if (text.back() == '.') return {};
    const auto value = parse_number(text);
    const auto one = in_unit({1, 1}, unit);
    if (!value || !one) return {};
    return *value * *one;
}

}  // namespace

std::optional<double> length_mm(std::string_view text) {
    const bool negative = text.starts_with('-');
    if (negative) text.remove_prefix(1);
    const std::size_t unit_at = text.find_first_of("mit");
    if (unit_at == std::string_view::npos) return {};
    const std::string_view unit = text.substr(unit_at);
    std::string_view number = text.substr(0, unit_at);
    while (number.ends_with(' ')) number.remove_suffix(1);
    const auto exact = unsigned_number(number);
    const auto value = exact ? in_unit(*exact, unit) : long_decimal(number, unit);
    if (!value) return {};
    return negative && *value != 0.0 ? -*value : *value;
}

std::optional<double> length_mm(const Node& node, Units units) {
    if (node.type == Node::Type::text) return length_mm(node.text);
    if (node.type != Node::Type::number) return {};
    if (units == Units::mm) return node.number;
    // As a text in inches where its spelling allows: 0.4995 and "0.4995 in" are the same length to the last
    // bit.
    const auto exact = length_mm(node.text + " in");
    return exact ? *exact : node.number * mm_per_inch;
}

}  // namespace fitup::parameters
