#include "parameters/node.hpp"

#include <algorithm>
#include <array>

namespace fitup::parameters {

namespace {

constexpr std::size_t longest_shown = 60;

/// At most `most` characters of UTF-8; a cut never falls inside a character.
std::string cut(std::string_view text, std::size_t most) {
    std::size_t characters = 0;
    for (std::size_t at = 0; at < text.size(); ++at) {
        const bool starts = (static_cast<unsigned char>(text[at]) & 0xC0U) != 0x80U;
        if (starts && ++characters > most) return std::string(text.substr(0, at)) + "...";
    }
    return std::string(text);
}

std::string escaped(char c) {
    constexpr std::string_view digits = "0123456789abcdef";
    const auto code = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') return std::string("\\") + c;
    if (c == '\n') return "\\n";
    if (c == '\t') return "\\t";
    if (code >= 0x20 && code != 0x7F) return std::string(1, c);
    return std::string("\\u00") + digits[code >> 4U] + digits[code & 0xFU];
}

bool same_items(const Node& a, const Node& b) {
    return std::equal(a.items.begin(), a.items.end(), b.items.begin(), b.items.end(), same_value);
}

bool same_members(const Node& a, const Node& b) {
    if (a.members.size() != b.members.size()) return false;
    return std::all_of(a.members.begin(), a.members.end(), [&b](const Node::Member& member) {
        const Node* other = b.find(member.key);
        return other != nullptr && same_value(member.value, *other);
    });
}

}  // namespace

Node node_of(Node::Type type) {
    Node node;
    node.type = type;
    return node;
}

Node text_node(std::string text) {
    Node node = node_of(Node::Type::text);
    node.text = std::move(text);
    return node;
}

const Node* Node::find(std::string_view key) const {
    const auto found = std::find_if(members.begin(), members.end(),
                                    [key](const Member& member) { return member.key == key; });
    return found == members.end() ? nullptr : &found->value;
}

std::string in_quotes(std::string_view text) {
    std::string result = "\"";
    for (const char c : cut(text, longest_shown)) result += escaped(c);
    return result + "\"";
}

std::string shown(const Node& node) {
    switch (node.type) {
        case Node::Type::null:
            return "null";
        case Node::Type::boolean:
            return node.truth ? "true" : "false";
        case Node::Type::number:
            return cut(node.text, longest_shown);
        case Node::Type::text:
            return in_quotes(node.text);
        case Node::Type::list:
            return node.items.empty() ? "an empty list" : "a list of " + std::to_string(node.items.size());
        case Node::Type::object:
            return node.members.empty() ? "an empty object" : "an object";
    }
    return {};
}

bool same_value(const Node& a, const Node& b) {
    if (a.type != b.type) return false;
    switch (a.type) {
        case Node::Type::null:
            return true;
        case Node::Type::boolean:
            return a.truth == b.truth;
        case Node::Type::number:
            return a.number == b.number;
        case Node::Type::text:
            return a.text == b.text;
        case Node::Type::list:
            return same_items(a, b);
        case Node::Type::object:
            return same_members(a, b);
    }
    return false;
}

}  // namespace fitup::parameters
