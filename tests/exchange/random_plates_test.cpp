// Random fair plates from parameter file to exchange files, all written, read back and compared by make()
// itself, then measured against the sum of their features and by a mesh library that is not ours.
#include "exchange/random_plates.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <filesystem>

#include "exchange/independent_mesh.hpp"
#include "exchange/make.hpp"
#include "parts/kinds.hpp"
#include "plan/property.hpp"
#include "rules/rules.hpp"

namespace fitup::exchange {
namespace {

namespace fs = std::filesystem;

void quiet(std::string_view) {}

class RandomPlates : public ::testing::Test {
  protected:
    void SetUp() override {
        std::string pattern = (fs::temp_directory_path() / "fitup-fair-XXXXXX").string();
        folder_ = ::mkdtemp(pattern.data());
    }
    void TearDown() override { fs::remove_all(folder_); }

    fs::path folder_;
};

double hollow_mm3(const plan::Plan& plan, double depth_mm) {
    double volume = 0.0;
    for (const plan::Pocket& pocket : plan.pockets) {
        if (pocket.kind != plan::PocketKind::hollow) continue;
        for (const plan::Area& area : pocket.areas) volume += plan::area_mm2(area) * depth_mm;
    }
    return volume;
}

TEST_F(RandomPlates, are_verified_have_the_volume_of_their_features_and_a_sound_mesh) {
    constexpr unsigned seed = 20261;
    std::printf("seed %u, %d plates\n", seed, FITUP_PROPERTY_CASES);
    MakeOptions options;
    options.folder = folder_;
    options.fineness = {.chord_mm = 0.05, .angle = Angle::from_degrees(20.0)};
    const auto is_made_as_planned = [&] {
        const testing::FairPlate fair = testing::any_fair_plate();
        RC_LOG() << fair.file;
        const parts::Planned planned = parts::plan_file(fair.file, "fair.json");
        for (const auto& fault : planned.faults) RC_LOG() << parameters::to_text(fault) << "\n";
        RC_ASSERT(planned.plan.has_value());
        const plan::Plan& plan = *planned.plan;
        RC_ASSERT(!plan::has_final_stop(rules::judge(plan)));

        Body body = examine(plan, quiet);
        RC_ASSERT(body.findings.empty());
        const double volume = fair.volume_mm3 - hollow_mm3(plan, fair.hollow_depth_mm);
        RC_ASSERT(std::abs(body.figures.volume_mm3 / volume - 1.0) < 1e-9);

        FileSet files;
        for (const MadeFile& file : make(plan, body, options, files, quiet)) RC_ASSERT(file.verified);
        files.publish();
        RC_ASSERT(std::abs(measure_file(folder_ / "fair.step").volume_mm3 / volume - 1.0) < 1e-9);

        const testing::IndependentMesh mesh = testing::judged_independently(read_file(folder_ / "fair.stl"));
        RC_ASSERT(mesh.is_closed);
        RC_ASSERT(mesh.faces_outward);
        RC_ASSERT(!mesh.crosses_itself);
        // A facet lies at most one chord from the surface it stands for, on every square millimetre of the
        // part.
        RC_ASSERT(std::abs(mesh.volume_mm3 - volume) < body.figures.area_mm2 * options.fineness.chord_mm);
    };
    plan::for_random_cases(is_made_as_planned, FITUP_PROPERTY_CASES, seed);
}

}  // namespace
}  // namespace fitup::exchange
