#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "parameters/fault.hpp"

namespace fitup::parameters {

/// A JSON value that knows where it stands in its file.
struct Node {
    enum class Type { null, boolean, number, text, list, object };
    struct Member;

    Type type = Type::null;
    int line = 0;
    int column = 0;
    bool truth = false;
    double number = 0.0;
    /// The number is written without fraction and exponent, or is whole (3.0).
    bool whole = false;
    /// Text value; of a number its spelling in the file.
    std::string text;
    std::vector<Node> items;
    std::vector<Member> members;  ///< in the file's order

    /// The member's value (of a key that stands twice the first), or null when there is none.
    const Node* find(std::string_view key) const;
    bool has(std::string_view key) const { return find(key) != nullptr; }
};

struct Node::Member {
    std::string key;
    int line = 0;
    int column = 0;
    Node value;
};

/// A node of one type, without content and place yet.
Node node_of(Node::Type type);
/// A text as a node.
Node text_node(std::string text);

/// A file read into nodes; without `root` the faults say why. Double keys are faults, but the root stands
/// (the first of the two counts), so that everything else wrong with the file can be told as well.
struct Document {
    std::string file;
    std::optional<Node> root = {};
    Faults faults = {};
};

/// Reads JSON with // and /* */ comments. Refused with a place: syntax errors, a key twice in one object, NUL
/// bytes, text that is not UTF-8, nesting deeper than 64, numbers that no double holds, an empty file, files
/// over 16 MiB or of over 500,000 values. After a syntax error nothing more is read.
Document read_json(std::string_view bytes, std::string file);

/// Short text of a value for messages: `"M10x1.5"`, `-3`, `a list of 4`. Long ones are cut, with `...`.
std::string shown(const Node& node);

/// A text in double quotes with control characters escaped (safe for a terminal), cut after 60 characters.
std::string in_quotes(std::string_view text);

/// The same JSON value: 1 equals 1.0, the order of keys is free, places and spellings do not count.
bool same_value(const Node& a, const Node& b);

}  // namespace fitup::parameters
