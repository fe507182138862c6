// Mock-ups of random plates, in pieces on random beds: each is meshed from its skin, written and read back.
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "exchange/make.hpp"
#include "exchange/random_plates.hpp"
#include "parts/kinds.hpp"
#include "parts/mockup.hpp"
#include "plan/property.hpp"

namespace fitup::exchange {
namespace {

plan::Mockup any_settings() {
    const auto tenths = [](int least, int most) { return *rc::gen::inRange(least, most) / 10.0; };
    plan::Mockup settings;
    settings.thickness_mm = tenths(15, 100);
    settings.hole_allowance_mm = tenths(0, 20);
    settings.shrinkage = tenths(0, 30) / 100.0;
    settings.joint_gap_mm = tenths(1, 10);
    if (*rc::gen::inRange(0, 4) > 0) settings.bed_mm = {{tenths(1000, 3000), tenths(1000, 3000)}};
    return settings;
}

void expect_verified(const plan::Plan& piece) {
    const Progress quiet = [](std::string_view) {};
    Body body = examine(piece, quiet);
    ASSERT_TRUE(body.findings.empty()) << body.findings.front().message;
    ASSERT_EQ(body.solid, nullptr) << "the kernel is not needed";
    const mesh::Fineness fineness{.chord_mm = 0.01, .angle = Angle::from_degrees(30.0)};
    const mesh::Mesh mesh = part_mesh(piece, body, fineness, quiet);
    ASSERT_TRUE(mesh::is_watertight(mesh));
    const Measurement found = measure_bytes(mesh::stl_bytes(mesh, "mock-up"), "mock-up");
    for (const Row& row : compare(piece, expectation(body, fineness.chord_mm), found, 1e-3).rows)
        ASSERT_TRUE(row.verdict == Verdict::same || row.verdict == Verdict::unmeasured)
            << row.what << ": " << to_text(row.verdict) << ", " << row.expected << ", " << row.found;
}

TEST(MockupMeshes, of_random_plates_are_read_back_as_planned) {
    plan::for_random_cases(
        [] {
            const testing::FairPlate fair = testing::any_fair_plate();
            const parts::Planned planned = parts::plan_file(fair.file, "fair.json");
            RC_ASSERT(planned.plan.has_value());
            for (const parts::MockupPiece& piece : parts::mockup(*planned.plan, any_settings()).pieces) {
                expect_verified(piece.plan);
                if (::testing::Test::HasFailure()) RC_FAIL(piece.suffix + " of " + fair.file);
            }
        },
        std::min(FITUP_PROPERTY_CASES, 30));
}

}  // namespace
}  // namespace fitup::exchange
