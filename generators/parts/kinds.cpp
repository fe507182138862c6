#include "parts/kinds.hpp"

#include <algorithm>
#include <array>
#include <string>

#include "base/embedded.hpp"
#include "base/text.hpp"
#include "parameters/schema.hpp"
#include "parts/adapter_plate.hpp"
#include "parts/bellcrank.hpp"
#include "parts/offset_arm.hpp"
#include "parts/threaded_rod.hpp"

namespace fitup::parts {

namespace starters {
std::span<const fitup::Embedded> embedded();
}

namespace {

using parameters::Document;
using parameters::Node;

std::string_view starter_text(std::string_view name) {
    for (const Embedded& starter : starters::embedded()) {
        if (starter.name == name) return starter.text;
    }
    return {};
}

std::string wanted_kinds() {
    std::vector<std::string> names = kind_names();
    for (std::string& name : names) name = "\"" + name + "\"";
    return or_list(names);
}

/// What is wrong with the key that names the kind, where that is so.
parameters::Fault unknown_kind(const Document& document) {
    const Node& root = *document.root;
    if (const Node* part = root.find("part")) {
        const auto nearest = nearest_word(part->text, kind_names());
        return parameters::wrong_value(document.file, *part, "part", wanted_kinds(),
                                       nearest ? "the nearest is \"" + *nearest + "\"" : "");
    }
    if (const Node* calculation = root.find("calculation")) {
        return parameters::wrong_in_words(
            document.file, *calculation, "calculation",
            "this version makes parts and works out no calculations yet; wanted \"part\": " + wanted_kinds());
    }
    return parameters::wrong_in_words(document.file, root, "part", "missing; wanted " + wanted_kinds());
}

}  // namespace

std::span<const Kind> kinds() {
    static const std::array<Kind, 4> all{
        {{"adapter_plate", "a plate that joins two castings that were never made for each other",
          starter_text("adapter_plate"), plan_adapter_plate},
         {"bellcrank", "a crank of one to three arms about one pivot, that turns one travel into another",
          starter_text("bellcrank"), plan_bellcrank, bellcrank_work},
         {"offset_arm", "a lever of bent strip, plain or clamped on its shaft", starter_text("offset_arm"),
          plan_offset_arm, offset_arm_work},
         {"threaded_rod", "a link rod, straight or bent in space, with threaded ends",
          starter_text("threaded_rod"), plan_threaded_rod, threaded_rod_work}}};
    return all;
}

std::vector<std::string> kind_names() {
    std::vector<std::string> names;
    for (const Kind& kind : kinds()) names.emplace_back(kind.name);
    return names;
}

const Kind* find_kind(std::string_view name) {
    for (const Kind& kind : kinds()) {
        if (kind.name == name) return &kind;
    }
    return nullptr;
}

Planned refused(const Reader& reader) {
    parameters::Faults faults = reader.faults();
    std::stable_sort(faults.begin(), faults.end(), [](const auto& a, const auto& b) {
        return std::pair(a.line, a.column) < std::pair(b.line, b.column);
    });
    return {std::nullopt, std::move(faults)};
}

plan::Work work_of(const plan::Plan& plan) {
    const Kind* kind = find_kind(plan.part);
    return kind != nullptr && kind->work != nullptr ? kind->work(plan) : plan::Work{};
}

Planned plan_file(std::string_view bytes, const std::string& file) {
    Document document = parameters::read_json(bytes, file);
    if (!document.root || document.root->type != Node::Type::object) {
        if (document.root) {
            document.faults.push_back(parameters::wrong_value(file, *document.root, "",
                                                              "an object with format, part, name and so on"));
        }
        return {std::nullopt, std::move(document.faults)};
    }
    const Node* part = document.root->find("part");
    const Kind* kind = part != nullptr ? find_kind(part->text) : nullptr;
    if (kind == nullptr) {
        document.faults.push_back(unknown_kind(document));
        return {std::nullopt, std::move(document.faults)};
    }
    document.faults = parameters::check(document, kind->name);
    return kind->plan(document);
}

}  // namespace fitup::parts
