#include "base/error.hpp"
#include "base/file.hpp"
#include "cli/part_commands.hpp"
#include "exchange/kernel.hpp"

namespace fitup::cli {

namespace {

/// Triangles of a STEP obstacle stay this near to its surface; stated with the result.
constexpr double obstacle_chord_mm = 0.005;

calculations::ObstacleShape shape_of_step(const std::string& name, const plan::StepBody& body) {
    const mesh::Fineness fineness{obstacle_chord_mm, Angle::from_degrees(20.0)};
    return calculations::shape_of(
        name, exchange::kernel().step_mesh(read_file(body.path), body.path, fineness), obstacle_chord_mm);
}

}  // namespace

std::vector<calculations::ObstacleShape> obstacles_of(const plan::Swing& swing) {
    std::vector<calculations::ObstacleShape> shapes;
    for (const plan::Obstacle& obstacle : swing.keep_clear) {
        if (const auto* bar = std::get_if<plan::RoundBar>(&obstacle.shape))
            shapes.push_back(calculations::shape_of(obstacle.name, *bar));
        else if (const auto* block = std::get_if<plan::Block>(&obstacle.shape))
            shapes.push_back(calculations::shape_of(obstacle.name, *block));
        else
            shapes.push_back(shape_of_step(obstacle.name, std::get<plan::StepBody>(obstacle.shape)));
    }
    return shapes;
}

}  // namespace fitup::cli
