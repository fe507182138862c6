// The mock-up as files: names, read back, watertight by another mesh library, and what a wrong key is told.
#include <cmath>
#include <cstdio>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "cli/program.hpp"

namespace fitup::cli {
namespace {

using namespace testing;
using nlohmann::json;

class MockupFiles : public Program {
  protected:
    /// What admesh, a mesh library of its own, says of an STL file.
    static std::string report_of(const fs::path& stl) {
        std::FILE* pipe = ::popen(("admesh '" + stl.string() + "' 2>/dev/null").c_str(), "r");
        std::string report;
        char buffer[256];
        while (pipe != nullptr && std::fgets(buffer, sizeof buffer, pipe) != nullptr) report += buffer;
        if (pipe != nullptr) ::pclose(pipe);
        return report;
    }

    /// The number after a heading of the report.
    static double number_after(const std::string& report, const std::string& heading) {
        const auto at = report.find(heading);
        if (at == std::string::npos) return -1.0;
        const auto first = report.find_first_not_of(" :", at + heading.size());
        return parse_number(report.substr(first, report.find_first_of(" \n", first) - first)).value_or(-1.0);
    }

    static void expect_watertight(const fs::path& stl) {
        const std::string report = report_of(stl);
        ASSERT_FALSE(report.empty()) << "admesh said nothing of " << stl;
        EXPECT_EQ(number_after(report, "Total disconnected facets"), 0.0) << stl << report;
        EXPECT_EQ(number_after(report, "Number of parts"), 1.0) << stl;
        EXPECT_GT(number_after(report, "Volume"), 0.0) << stl;
    }
};

TEST_F(MockupFiles, are_made_verified_and_watertight) {
    put("p.json", plate(six_holes() + R"(, "mockup": {"thickness": 4, "shrinkage": 0.004})"));
    const Outcome outcome = run("make p.json --only mockup --json");
    ASSERT_EQ(outcome.status, 0) << outcome.err << outcome.out;
    EXPECT_EQ(made(),
              (std::vector<std::string>{"out/small-plate-mockup-bar.3mf", "out/small-plate-mockup-bar.stl",
                                        "out/small-plate-mockup.3mf", "out/small-plate-mockup.stl"}));
    const json result = json::parse(outcome.out);
    const json& files = result.at("parts").at(0).at("files");
    ASSERT_EQ(files.size(), 4u);
    for (const json& file : files) {
        EXPECT_EQ(file.at("kind"), "mockup");
        EXPECT_TRUE(file.at("verified").get<bool>());
    }
    for (const char* name : {"out/small-plate-mockup.stl", "out/small-plate-mockup-bar.stl"})
        expect_watertight(folder_ / name);
    // A disc of 200 / 0.996, 4 high, less the bore and six holes; the marks take less than 1 per cent.
    const double scale = 1.0 / 0.996, quarter_pi = std::acos(-1.0) / 4.0;
    const double disc_mm2 = quarter_pi * scale * scale * (200.0 * 200.0 - 60.3 * 60.3);
    const double volume_mm3 = number_after(report_of(folder_ / "out/small-plate-mockup.stl"), "Volume");
    EXPECT_LT(volume_mm3, 4.0 * disc_mm2);
    EXPECT_GT(volume_mm3, 0.97 * 4.0 * disc_mm2);
}

TEST_F(MockupFiles, in_pieces_are_each_watertight) {
    put("p.json", plate(six_holes() + R"(, "mockup": {"bed": [120, 120], "joint_gap": 0.2})"));
    const Outcome outcome = run("make p.json --only mockup --json");
    ASSERT_EQ(outcome.status, 0) << outcome.err << outcome.out;
    double pieces_mm3 = 0.0;
    for (int piece = 1; piece <= 4; ++piece) {
        const fs::path stl = folder_ / ("out/small-plate-mockup-" + std::to_string(piece) + ".stl");
        ASSERT_TRUE(fs::exists(stl)) << stl;
        expect_watertight(stl);
        pieces_mm3 += number_after(report_of(stl), "Volume");
    }
    EXPECT_EQ(made().size(), 10u) << "four pieces and the bar, each as STL and 3MF";
    put("w.json", plate(six_holes(), "whole"));
    ASSERT_EQ(run("make w.json --only mockup").status, 0);
    const double whole_mm3 = number_after(report_of(folder_ / "out/whole-mockup.stl"), "Volume");
    // Four joints of some 70 mm and their keys: a strip of 0.2 mm, 5 high; the words differ.
    EXPECT_NEAR(whole_mm3 - pieces_mm3, 4 * 75 * 0.2 * 5, 0.005 * whole_mm3);
}

TEST_F(MockupFiles, older_pieces_that_are_none_of_it_are_named_and_stay) {
    put("p.json", plate(six_holes() + R"(, "mockup": {"bed": [120, 120]})"));
    const Outcome first = run("make p.json --only mockup --json");
    ASSERT_EQ(first.status, 0) << first.err;
    EXPECT_EQ(first.out.find("earlier make"), std::string::npos) << first.out;
    put("out/small-plate-mockup-notes.stl", "a file of one's own");
    put("p.json", plate(six_holes() + R"(, "mockup": {"bed": [120, 230]})"));
    const Outcome second = run("make p.json --only mockup --json");
    ASSERT_EQ(second.status, 0) << second.err;
    const json findings = json::parse(second.out).at("parts").at(0).at("findings");
    std::string told;
    for (const json& finding : findings) {
        const std::string message = finding.at("message");
        if (message.find("earlier make") != std::string::npos) told += message;
    }
    EXPECT_EQ(
        told,
        "From an earlier make small-plate-mockup-3.3mf, small-plate-mockup-3.stl, small-plate-mockup-4.3mf, "
        "small-plate-mockup-4.stl lie in out and are not of this mock-up: delete before you print.");
    EXPECT_TRUE(fs::exists(folder_ / "out/small-plate-mockup-4.stl"));
    const Outcome third = run("make p.json --only mockup");
    EXPECT_NE((third.out + third.err).find("earlier make"), std::string::npos) << "as long as they are there";
}

TEST_F(MockupFiles, of_an_arm_and_a_crank) {
    for (const char* part : {"deck-arm", "selector-crank"}) {
        const std::string file = std::string(FITUP_SOURCE_FOLDER "/examples/") + part + ".json";
        const Outcome outcome = run("make '" + file + "' --only mockup --to out");
        ASSERT_EQ(outcome.status, 0) << outcome.err << outcome.out;
    }
    std::size_t meshes = 0;
    for (const std::string& name : made()) {
        if (!name.ends_with(".stl")) continue;
        expect_watertight(folder_ / name);
        ++meshes;
    }
    EXPECT_GE(meshes, 4u);
}

TEST_F(MockupFiles, of_a_rod_are_none) {
    const Outcome outcome =
        run("make '" FITUP_SOURCE_FOLDER "/examples/selector-rod.json' --only mockup,csv --to out");
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    EXPECT_EQ(made(), (std::vector<std::string>{"out/selector-rod-bends.csv"}));
}

TEST_F(MockupFiles, wrong_keys_are_told_all_at_once) {
    put("p.json",
        plate(
            R"("mockup": {"thickness": 0, "hole_allowance": -0.1, "shrinkage": 0.2, "bed": [5, 250], "pilot": 0,
                 "joint_gap": 3, "colour": "red"})"));
    const Outcome outcome = run("make p.json");
    EXPECT_EQ(outcome.status, 2);
    for (const char* key : {"mockup.thickness: found 0", "mockup.hole_allowance: found -0.1",
                            "mockup.shrinkage: found 0.2", "mockup.bed[0]: found 5", "mockup.pilot: found 0",
                            "mockup.joint_gap: found 3", "mockup.colour: unknown key"})
        EXPECT_NE(outcome.err.find(key), std::string::npos) << key << " in\n" << outcome.err;
    EXPECT_TRUE(made().empty());
}

TEST_F(MockupFiles, what_has_no_room_is_a_note) {
    put("p.json",
        R"({"format": 1, "part": "adapter_plate", "name": "tiny", "units": "mm", "material": "mild steel",
  "thickness": 8, "outline": {"rectangle": {"width": 40, "height": 14}},
  "patterns": [{"name": "a", "seen_from": "B", "points": [[-12, 0], [12, 0]], "hole": {"kind": "drilled", "diameter": 5}}]})");
    const Outcome outcome = run("make p.json --only mockup --json");
    ASSERT_EQ(outcome.status, 0) << outcome.err << outcome.out;
    EXPECT_NE(outcome.out.find("There is no room for"), std::string::npos) << outcome.out;
    EXPECT_NE(outcome.out.find("\"mock-up\""), std::string::npos);
}

}  // namespace
}  // namespace fitup::cli
