#include "parameters/walker.hpp"

#include <iterator>

#include "base/text.hpp"
#include "parameters/wanted.hpp"

namespace fitup::parameters {

namespace {

/// Documents nest 64 deep at most and a schema of ours some 10 for each; deeper is a schema that calls
/// itself.
constexpr int deepest_walk = 2000;

/// The keys of a schema that says nothing but `{"required": [..]}`.
Walker::Keys only_required(const Node& schema) {
    Walker::Keys keys;
    const Node* required = schema.find("required");
    if (required == nullptr || schema.members.size() != 1) return keys;
    for (const Node& key : required->items) keys.push_back(key.text);
    return keys;
}

}  // namespace

void append(Faults& faults, Faults more) {
    faults.insert(faults.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

Fault Walker::place_of(const Node& node, std::string key) const {
    return {.file = judging_.file, .line = node.line, .column = node.column, .key = std::move(key)};
}

Fault Walker::wrong(const Visit& visit, const std::string& advice) const {
    return wrong_value(judging_.file, visit.value, visit.path, wanted(references_, visit.schema), advice);
}

Faults Walker::judge(const Node& value, const Located& schema, const std::string& path, const Keys& meant) {
    const Located target = references_.target(schema);
    if (target.schema == nullptr || depth_ >= deepest_walk) {
        return {wrong_in_words(judging_.file, value, path, "no schema says what may stand here")};
    }
    Visit visit{value, target, path, meant, {}};
    if (target.schema->type == Node::Type::boolean && !target.schema->truth) return {wrong(visit)};
    if (target.schema->type != Node::Type::object) return {};
    if (!fits_alone(value, *target.schema, judging_)) {
        const auto nearest = value.type == Node::Type::text
                                 ? nearest_word(value.text, words_of(references_, target))
                                 : std::nullopt;
        return {wrong(visit, nearest ? "the nearest is " + in_quotes(*nearest) : "")};
    }
    ++depth_;
    if (value.type == Node::Type::object) judge_object(visit);
    if (value.type == Node::Type::list) judge_list(visit);
    judge_combinations(visit);
    --depth_;
    return std::move(visit.faults);
}

Faults Walker::judge_below(Visit& visit, std::string_view keyword) {
    return judge(visit.value, references_.member(visit.schema, keyword), visit.path, visit.meant);
}

void Walker::judge_combinations(Visit& visit) {
    for (const Located& branch : references_.branches(visit.schema, "allOf")) {
        append(visit.faults, judge(visit.value, branch, visit.path, visit.meant));
    }
    judge_choice(visit, "anyOf");
    judge_choice(visit, "oneOf");
    if (const Node* keyword = visit.keyword("not")) judge_not(visit, *keyword);
    if (const Node* keyword = visit.keyword("if")) judge_condition(visit, *keyword);
}

void Walker::judge_not(Visit& visit, const Node& keyword) {
    if (!judge(visit.value, references_.inside(visit.schema, keyword), visit.path).empty()) return;
    const Keys keys = only_required(keyword);
    if (visit.value.type == Node::Type::object && keys.size() > 1) {
        visit.faults.push_back(
            keys_together(visit, keys, keys.size() == 2 ? "at most one of them" : "not all of them"));
    } else {
        visit.faults.push_back(
            fault_of(place_of(visit.value, visit.path), shown(visit.value), "another value"));
    }
}

void Walker::judge_condition(Visit& visit, const Node& keyword) {
    const bool holds = judge(visit.value, references_.inside(visit.schema, keyword), visit.path).empty();
    const char* branch = holds ? "then" : "else";
    if (visit.keyword(branch) != nullptr) append(visit.faults, judge_below(visit, branch));
}

}  // namespace fitup::parameters
