#include <algorithm>
#include <iterator>

#include "parameters/walker.hpp"
#include "parameters/wanted.hpp"

namespace fitup::parameters {

namespace {

/// The schema of the item at a place: of `items` as one schema or as a list of them, then `additionalItems`.
const Node* item_schema(const Node* items, const Node* more, std::size_t index) {
    if (items == nullptr || items->type != Node::Type::list) return items;
    return index < items->items.size() ? &items->items[index] : more;
}

/// Sorted by anything that equal values share, so that only neighbours need comparing.
bool comes_before(const Node* a, const Node* b) {
    if (a->type != b->type) return a->type < b->type;
    if (a->type == Node::Type::number) return a->number < b->number;
    if (a->type == Node::Type::text) return a->text < b->text;
    if (a->type == Node::Type::boolean) return a->truth < b->truth;
    return a->items.size() + a->members.size() < b->items.size() + b->members.size();
}

}  // namespace

void Walker::judge_list(Visit& visit) {
    const Node* least = visit.keyword("minItems");
    const Node* most = visit.keyword("maxItems");
    const auto count = static_cast<double>(visit.value.items.size());
    if ((least != nullptr && count < least->number) || (most != nullptr && count > most->number)) {
        visit.faults.push_back(wrong(visit));
        return;
    }
    judge_items(visit);
    judge_different(visit);
    judge_contains(visit);
}

void Walker::judge_items(Visit& visit) {
    const Node* items = visit.keyword("items");
    const Node* more = visit.keyword("additionalItems");
    for (std::size_t i = 0; i < visit.value.items.size() && !is_full(visit); ++i) {
        const Node* schema = item_schema(items, more, i);
        if (schema == nullptr) continue;
        Faults found =
            judge(visit.value.items[i], references_.inside(visit.schema, *schema), key_path(visit.path, i));
        std::move(found.begin(), found.end(), std::back_inserter(visit.faults));
    }
}

void Walker::judge_different(Visit& visit) {
    const Node* different = visit.keyword("uniqueItems");
    if (different == nullptr || !different->truth) return;
    std::vector<const Node*> sorted;
    for (const Node& item : visit.value.items) sorted.push_back(&item);
    std::stable_sort(sorted.begin(), sorted.end(), comes_before);
    for (auto group = sorted.begin(); group != sorted.end();) {
        const auto end = std::upper_bound(group, sorted.end(), *group, comes_before);
        for (auto item = std::next(group); item != end && !is_full(visit); ++item) {
            const bool again =
                std::any_of(group, item, [item](const Node* other) { return same_value(*other, **item); });
            if (!again) continue;
            const auto index = static_cast<std::size_t>(*item - visit.value.items.data());
            visit.faults.push_back(fault_of(place_of(**item, key_path(visit.path, index)),
                                            shown(**item) + " a second time", "each item once"));
        }
        group = end;
    }
}

void Walker::judge_contains(Visit& visit) {
    const Located schema = references_.member(visit.schema, "contains");
    if (schema.schema == nullptr) return;
    const bool any = std::any_of(visit.value.items.begin(), visit.value.items.end(),
                                 [&](const Node& item) { return judge(item, schema, visit.path).empty(); });
    if (any) return;
    visit.faults.push_back(fault_of(place_of(visit.value, visit.path), shown(visit.value),
                                    "at least one item that is " + wanted(references_, schema)));
}

}  // namespace fitup::parameters
