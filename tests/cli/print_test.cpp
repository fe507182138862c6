// Files for printing with threads cut away: volumes by hand, as other readers find them; STEP keeps the
// helix.
#include <cmath>
#include <cstdio>
#include <nlohmann/json.hpp>
#include <numbers>
#include <sstream>

#include "base/text.hpp"
#include "cli/program.hpp"

namespace fitup::cli {
namespace {

using namespace testing;
using nlohmann::json;
using std::numbers::pi;

/// ISO 68-1.
double minor_mm(double major_mm, double pitch_mm) {
    return major_mm - 1.25 * std::sqrt(3.0) / 2.0 * pitch_mm;
}
double cylinder_mm3(double diameter_mm, double length_mm) {
    return pi * diameter_mm * diameter_mm / 4.0 * length_mm;
}
double wall_mm2(double diameter_mm, double length_mm) { return pi * diameter_mm * length_mm; }

constexpr double chord_mm = 0.002;
const std::string made_with = " --chord 0.002 --only step,stl,3mf,order,report --json";

class Printed : public Program {
  protected:
    static std::string output_of(const std::string& command) {
        std::FILE* pipe = ::popen((command + " 2>/dev/null").c_str(), "r");
        std::string text;
        char buffer[256];
        while (pipe != nullptr && std::fgets(buffer, sizeof buffer, pipe) != nullptr) text += buffer;
        if (pipe != nullptr) ::pclose(pipe);
        return text;
    }

    /// By admesh, a mesh library of its own.
    static double stl_mm3(const fs::path& file) {
        const std::string report = output_of("admesh '" + file.string() + "'");
        const auto at = report.find("Volume");
        if (at == std::string::npos) return -1.0;
        const auto first = report.find_first_not_of(" :", at + 6);
        return parse_number(report.substr(first, report.find_first_of(" \n", first) - first)).value_or(-1.0);
    }

    /// By a reader of its own; one body.
    static double threemf_mm3(const fs::path& file) {
        std::istringstream said(output_of(
            "/usr/bin/python3 '" FITUP_SOURCE_FOLDER "/tests/cli/volume_of_3mf.py' '" + file.string() + "'"));
        int bodies = 0;
        double volume_mm3 = -1.0;
        said >> bodies >> volume_mm3;
        return bodies == 1 ? volume_mm3 : -1.0;
    }

    /// Made and verified; both meshes hold `wanted_mm3` within the chord on `round_mm2` of round walls.
    json expect_printed(const std::string& file, const std::string& name, double wanted_mm3,
                        double round_mm2) {
        const Outcome outcome = run("make " + file + made_with);
        EXPECT_EQ(outcome.status, 0) << outcome.err << outcome.out;
        if (outcome.status != 0) return {};
        const double within_mm3 = chord_mm * round_mm2;
        EXPECT_NEAR(stl_mm3(folder_ / ("out/" + name + ".stl")), wanted_mm3, within_mm3);
        EXPECT_NEAR(threemf_mm3(folder_ / ("out/" + name + ".3mf")), wanted_mm3, within_mm3);
        const json result = json::parse(outcome.out);
        return result.at("parts").at(0);
    }

    void expect_inspected(const std::string& name, const std::string& against) {
        const Outcome stl = run("inspect out/" + name + ".stl --against " + against + " --json");
        EXPECT_EQ(stl.status, 0) << stl.out;
        EXPECT_NE(stl.out.find("\"as_printed\": \"threads cut away"), std::string::npos) << stl.out;
        const Outcome step = run("inspect out/" + name + ".step --against " + against + " --json");
        EXPECT_EQ(step.status, 0) << step.out;
        EXPECT_EQ(step.out.find("as_printed"), std::string::npos) << step.out;
    }

    /// Spline surfaces in a STEP file: only modelled threads have any.
    bool has_helix(const std::string& name) {
        return content(folder_ / ("out/" + name + ".step")).find("B_SPLINE_SURFACE") != std::string::npos;
    }
};

/// 100 x 60 x 20 mm: M10 right through, M8 12 mm deep and drilled 18 mm.
std::string threaded_plate(const std::string& more) {
    return R"({"format": 1, "part": "adapter_plate", "name": "tapped", "units": "mm", "material": "mild steel",
  "thickness": 20, "outline": {"rectangle": {"width": 100, "height": 60}},
  "patterns": [
    {"name": "a", "seen_from": "B", "points": [[-20, 5]], "hole": {"kind": "tapped", "thread": "M10", "model_as": "thread"}},
    {"name": "b", "seen_from": "B", "points": [[20, 5]], "hole": {"kind": "tapped", "thread": "M8", "depth": 10,
     "drill_depth": 15, "model_as": "thread"}}])" +
           (more.empty() ? "" : ", " + more) + "}";
}

const std::string cut_away = R"("print": {"threads": "cut_away"})";

TEST_F(Printed, plate_has_plain_holes_at_the_major_diameter_and_its_step_the_helix) {
    put("p.json", threaded_plate(cut_away));
    // The tip of the M8's drill stays: 15 mm and the point of a drill of its minor diameter.
    const double slope = std::tan(59.0 * pi / 180.0);
    const double tip_mm = 15.0 + minor_mm(8, 1.25) / 2.0 / slope, cone_mm = 4.0 / slope;
    const double holes_mm3 =
        cylinder_mm3(10, 20) + cylinder_mm3(8, tip_mm - cone_mm) + cylinder_mm3(8, cone_mm) / 3.0;
    const json part = expect_printed("p.json", "tapped", 100.0 * 60.0 * 20.0 - holes_mm3,
                                     wall_mm2(10, 20) + wall_mm2(8, tip_mm));
    ASSERT_FALSE(part.is_null());
    for (const json& file : part.at("files")) EXPECT_TRUE(file.at("verified").get<bool>()) << file;
    EXPECT_TRUE(has_helix("tapped"));
    // Grooves and chamfers leave more metal than plain holes: the part's own volume is that of the helix.
    EXPECT_GT(part.at("volume_mm3").get<double>(), 100.0 * 60.0 * 20.0 - holes_mm3 + 100.0);
    expect_inspected("tapped", "p.json");
}

TEST_F(Printed, rod_is_turned_down_to_the_minor_diameter_and_its_step_has_the_helix) {
    put("r.json",
        R"({"format": 1, "part": "threaded_rod", "name": "rod", "units": "mm", "material": "mild steel", "diameter": 8,
        "length": 60, "ends": [{"thread": "M8", "length": 12, "model_as": "thread"},
        {"thread": "M6", "length": 9, "hand": "left", "model_as": "thread"}], )" +
            cut_away + "}");
    const double shank_mm = 60.0 - 13.25 - 10.0;
    const double wanted_mm3 =
        cylinder_mm3(minor_mm(8, 1.25), 13.25) + cylinder_mm3(minor_mm(6, 1), 10) + cylinder_mm3(8, shank_mm);
    const json part = expect_printed("r.json", "rod", wanted_mm3, wall_mm2(8, 60));
    ASSERT_FALSE(part.is_null());
    EXPECT_TRUE(has_helix("rod"));
    EXPECT_GT(part.at("volume_mm3").get<double>(), wanted_mm3 + 50.0);
    expect_inspected("rod", "r.json");
}

TEST_F(Printed, files_say_so_in_the_order_and_the_report) {
    put("p.json", threaded_plate(cut_away));
    ASSERT_EQ(run("make p.json" + made_with).status, 0);
    std::string order = content(folder_ / "out/tapped-order.txt");
    for (const char* name : {"tapped.stl: ", "tapped.3mf: "}) {
        const auto at = order.find(name);
        ASSERT_NE(at, std::string::npos) << order;
        const std::string entry = order.substr(at, order.find("\n  tapped", at) - at);
        EXPECT_NE(entry.find("cut away"), std::string::npos) << entry;
    }
    const auto step = order.find("tapped.step: ");
    EXPECT_EQ(order.substr(step, order.find('\n', step) - step).find("cut away"), std::string::npos);
    EXPECT_NE(content(folder_ / "out/tapped.html").find("threads cut away for printing"), std::string::npos);
    // On the screen, below each of the two meshes and nothing else.
    const std::string screen = run("make p.json --only step,stl,3mf").out;
    const std::string words = "threads cut away for printing; read back";
    const auto first = screen.find(words), second = screen.find(words, first + 1);
    ASSERT_NE(second, std::string::npos) << screen;
    EXPECT_EQ(screen.find(words, second + 1), std::string::npos) << screen;
    EXPECT_LT(screen.find("tapped.step"), first);
    EXPECT_NE(screen.find("2 holes are plain at the thread's major diameter"), std::string::npos) << screen;
}

/// Nothing asked: the meshes are of the helix, as ever; and the two don't pass for one another.
TEST_F(Printed, with_its_threads_is_another_part_than_without) {
    put("cut.json", threaded_plate(cut_away));
    put("p.json", threaded_plate(""));
    const Outcome outcome = run("make p.json --chord 0.02 --only step,stl,order --json");
    ASSERT_EQ(outcome.status, 0) << outcome.err << outcome.out;
    EXPECT_EQ(outcome.out.find("cut away"), std::string::npos);
    EXPECT_EQ(content(folder_ / "out/tapped-order.txt").find("cut away"), std::string::npos);
    EXPECT_EQ(run("inspect out/tapped.stl --against p.json").status, 0);
    const Outcome other = run("inspect out/tapped.stl --against cut.json");
    EXPECT_EQ(other.status, 3) << other.out;
    EXPECT_NE(other.out.find("threads cut away for printing; the file is NOT the part"), std::string::npos)
        << other.out;
    EXPECT_EQ(run("inspect out/tapped.step --against cut.json").status, 0);
}

TEST_F(Printed, where_no_thread_is_modelled_only_a_note_is_given) {
    put("p.json", plate(six_holes() + ", " + cut_away));
    put("q.json", plate(six_holes(), "small-plate"));
    const Outcome outcome = run("make p.json --only stl,3mf --to one --json");
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    EXPECT_NE(outcome.out.find("print-threads"), std::string::npos);
    EXPECT_NE(outcome.out.find("no thread is modelled"), std::string::npos);
    ASSERT_EQ(run("make q.json --only stl,3mf --to two").status, 0);
    for (const char* name : {"small-plate.stl", "small-plate.3mf"})
        EXPECT_EQ(content(folder_ / "one" / name), content(folder_ / "two" / name)) << name;
}

/// Below the thread the part has a wall of 0.8 mm where the printed hole, 10 mm wide, has none.
TEST_F(Printed, hole_that_would_just_touch_another_is_told_in_words) {
    const std::string file = plate(R"("patterns": [{"name": "b", "seen_from": "B", "points": [[70, 0]],
          "hole": {"kind": "tapped", "thread": "M10", "depth": 10, "drill_depth": 16, "model_as": "thread"}},
          {"name": "c", "seen_from": "B", "points": [[70, 15]],
          "hole": {"kind": "drilled", "diameter": 20, "from": "A", "depth": 8, "point": "flat"}}], )" +
                                   cut_away);
    put("p.json", file);
    const Outcome outcome = run("make p.json --only step,stl");
    EXPECT_EQ(outcome.status, 5) << outcome.out;
    EXPECT_NE(outcome.err.find("threads cut away for printing can't be made"), std::string::npos)
        << outcome.err;
    EXPECT_NE(outcome.err.find("leave `print` out"), std::string::npos) << outcome.err;
    EXPECT_TRUE(made().empty());
    EXPECT_EQ(run("make p.json --only step").status, 0) << "STEP is the part itself";
}

TEST_F(Printed, wrongly_asked_for_writes_nothing) {
    put("p.json", threaded_plate(R"("print": {"threads": "cut away"})"));
    const Outcome outcome = run("make p.json");
    EXPECT_EQ(outcome.status, 2);
    EXPECT_NE(outcome.err.find("print.threads: found \"cut away\""), std::string::npos) << outcome.err;
    EXPECT_NE(outcome.err.find("cut_away"), std::string::npos) << outcome.err;
    EXPECT_TRUE(made().empty());
}

}  // namespace
}  // namespace fitup::cli
