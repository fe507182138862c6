#include "parameters/explain.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "parameters/key_entry.hpp"
#include "parameters/wanted.hpp"

namespace fitup::parameters {

namespace {

constexpr std::size_t width = 100;

/// Words in lines of at most `width` characters, each behind `indent` blanks.
std::string wrapped(std::string_view text, std::size_t indent) {
    std::string lines;
    std::string line;
    const auto end_line = [&] {
        if (!line.empty()) lines += std::string(indent, ' ') + line + "\n";
        line.clear();
    };
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(' '), text.size());
        if (!line.empty() && indent + line.size() + 1 + end > width) end_line();
        line += (line.empty() ? "" : " ") + std::string(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    end_line();
    return lines;
}

std::string presence(const KeyEntry& entry) {
    if (entry.required) return "required";
    if (entry.one_of_some) return "one of several";
    const std::string otherwise = default_of(entry);
    return otherwise.empty() ? "optional" : "default: " + otherwise;
}

/// The names of the keys inside, for the listing of a level above.
std::string names_inside(const References& references, const KeyEntry& entry) {
    std::string names;
    std::vector<std::string> seen;
    for (const KeyEntry& inner : keys_inside(references, entry.schema)) {
        if (std::find(seen.begin(), seen.end(), inner.key) != seen.end()) continue;
        seen.push_back(inner.key);
        names += (names.empty() ? "" : ", ") + inner.key;
    }
    return names;
}

/// What is said of a key below its name.
std::string body(const References& references, const KeyEntry& entry, std::size_t indent) {
    std::string text = wrapped(description_of(entry), indent);
    text += wrapped("wanted: " + wanted(references, entry.schema), indent);
    if (!entry.kinds.empty()) text += wrapped("only with " + or_list(entry.kinds), indent);
    return text + wrapped(presence(entry), indent);
}

std::string listed(const References& references, const Located& schema) {
    std::string text;
    for (const KeyEntry& entry : keys_inside(references, schema)) {
        text += "\n  " + entry.key + "\n" + body(references, entry, 6);
        const std::string names = names_inside(references, entry);
        if (!names.empty()) text += wrapped("keys: " + names, 6);
    }
    return text;
}

std::string about_root(const References& references, std::string_view name) {
    const Node& root = *references.root().schema;
    const Node* title = root.find("title");
    const Node* description = root.find("description");
    std::string text = std::string(name) + (title == nullptr ? "" : ": " + title->text) + "\n";
    if (description != nullptr) text += wrapped(description->text, 2);
    return text + listed(references, references.root());
}

bool is_last_part(const std::string& path, std::string_view key) {
    return path.size() > key.size() + 1 && path.ends_with(key) && path[path.size() - key.size() - 1] == '.';
}

Explanation no_such_key(std::string_view schema_name, std::string_view path) {
    const std::vector<std::string> known = keys(schema_name);
    std::vector<std::string> near;
    for (const std::string& key : known) {
        if (is_last_part(key, path) && near.size() < 5) near.push_back(key);
    }
    if (near.empty()) {
        if (const auto nearest = nearest_word(path, known)) near.push_back(*nearest);
    }
    const std::string sentence = std::string(schema_name) + " has no key " + in_quotes(path);
    return {false, near.empty() ? sentence : sentence + "; did you mean " + or_list(near) + "?"};
}

void add_keys(const References& references, const Located& schema, const std::string& parent,
              std::vector<std::string>& all) {
    for (const KeyEntry& entry : keys_inside(references, schema)) {
        const std::string path = parent.empty() ? entry.key : parent + "." + entry.key;
        if (std::find(all.begin(), all.end(), path) == all.end()) all.push_back(path);
        add_keys(references, entry.schema, path, all);
    }
}

}  // namespace

Explanation explain(std::string_view schema_name, std::string_view key_path) {
    const References* references = compiled_schema(schema_name);
    if (references == nullptr) return {false, "there is no kind " + in_quotes(schema_name)};
    if (key_path.empty()) return {true, about_root(*references, schema_name)};
    const std::vector<KeyEntry> entries = keys_at(*references, key_path);
    if (entries.empty()) return no_such_key(schema_name, key_path);
    std::string text = std::string(key_path) + "\n";
    for (const KeyEntry& entry : entries) {
        text += body(*references, entry, 2) + listed(*references, entry.schema);
    }
    return {true, text};
}

std::vector<std::string> keys(std::string_view schema_name) {
    std::vector<std::string> all;
    if (const References* references = compiled_schema(schema_name)) {
        add_keys(*references, references->root(), "", all);
    }
    return all;
}

}  // namespace fitup::parameters
