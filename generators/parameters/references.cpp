#include "parameters/references.hpp"

#include <charconv>
#include <memory>
#include <span>

#include "base/embedded.hpp"
#include "base/error.hpp"
#include "parameters/schema.hpp"

namespace fitup::parameters {

namespace schemas {
std::span<const fitup::Embedded> embedded();
}

namespace {

/// Longest chain of references that is followed; a longer one goes round in a circle.
constexpr int most_references = 64;

const Node* text_member(const Node& schema, std::string_view key) {
    const Node* member = schema.find(key);
    return member != nullptr && member->type == Node::Type::text ? member : nullptr;
}

/// RFC 3986 reference resolution as far as schemas need it: absolute, or beside the base.
std::string resolved(const std::string& base, std::string_view path) {
    if (path.empty()) return base;
    if (path.find("://") != std::string_view::npos) return std::string(path);
    const std::size_t stroke = base.rfind('/');
    return (stroke == std::string::npos ? std::string() : base.substr(0, stroke + 1)) + std::string(path);
}

std::string percent_decoded(std::string_view text) {
    std::string decoded;
    for (std::size_t at = 0; at < text.size(); ++at) {
        unsigned code = 0;
        const bool is_code = text[at] == '%' && at + 2 < text.size() &&
                             std::from_chars(&text[at + 1], &text[at] + 3, code, 16).ptr == &text[at] + 3;
        decoded += is_code ? static_cast<char>(code) : text[at];
        if (is_code) at += 2;
    }
    return decoded;
}

/// RFC 6901: ~1 stands for a stroke and ~0 for a tilde.
std::string pointer_token(std::string_view text) {
    std::string token;
    for (std::size_t at = 0; at < text.size(); ++at) {
        const bool escape = text[at] == '~' && at + 1 < text.size();
        token += !escape ? text[at] : text[at + 1] == '1' ? '/' : '~';
        if (escape) ++at;
    }
    return token;
}

const Node* child(const Node& node, const std::string& token) {
    if (node.type == Node::Type::object) return node.find(token);
    std::size_t index = 0;
    const char* end = token.data() + token.size();
    const auto result = std::from_chars(token.data(), end, index);
    if (result.ec != std::errc{} || result.ptr != end || index >= node.items.size()) return nullptr;
    return &node.items[index];
}

const Node* pointed_at(const Node* node, std::string_view pointer) {
    while (node != nullptr && !pointer.empty()) {
        const std::size_t end = std::min(pointer.find('/', 1), pointer.size());
        node = child(*node, pointer_token(pointer.substr(1, end - 1)));
        pointer.remove_prefix(end);
    }
    return node;
}

struct Compiled {
    Document document;
    std::unique_ptr<References> references;
};

/// A schema of ours that cannot be read is an error of the build; the tests read them all.
Compiled compiled(const Embedded& file) {
    Compiled schema{read_json(file.text, std::string(file.name) + ".json"), nullptr};
    if (!schema.document.faults.empty()) throw Error("schema " + to_text(schema.document.faults.front()));
    return schema;
}

std::map<std::string, Compiled, std::less<>> compile_all() {
    std::map<std::string, Compiled, std::less<>> all;
    for (const Embedded& file : schemas::embedded()) {
        Compiled& schema = all.emplace(file.name, compiled(file)).first->second;
        schema.references = std::make_unique<References>(*schema.document.root, schema.document.file);
    }
    return all;
}

const std::map<std::string, Compiled, std::less<>>& all_compiled() {
    static const auto all = compile_all();
    return all;
}

}  // namespace

References::References(const Node& root, std::string uri) : root_(&root) {
    const Resource& resource = by_uri_[uri] = {&root, uri};
    resources_[&root] = &resource;
    collect(root, &resource);
}

void References::collect(const Node& schema, const Resource* resource) {
    const Node* id = text_member(schema, "$id");
    if (id != nullptr && id->text.starts_with('#')) {
        by_name_[resource->uri + id->text] = {&schema, resource};
    } else if (id != nullptr) {
        const std::string uri = resolved(resource->uri, id->text);
        resource = &(by_uri_[uri] = {&schema, uri});
        resources_[&schema] = resource;
    }
    for (const Node& item : schema.items) collect(item, resource);
    for (const Node::Member& member : schema.members) {
        if (member.key != "const" && member.key != "enum") collect(member.value, resource);
    }
}

Located References::inside(const Located& parent, const Node& schema) const {
    const auto own = resources_.find(&schema);
    return {&schema, own == resources_.end() ? parent.resource : own->second};
}

Located References::member(const Located& parent, std::string_view keyword) const {
    const Node* schema = parent.schema->find(keyword);
    return schema == nullptr ? Located{} : inside(parent, *schema);
}

std::vector<Located> References::branches(const Located& parent, std::string_view keyword) const {
    std::vector<Located> branches;
    const Node* list = parent.schema->find(keyword);
    if (list == nullptr) return branches;
    for (const Node& item : list->items) branches.push_back(target(inside(parent, item)));
    return branches;
}

Located References::target(Located schema) const {
    for (int step = 0; step < most_references; ++step) {
        if (schema.schema == nullptr) return schema;
        const Node* reference = text_member(*schema.schema, "$ref");
        if (reference == nullptr) return schema;
        schema = follow(schema, reference->text);
    }
    return {};
}

Located References::follow(const Located& from, std::string_view reference) const {
    const std::size_t hash = std::min(reference.find('#'), reference.size());
    const std::string uri = resolved(from.resource->uri, reference.substr(0, hash));
    const std::string fragment = hash < reference.size() ? percent_decoded(reference.substr(hash + 1)) : "";
    if (!fragment.empty() && fragment.front() != '/') return named(uri, fragment);
    // Within one resource no name is needed: this also serves a schema that another file's reference led
    // into.
    const Resource* resource = uri == from.resource->uri ? from.resource : find(uri);
    if (resource == nullptr) return {};
    const Node* schema = pointed_at(resource->root, fragment);
    return schema == nullptr ? Located{} : inside({resource->root, resource}, *schema);
}

Located References::named(const std::string& uri, const std::string& name) const {
    const auto found = by_name_.find(uri + "#" + name);
    return found == by_name_.end() ? Located{} : found->second;
}

const Resource* References::find(const std::string& uri) const {
    if (const auto own = by_uri_.find(uri); own != by_uri_.end()) return &own->second;
    const References* other = compiled_schema(uri.ends_with(".json") ? uri.substr(0, uri.size() - 5) : uri);
    return other == nullptr ? nullptr : other->root().resource;
}

const References* compiled_schema(std::string_view name) {
    const auto found = all_compiled().find(name);
    return found == all_compiled().end() ? nullptr : found->second.references.get();
}

std::vector<std::string> compiled_schema_names() {
    std::vector<std::string> names;
    for (const auto& [name, schema] : all_compiled()) names.push_back(name);
    return names;
}

std::string_view schema_text(std::string_view name) {
    for (const Embedded& file : schemas::embedded()) {
        if (file.name == name) return file.text;
    }
    return {};
}

}  // namespace fitup::parameters
