#include "parameters/wanted.hpp"

#include <algorithm>
#include <array>

#include "base/text.hpp"

namespace fitup::parameters {

namespace {

const Node* number_of(const Node& schema, std::string_view keyword) {
    const Node* number = schema.find(keyword);
    return number != nullptr && number->type == Node::Type::number ? number : nullptr;
}

/// The words of a range whose limits have a unit behind them (" mm").
std::string range_between(const std::array<const Node*, 4>& limits, const std::string& unit) {
    const auto [least, more_than, most, less_than] = limits;
    if (least != nullptr && most != nullptr) {
        return "from " + least->text + unit + " to " + most->text + unit;
    }
    std::string low = more_than != nullptr ? "over " + more_than->text + unit : "";
    if (least != nullptr) low = "at least " + least->text + unit;
    std::string high = less_than != nullptr ? "under " + less_than->text + unit : "";
    if (most != nullptr) high = "at most " + most->text + unit;
    return low.empty() || high.empty() ? low + high : low + " and " + high;
}

std::string length_range(const Node& schema) {
    return range_between({number_of(schema, "x-least-mm"), number_of(schema, "x-more-than-mm"),
                          number_of(schema, "x-most-mm"), nullptr},
                         " mm");
}

std::string count_range(const Node& schema, std::string_view least_keyword, std::string_view most_keyword) {
    const Node* least = number_of(schema, least_keyword);
    const Node* most = number_of(schema, most_keyword);
    if (least != nullptr && most != nullptr) {
        return least->number == most->number ? least->text : least->text + " to " + most->text;
    }
    if (most != nullptr) return "at most " + most->text;
    return least == nullptr || least->number == 0.0 ? std::string() : "at least " + least->text;
}

std::string with(const std::string& words, const std::string& before, const std::string& more,
                 const std::string& after = "") {
    return more.empty() ? words : words + before + more + after;
}

std::string number_words(const Node& schema, const std::string& what) {
    const Node* unit = schema.find("x-unit");
    const std::string words = with(what, " ", range_words(schema));
    return unit == nullptr ? words : words + " (" + unit->text + ")";
}

std::vector<std::string> required_keys(const Node& schema) {
    std::vector<std::string> keys;
    if (const Node* required = schema.find("required")) {
        for (const Node& key : required->items) keys.push_back(key.text);
    }
    return keys;
}

std::string object_words(const Node& schema) {
    if (is_exactly_one_key(schema)) return "exactly one of " + or_list(property_keys(schema));
    const std::string count = count_range(schema, "minProperties", "maxProperties");
    if (count == "at least 1" && schema.has("properties")) {
        return "an object with at least one of " + or_list(property_keys(schema));
    }
    if (!count.empty()) return "an object of " + count;
    const std::vector<std::string> keys = required_keys(schema);
    std::string list;
    for (std::size_t i = 0; i < keys.size(); ++i) {
        list += (i == 0 ? "" : i + 1 == keys.size() ? " and " : ", ") + keys[i];
    }
    return with("an object", " with ", list);
}

std::string type_words(const Node& schema, const std::string& type) {
    if (type == "integer") return number_words(schema, "a whole number");
    if (type == "number") return number_words(schema, "a number");
    if (type == "string")
        return with("a text", " of ", count_range(schema, "minLength", "maxLength"), " characters");
    if (type == "array") return with("a list", " of ", count_range(schema, "minItems", "maxItems"));
    if (type == "boolean") return "true or false";
    return type == "object" ? object_words(schema) : "null";
}

std::string types_words(const Node& schema) {
    const Node* type = schema.find("type");
    if (type == nullptr) return schema.has("properties") ? object_words(schema) : "another value";
    if (type->type == Node::Type::text) return type_words(schema, type->text);
    std::vector<std::string> words;
    for (const Node& one : type->items) words.push_back(type_words(schema, one.text));
    return or_list(words);
}

std::string choice_words(const References& references, const Located& schema, const Node& alternatives,
                         std::string_view keyword) {
    if (const auto keys = alternative_keys(alternatives); !keys.empty()) {
        return (keyword == "oneOf" ? "exactly one of " : "at least one of ") + or_list(keys);
    }
    const std::vector<Located> branches = references.branches(schema, keyword);
    if (const std::string key = kind_key(branches); !key.empty()) {
        return "an object whose " + key + " is " + or_list(all_in_quotes(words_of(references, schema)));
    }
    std::vector<std::string> words;
    for (const Located& branch : branches) words.push_back(wanted(references, branch));
    return or_list(words);
}

void add_texts(std::vector<std::string>& words, const Node* values) {
    if (values == nullptr) return;
    if (values->type == Node::Type::text) words.push_back(values->text);
    for (const Node& item : values->items) add_texts(words, &item);
}

const Node* const_of(const Node& branch, const std::string& key) {
    const Node* properties = branch.find("properties");
    const Node* property = properties == nullptr ? nullptr : properties->find(key);
    return property == nullptr ? nullptr : property->find("const");
}

}  // namespace

std::string range_words(const Node& schema) {
    return range_between({number_of(schema, "minimum"), number_of(schema, "exclusiveMinimum"),
                          number_of(schema, "maximum"), number_of(schema, "exclusiveMaximum")},
                         "");
}

std::string wanted(const References& references, const Located& schema) {
    const Located target = references.target(schema);
    if (target.schema == nullptr || target.schema->type != Node::Type::object) return "nothing here";
    const Node& node = *target.schema;
    if (const Node* words = node.find("x-wanted")) return words->text;
    if (const Node* value = node.find("const")) return shown(*value);
    if (const Node* values = node.find("enum")) {
        std::vector<std::string> words;
        for (const Node& value : values->items) words.push_back(shown(value));
        return or_list(words);
    }
    if (const Node* format = node.find("format"); format != nullptr && format->text == "length") {
        return with("a length", " ", length_range(node)) + " (12, \"12 mm\", \"1/2 in\")";
    }
    if (node.has("type") || node.has("properties")) return types_words(node);
    for (const char* keyword : {"oneOf", "anyOf"}) {
        if (const Node* alternatives = node.find(keyword)) {
            return choice_words(references, target, *alternatives, keyword);
        }
    }
    const std::vector<Located> parts = references.branches(target, "allOf");
    return parts.empty() ? types_words(node) : wanted(references, parts.front());
}

std::vector<std::string> words_of(const References& references, const Located& schema) {
    std::vector<std::string> words;
    const Located target = references.target(schema);
    if (target.schema == nullptr) return words;
    add_texts(words, target.schema->find("const"));
    add_texts(words, target.schema->find("enum"));
    for (const char* keyword : {"oneOf", "anyOf"}) {
        const std::vector<Located> branches = references.branches(target, keyword);
        const std::string key = kind_key(branches);
        for (const Located& branch : branches) {
            if (!key.empty()) {
                add_texts(words, const_of(*branch.schema, key));
            } else {
                const auto more = words_of(references, branch);
                words.insert(words.end(), more.begin(), more.end());
            }
        }
    }
    return words;
}

std::vector<std::string> all_in_quotes(const std::vector<std::string>& words) {
    std::vector<std::string> quoted;
    std::transform(words.begin(), words.end(), std::back_inserter(quoted),
                   [](const std::string& word) { return in_quotes(word); });
    return quoted;
}

std::vector<std::string> alternative_keys(const Node& alternatives) {
    std::vector<std::string> keys;
    for (const Node& branch : alternatives.items) {
        const Node* required = branch.find("required");
        if (branch.members.size() != 1 || required == nullptr || required->items.size() != 1) return {};
        keys.push_back(required->items.front().text);
    }
    return keys;
}

std::vector<std::string> property_keys(const Node& schema) {
    std::vector<std::string> keys;
    if (const Node* properties = schema.find("properties")) {
        for (const Node::Member& member : properties->members) keys.push_back(member.key);
    }
    return keys;
}

bool is_exactly_one_key(const Node& schema) {
    const Node* least = number_of(schema, "minProperties");
    const Node* most = number_of(schema, "maxProperties");
    return least != nullptr && most != nullptr && least->number == 1.0 && most->number == 1.0 &&
           schema.has("properties");
}

std::string kind_key(const std::vector<Located>& branches) {
    if (branches.size() < 2 || branches.front().schema == nullptr) return {};
    for (const std::string& key : property_keys(*branches.front().schema)) {
        const bool in_all = std::all_of(branches.begin(), branches.end(), [&key](const Located& branch) {
            return branch.schema != nullptr && const_of(*branch.schema, key) != nullptr;
        });
        if (in_all) return key;
    }
    return {};
}

}  // namespace fitup::parameters
