#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "plan/cuts.hpp"
#include "plan/plan.hpp"

namespace fitup::plan {

/// What may leave the skin as one: a hole with all its parts, one area of a pocket, a raised ring.
struct Group {
    enum class Kind { pocket, hole, bore, raised };
    Kind kind = Kind::hole;
    std::vector<std::size_t> cuts;  ///< indices into the cuts
    std::size_t raised = 0;
    bool in_skin = true;
};

/// A contour of the pool and what it bounds.
struct PoolContour {
    Contour contour{Circle{}};
    std::vector<std::size_t> outer_of;   ///< cuts
    std::vector<std::size_t> island_of;  ///< cuts
    std::vector<std::size_t> raised_outer;
    std::vector<std::size_t> raised_inner;
    bool is_outline = false;
    bool is_break = false;  ///< inner edge of a modelled edge break
    std::optional<std::size_t> parent;
    std::vector<std::size_t> children;
};

/// All contours that are apart or nested, as a forest; what crosses has left it.
struct ContourTree {
    std::vector<PoolContour> contours;
    std::vector<Group> groups;
};

/// @param all            every cut of the plan
/// @param break_contour  inner edge of a modelled edge break
/// @param left           groups (by index) that must stay out
ContourTree contour_tree(const Plan& plan, const std::vector<Cut>& all,
                         const std::optional<Contour>& break_contour, const std::vector<bool>& left);

/// The groups of a plan, in a fixed order, all in the skin.
std::vector<Group> groups_of(const Plan& plan, const std::vector<Cut>& all);

}  // namespace fitup::plan
