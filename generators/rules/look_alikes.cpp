// Rule look-alike-thread: threads, and bolts that holes let through, which are easily taken for others.
#include <algorithm>

#include "rules/checks.hpp"
#include "rules/wording.hpp"
#include "trade/names.hpp"
#include "trade/trade.hpp"

namespace fitup::rules {

namespace {

using plan::Finding;
using plan::Findings;
using plan::Hole;

/// All holes of a part with one thread.
struct Use {
    const trade::Thread* thread = nullptr;
    std::vector<std::size_t> tapped;
    std::vector<std::size_t> clear;
    double widest_clear_mm = 0.0;
};

/// A bolt named by its bare inch size is taken as the coarse one, which stands first in the table.
const trade::Thread* thread_of(const plan::Fastener& fastener) {
    if (const trade::Thread* thread = trade::find_thread(fastener.designation)) return thread;
    const std::string size = trade::fastener_key(fastener.designation);
    const auto threads = trade::threads();
    const auto found = std::find_if(threads.begin(), threads.end(), [&size](const trade::Thread& thread) {
        return trade::fastener_key(trade::fastener_size(thread)) == size;
    });
    return found == threads.end() ? nullptr : &*found;
}

const trade::Thread* thread_of(const Hole& hole) {
    if (hole.thread) return trade::find_thread(hole.thread->designation);
    return hole.fastener ? thread_of(*hole.fastener) : nullptr;
}

/// In the order in which the part's holes name them.
std::vector<Use> uses_of(const plan::Plan& plan) {
    std::vector<Use> uses;
    for (std::size_t i = 0; i < plan.holes.size(); ++i) {
        const Hole& hole = plan.holes[i];
        const trade::Thread* thread = thread_of(hole);
        if (thread == nullptr) continue;
        auto use = std::find_if(uses.begin(), uses.end(), [&](const Use& u) { return u.thread == thread; });
        if (use == uses.end()) use = uses.insert(uses.end(), Use{thread, {}, {}, 0.0});
        (hole.thread ? use->tapped : use->clear).push_back(i);
        if (!hole.thread) use->widest_clear_mm = std::max(use->widest_clear_mm, hole.diameter_mm);
    }
    return uses;
}

std::string holes_of(const plan::Plan& plan, const Use& use) {
    std::vector<std::string> words;
    if (!use.tapped.empty()) words.push_back("tapped in " + holes_text(plan, use.tapped));
    if (!use.clear.empty()) words.push_back("let through by " + holes_text(plan, use.clear));
    return and_list(words, words.size());
}

/// A bolt of the other system goes through the hole too, so the hole does not show the mistake.
std::string passing_text(const Use& use, const trade::Thread& twin) {
    const bool is_other_system = twin.is_inch() != use.thread->is_inch();
    if (use.clear.empty() || !is_other_system || twin.major_mm > use.widest_clear_mm) return "";
    return ". " + twin.designation + " passes through the clearance hole (" +
           length_text(use.widest_clear_mm) + ") too";
}

/// Threads of the other system in the same part are what gets mixed up.
bool has_other_system(const std::vector<Use>& uses, const trade::Thread& thread) {
    return std::any_of(uses.begin(), uses.end(),
                       [&thread](const Use& use) { return use.thread->is_inch() != thread.is_inch(); });
}

std::optional<Finding> judge(const plan::Plan& plan, const std::vector<Use>& uses, const Use& use) {
    const std::vector<trade::LookAlike> twins = trade::look_alikes(*use.thread);
    if (twins.empty()) return std::nullopt;
    std::vector<std::string> names;
    std::string tests;
    bool is_mixed = false;
    for (const trade::LookAlike& twin : twins) {
        names.push_back(twin.thread->designation);
        tests += " " + twin.thread->designation + ": " + twin.test + passing_text(use, *twin.thread) + ".";
        const bool is_other_system = twin.thread->is_inch() != use.thread->is_inch();
        is_mixed = is_mixed || (is_other_system && has_other_system(uses, *use.thread));
    }
    std::vector<std::size_t> holes = use.tapped;
    holes.insert(holes.end(), use.clear.begin(), use.clear.end());
    Finding finding =
        note_of("look-alike-thread", holes_text(plan, holes),
                use.thread->designation + " (" + holes_of(plan, use) + ") is easily taken for " +
                    and_list(names, names.size()) + "; try before the bolts go in." + tests);
    if (is_mixed) finding.severity = plan::Severity::warn;
    finding.at_mm = place_of(plan, plan.holes[holes.front()]);
    return finding;
}

}  // namespace

Findings check_look_alikes(const Subject& subject) {
    Findings findings;
    const std::vector<Use> uses = uses_of(subject.plan());
    for (const Use& use : uses) {
        if (auto finding = judge(subject.plan(), uses, use)) findings.push_back(std::move(*finding));
    }
    return findings;
}

}  // namespace fitup::rules
