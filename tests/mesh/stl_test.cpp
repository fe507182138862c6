#include <gtest/gtest.h>

#include <bit>
#include <clocale>

#include "base/error.hpp"
#include "mesh/skins.hpp"

namespace fitup::mesh {
namespace {

using testing::plate;

/// Unit roundoff of a float.
constexpr double float_rounding = 6e-8;

const char* const tetrahedron =
    "solid of a stranger\r\n"
    "  facet normal 0 0 -1\r\n    outer loop\r\n      vertex 0 0 0\r\n      vertex 0 1.0e+1 0\r\n      "
    "vertex +10 0 0\r\n"
    "    endloop\r\n  endfacet\r\n"
    "FACET NORMAL nan nan nan OUTER LOOP VERTEX 0 0 0 VERTEX 10 0 0 VERTEX 0 0 10 ENDLOOP ENDFACET\r\n"
    "facet normal -1 0 0 outer loop vertex 0 0 0 vertex 0 0 10 vertex 0 10 0 endloop endfacet\r\n"
    "facet normal 1 1 1 outer loop vertex 10 0 0 vertex 0 10 0 vertex 0 0 10 endloop endfacet\r\n"
    "endsolid of a stranger\r\n";

std::string reason(std::string_view bytes) {
    try {
        read_stl(bytes, "part.stl");
    } catch (const FileError& error) {
        return error.what();
    }
    return "no error";
}

TEST(Stl, written_and_read_back_is_the_same_part_and_closed) {
    const Mesh mesh = mesh_of(plate(100.0, 12.0, {{{0.0, 0.0}, 30.0}, {{61.1, 10.7}, 5.25}}), {});
    const std::string bytes = stl_bytes(mesh, "winch-adapter");
    EXPECT_EQ(bytes.size(), 84 + 50 * mesh.triangles.size());
    const Mesh back = read_stl(bytes, "part.stl");
    EXPECT_TRUE(is_watertight(back));
    EXPECT_EQ(back.triangles.size(), mesh.triangles.size());
    // Every vertex moves by at most 100 mm times the rounding in each direction.
    EXPECT_NEAR(volume_mm3(back), volume_mm3(mesh), area_mm2(mesh) * 100.0 * float_rounding * 1.75);
    EXPECT_EQ(stl_bytes(back, "winch-adapter"), bytes);
}

TEST(Stl, normals_are_those_of_the_corners) {
    const std::string bytes = stl_bytes(read_stl(tetrahedron, "t.stl"), "t");
    const auto number = [&bytes](std::size_t at) {
        std::uint32_t value = 0;
        for (std::size_t i = 0; i < 4; ++i)
            value |= std::uint32_t{static_cast<unsigned char>(bytes[at + i])} << (8 * i);
        return std::bit_cast<float>(value);
    };
    EXPECT_EQ(number(84 + 8), -1.0F);
    EXPECT_EQ(number(84 + 50 + 4), -1.0F);
    EXPECT_FLOAT_EQ(number(84 + 3 * 50), 1.0F / std::sqrt(3.0F));
}

TEST(Stl, header_never_begins_like_text) {
    const Mesh mesh = read_stl(tetrahedron, "t.stl");
    EXPECT_EQ(stl_bytes(mesh, "  Solid-plate").substr(0, 16), "part Solid-plate");
    EXPECT_EQ(stl_bytes(mesh, std::string(200, 'x')).size(), 84U + 4 * 50);
    EXPECT_EQ(stl_bytes(mesh, "a\nb\xc3").substr(0, 5), "a?b? ");
}

TEST(Stl, mesh_that_rounding_makes_degenerate_stays_closed) {
    // At 300 mm floats are 3e-5 mm apart: a hole of 2e-6 mm becomes a line, a step of 1e-6 mm nothing.
    plan::Skin skin;
    skin.contours = {plan::Contour(plan::Circle{{300.0, 300.0}, 10.0}),
                     plan::Contour(plan::Circle{{300.0, 300.0}, 1e-6}),
                     plan::Contour(plan::Circle{{304.0, 300.0}, 3.0})};
    skin.walls = {{0, 0.0, 400.0, true, ""}, {1, 0.0, 400.0, false, ""}, {2, 400.0 - 1e-6, 400.0, false, ""}};
    skin.floors = {{0.0, false, 0, {1}, ""}, {400.0, true, 0, {1, 2}, ""}, {400.0 - 1e-6, true, 2, {}, ""}};
    const Mesh mesh = mesh_of(skin, {});
    ASSERT_TRUE(is_watertight(mesh));
    const Mesh back = read_stl(stl_bytes(mesh, "t"), "t.stl");
    EXPECT_LT(back.triangles.size(), mesh.triangles.size());
    EXPECT_TRUE(is_watertight(back));
}

TEST(Stl, text_of_a_stranger_with_crlf_capitals_and_in_a_comma_locale) {
    std::setlocale(LC_ALL, "de_DE.UTF-8");
    const Mesh mesh = read_stl(tetrahedron, "t.stl");
    std::setlocale(LC_ALL, "C");
    EXPECT_TRUE(is_watertight(mesh));
    EXPECT_EQ(mesh.vertices.size(), 4U);
    EXPECT_NEAR(volume_mm3(mesh), 1000.0 / 6.0, 1e-10);
}

TEST(Stl, binary_file_whose_header_begins_with_solid_is_read) {
    std::string bytes = stl_bytes(read_stl(tetrahedron, "t.stl"), "t");
    bytes.replace(0, 12, "solid facet ");
    EXPECT_EQ(read_stl(bytes, "t.stl").triangles.size(), 4U);
}

TEST(Stl, what_is_no_stl_is_told_plainly) {
    EXPECT_EQ(reason(""), "part.stl: the file is empty");
    EXPECT_EQ(reason("hello"), "part.stl: this is no STL file: it is too short");
    EXPECT_EQ(reason(std::string(84, '\0')), "part.stl: the file holds no triangles");
    EXPECT_EQ(reason("solid x\nendsolid x\n"), "part.stl: the file holds no triangles");
    EXPECT_EQ(
        reason(std::string(84 + 49, '\xff')),
        "part.stl: this is no STL file, or one cut short: it claims 4294967295 triangles and has room for 0");
    EXPECT_EQ(reason("solid x\nfacet normal 0 0 1\nouter loop\nvertex 0 0"),
              "part.stl: line 4: the file ends where a number was wanted");
    EXPECT_EQ(reason("solid x\nfacet normal 0 0 1\nouter loop\nvertex 0 0 nan"),
              "part.stl: line 4: found \"nan\", wanted a number");
    EXPECT_EQ(reason("solid x\nfacet normal 0 0 1\nouter ring"),
              "part.stl: line 3: found \"ring\", wanted \"loop\"");
}

TEST(Stl, every_shortened_file_is_refused) {
    const std::string binary = stl_bytes(read_stl(tetrahedron, "t.stl"), "t");
    for (std::size_t n = 0; n < binary.size(); ++n) {
        EXPECT_NE(reason(std::string_view(binary).substr(0, n)), "no error") << n;
    }
    const std::string_view text = tetrahedron;
    const std::size_t end = text.find("endsolid") + 8;
    for (std::size_t n = 0; n < end; ++n) EXPECT_NE(reason(text.substr(0, n)), "no error") << n;
}

TEST(Stl, coordinates_that_are_no_numbers_are_refused) {
    std::string bytes = stl_bytes(read_stl(tetrahedron, "t.stl"), "t");
    for (const float bad : {NAN, INFINITY, 3e38F}) {
        const auto bits = std::bit_cast<std::uint32_t>(bad);
        for (std::size_t i = 0; i < 4; ++i) bytes[84 + 50 + 12 + i] = static_cast<char>(bits >> (8 * i));
        EXPECT_EQ(reason(bytes), "part.stl: triangle 2 has a coordinate that can't be");
    }
}

TEST(Watertight, a_missing_and_a_flipped_triangle_are_seen) {
    const Mesh sound = mesh_of(plate(20.0, 5.0, {{{3.0, 0.0}, 4.0}}), {});
    ASSERT_TRUE(is_watertight(sound));
    for (const std::size_t t : {std::size_t{0}, sound.triangles.size() / 2, sound.triangles.size() - 1}) {
        Mesh holed = sound;
        holed.triangles.erase(holed.triangles.begin() + static_cast<std::ptrdiff_t>(t));
        EXPECT_FALSE(is_watertight(holed));
        Mesh flipped = sound;
        std::swap(flipped.triangles[t][0], flipped.triangles[t][1]);
        EXPECT_FALSE(is_watertight(flipped));
        Mesh doubled = sound;
        doubled.triangles.push_back(sound.triangles[t]);
        EXPECT_FALSE(is_watertight(doubled));
    }
    EXPECT_FALSE(is_watertight(Mesh{}));
}

}  // namespace
}  // namespace fitup::mesh
