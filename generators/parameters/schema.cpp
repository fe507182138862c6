#include "parameters/schema.hpp"

#include <algorithm>
#include <tuple>

#include "base/error.hpp"
#include "parameters/references.hpp"
#include "parameters/walker.hpp"

namespace fitup::parameters {

namespace {

std::optional<Units> units_of(const Node& root) {
    const Node* units = root.find("units");
    if (units == nullptr || units->type != Node::Type::text) return {};
    if (units->text == "mm") return Units::mm;
    return units->text == "in" ? std::optional(Units::in) : std::nullopt;
}

auto place_and_words(const Fault& fault) { return std::tie(fault.line, fault.column, fault.message); }

void sort_by_place(Faults& faults) {
    std::stable_sort(faults.begin(), faults.end(), [](const Fault& a, const Fault& b) {
        return std::tie(a.line, a.column) < std::tie(b.line, b.column);
    });
    const auto same = [](const Fault& a, const Fault& b) { return place_and_words(a) == place_and_words(b); };
    faults.erase(std::unique(faults.begin(), faults.end(), same), faults.end());
}

}  // namespace

Faults check(const Document& document, std::string_view schema_name) {
    const References* schema = compiled_schema(schema_name);
    if (schema == nullptr) throw Error("there is no schema " + std::string(schema_name));
    Faults faults = document.faults;
    if (!document.root) return faults;
    Walker walker(*schema, {.file = document.file, .ours = true, .units = units_of(*document.root)});
    append(faults, walker.judge(*document.root, schema->root(), ""));
    sort_by_place(faults);
    return faults;
}

bool is_valid(const Node& instance, const Node& schema) {
    const References references(schema, "");
    Walker walker(references, {});
    return walker.judge(instance, references.root(), "").empty();
}

}  // namespace fitup::parameters
