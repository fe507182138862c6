#pragma once

#include "parts/kinds.hpp"
#include "parts/reading.hpp"

/// The link rod: parameters/schemas' `threaded_rod` to a plan without slab.
namespace fitup::parts {

/// The rod's keys as read, with the fields that faults are placed at.
struct ThreadedRod {
    plan::Plan header;
    plan::Rod rod;
};

/// A path that can't be bent, an end that its thread does not fit, a fitting without a thread: each a fault
/// at its key.
ThreadedRod read_threaded_rod(Reader& reader);

/// Checked document to plan.
Planned plan_threaded_rod(const parameters::Document& document);

/// cut_length_mm, straights_mm, bends, pin_to_pin_mm, adjustment, buckling_n, what the bends cost, stresses.
plan::Work threaded_rod_work(const plan::Plan& plan);

}  // namespace fitup::parts
