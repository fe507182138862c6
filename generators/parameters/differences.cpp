#include "parameters/differences.hpp"

#include <algorithm>
#include <cmath>

#include "parameters/fault.hpp"
#include "parameters/replace.hpp"

namespace fitup::parameters {

namespace {

bool all_named(const Node& list) {
    return !list.items.empty() && std::all_of(list.items.begin(), list.items.end(),
                                              [](const Node& item) { return !name_of(item).empty(); });
}

class Comparison {
  public:
    Comparison(Units before, Units after) : before_units_(before), after_units_(after) {}

    void compare(const Node& before, const Node& after, const std::string& key) {
        if (before.type == Node::Type::object && after.type == Node::Type::object)
            compare_members(before, after, key);
        else if (before.type == Node::Type::list && after.type == Node::Type::list)
            compare_items(before, after, key);
        else if (!is_same(before, after))
            found_.push_back({key, &before, &after});
    }

    std::vector<Difference> take() { return std::move(found_); }

  private:
    /// Two lengths written differently are the same where they come out alike; a text is needed on one side,
    /// as a bare number may be no length at all.
    bool is_same(const Node& before, const Node& after) const {
        if (same_value(before, after)) return true;
        if (before.type != Node::Type::text && after.type != Node::Type::text) return false;
        const auto a = length_mm(before, before_units_), b = length_mm(after, after_units_);
        return a && b && std::abs(*a - *b) < 1e-9;
    }

    void compare_members(const Node& before, const Node& after, const std::string& key) {
        for (const Node::Member& member : before.members) {
            const std::string path = key_path(key, member.key);
            if (const Node* other = after.find(member.key))
                compare(member.value, *other, path);
            else
                found_.push_back({path, &member.value, nullptr});
        }
        for (const Node::Member& member : after.members) {
            if (!before.has(member.key))
                found_.push_back({key_path(key, member.key), nullptr, &member.value});
        }
    }

    void compare_items(const Node& before, const Node& after, const std::string& key) {
        if (all_named(before) && all_named(after)) {
            for (const Node& item : before.items)
                match(item, item_called(after, name_of(item)), key_path(key, name_of(item)));
            for (const Node& item : after.items) {
                if (item_called(before, name_of(item)) == nullptr)
                    found_.push_back({key_path(key, name_of(item)), nullptr, &item});
            }
            return;
        }
        for (std::size_t i = 0; i < std::max(before.items.size(), after.items.size()); ++i) {
            const std::string path = key_path(key, i);
            if (i >= before.items.size())
                found_.push_back({path, nullptr, &after.items[i]});
            else
                match(before.items[i], i < after.items.size() ? &after.items[i] : nullptr, path);
        }
    }

    void match(const Node& before, const Node* after, const std::string& key) {
        if (after != nullptr)
            compare(before, *after, key);
        else
            found_.push_back({key, &before, nullptr});
    }

    Units before_units_, after_units_;
    std::vector<Difference> found_;
};

}  // namespace

std::vector<Difference> differences(const Node& before, Units before_units, const Node& after,
                                    Units after_units) {
    Comparison comparison(before_units, after_units);
    comparison.compare(before, after, "");
    return comparison.take();
}

}  // namespace fitup::parameters
