// A survey that says whether its pattern bolts up, as a user meets it.
#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace fitup::cli {
namespace {

using namespace testing;
using nlohmann::json;

class SurveyBolting : public Program {
  protected:
    void put_demo() {
        for (const char* name : {"winch-adapter", "gearbox-face"})
            put(std::string(name) + ".json",
                content(std::string(FITUP_SOURCE_FOLDER "/examples/") + name + ".json"));
    }
    void change(const std::string& from, const std::string& to) {
        std::string text = content(folder_ / "gearbox-face.json");
        ASSERT_NE(text.find(from), std::string::npos) << from;
        text.replace(text.find(from), from.size(), to);
        put("gearbox-face.json", text);
    }
    json bolts_up(int status) {
        const Outcome outcome = run("calculate gearbox-face.json --json");
        EXPECT_EQ(outcome.status, status) << outcome.err << outcome.out;
        result_ = json::parse(outcome.out);
        return result_.at("calculations").at(0).at("bolts_up");
    }
    std::string first_message() const {
        return result_.at("calculations").at(0).at("findings").at(0).at("message");
    }
    json result_;
};

TEST_F(SurveyBolting, the_demo_bolts_up_with_so_much_to_spare) {
    put_demo();
    const json one = bolts_up(0);
    EXPECT_TRUE(one.at("possible"));
    const double least = one.at("least_clearance_mm");
    EXPECT_GT(least, 0.2);
    EXPECT_LE(least, 0.5);
    ASSERT_EQ(one.at("clearances").size(), 8u);
    for (const json& clearance : one.at("clearances"))
        EXPECT_GE(clearance.at("clearance_mm").get<double>(), least - 1e-9);
    EXPECT_FALSE(one.at("binding").empty());
    EXPECT_NEAR(one.at("hole_that_would_do_mm").get<double>(), 11.0 - 2.0 * least, 1e-9);
    EXPECT_GT(one.at("probability").get<double>(), 0.9);
    EXPECT_LE(one.at("probability").get<double>(), 1.0);
    EXPECT_GT(one.at("probability_error").get<double>(), 0.0);
    EXPECT_NE(run("calculate gearbox-face.json").out.find("bolts up to gearbox: least clearance"),
              std::string::npos);
}

TEST_F(SurveyBolting, too_small_holes_end_with_three_and_the_size_that_would_do_does) {
    put_demo();
    change("\"hole\": 11, \"fastener\": 10", "\"hole\": 10.01, \"fastener\": 10");
    const json one = bolts_up(3);
    EXPECT_FALSE(one.at("possible"));
    EXPECT_FALSE(one.at("open").at("only").empty());
    EXPECT_NE(first_message().find("does not bolt up"), std::string::npos) << first_message();
    change("\"hole\": 10.01", "\"hole\": " + one.at("hole_that_would_do_mm").dump());
    EXPECT_NEAR(bolts_up(0).at("least_clearance_mm").get<double>(), 0.0, 1e-8);
}

TEST_F(SurveyBolting, measured_from_the_other_side_is_caught) {
    put_demo();
    change("\"measured_on\": \"B\"", "\"measured_on\": \"A\"");
    const json one = bolts_up(3);
    EXPECT_TRUE(one.at("fits_mirrored"));
    EXPECT_NE(first_message().find("measured from the other side?"), std::string::npos) << first_message();
}

TEST_F(SurveyBolting, what_is_made_loosely_lowers_the_chance) {
    put_demo();
    const double exact = bolts_up(0).at("probability");
    change("\"hole\": 11, \"fastener\": 10", "\"hole\": 11, \"fastener\": 10, \"made_within\": 2");
    EXPECT_LT(bolts_up(0).at("probability").get<double>(), exact);
}

}  // namespace
}  // namespace fitup::cli
