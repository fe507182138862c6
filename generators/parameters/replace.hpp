#pragma once

#include <string>
#include <string_view>

#include "parameters/node.hpp"

/// Changing one value of a file's text and nothing else: comments, order and layout stay byte for byte.
namespace fitup::parameters {

/// What an item of a list is called, by its `name` or `id`; empty where it has neither.
std::string name_of(const Node& item);

/// The item of that name; null where there is none.
const Node* item_called(const Node& list, std::string_view name);

/// A value found by its key path, or why there is none.
struct FoundKey {
    const Node* node = nullptr;
    std::string complaint;  ///< where there is none: what is there instead
};

/// Follows a path such as `joggle.rise`, `patterns[0].circle.diameter` or `patterns.gearbox.rotate`, where a
/// word after a list is the `name` (or `id`) of one of its items.
FoundKey find_key(const Node& root, std::string_view path);

/// The text with the value at `node` written anew.
/// @param bytes  the text that `node` was read from
/// @param node   a number or a text of it
/// @param token  JSON
std::string replaced(std::string_view bytes, const Node& node, std::string_view token);

}  // namespace fitup::parameters
