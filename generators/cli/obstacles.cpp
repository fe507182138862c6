#include "base/error.hpp"
#include "base/file.hpp"
#include "cli/part_commands.hpp"
#include "exchange/kernel.hpp"

namespace fitup::cli {

namespace {

/// Triangles of a STEP obstacle and its surface stay this near to each other; what was reached is stated with
/// the result.
constexpr double obstacle_within_mm = 0.005;

calculations::ObstacleShape shape_of_step(const std::string& name, const plan::StepBody& body) {
    try {
        const exchange::SurfaceMesh surface =
            exchange::kernel().step_surface(read_file(body.path), body.path, obstacle_within_mm);
        return calculations::shape_of(name, surface.mesh, surface.within_mm);
    } catch (const FileError& error) {
        throw FileError(error.file(), std::string(error.what()).substr(error.file().size() + 2) +
                                          " (it is what \"" + name + "\" in keep_clear names)");
    }
}

}  // namespace

calculations::ObstacleShape obstacle_of(const plan::Obstacle& obstacle) {
    if (const auto* bar = std::get_if<plan::RoundBar>(&obstacle.shape))
        return calculations::shape_of(obstacle.name, *bar);
    if (const auto* block = std::get_if<plan::Block>(&obstacle.shape))
        return calculations::shape_of(obstacle.name, *block);
    return shape_of_step(obstacle.name, std::get<plan::StepBody>(obstacle.shape));
}

std::vector<calculations::ObstacleShape> obstacles_of(const plan::Swing& swing) {
    std::vector<calculations::ObstacleShape> shapes;
    for (const plan::Obstacle& obstacle : swing.keep_clear) shapes.push_back(obstacle_of(obstacle));
    return shapes;
}

}  // namespace fitup::cli
