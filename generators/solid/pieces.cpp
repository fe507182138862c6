#include "solid/pieces.hpp"

namespace fitup::solid {
namespace {

plan::Finding nothing_left(const std::string& where) {
    const std::string which = where.empty() ? "The cuts" : "With " + where + " the cuts";
    return plan::final_stop("nothing-left", where,
                            which + " leave no metal; make them smaller or the part larger.");
}

plan::Finding in_pieces(const std::string& where, std::size_t pieces) {
    const std::string which = where.empty() ? "The cuts" : "With " + where + " the cuts";
    return plan::final_stop("part-in-pieces", where,
                            which + " part the metal into " + std::to_string(pieces) +
                                " pieces; move or shorten one so that the part stays whole.");
}

}  // namespace

std::string making_text(const plan::Plan& plan) {
    return plan.name.empty() ? "the solid" : "the solid of " + plan.name;
}

plan::Findings unsound_pieces(const SkinSolids& made, const std::string& where) {
    if (made.solids.empty()) return {nothing_left(where)};
    if (made.solids.size() > 1) return {in_pieces(where, made.solids.size())};
    return {};
}

}  // namespace fitup::solid
