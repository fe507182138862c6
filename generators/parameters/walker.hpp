#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "parameters/fault.hpp"
#include "parameters/length.hpp"
#include "parameters/node.hpp"
#include "parameters/references.hpp"

namespace fitup::parameters {

/// How a document is judged.
struct Judging {
    std::string file;
    /// Ours: lengths and their ranges count, and what follows from a misspelt key is not told twice.
    /// Otherwise plain draft-07.
    bool ours = false;
    /// What a bare number means; unknown while the file's own `units` are missing or wrong.
    std::optional<Units> units;
    /// Objects and lists are left when this many faults were found: a person reads no more.
    std::size_t most_faults = 200;
};

/// Walks a value and a schema together. A schema without faults is one that the value fits.
class Walker {
  public:
    using Keys = std::vector<std::string>;

    Walker(const References& references, Judging judging)
        : references_(references), judging_(std::move(judging)) {}

    /// @param meant  keys of this object that misspelt ones stand for (their absence is no second fault)
    Faults judge(const Node& value, const Located& schema, const std::string& path, const Keys& meant = {});

  private:
    /// One value under one schema, and what was found there.
    struct Visit {
        const Node& value;
        Located schema;
        const std::string& path;
        Keys meant;
        Faults faults;

        const Node* keyword(std::string_view name) const { return schema.schema->find(name); }
    };

    // walker.cpp: the order of judging, and what is no choice between alternatives
    void judge_combinations(Visit& visit);
    void judge_not(Visit& visit, const Node& keyword);
    void judge_condition(Visit& visit, const Node& keyword);
    Faults judge_below(Visit& visit, std::string_view keyword);
    bool is_full(const Visit& visit) const { return visit.faults.size() >= judging_.most_faults; }
    Fault place_of(const Node& node, std::string key) const;
    Fault wrong(const Visit& visit, const std::string& advice = {}) const;

    // objects.cpp
    void judge_object(Visit& visit);
    void judge_key_count(Visit& visit);
    void judge_required(Visit& visit);
    void judge_member(Visit& visit, const Node::Member& member);
    void judge_unknown_key(Visit& visit, const Node::Member& member);
    void judge_dependencies(Visit& visit);
    void judge_key_names(Visit& visit);
    Fault missing_key(const Visit& visit, const std::string& key) const;
    bool is_known_key(const Visit& visit, const std::string& key) const;
    /// Keys that the unknown ones of a closed object stand for.
    Keys meant_keys(const Visit& visit) const;
    /// Two or more keys that must not stand together, told at the last of them.
    Fault keys_together(const Visit& visit, const Keys& keys, const std::string& wanted) const;

    // lists.cpp
    void judge_list(Visit& visit);
    void judge_items(Visit& visit);
    void judge_different(Visit& visit);
    void judge_contains(Visit& visit);

    // choice.cpp
    void judge_choice(Visit& visit, std::string_view keyword);
    void judge_alternative_keys(Visit& visit, const Keys& keys, bool exactly_one);
    Faults nothing_fits(Visit& visit, const std::vector<Located>& branches, std::vector<Faults>& faults);
    Faults wrong_kind(const Visit& visit, const std::string& key, const std::vector<Located>& branches);

    const References& references_;
    Judging judging_;
    int depth_ = 0;
};

/// Adds faults to others.
void append(Faults& faults, Faults more);

/// Whether a value fits what its schema says about it alone: type, const, enum, ranges, lengths of text,
/// pattern, and under `ours` its range as a length. Lists and objects are judged by their type only.
bool fits_alone(const Node& value, const Node& schema, const Judging& judging);

/// Whether an ECMAScript pattern is found in a text. Texts over 1000 bytes, and patterns that are none, do
/// not match.
bool matches(const std::string& text, const std::string& pattern);

/// The JSON types that a schema lets through, as far as it says: bit n is Node::Type n.
unsigned accepted_types(const References& references, const Located& schema);

}  // namespace fitup::parameters
