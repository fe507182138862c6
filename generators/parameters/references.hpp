#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "parameters/node.hpp"

namespace fitup::parameters {

/// A schema document, or a part of one that has an `$id` of its own: where references within it start.
struct Resource {
    const Node* root = nullptr;
    std::string uri;
};

/// A schema and the resource it stands in. `schema` is null where a reference leads nowhere.
struct Located {
    const Node* schema = nullptr;
    const Resource* resource = nullptr;
};

/// Finds what the references of a schema mean: `#`, `#/definitions/x`, `#name`, `other.json#/definitions/x`,
/// and the
/// `$id`s of the document. Compiled-in schemas are found under their file names.
///
/// REQUIRES: the root node outlives this and does not move.
class References {
  public:
    References(const Node& root, std::string uri);
    References(const References&) = delete;
    References& operator=(const References&) = delete;

    Located root() const { return {root_, resources_.at(root_)}; }
    /// The schema with every `$ref` followed to its end (draft-07: nothing beside a `$ref` counts).
    Located target(Located schema) const;
    /// A schema directly inside another.
    Located inside(const Located& parent, const Node& schema) const;
    /// The member of a schema that is itself a schema; null where there is none.
    Located member(const Located& parent, std::string_view keyword) const;
    /// The schemas of a member that is a list of them (allOf), references followed.
    std::vector<Located> branches(const Located& parent, std::string_view keyword) const;

  private:
    void collect(const Node& schema, const Resource* resource);
    Located follow(const Located& from, std::string_view reference) const;
    Located named(const std::string& uri, const std::string& name) const;
    const Resource* find(const std::string& uri) const;

    const Node* root_;
    std::map<std::string, Resource> by_uri_;
    std::map<std::string, Located> by_name_;
    std::unordered_map<const Node*, const Resource*> resources_;
};

/// A compiled-in schema by name, or null. Parsed when first asked for; safe from any thread.
const References* compiled_schema(std::string_view name);

/// Names of the compiled-in schemas.
std::vector<std::string> compiled_schema_names();

}  // namespace fitup::parameters
