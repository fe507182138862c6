#include <gtest/gtest.h>

#include "exchange/kernel.hpp"
#include "solid/plates.hpp"

namespace fitup::exchange {
namespace {

/// A plate that has no skin: a drill point and a relief cross.
plan::Plan crossed_plate() {
    plan::Plan plan = plates::round_plate();
    plan.holes.push_back(plates::blind_hole("blind", {65, 0}, 12, 10));
    plan.holes.push_back(plates::blind_hole("whole", {-65, 0}, 12, 10));
    plan.pockets.push_back(
        plates::relief("relief-1", plan::rectangle({70, 0}, 20, 30, 3, Angle()), plan::Side::A, 8));
    return plan;
}

TEST(SolidMesh, is_watertight_and_within_the_chord_coarse_after_fine_too) {
    const solid::Built built = kernel().build(crossed_plate(), plan::skin(crossed_plate()));
    std::size_t finer = 1'000'000;
    for (const double chord_mm : {0.005, 0.02, 0.2}) {
        const mesh::Mesh mesh = kernel().mesh(*built.solid, {chord_mm, Angle::from_degrees(20)});
        EXPECT_TRUE(mesh::is_watertight(mesh));
        const double stray_mm3 = chord_mm * built.solid->area_mm2();
        EXPECT_NEAR(mesh::volume_mm3(mesh), built.solid->volume_mm3(), stray_mm3);
        EXPECT_GT(mesh::volume_mm3(mesh), 0.0);
        EXPECT_LT(mesh.triangles.size(), finer) << "a mesh kept from before";
        finer = mesh.triangles.size();
    }
}

}  // namespace
}  // namespace fitup::exchange
