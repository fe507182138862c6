// What every schema of ours keeps to (schema.hpp), so that its faults and its explanations read like
// sentences.
#include <gtest/gtest.h>

#include <set>

#include "base/text.hpp"
#include "parameters/explain.hpp"
#include "parameters/key_entry.hpp"
#include "parameters/references.hpp"
#include "parameters/walker.hpp"
#include "parameters/wanted.hpp"

namespace fitup::parameters {
namespace {

const std::set<std::string> annotations{"description", "default", "title", "examples", "x-default"};
const std::set<std::string> known_keywords{"$schema",
                                           "$ref",
                                           "definitions",
                                           "description",
                                           "default",
                                           "title",
                                           "examples",
                                           "x-default",
                                           "x-wanted",
                                           "x-unit",
                                           "x-least-mm",
                                           "x-more-than-mm",
                                           "x-most-mm",
                                           "format",
                                           "type",
                                           "enum",
                                           "const",
                                           "multipleOf",
                                           "minimum",
                                           "maximum",
                                           "exclusiveMinimum",
                                           "exclusiveMaximum",
                                           "minLength",
                                           "maxLength",
                                           "pattern",
                                           "items",
                                           "additionalItems",
                                           "minItems",
                                           "maxItems",
                                           "uniqueItems",
                                           "contains",
                                           "minProperties",
                                           "maxProperties",
                                           "required",
                                           "properties",
                                           "patternProperties",
                                           "additionalProperties",
                                           "dependencies",
                                           "propertyNames",
                                           "allOf",
                                           "anyOf",
                                           "oneOf",
                                           "not",
                                           "if",
                                           "then",
                                           "else"};
const std::set<std::string> maps_of_schemas{"properties", "patternProperties", "definitions", "dependencies"};
const std::set<std::string> single_schemas{
    "items", "additionalItems", "contains", "additionalProperties", "propertyNames", "not", "if", "then",
    "else"};
const std::set<std::string> lists_of_schemas{"allOf", "anyOf", "oneOf", "items"};

/// Calls `visit(schema, path)` for every schema within one.
template <class Visit>
void walk(const Node& schema, const std::string& path, const Visit& visit) {
    visit(schema, path);
    for (const Node::Member& member : schema.members) {
        const std::string inner = path + "/" + member.key;
        const bool is_object = member.value.type == Node::Type::object;
        if (single_schemas.count(member.key) > 0 && is_object) walk(member.value, inner, visit);
        if (lists_of_schemas.count(member.key) > 0) {
            for (const Node& one : member.value.items) walk(one, inner, visit);
        }
        if (maps_of_schemas.count(member.key) == 0) continue;
        for (const Node::Member& one : member.value.members) {
            if (one.value.type == Node::Type::object) walk(one.value, inner + "/" + one.key, visit);
        }
    }
}

class OurSchemas : public testing::TestWithParam<std::string> {
  protected:
    const References& references() const { return *compiled_schema(GetParam()); }
    const Node& root() const { return *references().root().schema; }
};

TEST_P(OurSchemas, use_known_keywords_only) {
    walk(root(), "", [](const Node& schema, const std::string& path) {
        const bool refers = schema.has("$ref");
        for (const Node::Member& member : schema.members) {
            EXPECT_EQ(known_keywords.count(member.key), 1u) << path << ": " << member.key;
            if (refers && member.key != "$ref") {
                EXPECT_EQ(annotations.count(member.key), 1u) << path << ": " << member.key << " beside $ref";
            }
        }
    });
}

TEST_P(OurSchemas, references_lead_somewhere) {
    walk(root(), "", [this](const Node& schema, const std::string& path) {
        EXPECT_NE(references().target(references().inside(references().root(), schema)).schema, nullptr)
            << path;
    });
}

TEST_P(OurSchemas, every_key_is_described_and_every_optional_one_has_a_default) {
    const auto expect_told = [](const KeyEntry& entry, const std::string& path) {
        EXPECT_FALSE(description_of(entry).empty()) << path;
        EXPECT_TRUE(entry.required || entry.one_of_some || entry.key == any_name ||
                    !default_of(entry).empty())
            << path;
    };
    for (const std::string& key : keys(GetParam())) {
        for (const KeyEntry& entry : keys_at(references(), key)) expect_told(entry, key);
    }
}

TEST_P(OurSchemas, patterns_are_told_in_words) {
    walk(root(), "", [](const Node& schema, const std::string& path) {
        EXPECT_TRUE(!schema.has("pattern") || schema.has("x-wanted")) << path;
        const Node* format = schema.find("format");
        EXPECT_TRUE(format == nullptr || format->text == "length") << path;
    });
}

TEST_P(OurSchemas, defaults_fit_their_own_schema) {
    walk(root(), "", [this](const Node& schema, const std::string& path) {
        const Node* value = schema.find("default");
        if (value == nullptr) return;
        Walker walker(references(), {.file = path, .ours = true, .units = Units::mm});
        for (const Fault& fault :
             walker.judge(*value, references().inside(references().root(), schema), "default")) {
            ADD_FAILURE() << to_text(fault);
        }
    });
}

/// A list or object that a file may fill without end would be worked on without end.
TEST_P(OurSchemas, lists_and_texts_have_an_end) {
    walk(root(), "", [](const Node& schema, const std::string& path) {
        const Node* type = schema.find("type");
        if (type == nullptr) return;
        EXPECT_TRUE(type->text != "array" || schema.has("maxItems")) << path;
        EXPECT_TRUE(type->text != "string" || schema.has("maxLength") || schema.has("pattern")) << path;
        const bool closed = schema.has("additionalProperties") && !schema.find("additionalProperties")->truth;
        EXPECT_TRUE(type->text != "object" || closed || schema.has("maxProperties")) << path;
    });
}

INSTANTIATE_TEST_SUITE_P(All, OurSchemas, testing::ValuesIn(compiled_schema_names()),
                         [](const auto& name) { return name.param; });

TEST(WordsOfRanges, stand_for_their_limits) {
    const auto words = [](std::string_view text) { return range_words(*read_json(text, "").root); };
    EXPECT_EQ(words("{}"), "");
    EXPECT_EQ(words(R"({"minimum": 1, "maximum": 2})"), "from 1 to 2");
    EXPECT_EQ(words(R"({"exclusiveMinimum": 0, "exclusiveMaximum": 180})"), "over 0 and under 180");
}

}  // namespace
}  // namespace fitup::parameters
