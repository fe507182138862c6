#include "parts/kinds.hpp"

#include <algorithm>
#include <array>
#include <string>

#include "base/embedded.hpp"
#include "parameters/open_file.hpp"
#include "parts/adapter_plate.hpp"
#include "parts/bellcrank.hpp"
#include "parts/offset_arm.hpp"
#include "parts/paper.hpp"
#include "parts/printed.hpp"
#include "parts/threaded_rod.hpp"

namespace fitup::parts {

namespace starters {
std::span<const fitup::Embedded> embedded();
}

namespace {

std::string_view starter_text(std::string_view name) { return embedded_text(starters::embedded(), name); }

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
    parameters::Opened opened = parameters::open_file(bytes, file, parameters::Role::part, kind_names());
    const Kind* kind = find_kind(opened.kind);
    if (kind == nullptr) return {std::nullopt, std::move(opened.document.faults)};
    Planned planned = kind->plan(opened.document);
    planned.papers = read_papers(Reader(opened.document, units_of(opened.document)));
    if (planned.plan) plan::append(planned.findings, print_findings(*planned.plan, planned.papers.print));
    return planned;
}

}  // namespace fitup::parts
