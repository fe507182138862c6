// PNG files against Python's zlib: what was packed comes out again, and the checks of each chunk hold.
#include "mesh/png.hpp"

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <random>

namespace fitup::mesh {
namespace {

namespace fs = std::filesystem;

/// Of each name a .png and what it must hold, .raw.
constexpr const char* reader = R"(
import struct, sys, zlib
for name in sys.argv[1:]:
    data, raw = open(name + '.png', 'rb').read(), open(name + '.raw', 'rb').read()
    assert data[:8] == b'\x89PNG\r\n\x1a\n', name
    at, packed = 8, b''
    while at < len(data):
        size, kind = struct.unpack('>I4s', data[at:at + 8])
        body = data[at + 8:at + 8 + size]
        assert struct.unpack('>I', data[at + 8 + size:at + 12 + size])[0] == zlib.crc32(kind + body), (name, kind)
        if kind == b'IHDR': width, height = struct.unpack('>II', body[:8])
        if kind == b'IDAT': packed += body
        at += 12 + size
    rows = zlib.decompress(packed)
    step = 3 * width + 1
    assert len(rows) == step * height, name
    assert b''.join(rows[y * step + 1:(y + 1) * step] for y in range(height)) == raw, name
)";

void put(const fs::path& path, const std::string& bytes) { std::ofstream(path, std::ios::binary) << bytes; }

TEST(Png, comes_out_as_it_went_in) {
    std::string pattern = (fs::temp_directory_path() / "fitup-png-XXXXXX").string();
    const fs::path folder = ::mkdtemp(pattern.data());
    put(folder / "read.py", reader);
    std::string call = "cd '" + folder.string() + "' && python3 read.py";
    std::mt19937 random(7);
    for (const auto& [width_px, height_px] :
         {std::pair(1, 1), std::pair(3, 2), std::pair(257, 90), std::pair(11000, 3)}) {
        std::map<std::string, std::string> pixels;
        for (int i = 0; i < width_px * height_px * 3; ++i) {
            pixels["flat"] += char(200);
            pixels["noise"] += char(random() & 255U);
            // Areas of one tone with rows alike, broken now and then.
            pixels["mixed"] +=
                random() % 61 == 0 ? char(random() & 255U) : char(40 * (i / 3 % width_px / 25));
        }
        for (const auto& [kind, bytes] : pixels) {
            const std::string name = kind + std::to_string(width_px);
            put(folder / (name + ".png"), png_bytes(width_px, height_px, bytes));
            put(folder / (name + ".raw"), bytes);
            call += " " + name;
        }
    }
    EXPECT_EQ(std::system(call.c_str()), 0);
    fs::remove_all(folder);
}

TEST(Png, packs_what_is_flat) {
    const std::string flat(std::size_t(800) * 600 * 3, char(255));
    EXPECT_LT(png_bytes(800, 600, flat).size(), 20'000u);
}

}  // namespace
}  // namespace fitup::mesh
