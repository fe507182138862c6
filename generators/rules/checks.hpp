#pragma once

#include "plan/finding.hpp"
#include "rules/subject.hpp"

/// The rules' judges, one function a theme: each returns what it finds on the subject, in the plan's order.
namespace fitup::rules {

/// off-part
plan::Findings check_on_part(const Subject& subject);
/// nothing-left, part-in-pieces; REQUIRES: no finding of check_on_part and no meeting holes.
plan::Findings check_pieces(const Subject& subject);
/// holes-meeting, doubled-hole, web, recess-floor and hole-floor between two cuts
plan::Findings check_neighbours(const Subject& subject);
/// edge-distance
plan::Findings check_edge_distance(const Subject& subject);
/// rim
plan::Findings check_rim(const Subject& subject);
/// recess-floor, hole-floor and drill-through against the far face
plan::Findings check_floors(const Subject& subject);
/// thread-engagement, tap-room, long-thread
plan::Findings check_threads(const Subject& subject);

/// pattern-side, mirrored-pattern, position-tolerance
plan::Findings check_patterns(const Subject& subject);
/// look-alike-thread
plan::Findings check_look_alikes(const Subject& subject);
/// deep-drill, socket-room, proud-head
plan::Findings check_tools(const Subject& subject);
/// inside-corner, deep-hollow
plan::Findings check_milling(const Subject& subject);
/// unverified-figure
plan::Findings check_figures(const Subject& subject);
/// register-fit, register-slack
plan::Findings check_registers(const Subject& subject);
/// register-cut
plan::Findings check_register_edges(const Subject& subject);
/// eye-wall, eyes-merge, thin-arm, bush-fit
plan::Findings check_eyes(const Subject& subject);
/// in-bend, bend-radius, bend-leg, bend-hole, joggle-stress, clamp-lug: offset arms
plan::Findings check_bends(const Subject& subject);
/// Whether the wall round the hole is judged by eye-wall.
bool is_eye(const plan::Plan& plan, const plan::Hole& hole);
/// Everything that is judged of a rod; nothing for other parts.
plan::Findings check_rod(const Subject& subject);
/// override
plan::Findings check_overrides(const Subject& subject);

}  // namespace fitup::rules
