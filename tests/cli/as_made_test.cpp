// A finished plate as a user has it judged.
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace fitup::cli {
namespace {

using namespace testing;
using nlohmann::json;

constexpr double rad = 3.14159265358979323846 / 180.0;

struct Place {
    std::string id;
    double x = 0.0, y = 0.0;
};

class AsMadeCommand : public Program {
  protected:
    void SetUp() override {
        Program::SetUp();
        put("plate.json", plate(R"("patterns": [
            {"name": "engine", "seen_from": "B", "points": [[70, 5], [-62, 31], [8, -74]],
             "hole": {"kind": "clearance", "for": "M10"}},
            {"name": "box", "measured_on": "B", "points": [[45, 40], [-50, 38], [5, -55]],
             "hole": {"kind": "tapped", "thread": "M8", "depth": 14}},
            {"name": "pins", "seen_from": "B", "points": [[60, -60], [-60, -60]],
             "hole": {"kind": "dowel", "diameter": 8, "fit": "H7", "depth": 10}}])"));
    }

    /// A survey's result as `calculate` writes it, as far as it matters; every place turned and shifted.
    void put_survey(const std::string& name, const std::string& measured_on, const std::vector<Place>& places,
                    double turn_deg = 0.0, double sigma = 0.02) {
        json points = json::array();
        for (const Place& place : places) {
            const double c = std::cos(turn_deg * rad), s = std::sin(turn_deg * rad);
            points.push_back({{"id", place.id},
                              {"at_mm", {c * place.x - s * place.y + 4.0, s * place.x + c * place.y - 9.0}},
                              {"sigma_mm", sigma}});
        }
        json covariance = json::array();
        for (std::size_t i = 0; i < 2 * places.size(); ++i) {
            std::vector<double> row(2 * places.size(), 0.0);
            row[i] = sigma * sigma;
            covariance.push_back(row);
        }
        put(name, json{{"calculation", "survey"},
                       {"name", "s"},
                       {"measured_on", measured_on},
                       {"points", points},
                       {"covariance_mm2", covariance}}
                      .dump());
    }

    void put_made(const std::string& more = "") {
        put("made.json", R"({"format": 1, "calculation": "as_made", "name": "made", "units": "mm",
            "plate": "plate.json", "survey": "finished.result.json", "seen_from": "B")" +
                             more + "}");
    }

    static std::vector<Place> engine(double off = 0.0) {
        return {{"engine-1", 70 + off, 5}, {"engine-2", -62, 31}, {"engine-3", 8, -74}};
    }
    /// In the plate's frame: measured on the casting at B, X is mirrored.
    static std::vector<Place> box() { return {{"box-1", -45, 40}, {"box-2", 50, 38}, {"box-3", -5, -55}}; }
    static std::vector<Place> all(double off = 0.0) {
        std::vector<Place> places = engine(off);
        for (const Place& place : box()) places.push_back(place);
        return places;
    }

    json calculate(int status) {
        const Outcome outcome = run("calculate made.json --json");
        EXPECT_EQ(outcome.status, status) << outcome.err << outcome.out;
        return json::parse(outcome.out);
    }
};

TEST_F(AsMadeCommand, a_true_plate_bolts_up_to_both) {
    put_survey("finished.result.json", "A", all(), 37.0);
    put_made();
    const json result = calculate(0);
    const json& one = result.at("calculations").at(0);
    EXPECT_EQ(one.at("calculation"), "as_made");
    EXPECT_TRUE(one.at("possible"));
    EXPECT_LT(one.at("worst_off_mm").get<double>(), 1e-9);
    ASSERT_EQ(one.at("castings").size(), 2u);
    for (const json& casting : one.at("castings")) {
        EXPECT_TRUE(casting.at("bolts_up").at("possible"));
        EXPECT_NEAR(casting.at("bolts_up").at("turn_deg"), 37.0, 1e-6);
        EXPECT_GT(casting.at("bolts_up").at("probability").get<double>(), 0.99);
    }
    // M10 in its normal hole of 11, M8 with a casting's hole of 9.
    EXPECT_NEAR(one.at("castings").at(0).at("bolts_up").at("least_clearance_mm"), 0.5, 1e-9);
    EXPECT_NEAR(one.at("castings").at(1).at("bolts_up").at("least_clearance_mm"), 0.5, 1e-9);
    for (const char* file : {"made.result.json", "made.svg", "made.png"})
        EXPECT_TRUE(fs::exists(folder_ / "out" / file)) << file;
}

TEST_F(AsMadeCommand, a_hole_off_place_ends_with_three_and_says_what_to_open) {
    put_survey("finished.result.json", "A", all(2.0), -12.0);
    put_made();
    const json result = calculate(3);
    const json& one = result.at("calculations").at(0);
    EXPECT_FALSE(one.at("possible"));
    const json& engine = one.at("castings").at(0).at("bolts_up");
    EXPECT_FALSE(engine.at("possible"));
    EXPECT_LT(engine.at("least_clearance_mm").get<double>(), 0.0);
    EXPECT_NEAR(engine.at("hole_that_would_do_mm").get<double>(),
                11.0 - 2.0 * engine.at("least_clearance_mm").get<double>(), 1e-9);
    EXPECT_TRUE(engine.at("open").contains("one"));
    EXPECT_TRUE(one.at("castings").at(1).at("bolts_up").at("possible"));
    EXPECT_EQ(one.at("findings").at(0).at("rule"), "bolts-up");
    // With the hole that would do, it does.
    put_made(R"(, "castings": [{"pattern": "engine", "hole": )" + engine.at("hole_that_would_do_mm").dump() +
             "}]");
    calculate(0);
}

TEST_F(AsMadeCommand, a_measured_casting_stands_in_place_of_the_plan) {
    put_survey("finished.result.json", "A", all());
    // The casting at B as seen by whoever faces it; its second stud stands off by 1.5 mm.
    put_survey("box.result.json", "B", {{"1", 45, 40}, {"2", -50 + 1.5, 38}, {"3", 5, -55}}, 70.0);
    put_made(R"(, "castings": [{"pattern": "box", "survey": "box.result.json"}])");
    const json off = calculate(3);
    EXPECT_EQ(off.at("calculations").at(0).at("castings").at(0).at("bolts_up").at("clearances").size(), 3u);
    put_survey("box.result.json", "B", {{"1", 45, 40}, {"2", -50, 38}, {"3", 5, -55}}, 70.0);
    calculate(0);
}

/// The plate's pins and its bore, all off by the same along X against the bolts.
std::vector<Place> with_locators(std::vector<Place> places, double off) {
    places.push_back({"pins-1", 60 + off, -60});
    places.push_back({"pins-2", -60 + off, -60});
    places.push_back({"bore", off, 0});
    return places;
}

TEST_F(AsMadeCommand, dowels_and_a_bore_are_judged_with_the_bolts) {
    const std::string located =
        R"(, "castings": [{"pattern": "engine", "dowels": "pins", "dowel_play": 0.02},
                          {"pattern": "box", "register": "bore", "register_clearance": 0.06}])";
    put_survey("finished.result.json", "A", with_locators(all(), 0.4), 25.0, 0.001);
    put_made(located);
    const json fits = calculate(0).at("calculations").at(0);
    // Bolts have 0.5 of room and need 0.4 of it; the pins never have more than half their play.
    const json& engine = fits.at("castings").at(0).at("located");
    EXPECT_GE(engine.at("least_clearance_mm").get<double>(), 0.0);
    EXPECT_LE(engine.at("least_clearance_mm").get<double>(), 0.01 + 1e-9);
    EXPECT_TRUE(engine.at("possible"));
    ASSERT_EQ(engine.at("clearances").size(), 5u);
    EXPECT_TRUE(engine.at("clearances").at(3).at("locates"));
    EXPECT_FALSE(engine.at("clearances").at(2).at("locates"));
    EXPECT_TRUE(fits.at("castings").at(1).at("located").at("possible"));
    // Both are held by what the plate has off by the same: in line but for the play.
    EXPECT_LT(fits.at("out_of_line_mm").get<double>(), 0.01 + 0.03 + 1e-6);

    put_survey("finished.result.json", "A", with_locators(all(), 0.9), 25.0, 0.001);
    const json binds = calculate(3).at("calculations").at(0);
    EXPECT_TRUE(binds.at("castings").at(0).at("bolts_up").at("possible"));
    const json& held = binds.at("castings").at(0).at("located");
    EXPECT_FALSE(held.at("possible"));
    // Pins give 0.01, bolts 0.5; opened by twice what is missing then.
    EXPECT_NEAR(held.at("open_all_by_mm"), 2.0 * (0.9 - 0.5 - 0.01), 1e-3);
    const std::string message = binds.at("findings").at(0).at("message");
    EXPECT_NE(message.find("with pins-1, pins-2 in place"), std::string::npos) << message;
    EXPECT_TRUE(fs::exists(folder_ / "out" / "made-engine.png"));
}

TEST_F(AsMadeCommand, what_locates_must_have_been_measured) {
    put_survey("finished.result.json", "A", all());
    put_made(
        R"(, "castings": [{"pattern": "engine", "dowels": "pins"}, {"pattern": "box", "register": "bore"}])");
    const Outcome outcome = run("calculate made.json");
    EXPECT_EQ(outcome.status, 2) << outcome.out;
    EXPECT_NE(outcome.err.find("lacks pins-1, pins-2"), std::string::npos) << outcome.err;
    EXPECT_NE(outcome.err.find("castings[1].register"), std::string::npos) << outcome.err;
}

TEST_F(AsMadeCommand, seen_from_the_wrong_face_is_caught) {
    put_survey("finished.result.json", "A", all());
    put_made();
    std::string text = content(folder_ / "made.json");
    text.replace(text.find("\"B\""), 3, "\"A\"");
    put("made.json", text);
    const json result = calculate(3);
    const std::string message = result.at("calculations").at(0).at("findings").at(0).at("message");
    EXPECT_NE(message.find("mirror image"), std::string::npos) << message;
}

TEST_F(AsMadeCommand, wrong_input_is_told_at_its_key) {
    const auto complaint = [&](const std::string& words) {
        const Outcome outcome = run("calculate made.json");
        EXPECT_EQ(outcome.status, 2) << outcome.out;
        EXPECT_NE(outcome.err.find(words), std::string::npos) << outcome.err;
    };
    put_made();
    complaint("finished.result.json");
    put_survey("finished.result.json", "A", {{"engin-1", 70, 5}, {"engine-2", 0, 0}});
    complaint("the nearest hole is engine-1");
    put_survey("finished.result.json", "A", {{"engine-1", 70, 5}, {"engine-2", -62, 31}});
    complaint("measured whole");
    put_made(R"(, "castings": [{"pattern": "engine"}])");
    complaint("lacks engine-3");
    std::vector<Place> places = all();
    places.push_back({"pins-1", 60, -60});
    places.push_back({"pins-2", -60, -60});
    put_survey("finished.result.json", "A", places);
    put_made(R"(, "castings": [{"pattern": "pins"}])");
    complaint("`hole` and `fastener`");
    put_made(R"(, "castings": [{"pattern": "engine", "fastener": 12}])");
    complaint("at most the hole");
    put_survey("box.result.json", "B", {{"1", 45, 40}, {"2", -50, 38}});
    put_made(R"(, "castings": [{"pattern": "box", "survey": "box.result.json"}, {"pattern": "bax"}])");
    complaint("as many points as the pattern has holes, 3");
    complaint("box");
    put("finished.result.json", R"({"calculation": "linkage", "name": "s"})");
    complaint("survey");
}

}  // namespace
}  // namespace fitup::cli
