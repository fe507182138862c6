#pragma once

#include "plan/plan.hpp"

namespace fitup::plan {

/// How many threads a plan has as real helices.
struct ModelledThreads {
    std::size_t holes = 0;
    std::size_t rod_ends = 0;
    std::size_t all() const { return holes + rod_ends; }
};
ModelledThreads modelled_threads(const Plan& plan);

/// The part with every modelled thread cut away, to print: nothing in its place is in a bolt's or nut's way.
///
/// A hole gets the thread's major diameter over its whole depth. Its drill point keeps angle and tip, so that
/// it goes no deeper than before; a recess or countersink no wider than the hole then is gone.
/// A rod's end is turned down to the minor diameter over thread and run-out, square at the shoulder. Where
/// two such ends leave no shank, the thinner one ends at the thicker. REQUIRES: what parts::plan_file() sees
/// to.
Plan with_threads_cut_away(Plan plan);

}  // namespace fitup::plan
