#include <algorithm>

#include "base/text.hpp"
#include "parameters/walker.hpp"
#include "parameters/wanted.hpp"

namespace fitup::parameters {

namespace {

bool holds(const std::vector<std::string>& words, const std::string& word) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

/// "a", "a and b", "a, b and c".
std::string and_list(const std::vector<std::string>& words) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i) {
        text += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
    }
    return text;
}

bool is_closed(const Node& schema) {
    const Node* rest = schema.find("additionalProperties");
    return rest != nullptr && rest->type == Node::Type::boolean && !rest->truth;
}

}  // namespace

bool Walker::is_known_key(const Visit& visit, const std::string& key) const {
    const Node* properties = visit.keyword("properties");
    if (properties != nullptr && properties->has(key)) return true;
    const Node* patterns = visit.keyword("patternProperties");
    return patterns != nullptr && std::any_of(patterns->members.begin(), patterns->members.end(),
                                              [&key](const auto& one) { return matches(key, one.key); });
}

Walker::Keys Walker::meant_keys(const Visit& visit) const {
    Keys meant;
    if (!judging_.ours || !is_closed(*visit.schema.schema)) return meant;
    const Keys known = property_keys(*visit.schema.schema);
    std::size_t unknown = 0;
    for (const Node::Member& member : visit.value.members) {
        if (is_known_key(visit, member.key)) continue;
        if (++unknown > judging_.most_faults) break;  // more are not told either
        if (const auto nearest = nearest_word(member.key, known)) meant.push_back(*nearest);
    }
    return meant;
}

void Walker::judge_object(Visit& visit) {
    const Keys meant = meant_keys(visit);
    visit.meant.insert(visit.meant.end(), meant.begin(), meant.end());
    judge_key_count(visit);
    judge_required(visit);
    for (const Node::Member& member : visit.value.members) {
        if (is_full(visit)) return;
        judge_member(visit, member);
    }
    judge_dependencies(visit);
    judge_key_names(visit);
}

void Walker::judge_key_count(Visit& visit) {
    const Node* least = visit.keyword("minProperties");
    const Node* most = visit.keyword("maxProperties");
    const auto count = static_cast<double>(visit.value.members.size());
    if ((least == nullptr || count >= least->number) && (most == nullptr || count <= most->number)) return;
    if (judging_.ours && is_closed(*visit.schema.schema) && is_exactly_one_key(*visit.schema.schema)) {
        judge_alternative_keys(visit, property_keys(*visit.schema.schema), true);
        return;
    }
    const std::string found = visit.value.members.empty()
                                  ? shown(visit.value)
                                  : "an object of " + std::to_string(visit.value.members.size());
    visit.faults.push_back(
        fault_of(place_of(visit.value, visit.path), found, wanted(references_, visit.schema)));
}

Fault Walker::missing_key(const Visit& visit, const std::string& key) const {
    const Node* properties = visit.keyword("properties");
    const Node* property = properties == nullptr ? nullptr : properties->find(key);
    Fault fault = place_of(visit.value, key_path(visit.path, key));
    fault.found = "nothing";
    if (property != nullptr) fault.wanted = wanted(references_, references_.inside(visit.schema, *property));
    fault.message = fault.key + ": missing" + (fault.wanted.empty() ? "" : "; wanted " + fault.wanted);
    return fault;
}

void Walker::judge_required(Visit& visit) {
    const Node* required = visit.keyword("required");
    if (required == nullptr) return;
    for (const Node& key : required->items) {
        if (visit.value.has(key.text) || holds(visit.meant, key.text)) continue;
        visit.faults.push_back(missing_key(visit, key.text));
    }
}

void Walker::judge_member(Visit& visit, const Node::Member& member) {
    const std::string path = key_path(visit.path, member.key);
    const Node* properties = visit.keyword("properties");
    const Node* property = properties == nullptr ? nullptr : properties->find(member.key);
    if (property != nullptr) {
        append(visit.faults, judge(member.value, references_.inside(visit.schema, *property), path));
    }
    if (const Node* patterns = visit.keyword("patternProperties")) {
        for (const Node::Member& one : patterns->members) {
            if (!matches(member.key, one.key)) continue;
            append(visit.faults, judge(member.value, references_.inside(visit.schema, one.value), path));
        }
    }
    if (!is_known_key(visit, member.key)) judge_unknown_key(visit, member);
}

void Walker::judge_unknown_key(Visit& visit, const Node::Member& member) {
    const Node* rest = visit.keyword("additionalProperties");
    if (rest == nullptr) return;
    const std::string path = key_path(visit.path, member.key);
    if (!is_closed(*visit.schema.schema)) {
        append(visit.faults, judge(member.value, references_.inside(visit.schema, *rest), path));
        return;
    }
    const Keys known = property_keys(*visit.schema.schema);
    const auto nearest = nearest_word(member.key, known);
    Fault fault{.file = judging_.file, .line = member.line, .column = member.column, .key = path};
    fault.found = "an unknown key";
    fault.wanted = nearest ? *nearest : known.empty() ? "no key here" : or_list(known);
    fault.message = path + ": unknown key" +
                    (nearest         ? "; the nearest is " + *nearest
                     : known.empty() ? ""
                                     : "; there are " + and_list(known));
    visit.faults.push_back(std::move(fault));
}

Fault Walker::keys_together(const Visit& visit, const Keys& keys, const std::string& wanted) const {
    Fault place = place_of(visit.value, visit.path);
    for (const Node::Member& member : visit.value.members) {
        if (!holds(keys, member.key)) continue;
        place.line = member.line;
        place.column = member.column;
    }
    return fault_of(std::move(place), and_list(keys), wanted);
}

void Walker::judge_alternative_keys(Visit& visit, const Keys& keys, bool exactly_one) {
    Keys present;
    for (const std::string& key : keys) {
        if (visit.value.has(key)) present.push_back(key);
    }
    const std::string wanted = (exactly_one ? "exactly one of " : "at least one of ") + or_list(keys);
    const auto is_meant = [&visit](const std::string& key) { return holds(visit.meant, key); };
    if (exactly_one && present.size() > 1) {
        visit.faults.push_back(keys_together(visit, present, wanted));
    } else if (present.empty() && std::none_of(keys.begin(), keys.end(), is_meant)) {
        visit.faults.push_back(fault_of(place_of(visit.value, visit.path), "none", wanted));
    }
}

void Walker::judge_dependencies(Visit& visit) {
    const Node* dependencies = visit.keyword("dependencies");
    if (dependencies == nullptr) return;
    for (const Node::Member& dependency : dependencies->members) {
        if (!visit.value.has(dependency.key)) continue;
        if (dependency.value.type != Node::Type::list) {
            append(visit.faults, judge(visit.value, references_.inside(visit.schema, dependency.value),
                                       visit.path, visit.meant));
            continue;
        }
        for (const Node& needed : dependency.value.items) {
            if (visit.value.has(needed.text) || holds(visit.meant, needed.text)) continue;
            Fault fault = place_of(*visit.value.find(dependency.key), key_path(visit.path, dependency.key));
            visit.faults.push_back(
                fault_of(std::move(fault), dependency.key + " alone", needed.text + " beside it"));
        }
    }
}

void Walker::judge_key_names(Visit& visit) {
    const Node* names = visit.keyword("propertyNames");
    if (names == nullptr) return;
    for (const Node::Member& member : visit.value.members) {
        if (is_full(visit)) return;
        Node key = text_node(member.key);
        key.line = member.line;
        key.column = member.column;
        append(visit.faults,
               judge(key, references_.inside(visit.schema, *names), key_path(visit.path, member.key)));
    }
}

}  // namespace fitup::parameters
