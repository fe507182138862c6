#include "parameters/fault.hpp"

#include "parameters/node.hpp"

namespace fitup::parameters {

namespace {

bool is_plain_key(std::string_view key) {
    constexpr std::string_view plain = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-";
    return !key.empty() && key.size() <= 64 && key.find_first_not_of(plain) == std::string_view::npos;
}

std::string sentence_at(const std::string& key, const std::string& sentence) {
    return key.empty() ? sentence : key + ": " + sentence;
}

}  // namespace

std::string to_text(const Fault& fault) {
    std::string text = fault.file;
    if (fault.line > 0) text += ":" + std::to_string(fault.line) + ":" + std::to_string(fault.column);
    return text + ": " + fault.message;
}

std::string key_path(const std::string& parent, std::string_view key) {
    if (!is_plain_key(key)) return parent + "[" + in_quotes(key) + "]";
    return parent.empty() ? std::string(key) : parent + "." + std::string(key);
}

std::string key_path(const std::string& parent, std::size_t index) {
    return parent + "[" + std::to_string(index) + "]";
}

Fault fault_of(Fault place, const std::string& found, const std::string& wanted, const std::string& advice) {
    place.found = found;
    place.wanted = wanted;
    place.message = sentence_at(place.key, "found " + found + ", wanted " + wanted);
    if (!advice.empty()) place.message += "; " + advice;
    return place;
}

Fault wrong_value(const std::string& file, const Node& node, std::string key, const std::string& wanted,
                  const std::string& advice) {
    return fault_of({.file = file, .line = node.line, .column = node.column, .key = std::move(key)},
                    shown(node), wanted, advice);
}

Fault wrong_in_words(const std::string& file, const Node& node, std::string key,
                     const std::string& sentence) {
    Fault fault{.file = file, .line = node.line, .column = node.column, .key = std::move(key)};
    fault.found = shown(node);
    fault.message = sentence_at(fault.key, sentence);
    return fault;
}

}  // namespace fitup::parameters
