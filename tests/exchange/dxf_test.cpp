// Profiles as DXF: written, read back, and judged by a reader of another making (ezdxf, where it is installed
// with Debian's Python).
#include "exchange/dxf.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <sstream>

#include "base/error.hpp"
#include "base/file.hpp"
#include "parts/examples.hpp"
#include "sheets/profile.hpp"

namespace fitup::exchange {
namespace {

namespace fs = std::filesystem;

using parts::testing::example_plan;

TEST(Dxf, comes_back_in_both_units) {
    for (const char* name : {"winch-adapter.json", "selector-crank.json", "deck-arm.json"}) {
        const auto all = sheets::profiles(example_plan(name));
        ASSERT_FALSE(all.empty()) << name;
        for (const plan::Profile& profile : all) {
            for (const auto units : {plan::Units::mm, plan::Units::in}) {
                const auto apart = difference_mm(profile, read_dxf(dxf_text(profile, units), "p.dxf"));
                ASSERT_TRUE(apart) << name << profile.suffix;
                EXPECT_LT(*apart, 1e-6) << name << profile.suffix;
            }
        }
    }
}

TEST(Dxf, a_moved_curve_another_layer_and_a_missing_one_are_told) {
    plan::Profile profile = sheets::profiles(example_plan("selector-crank.json")).front();
    plan::Profile moved = profile, renamed = profile, fewer = profile;
    moved.curves.front().curve = plan::moved(moved.curves.front().curve, {}, {0.0, 3e-6});
    renamed.curves.front().layer = "OTHER";
    fewer.curves.pop_back();
    EXPECT_NEAR(difference_mm(profile, moved).value_or(0.0), 3e-6, 1e-9);
    EXPECT_FALSE(difference_mm(profile, renamed));
    EXPECT_FALSE(difference_mm(profile, fewer));
}

TEST(Dxf, what_is_no_dxf_is_refused) {
    const auto refusal = [](const std::string& text) -> std::string {
        try {
            read_dxf(text, "f.dxf");
            return "";
        } catch (const FileError& error) {
            return error.what();
        }
    };
    EXPECT_EQ(refusal("solid\nx\n"), "f.dxf: this is no DXF file: a group code is no number");
    EXPECT_EQ(refusal(""), "f.dxf: the DXF file is cut short: EOF is missing");
    const std::string whole =
        dxf_text(sheets::profiles(example_plan("deck-arm.json")).front(), plan::Units::mm);
    EXPECT_EQ(refusal(whole), "");
    EXPECT_EQ(refusal(whole.substr(0, whole.size() / 2)).substr(0, 7), "f.dxf: ");
    EXPECT_EQ(refusal("0\nEOF\n"), "f.dxf: the DXF file says neither millimetres nor inches");
}

/// What the other reader says of a file: its first line "errors fixes unit", then a line a curve: layer,
/// kind, area in square drawing units.
std::string judged(const fs::path& file) {
    const fs::path out = file.string() + ".txt";
    const std::string call = "/usr/bin/python3 '" FITUP_SOURCE_FOLDER "/tests/exchange/judge_dxf.py' '" +
                             file.string() + "' >'" + out.string() + "'";
    if (std::system(call.c_str()) != 0) return "";
    return read_file(out);
}

TEST(Dxf, an_independent_reader_finds_the_same_curves_and_nothing_to_mend) {
    const fs::path folder = fs::temp_directory_path() / ("fitup-dxf-" + std::to_string(::getpid()));
    fs::create_directory(folder);
    for (const char* name : {"winch-adapter.json", "selector-crank.json", "deck-arm.json"}) {
        for (const plan::Profile& profile : sheets::profiles(example_plan(name))) {
            const fs::path file = folder / ("p" + profile.suffix + ".dxf");
            std::ofstream(file) << dxf_text(profile, plan::Units::mm);
            std::istringstream lines(judged(file));
            int errors = -1, fixes = -1, unit = 0;
            lines >> errors >> fixes >> unit;
            EXPECT_EQ(errors, 0) << name << profile.suffix;
            EXPECT_EQ(fixes, 0) << name << profile.suffix;
            EXPECT_EQ(unit, 4) << "millimetres";
            for (const plan::ProfileCurve& curve : profile.curves) {
                std::string layer;
                double area_mm2 = 0.0;
                lines >> layer >> area_mm2;
                EXPECT_EQ(layer, curve.layer);
                EXPECT_NEAR(area_mm2, curve.curve.area_mm2(), 1e-6 * curve.curve.area_mm2()) << layer;
            }
            for (const plan::ProfileLine& line : profile.lines) {
                std::string layer;
                double length_mm = 0.0;
                lines >> layer >> length_mm;
                EXPECT_EQ(layer, line.layer);
                EXPECT_NEAR(length_mm, plan::distance_mm(line.ends[0], line.ends[1]), 1e-6);
            }
            std::string more;
            EXPECT_FALSE(lines >> more) << more;
        }
    }
    fs::remove_all(folder);
}

}  // namespace
}  // namespace fitup::exchange
