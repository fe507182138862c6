#pragma once

#include "plan/rod_path.hpp"
#include "sheets/rod_frame.hpp"
#include "sheets/view.hpp"

namespace fitup::sheets {

/// What a bent rod shows in a view: its silhouette, which is the centreline's picture moved to both sides by
/// the radius; rings of its ends, threads, the centreline, and across it where bends that show true start and
/// end. Arcs where a bend shows true, else chords. What the shank hides of itself is left
/// out; ends are drawn through.
void add_rod(View& view, const plan::Rod& rod, const plan::RodPath& path, const ViewFrame& frame,
             double overshoot_mm);

}  // namespace fitup::sheets
