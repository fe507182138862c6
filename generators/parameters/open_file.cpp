#include "parameters/open_file.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "parameters/schema.hpp"

namespace fitup::parameters {

namespace {

std::string quoted_list(std::span<const std::string> kinds) {
    std::vector<std::string> names(kinds.begin(), kinds.end());
    for (std::string& name : names) name = "\"" + name + "\"";
    return or_list(names);
}

/// A file of the other role is sound, but given to the wrong command.
std::string of_the_other_role(Role role, const std::string& wanted) {
    return role == Role::part ? "this file is a calculation, for `fitup calculate`; wanted " + wanted
                              : "this file is a part, for `fitup make` or `fitup check`; wanted " + wanted;
}

/// What is wrong with the key that names the kind.
Fault unknown_kind(const Document& document, Role role, std::span<const std::string> kinds) {
    const Node& root = *document.root;
    const std::string key(key_of(role));
    const std::string wanted = "\"" + key + "\": " + quoted_list(kinds);
    if (const Node* value = root.find(key)) {
        const auto nearest = nearest_word(value->text, kinds);
        return wrong_value(document.file, *value, key, quoted_list(kinds),
                           nearest ? "the nearest is \"" + *nearest + "\"" : "");
    }
    const std::string other(key_of(role == Role::part ? Role::calculation : Role::part));
    if (const Node* value = root.find(other))
        return wrong_in_words(document.file, *value, other, of_the_other_role(role, wanted));
    return wrong_in_words(document.file, root, key, "missing; wanted " + wanted);
}

}  // namespace

std::string_view key_of(Role role) { return role == Role::part ? "part" : "calculation"; }

Opened open_file(std::string_view bytes, const std::string& file, Role role,
                 std::span<const std::string> kinds) {
    Opened opened{read_json(bytes, file), ""};
    Document& document = opened.document;
    if (!document.root) return opened;
    if (document.root->type != Node::Type::object) {
        document.faults.push_back(
            wrong_value(file, *document.root, "",
                        "an object with format, " + std::string(key_of(role)) + ", name and so on"));
        return opened;
    }
    const Node* value = document.root->find(key_of(role));
    if (value == nullptr || std::find(kinds.begin(), kinds.end(), value->text) == kinds.end()) {
        document.faults.push_back(unknown_kind(document, role, kinds));
        return opened;
    }
    opened.kind = value->text;
    document.faults = check(document, opened.kind);
    return opened;
}

}  // namespace fitup::parameters
