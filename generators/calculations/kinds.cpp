#include "calculations/kinds.hpp"

#include <array>

#include "base/embedded.hpp"

namespace fitup::calculations {

namespace starters {
std::span<const fitup::Embedded> embedded();
}

namespace {

std::string_view starter_text(std::string_view name) { return embedded_text(starters::embedded(), name); }

}  // namespace

std::span<const Kind> kinds() {
    static const std::array all{
        Kind{"linkage", "levers joined by rods: does every position select?", starter_text("linkage")},
        Kind{"survey", "where holes lie, from readings that each carry an error", starter_text("survey")},
        Kind{"clocking", "one pattern of a plate turned against the others: where is most metal left?",
             starter_text("clocking")},
        Kind{"as_made", "a finished plate as measured: does it still bolt up, and which hole is off?",
             starter_text("as_made")},
        Kind{"stack", "sizes along one axis: what gaps they close, and which size serves all of them",
             starter_text("stack")},
        Kind{"concentricity", "two shafts: what clearances and tolerances add up to, and what the dial says",
             starter_text("concentricity")}};
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

}  // namespace fitup::calculations
