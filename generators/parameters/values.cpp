#include <algorithm>
#include <cmath>
#include <regex>

#include "parameters/walker.hpp"

namespace fitup::parameters {

namespace {

/// Positions are exact to a millionth of a millimetre; a length that is nearer to a limit than that is not
/// over it.
constexpr double least_step_mm = 1e-6;

/// The library's matcher calls itself for each character; longer texts match no pattern. (Names end far
/// earlier.)
constexpr std::size_t longest_matched = 1000;

unsigned bit(Node::Type type) { return 1U << static_cast<unsigned>(type); }

constexpr unsigned every_type = 0x3F;

bool is_type(const Node& value, const std::string& name) {
    switch (value.type) {
        case Node::Type::null:
            return name == "null";
        case Node::Type::boolean:
            return name == "boolean";
        case Node::Type::number:
            return name == "number" || (name == "integer" && value.whole);
        case Node::Type::text:
            return name == "string";
        case Node::Type::list:
            return name == "array";
        case Node::Type::object:
            return name == "object";
    }
    return false;
}

unsigned type_bit(const std::string& name) {
    if (name == "null") return bit(Node::Type::null);
    if (name == "boolean") return bit(Node::Type::boolean);
    if (name == "string") return bit(Node::Type::text);
    if (name == "array") return bit(Node::Type::list);
    return name == "object" ? bit(Node::Type::object) : bit(Node::Type::number);
}

bool fits_type(const Node& value, const Node& schema) {
    const Node* type = schema.find("type");
    if (type == nullptr) return true;
    if (type->type == Node::Type::text) return is_type(value, type->text);
    return std::any_of(type->items.begin(), type->items.end(),
                       [&value](const Node& one) { return is_type(value, one.text); });
}

bool fits_words(const Node& value, const Node& schema) {
    const Node* constant = schema.find("const");
    if (constant != nullptr && !same_value(value, *constant)) return false;
    const Node* words = schema.find("enum");
    return words == nullptr || std::any_of(words->items.begin(), words->items.end(),
                                           [&value](const Node& one) { return same_value(value, one); });
}

/// A multiple to the last digits of a double: 0.0075 is one of 0.0001.
bool is_multiple(double value, double step) {
    const double quotient = value / step;
    if (!std::isfinite(quotient)) return false;
    constexpr double relative = 4e-16;
    return std::abs(quotient - std::round(quotient)) <= relative * std::max(1.0, std::abs(quotient));
}

bool fits_number(const Node& value, const Node& schema) {
    const double number = value.number;
    const auto holds = [&schema](const char* keyword, auto condition) {
        const Node* limit = schema.find(keyword);
        return limit == nullptr || condition(limit->number);
    };
    return holds("minimum", [number](double limit) { return number >= limit; }) &&
           holds("maximum", [number](double limit) { return number <= limit; }) &&
           holds("exclusiveMinimum", [number](double limit) { return number > limit; }) &&
           holds("exclusiveMaximum", [number](double limit) { return number < limit; }) &&
           holds("multipleOf", [number](double limit) { return is_multiple(number, limit); });
}

double characters(const std::string& text) {
    return static_cast<double>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

bool fits_text(const Node& value, const Node& schema) {
    const Node* least = schema.find("minLength");
    const Node* most = schema.find("maxLength");
    if (least != nullptr && characters(value.text) < least->number) return false;
    if (most != nullptr && characters(value.text) > most->number) return false;
    const Node* pattern = schema.find("pattern");
    return pattern == nullptr || matches(value.text, pattern->text);
}

bool is_in_range(double length_mm, const Node& schema) {
    const Node* least = schema.find("x-least-mm");
    const Node* more_than = schema.find("x-more-than-mm");
    const Node* most = schema.find("x-most-mm");
    return (least == nullptr || length_mm >= least->number) &&
           (more_than == nullptr || length_mm >= more_than->number + least_step_mm) &&
           (most == nullptr || length_mm <= most->number);
}

/// A bare number without known units is wrong only where it is so in both.
bool fits_length(const Node& value, const Node& schema, std::optional<Units> units) {
    const Node* format = schema.find("format");
    if (format == nullptr || format->text != "length") return true;
    const auto fits_in = [&](Units as) {
        const auto length = length_mm(value, as);
        return length && is_in_range(*length, schema);
    };
    return units ? fits_in(*units) : fits_in(Units::mm) || fits_in(Units::in);
}

unsigned types_of_words(const Node& schema) {
    if (const Node* constant = schema.find("const")) return bit(constant->type);
    unsigned types = 0;
    if (const Node* words = schema.find("enum")) {
        for (const Node& word : words->items) types |= bit(word.type);
    }
    return types;
}

}  // namespace

bool matches(const std::string& text, const std::string& pattern) {
    if (text.size() > longest_matched) return false;
    try {
        return std::regex_search(text, std::regex(pattern, std::regex::ECMAScript));
    } catch (const std::regex_error&) {
        return false;
    }
}

bool fits_alone(const Node& value, const Node& schema, const Judging& judging) {
    if (!fits_type(value, schema) || !fits_words(value, schema)) return false;
    const bool is_number = value.type == Node::Type::number;
    const bool is_text = value.type == Node::Type::text;
    if (is_number && !fits_number(value, schema)) return false;
    if (is_text && !fits_text(value, schema)) return false;
    return !judging.ours || !(is_number || is_text) || fits_length(value, schema, judging.units);
}

unsigned accepted_types(const References& references, const Located& schema) {
    const Located target = references.target(schema);
    if (target.schema == nullptr || target.schema->type != Node::Type::object) return every_type;
    const Node& node = *target.schema;
    if (const unsigned types = types_of_words(node)) return types;
    const Node* type = node.find("type");
    if (type != nullptr && type->type == Node::Type::text) return type_bit(type->text);
    unsigned types = 0;
    if (type != nullptr) {
        for (const Node& one : type->items) types |= type_bit(one.text);
        return types;
    }
    for (const char* keyword : {"oneOf", "anyOf"}) {
        for (const Located& branch : references.branches(target, keyword))
            types |= accepted_types(references, branch);
    }
    return types == 0 ? every_type : types;
}

}  // namespace fitup::parameters
