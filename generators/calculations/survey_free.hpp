#pragma once

#include <Eigen/Core>

#include "calculations/survey_network.hpp"

namespace fitup::calculations {

/// The motions that coordinates leave free (shifts, turn), as columns of length 1 square to one another.
/// @param free  how many: `free_motions`
Eigen::MatrixXd free_basis(const Network& network, const std::vector<plan::Point>& at, int free);

}  // namespace fitup::calculations
