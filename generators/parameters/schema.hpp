#pragma once

#include <string_view>

#include "parameters/length.hpp"
#include "parameters/node.hpp"

/// How a schema of ours is written (schemas/*.json, JSON Schema draft-07), so that its faults read like
/// a sentence.
///
/// - Every property has a `description`; an optional one a `default`, or `x-default` in words where no
///   value can say it.
/// - `$ref` is `#/definitions/x` or `common.json#/definitions/x`. Beside it stand only description, default
///   and `x-default` (draft-07 ignores everything else there): a narrower range is written out whole.
/// - A length: `"type": ["number", "string"], "format": "length"` with `x-least-mm`, `x-more-than-mm`,
///   `x-most-mm`. The file's own `units` say what a bare number means.
/// - A number: `x-unit` names its unit ("degrees", "newtons"); its range by minimum, exclusiveMinimum,
///   maximum, exclusiveMaximum.
/// - `x-wanted` replaces the words made from the schema ("a text of 1 to 16 characters"). It must stand
///   wherever there is a `pattern`.
/// - A closed object: `"additionalProperties": false`.
/// - Exactly one key: an object with `"minProperties": 1, "maxProperties": 1`. Exactly one of some keys
///   beside others: `"oneOf": [{"required": ["circle"]}, {"required": ["points"]}]`; at least one: the same
///   with `anyOf`; not together: `"not": {"required": ["a", "b"]}`; a key that needs another:
///   `"dependencies": {"drill_depth": ["depth"]}`.
/// - Kinds: `oneOf` of objects that all have one property with a `const` ("kind") and require it; the
///   branch is chosen by it.
/// - Alternatives of different JSON type: `oneOf` or `anyOf`; the branch is chosen by the value's type. A
///   length beside words (`"through"`): `anyOf`, and the words as `const` or `enum`, since a plain
///   validator takes every text for a length.
namespace fitup::parameters {

/// Text of a schema file by its name ("adapter_plate", "common"), compiled into the program; else empty.
std::string_view schema_text(std::string_view name);

/// Checks a document against a schema of ours.
///
/// All faults at once, the document's own included (double keys), sorted by place, none twice; each at the
/// deepest place that is wrong, with the nearest key for a misspelt one. A missing key is placed at its
/// object. A range that hangs on missing `units` is judged only where it is broken in mm and in inches.
/// Without `root`: the document's own faults. REQUIRES: `schema_name` is compiled in.
Faults check(const Document& document, std::string_view schema_name);

/// Plain draft-07 validity of any instance under any schema, for the standard's own test suite: `format` and
/// `x-` keys are not judged. `$ref` reaches into the schema itself (also by the `$id`s in it) and into
/// compiled-in schemas; under one that leads nowhere nothing is valid.
bool is_valid(const Node& instance, const Node& schema);

}  // namespace fitup::parameters
