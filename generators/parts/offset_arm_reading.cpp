#include "parts/common_header.hpp"
#include "parts/eye.hpp"
#include "parts/offset_arm.hpp"
#include "parts/swing_reading.hpp"

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
    arm.header.swing = read_swing(reader);
    return arm;
}

}  // namespace fitup::parts
