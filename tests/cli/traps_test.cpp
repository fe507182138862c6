// What goes wrong in a shop, end to end: a file with the mistake is told at its place, its twin without it is
// not.
#include <cstdint>
#include <cstring>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "cli/program.hpp"

namespace fitup::cli {
namespace {

using namespace testing;
using nlohmann::json;

class Traps : public Program {
  protected:
    json part_of(const std::string& text, int status) {
        put("p.json", text);
        const Outcome outcome = run("make p.json --json");
        EXPECT_EQ(outcome.status, status) << outcome.out << outcome.err;
        return json::parse(outcome.out).at("parts").at(0);
    }

    /// The mistake stops the part: the finding is there with its figures, place and advice, and nothing is
    /// written.
    json stopped_by(const std::string& text, const std::string& rule, const std::string& where) {
        const json part = part_of(text, 3);
        EXPECT_TRUE(made().empty());
        const json finding = finding_of(part, rule, where);
        EXPECT_EQ(finding.value("severity", ""), "stop") << part.at("findings").dump(1);
        EXPECT_TRUE(finding.contains("at_mm")) << finding;
        EXPECT_FALSE(finding.value("message", "").empty());
        EXPECT_FALSE(finding.value("source", "").empty());
        return finding;
    }

    /// The twin is made and verified, and the rule says nothing of it.
    void passes(const std::string& text, const std::string& rule) {
        const json part = part_of(text, 0);
        EXPECT_TRUE(finding_of(part, rule).is_null()) << finding_of(part, rule);
        std::set<std::string> kinds;
        for (const json& file : part.at("files")) {
            EXPECT_TRUE(file.at("verified").get<bool>()) << file;
            kinds.insert(file.at("kind").get<std::string>());
        }
        EXPECT_EQ(kinds, (std::set<std::string>{"3mf", "csv", "dxf", "html", "mockup", "pdf", "step", "stl",
                                                "svg", "txt"}));
    }

    static json finding_of(const json& part, const std::string& rule, const std::string& where = "") {
        for (const json& finding : part.at("findings")) {
            if (finding.at("rule") == rule && (where.empty() || finding.at("where") == where)) return finding;
        }
        return nullptr;
    }

    /// Verdicts of `inspect FILE --against PARAMETERS`, by what they are about.
    std::map<std::string, std::string> verdicts(const std::string& file, const std::string& parameters,
                                                int status) {
        const Outcome outcome = run("inspect " + file + " --against " + parameters + " --json");
        EXPECT_EQ(outcome.status, status) << outcome.out << outcome.err;
        std::map<std::string, std::string> all;
        const json result = json::parse(outcome.out);
        for (const json& row : result.at("inspections").at(0).at("rows"))
            all[row.at("what")] = row.at("verdict");
        return all;
    }
};

std::string patterns(const std::string& list) { return "\"patterns\": [" + list + "]"; }

/// Six holes; the last one alone breaks the likeness about Y when it lies at 10, -75.
std::string gearbox(const std::string& seen, const std::string& last_point = "[10, -75]") {
    return patterns(R"({"name": "gearbox", )" + seen +
                    R"(, "points": [[75, 20], [-75, 20], [60, -45], [-60, -45], [0, 78], )" + last_point +
                    R"(], "hole": {"kind": "clearance", "for": "M8", "fit": "normal"}})");
}

TEST_F(Traps, a_pattern_that_nearly_bolts_up_mirrored_names_the_hole_that_tells) {
    const json part = part_of(plate(gearbox(R"("measured_on": "B")")), 0);
    const json finding = finding_of(part, "mirrored-pattern");
    EXPECT_EQ(finding.at("severity"), "warn");
    EXPECT_EQ(finding.at("where"), "gearbox-6");
    EXPECT_EQ(finding.at("value"), 5.0);
    const json side = finding_of(part, "pattern-side", "gearbox");
    EXPECT_NE(side.at("message").get<std::string>().find(
                  "measured on the casting at B, so X is mirrored; hole 1 lies left of the centre"),
              std::string::npos)
        << side;
    // Its twin has no likeness: no three holes share an axis.
    passes(plate(patterns(R"({"name": "gearbox", "measured_on": "B",
        "points": [[75, 0], [63.7, 38.6], [7.8, 74.6], [-70.5, 25.7], [-62.2, -41.9]],
        "hole": {"kind": "clearance", "for": "M8", "fit": "normal"}})")),
           "mirrored-pattern");
}

TEST_F(Traps, a_plate_drilled_mirrored_is_found_in_its_step_and_its_stl) {
    put("mirrored.json", plate(gearbox(R"("seen_from": "B")"), "mirrored"));
    put("right.json", plate(gearbox(R"("seen_from": "A")"), "right"));
    ASSERT_EQ(run("make mirrored.json right.json").status, 0);
    for (const std::string kind : {".step", ".stl"}) {
        auto rows = verdicts("out/mirrored" + kind, "right.json", 3);
        EXPECT_NE(rows["gearbox-6"], "same") << kind;
        EXPECT_EQ(rows["gearbox-1"], "same") << kind;
        rows = verdicts("out/right" + kind, "right.json", 0);
        EXPECT_EQ(rows["gearbox-6"], "same") << kind;
    }
}

/// A stud hole from B and a blind hole from A, so many degrees apart on a circle of 150 mm.
std::string opposite_holes(const std::string& degrees) {
    return patterns(R"({"name": "gearbox", "seen_from": "B", "circle": {"diameter": 150, "count": 1},
        "hole": {"kind": "tapped", "thread": "M6", "from": "B", "depth": 12}},
      {"name": "housing", "seen_from": "B", "circle": {"diameter": 150, "count": 1, "start_angle": )" +
                    degrees + R"(},
        "hole": {"kind": "drilled", "diameter": 6, "from": "A", "depth": 12}})");
}

TEST_F(Traps, a_stud_hole_that_breaks_into_the_one_from_the_other_side) {
    const json finding = stopped_by(plate(opposite_holes("2")), "holes-meeting", "gearbox-1, housing-1");
    // 2 degrees on the radius of 75 is 2.618 mm; they meet at mid-thickness.
    EXPECT_NE(finding.at("message").get<std::string>().find("one from each side (centres 2.62 mm"),
              std::string::npos)
        << finding;
    EXPECT_NEAR(finding.at("at_mm").at(0).get<double>(), 75.0, 6.0);
    EXPECT_EQ(run("make p.json --despite-rules").status, 3);
    EXPECT_TRUE(made().empty());
    passes(plate(opposite_holes("12")), "holes-meeting");
}

std::string sunk_nuts(const std::string& diameter) {
    return patterns(R"({"name": "studs", "seen_from": "B", "circle": {"diameter": 130, "count": 4},
        "hole": {"kind": "clearance", "for": "M10", "fit": "normal", "from": "B",
                 "recess": {"for": "nut", "side": "B", "diameter": )" +
                    diameter + R"(, "depth": "flush"}}})");
}

TEST_F(Traps, a_recess_too_small_for_the_socket) {
    const json finding = stopped_by(plate(sunk_nuts("20")), "socket-room", "studs-1");
    EXPECT_LT(finding.at("value"), 0.0);
    EXPECT_EQ(finding.at("limit"), 0.0);
    EXPECT_EQ(finding.at("unit"), "mm");
    EXPECT_NE(finding.at("message").get<std::string>().find("hand socket"), std::string::npos);
    passes(plate(sunk_nuts("\"auto\"")), "socket-room");
}

std::string tapped(const std::string& depths) {
    return patterns(R"({"name": "gearbox", "seen_from": "B", "circle": {"diameter": 150, "count": 3},
        "hole": {"kind": "tapped", "thread": "M6", "from": "B", )" +
                    depths + "}}");
}

TEST_F(Traps, too_little_thread_in_aluminium) {
    const json finding = stopped_by(plate(tapped("\"depth\": 5")), "thread-engagement", "gearbox-2");
    EXPECT_NEAR(finding.at("value").get<double>(), 5.0 / 6.0, 1e-9);
    EXPECT_EQ(finding.at("limit"), 1.0);
    EXPECT_EQ(finding.at("unit"), "d");
    EXPECT_NE(finding.at("message").get<std::string>().find("in aluminium make it"), std::string::npos);
    passes(plate(tapped("\"depth\": 12")), "thread-engagement");
}

TEST_F(Traps, a_blind_tap_with_no_room_below) {
    const json finding =
        stopped_by(plate(tapped("\"depth\": 12, \"drill_depth\": 12.5")), "tap-room", "gearbox-1");
    EXPECT_NEAR(finding.at("value").get<double>(), 0.5, 1e-9);  // M6 has a pitch of 1 mm
    EXPECT_EQ(finding.at("unit"), "pitches");
    passes(plate(tapped("\"depth\": 12, \"drill_depth\": 15")), "tap-room");
}

/// A plate of 8 by 3/4 in whose bolt circle was set down in inches, 6.
std::string inch_plate(const std::string& units) {
    return R"({"format": 1, "part": "adapter_plate", "name": "inch-plate", )" + units +
           R"("material": "aluminium 6061-T6",
  "thickness": "3/4 in", "outline": {"round": {"diameter": "8 in"}}, "bore": {"diameter": "2 in"},
  "patterns": [{"name": "studs", "seen_from": "B", "circle": {"diameter": 6, "count": 6},
    "hole": {"kind": "clearance", "for": "3/8", "fit": "normal"}}]})";
}

TEST_F(Traps, inches_read_as_millimetres_stop_at_the_holes_and_no_unit_at_all_is_a_fault) {
    stopped_by(inch_plate("\"units\": \"mm\", "), "holes-meeting", "bore, studs-1");
    passes(inch_plate("\"units\": \"in\", "), "holes-meeting");
    fs::remove_all(folder_ / "out");
    put("p.json", inch_plate(""));
    const Outcome outcome = run("make p.json --json");
    EXPECT_EQ(outcome.status, 2);
    const json fault = json::parse(outcome.out).at("errors").at(0);
    EXPECT_EQ(fault.at("key"), "units");
    EXPECT_EQ(fault.at("line"), 1);
    EXPECT_TRUE(made().empty());
}

/// The triangles of a binary STL, 50 bytes each after a head of 84 that ends in their number.
constexpr std::size_t stl_head = 84;
constexpr std::size_t stl_triangle = 50;

std::string scaled_stl(std::string stl, float factor) {
    for (std::size_t at = stl_head; at + stl_triangle <= stl.size(); at += stl_triangle) {
        for (std::size_t corner = 3; corner < 12; ++corner) {
            float value = 0.0F;
            std::memcpy(&value, stl.data() + at + 4 * corner, sizeof value);
            value *= factor;
            std::memcpy(stl.data() + at + 4 * corner, &value, sizeof value);
        }
    }
    return stl;
}

std::string stl_with_a_gap(std::string stl) {
    stl.resize(stl.size() - stl_triangle);
    const auto count = static_cast<std::uint32_t>((stl.size() - stl_head) / stl_triangle);
    std::memcpy(stl.data() + stl_head - 4, &count, sizeof count);
    return stl;
}

TEST_F(Traps, an_exchange_file_in_inches_taken_as_millimetres) {
    put("p.json", plate(six_holes()));
    ASSERT_EQ(run("make p.json").status, 0);
    put("inches.stl", scaled_stl(content(folder_ / "out/small-plate.stl"), 1.0F / 25.4F));
    auto rows = verdicts("inches.stl", "p.json", 3);
    EXPECT_EQ(rows["volume"], "differs");
    EXPECT_EQ(rows["studs-1"], "missing");
    const std::string text = run("inspect inches.stl").out;
    EXPECT_NE(text.find("7.874 x 7.874 x 0.787 mm"), std::string::npos) << text;
    EXPECT_NE(text.find("taken as millimetres (an STL has no unit)"), std::string::npos) << text;
    verdicts("out/small-plate.stl", "p.json", 0);
    // A STEP file says its unit, so one in inches is the same part.
    ASSERT_EQ(run("make p.json --only step --step-unit in --to inches").status, 0);
    verdicts("inches/small-plate.step", "p.json", 0);
}

TEST_F(Traps, an_stl_with_a_gap_is_not_closed) {
    put("p.json", plate(six_holes()));
    ASSERT_EQ(run("make p.json --only stl").status, 0);
    put("gap.stl", stl_with_a_gap(content(folder_ / "out/small-plate.stl")));
    const auto is_closed = [this](const std::string& file) {
        return json::parse(run("inspect " + file + " --json").out)
            .at("inspections")
            .at(0)
            .at("closed")
            .get<bool>();
    };
    EXPECT_FALSE(is_closed("gap.stl"));
    EXPECT_NE(run("inspect gap.stl").out.find("NOT CLOSED"), std::string::npos);
    EXPECT_EQ(verdicts("gap.stl", "p.json", 3)["bodies"], "differs");
    EXPECT_TRUE(is_closed("out/small-plate.stl"));
    EXPECT_EQ(verdicts("out/small-plate.stl", "p.json", 0)["bodies"], "same");
}

TEST_F(Traps, holes_that_came_out_three_tenths_small) {
    const auto drilled = [](const std::string& diameter, const std::string& name) {
        return plate(
            patterns(
                R"({"name": "studs", "seen_from": "B", "circle": {"diameter": 150, "count": 6}, "hole": {"kind": "drilled", "diameter": )" +
                diameter + "}}"),
            name);
    };
    put("wanted.json", drilled("11", "wanted"));
    put("printed.json", drilled("10.7", "printed"));
    ASSERT_EQ(run("make wanted.json printed.json --only stl").status, 0);
    EXPECT_EQ(verdicts("out/printed.stl", "wanted.json", 3)["studs-1"], "resized");
    EXPECT_EQ(verdicts("out/wanted.stl", "wanted.json", 0)["studs-1"], "same");
}

}  // namespace
}  // namespace fitup::cli
