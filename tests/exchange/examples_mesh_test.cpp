// The STL of every example, at the program's own fineness, read by a mesh library that is not ours.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>

#include "exchange/independent_mesh.hpp"
#include "exchange/make.hpp"
#include "parts/kinds.hpp"

namespace fitup::exchange {
namespace {

namespace fs = std::filesystem;

void quiet(std::string_view) {}

/// Binary STL: an 80-byte title, the count, 50 bytes a triangle.
constexpr std::size_t first_triangle = 84;
constexpr std::size_t triangle_bytes = 50;

std::string example_stl(const fs::path& file, const mesh::Fineness& fineness, Body& body) {
    const parts::Planned planned = parts::plan_file(read_file(file), file.string());
    EXPECT_TRUE(planned.plan);
    if (!planned.plan) return {};
    body = examine(*planned.plan, quiet);
    EXPECT_TRUE(body.findings.empty());
    return mesh::stl_bytes(part_mesh(*planned.plan, body, fineness, quiet), "example");
}

TEST(ExampleMeshes, are_closed_outward_uncrossed_and_of_the_plans_volume) {
    int examples = 0;
    for (const auto& entry : fs::directory_iterator(FITUP_SOURCE_FOLDER "/examples")) {
        if (entry.path().extension() != ".json") continue;
        const std::string text = read_file(entry.path());
        if (text.find("\"calculation\"") != std::string::npos) continue;
        // One that needs results first is made through the program (tests/cli/demo_test.cpp).
        if (text.find(".result.json") != std::string::npos) continue;
        SCOPED_TRACE(entry.path().filename().string());
        ++examples;
        const mesh::Fineness fineness;
        Body body;
        const std::string bytes = example_stl(entry.path(), fineness, body);
        const testing::IndependentMesh mesh = testing::judged_independently(bytes);
        EXPECT_EQ(mesh.triangles, (bytes.size() - first_triangle) / triangle_bytes);
        EXPECT_TRUE(mesh.is_closed);
        EXPECT_TRUE(mesh.faces_outward);
        EXPECT_FALSE(mesh.crosses_itself);
        EXPECT_LT(std::abs(mesh.volume_mm3 - body.figures.volume_mm3),
                  body.figures.area_mm2 * fineness.chord_mm);
    }
    EXPECT_GE(examples, 4);
}

/// The judge itself: what is broken must be seen as broken.
TEST(ExampleMeshes, a_missing_turned_or_moved_triangle_is_seen) {
    Body body;
    const std::string sound =
        example_stl(FITUP_SOURCE_FOLDER "/examples/selector-crank.json", {.chord_mm = 0.5}, body);
    ASSERT_TRUE(testing::judged_independently(sound).is_closed);
    std::string missing = sound;
    missing.resize(missing.size() - triangle_bytes);
    --missing[80];
    EXPECT_FALSE(testing::judged_independently(missing).is_closed);
    std::string turned = sound;
    constexpr std::size_t normal_bytes = 12, corner_bytes = 12;
    std::swap_ranges(turned.begin() + first_triangle + normal_bytes,
                     turned.begin() + first_triangle + normal_bytes + corner_bytes,
                     turned.begin() + first_triangle + normal_bytes + corner_bytes);
    EXPECT_FALSE(testing::judged_independently(turned).is_closed);
    std::string inside_out = sound;
    for (std::size_t at = first_triangle; at < inside_out.size(); at += triangle_bytes)
        std::swap_ranges(inside_out.begin() + static_cast<std::ptrdiff_t>(at + normal_bytes),
                         inside_out.begin() + static_cast<std::ptrdiff_t>(at + normal_bytes + corner_bytes),
                         inside_out.begin() + static_cast<std::ptrdiff_t>(at + normal_bytes + corner_bytes));
    EXPECT_TRUE(testing::judged_independently(inside_out).is_closed);
    EXPECT_FALSE(testing::judged_independently(inside_out).faces_outward);
}

}  // namespace
}  // namespace fitup::exchange
