#pragma once

#include "plan/stroke.hpp"
#include "sheets/metal_map.hpp"

namespace fitup::sheets {

/// A piece of a curve along which the metal changes, as seen along Z.
struct Rim {
    plan::Stroke curve;
    bool is_visible = true;  ///< false: under metal
};

/// All such curves, seen from a side (in the plan's own X and Y). Each curve is cut where it meets another
/// one and the pieces are judged one by one; pieces that go on alike are one again. Hidden lettering is left
/// out. Cost: about the square of the number of curves whose boxes meet.
std::vector<Rim> rims_seen(const MetalMap& metal, plan::Side side);

}  // namespace fitup::sheets
