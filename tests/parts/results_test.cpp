// What a plate takes from results of calculations: thickness from a stack, places from a survey.
#include <filesystem>
#include <fstream>

#include "parts/plates.hpp"

namespace fitup::parts {
namespace {

using namespace testing;
namespace fs = std::filesystem;

class Results : public ::testing::Test {
  protected:
    void SetUp() override {
        std::string pattern = (fs::temp_directory_path() / "fitup-results-XXXXXX").string();
        folder_ = ::mkdtemp(pattern.data());
    }
    void TearDown() override { fs::remove_all(folder_); }

    void put(const std::string& name, const std::string& text) {
        std::ofstream(folder_ / name, std::ios::binary) << text;
    }
    Planned plan(const std::string& extra, const Base& base = {}) {
        return plan_file(plate_text(extra, base), (folder_ / "p.json").string());
    }
    /// The plan of a plate that must be right.
    plan::Plan sound(const std::string& extra, const Base& base = {}) {
        Planned planned = plan(extra, base);
        for (const auto& fault : planned.faults) ADD_FAILURE() << parameters::to_text(fault);
        return planned.plan.value_or(plan::Plan{});
    }
    /// The one fault's message, the test's folder taken out.
    std::string fault(const std::string& extra, const Base& base = {}) {
        const Planned planned = plan(extra, base);
        if (planned.faults.size() != 1) ADD_FAILURE() << planned.faults.size() << " faults";
        std::string text = planned.faults.empty() ? "" : planned.faults.front().message;
        for (std::size_t at; (at = text.find(folder_.string() + "/")) != std::string::npos;)
            text.erase(at, folder_.string().size() + 1);
        return text;
    }

    fs::path folder_;
};

const std::string stack_result =
    R"({"calculation": "stack", "name": "e", "solved": {"plate": 38.5}, "holds": true})";

Base from_stack(const std::string& more = "") {
    return {.units = "mm", .thickness = R"({"stack": "e.result.json")" + more + "}"};
}

TEST_F(Results, a_stack_gives_the_thickness_whatever_the_plates_unit) {
    put("e.result.json", stack_result);
    plan::Plan plate = sound("", from_stack());
    EXPECT_EQ(plate.body.thickness_mm, 38.5);
    EXPECT_EQ(plate.thickness_from, "e.result.json");
    Base inches = from_stack(R"(, "link": "plate")");
    inches.units = "in";
    inches.outline = R"({"round": {"diameter": 17}})";
    EXPECT_EQ(sound("", inches).body.thickness_mm, 38.5);
    EXPECT_EQ(plan_with("").thickness_from, "");
    const plan::Findings said = plan("", from_stack()).findings;
    ASSERT_EQ(said.size(), 1u);
    EXPECT_EQ(said[0].rule, "thickness-stack");
    EXPECT_NE(said[0].message.find("38.5 mm, is what the stack e.result.json solved"), std::string::npos);
}

TEST_F(Results, a_call_with_several_results_has_the_stack_among_them) {
    put("e.result.json", R"({"calculations": [{"calculation": "linkage"}, )" + stack_result + "]}");
    EXPECT_EQ(sound("", from_stack()).body.thickness_mm, 38.5);
    put("e.result.json", R"({"calculations": [)" + stack_result + ", " + stack_result + "]}");
    EXPECT_NE(fault("", from_stack()).find("it holds several of them"), std::string::npos);
    put("e.result.json", R"({"calculations": [{"calculation": "linkage"}]})");
    EXPECT_NE(fault("", from_stack()).find("none of the results in it is one"), std::string::npos);
}

TEST_F(Results, a_stack_that_cannot_say_is_a_fault_at_its_key) {
    const auto told = [this](const std::string& text) {
        put("e.result.json", text);
        return fault("", from_stack());
    };
    const std::string found = "thickness.stack: found \"e.result.json\", wanted ";
    EXPECT_TRUE(fault("", from_stack()).starts_with(found + "the result file of a stack; e.result.json: "));
    EXPECT_EQ(told(R"({"calculation": "survey"})"),
              found + "the result file of a stack; it is the result of a survey");
    EXPECT_EQ(told(R"({"format": 1, "calculation": "stack"})"),
              found +
                  "the result file of a stack; it is a parameter file; `fitup calculate` writes its "
                  "NAME.result.json");
    EXPECT_EQ(told("[1]"), found + "the result file of a stack; it has no \"calculation\": \"stack\"");
    EXPECT_TRUE(told("{").starts_with(found + "the result file of a stack; e.result.json:1:2: "));
    EXPECT_EQ(told(R"({"calculation": "stack", "solved": {}})"),
              found + "the result of a stack that solved a link; it solved no link");
    EXPECT_EQ(
        told(R"({"calculation": "stack", "solved": {}, "exclusion": {"at_least_for": "spline engagement",
                       "at_most_for": "end gap", "by_mm": 1.3}})"),
        found +
            "the result of a stack that solved a link; no size serves it: spline engagement and end "
            "gap exclude each other by 1.3 mm");
    EXPECT_EQ(told(R"({"calculation": "stack", "solved": {"shim": -2}})"),
              found + "a thickness over 0 mm and at most 2000 mm; the stack solved -2 mm");
    put("e.result.json", stack_result);
    EXPECT_EQ(fault("", from_stack(R"(, "link": "plat")")),
              "thickness.link: found \"plat\", wanted the name of the link that the stack solved; the "
              "nearest is \"plate\"");
}

/// Three studs; the second well known along a slanting line only.
std::string survey_result(const std::string& more = "", const std::string& side = "B") {
    return R"({"calculation": "survey", "name": "face", "measured_on": ")" + side +
           R"(", "datum": "mean of 1 and 2, +X from 2 to 1",
  "points": [{"id": "1", "at_mm": [90, 40], "sigma_mm": 0.05}, {"id": "2", "at_mm": [-80.5, 30], "sigma_mm": 0.02},
             {"id": "3", "at_mm": [10, -100], "sigma_mm": 0.1}])" +
           more + "}";
}

const std::string drilled = R"({"kind": "drilled", "diameter": 8})";

TEST_F(Results, a_survey_places_the_holes_with_their_doubt) {
    put("face.result.json", survey_result());
    const plan::Plan plate = sound(pattern(R"("survey": "face.result.json")", drilled, R"("rotate": 0)"));
    ASSERT_EQ(plate.holes.size(), 3u);
    // Measured on the casting at B: X is mirrored into the plate's frame.
    EXPECT_EQ(hole_named(plate, "p-1").at_mm, (plan::Point{-90, 40}));
    EXPECT_EQ(hole_named(plate, "p-2").at_mm, (plan::Point{80.5, 30}));
    EXPECT_EQ(hole_named(plate, "p-3").position_sigma_mm, 0.1);
    ASSERT_EQ(plate.patterns.size(), 1u);
    EXPECT_EQ(plate.patterns[0].survey, "face.result.json");
    EXPECT_EQ(plate.patterns[0].datum, "mean of 1 and 2, +X from 2 to 1");
    EXPECT_TRUE(plate.patterns[0].measured_on);
    EXPECT_EQ(plate.patterns[0].seen_from, plan::Side::A);
    put("face.result.json", survey_result("", "A"));
    EXPECT_EQ(sound(pattern(R"("survey": "face.result.json")", drilled, R"("rotate": 0)")).holes[0].at_mm,
              (plan::Point{90, 40}));
}

TEST_F(Results, the_places_are_those_of_points_turned_shifted_and_left_out_alike) {
    put("face.result.json", survey_result());
    const std::string more = R"(, "rotate": 30, "shift": [1, -2])";
    const plan::Plan by_survey = sound(
        pattern(R"("survey": "face.result.json", "skip": [2])" + more, drilled, R"("measured_on": "B")"));
    const plan::Plan by_points = sound(
        pattern(R"("points": [[90, 40], [-80.5, 30], [10, -100]])" + more, drilled, R"("measured_on": "B")"));
    ASSERT_EQ(by_survey.holes.size(), 2u);
    EXPECT_EQ(hole_named(by_survey, "p-1").at_mm, hole_named(by_points, "p-1").at_mm);
    EXPECT_EQ(hole_named(by_survey, "p-3").at_mm, hole_named(by_points, "p-3").at_mm);
    EXPECT_EQ(hole_named(by_survey, "p-3").position_sigma_mm, 0.1);  // not the skipped one's
}

TEST_F(Results, the_covariance_gives_the_worst_direction) {
    // The second point's ellipse: 0.3 along 30 degrees, 0.1 across it.
    const double c = std::cos(M_PI / 6), s = std::sin(M_PI / 6), a = 0.09, b = 0.01;
    std::string rows;
    for (int i = 0; i < 6; ++i) {
        for (int j = 0; j < 6; ++j) {
            double value = i == j ? 0.0004 : 0.0;
            if (i == 2 && j == 2) value = a * c * c + b * s * s;
            if (i == 3 && j == 3) value = a * s * s + b * c * c;
            if (i + j == 5 && i >= 2 && j >= 2) value = (a - b) * c * s;
            rows += (rows.empty() ? "" : i > 0 && j == 0 ? "], [" : ", ") + std::to_string(value);
        }
    }
    for (const bool flat : {false, true}) {
        std::string list = "[" + rows + "]";
        if (flat)
            for (std::size_t at; (at = list.find("], [")) != std::string::npos;) list.replace(at, 4, ", ");
        put("face.result.json", survey_result(", \"covariance_mm2\": " + (flat ? list : "[" + list + "]")));
        const plan::Plan plate =
            sound(pattern(R"("survey": "face.result.json")", drilled, R"("rotate": 70)"));
        EXPECT_NEAR(*hole_named(plate, "p-2").position_sigma_mm, 0.3, 1e-5);
        EXPECT_NEAR(*hole_named(plate, "p-1").position_sigma_mm, 0.02, 1e-5);
    }
}

TEST_F(Results, a_pattern_that_says_another_side_contradicts_its_survey) {
    put("face.result.json", survey_result());
    const std::string layout = R"("survey": "face.result.json")";
    EXPECT_EQ(
        fault(pattern(layout, drilled, R"("measured_on": "A")")),
        "patterns[0].measured_on: found \"A\", wanted \"B\"; its survey was measured on the casting at B");
    EXPECT_EQ(
        fault(pattern(layout, drilled, R"("seen_from": "B")")),
        "patterns[0].seen_from: found \"B\", wanted \"A\"; its survey was measured on the casting at B, "
        "which is seen from A");
    EXPECT_EQ(sound(pattern(layout, drilled, R"("seen_from": "A")")).holes[0].at_mm, (plan::Point{-90, 40}));
    // Without a survey one of the two is needed still, and both are too many.
    EXPECT_EQ(fault(pattern(R"("points": [[90, 40]])", drilled, R"("rotate": 0)")),
              "patterns[0]: found none, wanted at least one of seen_from, measured_on or survey");
    EXPECT_FALSE(plan(pattern(layout, drilled, R"("seen_from": "A", "measured_on": "B")")).plan);
}

TEST_F(Results, a_survey_that_cannot_be_used_is_a_fault_at_its_key) {
    const auto told = [this](const std::string& text) {
        put("face.result.json", text);
        return fault(pattern(R"("survey": "face.result.json")", drilled));
    };
    const std::string found =
        "patterns[0].survey: found \"face.result.json\", wanted the result file of a survey";
    EXPECT_TRUE(fault(pattern(R"("survey": "face.result.json")", drilled))
                    .starts_with(found + "; face.result.json: "));
    EXPECT_EQ(told(stack_result), found + "; it is the result of a stack");
    EXPECT_EQ(told(R"({"calculation": "survey", "measured_on": "B", "points": []})"),
              found + " with its points; it has no points");
    EXPECT_EQ(told(R"({"calculation": "survey", "measured_on": "B", "points": [{"id": "7", "at_mm": [1]}]})"),
              found + " with its points; its point 7 has no place [x, y] within 20 m");
    EXPECT_EQ(
        told(R"({"calculation": "survey", "measured_on": "B", "points": [{"id": "7", "at_mm": [1, 2]}]})"),
        found + " with its points; its point 7 has no uncertainty");
    EXPECT_EQ(told(R"({"calculation": "survey", "points": [{"at_mm": [1, 2], "sigma_mm": 0}]})"),
              found + " with its points; it does not say on which side it was measured");
    put("face.result.json", survey_result());
    EXPECT_EQ(fault(pattern(R"("survey": "face.result.json", "skip": [4])", drilled, R"("seen_from": "A")")),
              "patterns[0].skip[0]: found 4, wanted an ordinal from 1 to the survey's 3 points");
    EXPECT_EQ(
        fault(pattern(R"("survey": "face.result.json", "skip": [1, 2, 3])", drilled, R"("seen_from": "A")")),
        "patterns[0].skip: found a list of 3, wanted at least one hole left");
    EXPECT_FALSE(plan(pattern(R"("points": [[1, 2]], "skip": [1])", drilled)).plan);
}

TEST_F(Results, a_survey_that_kept_suspect_readings_stops_the_plate) {
    const std::string text = pattern(R"("survey": "face.result.json")", drilled, R"("rotate": 0)");
    put("face.result.json",
        survey_result(R"x(, "suspects": [{"reading": "span 1-3 (over)"}, {"reading": "x of 2"}])x"));
    const Planned planned = plan(text);
    ASSERT_EQ(planned.findings.size(), 1u);
    EXPECT_EQ(planned.findings[0].rule, "survey-suspects");
    EXPECT_EQ(planned.findings[0].severity, plan::Severity::stop);
    EXPECT_NE(planned.findings[0].message.find("(span 1-3 (over), x of 2)"), std::string::npos);
    put("face.result.json", survey_result(R"(, "suspects": [], "fits": false)"));
    ASSERT_EQ(plan(text).findings.size(), 1u);
    EXPECT_EQ(plan(text).findings[0].severity, plan::Severity::stop);
    put("face.result.json", survey_result(R"(, "suspects": [], "fits": true)"));
    EXPECT_TRUE(plan(text).findings.empty());
}

TEST_F(Results, a_survey_that_cannot_bolt_up_warns) {
    put("face.result.json",
        survey_result(R"(, "bolts_up": {"possible": false, "least_clearance_mm": -0.21})"));
    const Planned planned = plan(pattern(R"("survey": "face.result.json")", drilled, R"("rotate": 0)"));
    ASSERT_TRUE(planned.plan);
    ASSERT_EQ(planned.findings.size(), 1u);
    EXPECT_EQ(planned.findings[0].rule, "survey-bolts-up");
    EXPECT_EQ(planned.findings[0].severity, plan::Severity::warn);
    EXPECT_NE(planned.findings[0].message.find("least clearance -0.21 mm"), std::string::npos);
    put("face.result.json", survey_result(R"(, "bolts_up": {"possible": true, "least_clearance_mm": 0.21})"));
    EXPECT_TRUE(plan(pattern(R"("survey": "face.result.json")", drilled, R"("rotate": 0)")).findings.empty());
}

}  // namespace
}  // namespace fitup::parts
