#include <algorithm>

#include "parts/common_header.hpp"
#include "parts/eye.hpp"
#include "parts/offset_arm.hpp"

namespace fitup::parts {

namespace {

/// Where the file names none: cold-rolled steel, bent round about its thickness. Source: Machinery's
/// Handbook 26, as quoted by a trade guide (0.42 to 0.47).
constexpr double usual_k_factor = 0.42;

std::optional<plan::Joggle> read_joggle(const Reader& reader) {
    const Field field = reader.root()["joggle"];
    const double rise_mm = reader.length_mm_or(field["rise"], 0.0);
    if (rise_mm == 0.0) return std::nullopt;
    return plan::Joggle{rise_mm, reader.length_mm_or(field["start"], 0.0),
                        reader.length_mm_or(field["run"], 0.0),
                        reader.length_mm_or(field["inside_radius"], 0.0),
                        reader.number(reader.root()["bending"]["k_factor"]).value_or(usual_k_factor)};
}

void read_pivot(Reader& reader, OffsetArm& arm) {
    const Field pivot = reader.root()["pivot"];
    arm.pivot.kind = plan::HoleKind::bore;
    arm.pivot.diameter_mm = reader.length_mm_or(pivot["bore"], 0.0);
    arm.pivot.fit = read_fit(reader, pivot["fit"], arm.pivot.diameter_mm, FitOf::hole);
    if (const Field boss = pivot["boss"])
        arm.boss = ArmBoss{boss, reader.length_mm_or(boss["diameter"], 0.0),
                           reader.length_mm_or(boss["height"], 0.0)};
    if (const Field clamp = pivot["clamp"])
        arm.clamp =
            ArmClamp{clamp, reader.length_mm_or(clamp["slit"], 0.0), read_thread(reader, clamp["bolt"], {})};
}

void check_obstacle(Reader& reader, const Field& obstacle) {
    const Field cylinder = obstacle["cylinder"];
    if (cylinder["from"] && cylinder["to"] &&
        reader.point3_or(cylinder["from"], {}) == reader.point3_or(cylinder["to"], {}))
        reader.wrong(cylinder["to"], "another point than `from`: the cylinder has no length");
    const Field box = obstacle["box"];
    if (!box["from"] || !box["to"]) return;
    const plan::Point3 from = reader.point3_or(box["from"], {});
    const plan::Point3 to = reader.point3_or(box["to"], {});
    for (std::size_t axis = 0; axis < 3; ++axis) {
        if (from[axis] == to[axis])
            reader.wrong(box["to"], "a corner that differs from `from` in x, y and z: the box is flat");
    }
}

/// What stands in the way is read for the swing's clearance; a plan has no place for it yet.
void check_surroundings(Reader& reader) {
    const Field root = reader.root();
    const Field swing = root["swing"];
    if (swing["from"] && swing["to"] &&
        reader.angle_or(swing["from"], {}).degrees() > reader.angle_or(swing["to"], {}).degrees())
        reader.wrong(swing["to"], "an angle not under `from`: the swing runs anticlockwise");
    const Field obstacles = root["keep_clear"];
    std::vector<std::string> names;
    for (std::size_t i = 0; i < obstacles.size(); ++i) {
        const Field obstacle = obstacles.item(i);
        check_obstacle(reader, obstacle);
        const std::string name = reader.text_or(obstacle["name"], "");
        if (std::find(names.begin(), names.end(), name) != names.end())
            reader.wrong(obstacle["name"], "a name that no other obstacle has");
        names.push_back(name);
    }
}

}  // namespace

OffsetArm read_offset_arm(Reader& reader) {
    const Field root = reader.root();
    OffsetArm arm;
    read_common_header(reader, arm.header);
    arm.width_mm = reader.length_mm_or(root["strip"]["width"], 0.0);
    arm.thickness_mm = reader.length_mm_or(root["strip"]["thickness"], 0.0);
    arm.length_mm = reader.length_mm_or(root["length"], 0.0);
    arm.joggle = read_joggle(reader);
    read_pivot(reader, arm);
    arm.eye = read_eye(reader, root["eye"]);
    arm.rod_force_n = reader.number(root["load"]["rod_force"]);
    check_surroundings(reader);
    return arm;
}

}  // namespace fitup::parts
