#include "calculations/part_sizes.hpp"

#include "base/file.hpp"
#include "parameters/open_file.hpp"
#include "parts/bellcrank.hpp"
#include "parts/offset_arm.hpp"
#include "parts/threaded_rod.hpp"
#include "plan/rod_strength.hpp"

namespace fitup::calculations {

namespace {

std::vector<ArmSize> arms_of_crank(parts::Reader& reader) {
    const parts::Bellcrank crank = parts::read_bellcrank(reader);
    std::vector<ArmSize> arms;
    for (const parts::CrankArmParameters& arm : crank.arms) {
        const double middle_mm = arm.eye.low_mm + arm.eye.height_mm / 2.0;
        arms.push_back({arm.name, arm.field.key + ".length", arm.length_mm, arm.angle,
                        middle_mm - crank.thickness_mm / 2.0});
    }
    return arms;
}

std::vector<ArmSize> arms_of_offset_arm(parts::Reader& reader) {
    const parts::OffsetArm arm = parts::read_offset_arm(reader);
    return {{"", "length", arm.length_mm, Angle(), arm.joggle ? arm.joggle->rise_mm : 0.0}};
}

RodSize rod_of(const plan::Rod& rod) {
    const plan::PinToPin reach = plan::pin_to_pin(rod);
    return {reach.set_mm, reach.least_mm, reach.most_mm};
}

}  // namespace

ReadPart read_part_sizes(const std::string& path) {
    const std::string bytes = read_file(path);
    const parts::Planned planned = parts::plan_file(bytes, path);
    if (!planned.plan) return {{}, planned.faults};
    ReadPart read;
    read.sizes.kind = planned.plan->part;
    if (planned.plan->rod) read.sizes.rod = rod_of(*planned.plan->rod);
    const parameters::Document document = parameters::read_json(bytes, path);
    parts::Reader reader(document, parts::units_of(document));
    if (read.sizes.kind == "bellcrank") read.sizes.arms = arms_of_crank(reader);
    if (read.sizes.kind == "offset_arm") read.sizes.arms = arms_of_offset_arm(reader);
    return read;
}

}  // namespace fitup::calculations
