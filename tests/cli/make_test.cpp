#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace fitup::cli {
namespace {

using namespace testing;
using nlohmann::json;

class Make : public Program {};

TEST_F(Make, writes_step_stl_and_hole_list_verified) {
    put("p.json", plate(six_holes()));
    const Outcome outcome = run("make p.json --json");
    ASSERT_EQ(outcome.status, 0) << outcome.err << outcome.out;
    const json part = json::parse(outcome.out).at("parts").at(0);
    EXPECT_EQ(part.at("name"), "small-plate");
    EXPECT_EQ(part.at("holes").size(), 6u);
    for (const json& file : part.at("files")) EXPECT_TRUE(file.at("verified").get<bool>()) << file;
    EXPECT_EQ(
        made(),
        (std::vector<std::string>{
            "out/small-plate-B.dxf", "out/small-plate-drawing.pdf", "out/small-plate-drawing.svg",
            "out/small-plate-fasteners.csv", "out/small-plate-holes.csv", "out/small-plate-mockup-bar.3mf",
            "out/small-plate-mockup-bar.stl", "out/small-plate-mockup.3mf", "out/small-plate-mockup.stl",
            "out/small-plate-order.txt", "out/small-plate-paper-A.dxf", "out/small-plate-paper-A.pdf",
            "out/small-plate-paper-B.dxf", "out/small-plate-paper-B.pdf", "out/small-plate-sheet-B.pdf",
            "out/small-plate.3mf", "out/small-plate.html", "out/small-plate.step", "out/small-plate.stl"}));
}

TEST_F(Make, the_same_file_gives_the_same_bytes_whatever_the_locale_and_time) {
    put("p.json", plate(six_holes()));
    ASSERT_EQ(run("make p.json --to one").status, 0);
    ASSERT_EQ(run("make p.json --to two", "LC_ALL=de_DE.UTF-8 TZ=Pacific/Auckland").status, 0);
    for (const char* name : {"small-plate.step", "small-plate.stl", "small-plate-holes.csv",
                             "small-plate-drawing.pdf", "small-plate-drawing.svg"})
        EXPECT_EQ(content(folder_ / "one" / name), content(folder_ / "two" / name)) << name;
}

TEST_F(Make, source_date_epoch_is_the_headers_time) {
    put("p.json", plate());
    ASSERT_EQ(run("make p.json --only step", "SOURCE_DATE_EPOCH=1000000000").status, 0);
    EXPECT_NE(content(folder_ / "out/small-plate.step").find("2001-09-09T01:46:40"), std::string::npos);
    EXPECT_EQ(run("make p.json", "SOURCE_DATE_EPOCH=yesterday").status, 2);
}

TEST_F(Make, inches_and_millimetres_make_the_same_part) {
    put("a.json", plate(six_holes()));
    std::string inches = plate(six_holes(), "inch-plate");
    const auto replace = [&inches](const std::string& from, const std::string& to) {
        inches.replace(inches.find(from), from.size(), to);
    };
    replace("\"units\": \"mm\"", "\"units\": \"in\"");
    replace("\"thickness\": 20", "\"thickness\": \"20 mm\"");
    replace("{\"diameter\": 200}", "{\"diameter\": \"200 mm\"}");
    replace("{\"diameter\": 60}", "{\"diameter\": \"60 mm\"}");
    replace("\"diameter\": 150", "\"diameter\": \"150 mm\"");
    put("b.json", inches);
    const Outcome outcome = run("check a.json b.json --json");
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const json parts = json::parse(outcome.out).at("parts");
    EXPECT_EQ(parts.at(0).at("volume_mm3"), parts.at(1).at("volume_mm3"));
    EXPECT_EQ(parts.at(0).at("holes"), parts.at(1).at("holes"));
}

/// Every kind of part that can have one.
TEST_F(Make, real_threads_come_out_verified) {
    put("plate.json", plate(R"("patterns": [{"name": "a", "seen_from": "B", "points": [[60, 0]],
        "hole": {"kind": "tapped", "thread": "M10", "depth": 12, "model_as": "thread"}},
        {"name": "b", "seen_from": "B", "points": [[-60, 0]],
        "hole": {"kind": "tapped", "thread": "3/8-16 UNC", "hand": "left", "from": "A", "model_as": "thread"}}])"));
    put("crank.json", R"({"format": 1, "part": "bellcrank", "name": "crank", "units": "mm",
        "material": "mild steel", "thickness": 8, "pivot": {"bore": 12, "hub_diameter": 28},
        "arms": [{"name": "a", "length": 50, "angle": 0,
                  "eye": {"thread": "M6", "diameter": 16, "height": 10, "model_as": "thread"}}]})");
    put("arm.json",
        R"({"format": 1, "part": "offset_arm", "name": "arm", "units": "mm", "material": "mild steel",
        "strip": {"width": 22, "thickness": 6}, "length": 86, "pivot": {"bore": 12},
        "joggle": {"rise": 9, "start": 27, "run": 24, "inside_radius": 9},
        "eye": {"thread": "M8", "model_as": "thread"}})");
    const Outcome outcome = run("make plate.json crank.json arm.json --chord 0.05 --json --despite-rules");
    ASSERT_EQ(outcome.status, 0) << outcome.err << outcome.out;
    const json result = json::parse(outcome.out);
    for (const json& part : result.at("parts")) {
        for (const json& file : part.at("files")) EXPECT_TRUE(file.at("verified").get<bool>()) << file;
    }
}

TEST_F(Make, a_revision_goes_into_the_name) {
    put("p.json", plate("\"revision\": \"C\""));
    ASSERT_EQ(run("make p.json --only csv,stl").status, 0);
    EXPECT_EQ(made(), (std::vector<std::string>{"out/small-plate-rC-holes.csv", "out/small-plate-rC.stl"}));
}

TEST_F(Make, a_stop_writes_nothing_and_ends_with_three) {
    put("p.json",
        plate(
            R"("patterns": [{"name": "out", "seen_from": "B", "points": [[99, 0]], "hole": {"kind": "drilled", "diameter": 9}}])"));
    for (const char* words : {"make p.json", "make p.json --despite-rules"}) {
        const Outcome outcome = run(words);
        EXPECT_EQ(outcome.status, 3) << outcome.out << outcome.err;
        EXPECT_NE(outcome.out.find("out-1"), std::string::npos);
        EXPECT_TRUE(made().empty());
    }
}

TEST_F(Make, one_wrong_file_of_several_writes_nothing) {
    put("good.json", plate());
    put("bad.json", plate("\"thicknes\": 3", "other"));
    const Outcome outcome = run("make good.json bad.json");
    EXPECT_EQ(outcome.status, 2);
    EXPECT_NE(outcome.err.find("bad.json:3:"), std::string::npos) << outcome.err;
    EXPECT_NE(outcome.err.find("thickness"), std::string::npos) << outcome.err;
    EXPECT_TRUE(made().empty());
}

TEST_F(Make, two_files_with_one_output_are_told) {
    put("a.json", plate());
    put("b.json", plate());
    const Outcome outcome = run("make a.json b.json");
    EXPECT_EQ(outcome.status, 2);
    EXPECT_NE(outcome.err.find("small-plate"), std::string::npos);
}

TEST_F(Make, an_older_file_survives_a_failed_make) {
    put("p.json", plate());
    ASSERT_EQ(run("make p.json").status, 0);
    const std::string before = content(folder_ / "out/small-plate.step");
    fs::remove(folder_ / "out/small-plate.stl");
    fs::create_directory(folder_ / "out/small-plate.stl");
    std::string changed = plate();
    changed.replace(changed.find("\"thickness\": 20"), 15, "\"thickness\": 25");
    put("p.json", changed);
    EXPECT_EQ(run("make p.json").status, 4);
    EXPECT_EQ(content(folder_ / "out/small-plate.step"), before);
    EXPECT_EQ(
        made(),
        (std::vector<std::string>{
            "out/small-plate-B.dxf", "out/small-plate-drawing.pdf", "out/small-plate-drawing.svg",
            "out/small-plate-holes.csv", "out/small-plate-mockup-bar.3mf", "out/small-plate-mockup-bar.stl",
            "out/small-plate-mockup.3mf", "out/small-plate-mockup.stl", "out/small-plate-order.txt",
            "out/small-plate-paper-A.dxf", "out/small-plate-paper-A.pdf", "out/small-plate-paper-B.dxf",
            "out/small-plate-paper-B.pdf", "out/small-plate-sheet-B.pdf", "out/small-plate.3mf",
            "out/small-plate.html", "out/small-plate.step"}));
}

TEST_F(Make, a_full_disk_is_said_and_leaves_nothing) {
    put("p.json", plate());
    // A file-size limit of one block fails the write as a full disk does, with the signal ignored.
    const Outcome outcome = run("make p.json", "trap '' XFSZ; ulimit -f 1;");
    EXPECT_EQ(outcome.status, 4) << outcome.err;
    EXPECT_TRUE(made().empty());
}

TEST_F(Make, standard_output_on_a_full_disk_ends_with_four) {
    put("p.json", plate());
    const Outcome outcome = shell("'" FITUP_PROGRAM "' check p.json --json >/dev/full");
    EXPECT_EQ(outcome.status, 4);
    EXPECT_NE(outcome.err.find("standard output"), std::string::npos);
}

TEST_F(Make, step_options) {
    put("p.json", plate(six_holes()));
    ASSERT_EQ(run("make p.json --only step --step-schema AP242 --step-unit in").status, 0);
    const std::string text = content(folder_ / "out/small-plate.step");
    EXPECT_NE(text.find("AP242_MANAGED_MODEL_BASED_3D_ENGINEERING"), std::string::npos);
    EXPECT_NE(text.find("INCH"), std::string::npos);
    EXPECT_EQ(run("make p.json --step-unit cm").status, 2);
    EXPECT_EQ(run("make p.json --step-schema AP999").status, 2);
    EXPECT_EQ(run("make p.json --only step,doc").status, 2);
}

TEST_F(Make, fineness_must_be_sensible) {
    put("p.json", plate());
    for (const char* bad : {"--chord 0", "--chord -1", "--chord nan", "--chord 1e-9", "--angle 0",
                            "--angle 400", "--chord bread"})
        EXPECT_EQ(run(std::string("make p.json ") + bad).status, 2) << bad;
    ASSERT_EQ(run("make p.json --only stl --chord '0.5 mm' --angle 30 --to coarse").status, 0);
    ASSERT_EQ(run("make p.json --only stl --to fine").status, 0);
    EXPECT_LT(fs::file_size(folder_ / "coarse/small-plate.stl"),
              fs::file_size(folder_ / "fine/small-plate.stl") / 2);
}

TEST_F(Make, a_mesh_too_fine_for_the_part_is_a_wrong_call_that_names_what_would_do) {
    // 3600 counterbored holes: every one has its share of the triangles.
    std::string patterns;
    for (int diameter = 6700; diameter < 7500; diameter += 100)
        patterns += std::string(patterns.empty() ? "" : ", ") + R"({"name": "ring-)" +
                    std::to_string(diameter) + R"(", "seen_from": "B", "circle": {"diameter": )" +
                    std::to_string(diameter) + R"(, "count": 450}, "hole": {"kind": "drilled", "diameter": 20,
                    "recess": {"diameter": 40, "depth": 5}}})";
    std::string text = plate("\"patterns\": [" + patterns + "]");
    text.replace(text.find("200"), 3, "7600");
    put("p.json", text);
    put("small.json", plate("", "another"));
    const Outcome fine = run("make small.json p.json --chord 0.0001");
    EXPECT_EQ(fine.status, 2) << fine.out << fine.err;
    EXPECT_NE(fine.err.find("--chord: found \"0.0001\", wanted at least \"0.000"), std::string::npos)
        << fine.err;
    EXPECT_NE(fine.err.find("the STL of small-plate would have "), std::string::npos) << fine.err;
    EXPECT_EQ(run("make p.json --angle 0.1").status, 2);
    EXPECT_NE(run("make p.json --angle 0.1").err.find("--angle: found \"0.1\", wanted at least 0."),
              std::string::npos);
    EXPECT_TRUE(made().empty());
}

}  // namespace
}  // namespace fitup::cli
