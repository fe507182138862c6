#pragma once

#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "plan/skin.hpp"

/// First stage of the skin: all contours of a body, each once, and how they lie to each other.
namespace fitup::plan {

/// What a skin is made of.
struct Stock {
    Contour outline;
    double thickness_mm = 0.0;
    double edge_break_mm = 0.0;             ///< 0: square edges
    std::optional<Contour> broken_outline;  ///< the outline on the faces, `edge_break_mm` inside
    std::span<const Raised> raised;
    std::span<const Cut> cuts;
};

/// One thing that adds or takes metal: the slab itself (always the first), a raised ring, a cut.
struct Item {
    enum class Kind { slab, raised, cut };
    Kind kind = Kind::slab;
    std::size_t index = 0;             ///< into Stock::raised or Stock::cuts
    std::optional<std::size_t> shaft;  ///< item of the shaft that this part of a hole belongs to
    bool in_skin = true;
};

/// What a contour is to an item. `narrow`: the small end of its cone or of the slab's edge break.
struct Bound {
    enum class Use { outer, island, narrow };
    std::size_t item = 0;
    Use use = Use::outer;
};

/// A contour with all items that it bounds, and the loops around it (any order).
struct Loop {
    Contour contour;
    Box2 box;
    double area_mm2 = 0.0;
    std::vector<Bound> bounds;
    std::vector<std::size_t> around;
};

struct Layout {
    std::vector<Item> items;
    std::vector<Loop> loops;
    std::vector<std::pair<std::size_t, std::size_t>> crossings;  ///< pairs of loops
};

Layout lay_out(const Stock& stock);

/// Takes out of the skin what crosses: afterwards no two loops with an item in the skin cross.
void choose(Layout& layout, const Stock& stock);

/// Takes one item out, with all that can't stay without it. @returns all that left now.
std::vector<std::size_t> drop(Layout& layout, const Stock& stock, std::size_t item);

}  // namespace fitup::plan
