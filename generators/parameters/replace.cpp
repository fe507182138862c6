#include "parameters/replace.hpp"

#include <algorithm>
#include <optional>
#include <vector>

#include "base/text.hpp"
#include "parameters/bytes.hpp"
#include "parameters/place.hpp"

namespace fitup::parameters {

namespace {

/// "patterns[0].circle" in its steps: "patterns", "[0]", "circle".
std::vector<std::string> steps_of(std::string_view path) {
    std::vector<std::string> steps;
    std::string step;
    const auto end_step = [&] {
        if (!step.empty()) steps.push_back(std::move(step));
        step.clear();
    };
    for (const char c : path) {
        if (c == '.' || c == '[') end_step();
        if (c != '.') step += c;
        if (c == ']') end_step();
    }
    end_step();
    return steps;
}

std::vector<std::string> names_in(const Node& node) {
    std::vector<std::string> names;
    for (const Node::Member& member : node.members) names.push_back(member.key);
    for (const Node& item : node.items) {
        if (std::string name = name_of(item); !name.empty()) names.push_back(std::move(name));
    }
    return names;
}

const Node* item_at(const Node& list, const std::string& step) {
    const auto index = parse_number(std::string_view(step).substr(1, step.size() - 2));
    if (!index || *index < 0 || *index >= double(list.items.size())) return nullptr;
    return &list.items[std::size_t(*index)];
}

const Node* step_into(const Node& node, const std::string& step) {
    if (step.front() == '[') return step.back() == ']' ? item_at(node, step) : nullptr;
    if (node.type == Node::Type::object) return node.find(step);
    return item_called(node, step);
}

std::string not_there(const Node& node, const std::string& so_far, const std::string& step) {
    const std::string where = so_far.empty() ? "the file" : so_far;
    if (step.front() == '[')
        return where + " has no item " + step + ", but " + std::to_string(node.items.size()) +
               " items from [0] on";
    const std::vector<std::string> names = names_in(node);
    if (names.empty()) return where + " has nothing called \"" + step + "\"";
    const auto nearest = nearest_word(step, names);
    return where + " has no \"" + step + "\"; " +
           (nearest ? "the nearest is \"" + *nearest + "\"" : "it has " + or_list(names));
}

std::size_t token_end(std::string_view text, std::size_t start) {
    if (text[start] == '"') return string_end(text, start);
    return std::min(text.find_first_of(" \t\r\n,]}/", start), text.size());
}

}  // namespace

std::string name_of(const Node& item) {
    for (const char* key : {"name", "id"}) {
        const Node* name = item.type == Node::Type::object ? item.find(key) : nullptr;
        if (name != nullptr && name->type == Node::Type::text) return name->text;
    }
    return {};
}

const Node* item_called(const Node& list, std::string_view name) {
    for (const Node& item : list.items) {
        if (name_of(item) == name) return &item;
    }
    return nullptr;
}

FoundKey find_key(const Node& root, std::string_view path) {
    const Node* node = &root;
    std::string so_far;
    const std::vector<std::string> steps = steps_of(path);
    if (steps.empty()) return {nullptr, "a key is missing"};
    for (const std::string& step : steps) {
        const Node* next = step_into(*node, step);
        if (next == nullptr) return {nullptr, not_there(*node, so_far, step)};
        node = next;
        so_far += (so_far.empty() || step.front() == '[' ? "" : ".") + step;
    }
    return {node, ""};
}

std::string replaced(std::string_view bytes, const Node& node, std::string_view token) {
    const std::string_view text = without_byte_order_mark(bytes);
    const std::size_t mark = bytes.size() - text.size();
    Cursor cursor(text);
    for (cursor.skip_to_token(); !cursor.at_end(); cursor.skip_to_token()) {
        if (cursor.line() == node.line && cursor.column() == node.column) break;
        const char here = cursor.peek();
        const bool is_bracket = here == '{' || here == '}' || here == '[' || here == ']';
        cursor.move_to(is_bracket ? cursor.offset() + 1 : token_end(text, cursor.offset()));
    }
    const std::size_t start = mark + cursor.offset(), end = mark + token_end(text, cursor.offset());
    return std::string(bytes.substr(0, start)) + std::string(token) + std::string(bytes.substr(end));
}

}  // namespace fitup::parameters
