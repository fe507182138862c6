#pragma once

#include <optional>

#include "calculations/obstacle.hpp"
#include "cli/call.hpp"
#include "cli/part_result.hpp"

namespace fitup::cli {

/// Every file read and planned; the faults of all wrong ones together.
struct Read {
    std::vector<PartResult> parts;
    parameters::Faults faults;
};
/// @throws FileError when a file can't be read
Read read_parts(const std::vector<std::string>& files);

/// Judges a part: rules on the plan, its swing, then what its body shows. Fills findings, figures and walls.
/// @throws FileError, KernelError
exchange::Body judge(PartResult& result, StageLine& stage);

/// What the plan's lever must keep clear of, STEP files read. @throws FileError, KernelError
calculations::ObstacleShape obstacle_of(const plan::Obstacle& obstacle);
std::vector<calculations::ObstacleShape> obstacles_of(const plan::Swing& swing);

/// A stop that holds: final ones always, others unless `despite_rules`.
bool is_stopped(const PartResult& result, bool despite_rules);

/// What is wrong with the call's --chord or --angle where the part's STL would have too many triangles, with
/// the least that would do. Nothing where the fineness serves.
std::optional<std::string> too_fine(const plan::Plan& plan, const mesh::Fineness& fineness, const Call& call);

}  // namespace fitup::cli
