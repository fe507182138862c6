// anyOf and oneOf: which of the alternatives was meant, so that its faults alone are told.
#include <algorithm>

#include "base/text.hpp"
#include "parameters/walker.hpp"
#include "parameters/wanted.hpp"

namespace fitup::parameters {

namespace {

const Node* kind_of(const Located& branch, const std::string& key) {
    return branch.schema->find("properties")->find(key)->find("const");
}

bool accepts(unsigned types, const Node& value) {
    return ((types >> static_cast<unsigned>(value.type)) & 1U) != 0;
}

}  // namespace

void Walker::judge_choice(Visit& visit, std::string_view keyword) {
    const Node* alternatives = visit.keyword(keyword);
    if (alternatives == nullptr) return;
    const bool exactly_one = keyword == "oneOf";
    const Keys keys = alternative_keys(*alternatives);
    if (judging_.ours && !keys.empty() && visit.value.type == Node::Type::object) {
        judge_alternative_keys(visit, keys, exactly_one);
        return;
    }
    const std::vector<Located> branches = references_.branches(visit.schema, keyword);
    std::vector<Faults> faults;
    for (const Located& branch : branches)
        faults.push_back(judge(visit.value, branch, visit.path, visit.meant));
    const auto fitting =
        std::count_if(faults.begin(), faults.end(), [](const Faults& one) { return one.empty(); });
    if (fitting == 1 || (fitting > 1 && !exactly_one)) return;
    if (fitting == 0) {
        append(visit.faults, nothing_fits(visit, branches, faults));
    } else {
        visit.faults.push_back(fault_of(place_of(visit.value, visit.path), shown(visit.value),
                                        "what fits one alternative alone"));
    }
}

Faults Walker::nothing_fits(Visit& visit, const std::vector<Located>& branches, std::vector<Faults>& faults) {
    std::vector<Located> near;
    std::vector<Faults*> near_faults;
    for (std::size_t i = 0; i < branches.size(); ++i) {
        if (!accepts(accepted_types(references_, branches[i]), visit.value)) continue;
        near.push_back(branches[i]);
        near_faults.push_back(&faults[i]);
    }
    if (visit.value.type == Node::Type::object) {
        if (const std::string key = kind_key(near); !key.empty()) {
            const Node* kind = visit.value.find(key);
            for (std::size_t i = 0; kind != nullptr && i < near.size(); ++i) {
                if (same_value(*kind, *kind_of(near[i], key))) return *near_faults[i];
            }
            return wrong_kind(visit, key, near);
        }
    }
    const bool has_parts = visit.value.type == Node::Type::object || visit.value.type == Node::Type::list;
    if (has_parts && !near.empty()) {
        return **std::min_element(near_faults.begin(), near_faults.end(),
                                  [](const Faults* a, const Faults* b) { return a->size() < b->size(); });
    }
    const auto nearest = visit.value.type == Node::Type::text
                             ? nearest_word(visit.value.text, words_of(references_, visit.schema))
                             : std::nullopt;
    return {wrong(visit, nearest ? "the nearest is " + in_quotes(*nearest) : "")};
}

/// The key that tells the kind is missing, misspelt, or names none.
Faults Walker::wrong_kind(const Visit& visit, const std::string& key, const std::vector<Located>& branches) {
    Keys kinds;
    for (const Located& branch : branches) kinds.push_back(kind_of(branch, key)->text);
    const std::string wanted = or_list(all_in_quotes(kinds));
    const std::string path = key_path(visit.path, key);
    if (const Node* kind = visit.value.find(key)) {
        const auto nearest = nearest_word(kind->text, kinds);
        return {wrong_value(judging_.file, *kind, path, wanted,
                            nearest ? "the nearest is " + in_quotes(*nearest) : "")};
    }
    for (const Node::Member& member : visit.value.members) {
        const bool is_known = std::any_of(branches.begin(), branches.end(), [&member](const Located& branch) {
            return branch.schema->find("properties")->has(member.key);
        });
        if (is_known || !nearest_word(member.key, Keys{key})) continue;
        Fault fault{.file = judging_.file,
                    .line = member.line,
                    .column = member.column,
                    .key = key_path(visit.path, member.key),
                    .found = "an unknown key",
                    .wanted = key};
        fault.message = fault.key + ": unknown key; the nearest is " + key;
        return {fault};
    }
    Fault fault = place_of(visit.value, path);
    fault.found = "nothing";
    fault.wanted = wanted;
    fault.message = path + ": missing; wanted " + wanted;
    return {fault};
}

}  // namespace fitup::parameters
