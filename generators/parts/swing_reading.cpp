#include "parts/swing_reading.hpp"

#include <algorithm>
#include <filesystem>

namespace fitup::parts {

namespace {

plan::RoundBar read_bar(Reader& reader, const Field& field) {
    plan::RoundBar bar{reader.point3_or(field["from"], {}), reader.point3_or(field["to"], {}),
                       reader.length_mm_or(field["diameter"], 0.0)};
    if (field["from"] && field["to"] && bar.from == bar.to)
        reader.wrong(field["to"], "another point than `from`: the cylinder has no length");
    return bar;
}

plan::Block read_block(Reader& reader, const Field& field) {
    const plan::Point3 from = reader.point3_or(field["from"], {}), to = reader.point3_or(field["to"], {});
    plan::Block block;
    bool is_flat = false;
    for (std::size_t axis = 0; axis < 3; ++axis) {
        block.least[axis] = std::min(from[axis], to[axis]);
        block.most[axis] = std::max(from[axis], to[axis]);
        is_flat = is_flat || from[axis] == to[axis];
    }
    if (field["from"] && field["to"] && is_flat)
        reader.wrong(field["to"], "a corner that differs from `from` in x, y and z: the box is flat");
    return block;
}

plan::Obstacle read_obstacle(Reader& reader, const Field& field) {
    plan::Obstacle obstacle{reader.text_or(field["name"], ""), plan::Block{}};
    if (const Field cylinder = field["cylinder"]) obstacle.shape = read_bar(reader, cylinder);
    if (const Field box = field["box"]) obstacle.shape = read_block(reader, box);
    if (const auto path = reader.text(field["step"]))
        obstacle.shape = plan::StepBody{(std::filesystem::path(reader.folder()) / *path).string()};
    return obstacle;
}

}  // namespace

std::optional<plan::Swing> read_surroundings(Reader& reader) {
    const Field root = reader.root();
    plan::Swing swing;
    swing.clearance_mm = reader.length_mm_or(root["clearance"], 0.0);
    const Field obstacles = root["keep_clear"];
    for (std::size_t i = 0; i < obstacles.size(); ++i) {
        plan::Obstacle obstacle = read_obstacle(reader, obstacles.item(i));
        const bool is_known = std::any_of(swing.keep_clear.begin(), swing.keep_clear.end(),
                                          [&](const auto& other) { return other.name == obstacle.name; });
        if (is_known) reader.wrong(obstacles.item(i)["name"], "a name that no other obstacle has");
        swing.keep_clear.push_back(std::move(obstacle));
    }
    if (swing.keep_clear.empty()) return {};
    return swing;
}

std::optional<plan::Swing> read_swing(Reader& reader) {
    const Field field = reader.root()["swing"];
    const Angle from = reader.angle_or(field["from"], Angle()), to = reader.angle_or(field["to"], Angle());
    if (from.degrees() > to.degrees())
        reader.wrong(field["to"], "an angle not under `from`: the swing runs anticlockwise");
    if (to.degrees() - from.degrees() > 360.0) reader.wrong(field["to"], "at most 360 degrees from `from`");
    std::optional<plan::Swing> swing = read_surroundings(reader);
    if (!swing) return {};
    swing->from = from;
    swing->to = to;
    return swing;
}

}  // namespace fitup::parts
