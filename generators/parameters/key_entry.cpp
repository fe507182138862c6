#include "parameters/key_entry.hpp"

#include <algorithm>

#include "parameters/wanted.hpp"

namespace fitup::parameters {

namespace {

bool lists(const Node* texts, const std::string& text) {
    return texts != nullptr && std::any_of(texts->items.begin(), texts->items.end(),
                                           [&text](const Node& one) { return one.text == text; });
}

std::string json_text(const Node& node) {
    if (node.type != Node::Type::list) return shown(node);
    std::string text = "[";
    for (const Node& item : node.items) text += (text.size() > 1 ? ", " : "") + json_text(item);
    return text + "]";
}

/// The same key again, from another kind or alternative: only what differs is a second entry.
void add(std::vector<KeyEntry>& entries, const KeyEntry& entry) {
    const auto same = std::find_if(entries.begin(), entries.end(), [&entry](const KeyEntry& other) {
        return other.key == entry.key && other.schema.schema == entry.schema.schema &&
               description_of(other) == description_of(entry) && default_of(other) == default_of(entry);
    });
    if (same == entries.end()) {
        entries.push_back(entry);
    } else {
        same->kinds.insert(same->kinds.end(), entry.kinds.begin(), entry.kinds.end());
        same->required = same->required || entry.required;
    }
}

void add_properties(const References& references, const Located& schema, std::vector<KeyEntry>& entries) {
    const Node* properties = schema.schema->find("properties");
    if (properties == nullptr) return;
    for (const Node::Member& member : properties->members) {
        const Located inner = references.target(references.inside(schema, member.value));
        add(entries, {.key = member.key,
                      .written = &member.value,
                      .schema = inner,
                      .required = lists(schema.schema->find("required"), member.key),
                      .one_of_some = is_exactly_one_key(*schema.schema),
                      .kinds = {}});
    }
}

/// The keys of the alternatives, each with the kinds that have it.
void add_alternatives(const References& references, const Located& schema, std::string_view keyword,
                      std::vector<KeyEntry>& entries) {
    const std::vector<Located> branches = references.branches(schema, keyword);
    const std::string kind = kind_key(branches);
    std::vector<KeyEntry> all;
    for (const Located& branch : branches) {
        for (KeyEntry entry : keys_inside(references, branch)) {
            if (!kind.empty() && entry.key != kind) {
                const Node* word = branch.schema->find("properties")->find(kind)->find("const");
                entry.kinds = {kind + " " + shown(*word)};
            }
            add(all, entry);
        }
    }
    // What tells the kinds apart comes first.
    std::stable_partition(all.begin(), all.end(),
                          [&kind](const KeyEntry& entry) { return entry.key == kind; });
    for (KeyEntry& entry : all) {
        if (entry.kinds.size() == branches.size() || kind.empty()) entry.kinds.clear();
        add(entries, entry);
    }
}

void mark_alternative_keys(const Node& schema, std::vector<KeyEntry>& entries) {
    const auto mark = [&entries](const Node* alternatives) {
        if (alternatives == nullptr) return;
        const auto keys = alternative_keys(*alternatives);
        for (KeyEntry& entry : entries) {
            if (std::find(keys.begin(), keys.end(), entry.key) != keys.end()) entry.one_of_some = true;
        }
    };
    mark(schema.find("oneOf"));
    if (const Node* parts = schema.find("allOf")) {
        for (const Node& part : parts->items) mark(part.find("oneOf"));
    }
}

}  // namespace

std::vector<KeyEntry> keys_inside(const References& references, const Located& schema) {
    std::vector<KeyEntry> entries;
    const Located target = references.target(schema);
    if (target.schema == nullptr || target.schema->type != Node::Type::object) return entries;
    const Located items = references.member(target, "items");
    if (items.schema != nullptr) return keys_inside(references, items);
    add_properties(references, target, entries);
    for (const char* keyword : {"allOf", "anyOf", "oneOf"})
        add_alternatives(references, target, keyword, entries);
    const Located rest = references.member(target, "additionalProperties");
    if (rest.schema != nullptr && rest.schema->type == Node::Type::object) {
        entries.push_back(
            {.key = any_name, .written = rest.schema, .schema = references.target(rest), .kinds = {}});
    }
    mark_alternative_keys(*target.schema, entries);
    return entries;
}

std::vector<KeyEntry> keys_at(const References& references, std::string_view path) {
    std::vector<KeyEntry> found{{.key = "", .written = nullptr, .schema = references.root(), .kinds = {}}};
    while (!path.empty()) {
        const std::size_t end = std::min(path.find('.'), path.size());
        const std::string_view key = path.substr(0, std::min(end, path.find('[')));
        path.remove_prefix(std::min(end + 1, path.size()));
        std::vector<KeyEntry> next;
        for (const KeyEntry& entry : found) {
            for (const KeyEntry& inner : keys_inside(references, entry.schema)) {
                if (inner.key == key || inner.key == any_name) next.push_back(inner);
            }
        }
        found = std::move(next);
    }
    return found;
}

std::string description_of(const KeyEntry& entry) {
    for (const Node* schema : {entry.written, entry.schema.schema}) {
        const Node* description = schema == nullptr ? nullptr : schema->find("description");
        if (description != nullptr) return description->text;
    }
    return {};
}

std::string default_of(const KeyEntry& entry) {
    for (const Node* schema : {entry.written, entry.schema.schema}) {
        if (schema == nullptr) continue;
        if (const Node* value = schema->find("default")) return json_text(*value);
        if (const Node* words = schema->find("x-default")) return words->text;
    }
    return {};
}

}  // namespace fitup::parameters
