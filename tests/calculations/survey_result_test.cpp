// From an adjusted survey to its result object and what is said of it.
#include "calculations/survey_result.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "calculations/survey_figures.hpp"
#include "calculations/survey_files.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {
namespace {

using namespace testing;

const plan::Finding* finding(const SurveyResult& result, const std::string& rule) {
    for (const plan::Finding& one : result.findings) {
        if (one.rule == rule) return &one;
    }
    return nullptr;
}

template <typename Value>
const Value* value_of(const plan::Work& work, const std::string& key) {
    for (const plan::WorkItem& item : work) {
        if (item.key == key) return std::get_if<Value>(&item.value);
    }
    return nullptr;
}

/// Points of a regular pattern as scribed, ids 1, 2 ..
std::string regular(int count, double radius, const std::string& uncertainty = "0.02") {
    std::string text = "\"points\": [";
    for (int i = 0; i < count; ++i) {
        const double angle = 2.0 * std::numbers::pi * i / count;
        text += std::string(i == 0 ? "" : ", ") + R"({"id": ")" + std::to_string(i + 1) + R"(", "at": [)" +
                std::to_string(10.0 + radius * std::cos(angle)) + ", " +
                std::to_string(-5.0 + radius * std::sin(angle)) + "], \"uncertainty\": " + uncertainty + "}";
    }
    return text + "]";
}

/// All spans between six holes of a circle of 50, each up to half a millimetre off its place.
std::string spans_of_six() {
    std::vector<plan::Point> at;
    for (int i = 0; i < 6; ++i)
        at.push_back(plan::turned({50.0 + 0.4 * std::sin(5.0 * i), 0.5 * std::cos(7.0 * i)},
                                  i * std::numbers::pi / 3));
    std::string text;
    for (std::size_t i = 0; i < 6; ++i)
        for (std::size_t j = i + 1; j < 6; ++j)
            text += std::string(text.empty() ? "" : ", ") + R"({"between": [")" + std::to_string(i + 1) +
                    "\", \"" + std::to_string(j + 1) + R"("], "centres": )" +
                    std::to_string(plan::distance_mm(at[i], at[j])) + "}";
    return text;
}

TEST(SurveyResult, has_the_keys_of_the_contract) {
    const SurveyResult result = result_of(regular(6, 50));
    const plan::Work figures = survey_figures(result);
    EXPECT_EQ(*value_of<std::string>(figures, "measured_on"), "B");
    EXPECT_EQ(*value_of<std::string>(figures, "datum"), "origin and axes as measured");
    const auto* points = value_of<std::vector<plan::Work>>(figures, "points");
    ASSERT_NE(points, nullptr);
    ASSERT_EQ(points->size(), 6u);
    EXPECT_EQ(*value_of<std::string>((*points)[2], "id"), "3");
    const auto& at = *value_of<std::vector<double>>((*points)[0], "at_mm");
    EXPECT_NEAR(at[0], 60.0, 1e-9);
    EXPECT_NEAR(at[1], -5.0, 1e-9);
    EXPECT_NEAR(*value_of<double>((*points)[0], "sigma_mm"), 0.02, 1e-12);
    const auto* circle = value_of<plan::Work>(figures, "circle");
    ASSERT_NE(circle, nullptr);
    EXPECT_NEAR(*value_of<double>(*circle, "diameter_mm"), 100.0, 1e-5);
    EXPECT_NEAR((*value_of<std::vector<double>>(*circle, "centre_mm"))[0], 10.0, 1e-5);
    EXPECT_NEAR(*value_of<double>(*circle, "start_angle_deg"), 0.0, 1e-5);
    EXPECT_LT(*value_of<double>(*circle, "worst_residual_mm"), 1e-5);
    const auto* covariance = value_of<std::vector<std::vector<double>>>(figures, "covariance_mm2");
    ASSERT_NE(covariance, nullptr);
    ASSERT_EQ(covariance->size(), 12u);
    for (const auto& row : *covariance) EXPECT_EQ(row.size(), 12u);
    EXPECT_NEAR((*covariance)[5][5], 0.0004, 1e-12);
    EXPECT_EQ(value_of<std::vector<plan::Work>>(figures, "readings")->size(), 12u);
    EXPECT_EQ(*value_of<double>(figures, "redundancy"), 0.0);
    EXPECT_EQ(value_of<std::vector<plan::Work>>(figures, "default_uncertainties"), nullptr);
    EXPECT_TRUE(result.holds);
}

TEST(SurveyResult, the_circles_centre_may_be_the_origin) {
    const SurveyResult result =
        result_of(regular(6, 50) + R"(, "datum": {"origin": "circle", "x_axis": ["4", "1"]})");
    ASSERT_TRUE(result.kind.circle);
    EXPECT_LT(plan::length(result.kind.circle->centre_mm), 1e-9);
    // The origin itself has no doubt then.
    EXPECT_LT(plan::length(result.kind.circle->centre_sigma_mm), 1e-9);
    EXPECT_NEAR(result.fit.points_mm[0].x_mm, 50.0, 1e-5);
    EXPECT_EQ(result.datum, "origin at the centre of the fitted circle, +X from 4 to 1");
    const SurveyResult line = result_of(R"("points": [{"id": "1", "at": [0, 0]}, {"id": "2", "at": [50, 0]}],
        "datum": {"origin": "circle"})");
    EXPECT_EQ(line.datum,
              "origin at the centre of the fitted circle, +X as measured (there is none: as measured)");
}

TEST(SurveyResult, a_trial_moves_its_hole_and_knows_it_anew) {
    const SurveyResult result =
        result_of(regular(6, 50) + R"(, "trial": [{"hole": "gearbox-2", "moved": [0.3, -0.1]}])");
    const SurveyResult before = result_of(regular(6, 50));
    EXPECT_NEAR(result.fit.points_mm[1].x_mm, before.fit.points_mm[1].x_mm + 0.3, 1e-12);
    EXPECT_NEAR(result.fit.points_mm[1].y_mm, before.fit.points_mm[1].y_mm - 0.1, 1e-12);
    EXPECT_NEAR(error_ellipse(result.fit, 1).major_mm, 0.1, 1e-12);
    EXPECT_EQ(result.fit.points_mm[0], before.fit.points_mm[0]);
    ASSERT_NE(finding(result, "trial"), nullptr);
    EXPECT_EQ(finding(result, "trial")->where, "2");
}

TEST(SurveyResult, a_trial_that_goes_too_far_or_onto_another_hole_is_questioned) {
    const auto warned = [](const std::string& moved) {
        const SurveyResult result =
            result_of(regular(6, 50) + R"(, "trial": [{"hole": "2", "moved": )" + moved + "}]");
        for (const plan::Finding& one : result.findings) {
            if (one.rule == "trial" && one.severity == plan::Severity::warn) return one.message;
        }
        return std::string();
    };
    EXPECT_EQ(warned("[2.9, 0.5]"), "");
    EXPECT_NE(warned("[3, 0.1]").find("more than a template shows"), std::string::npos) << warned("[3, 0.1]");
    EXPECT_NE(warned("[100, 0]").find("100 mm (3.937 in)"), std::string::npos) << warned("[100, 0]");
    // The third lies 50 mm to its left on the hexagon.
    EXPECT_NE(warned("[-49.5, 0]").find("onto 3"), std::string::npos) << warned("[-49.5, 0]");
}

TEST(SurveyFindings, tell_what_nothing_checks) {
    const plan::Finding* none = nullptr;
    const SurveyResult result = result_of(regular(6, 50));
    ASSERT_NE(finding(result, "unchecked-readings"), none);
    EXPECT_EQ(finding(result, "unchecked-readings")
                  ->message.find("no reading is checked by another: one wrong reading here can't be seen"),
              0u);
    EXPECT_EQ(finding(result, "unchecked-readings")->severity, plan::Severity::note);
    EXPECT_EQ(finding(result, "default-uncertainty"), none);
}

TEST(SurveyFindings, tell_contacts_that_fit_no_round_hole) {
    const std::string contacts = R"("points": [{"id": "1", "touch_x": [0, 10], "touch_y": [0, 10.2]},
        {"id": "2", "touch_x": [50, 60], "touch_y": [0.01, 10]}])";
    const SurveyResult result = result_of(contacts);
    ASSERT_NE(finding(result, "contacts-agree"), nullptr);
    EXPECT_EQ(finding(result, "contacts-agree")->where, "1");
    EXPECT_NEAR(*finding(result, "contacts-agree")->value, 0.2, 1e-12);
    EXPECT_EQ(std::count_if(result.findings.begin(), result.findings.end(),
                            [](const plan::Finding& one) { return one.rule == "contacts-agree"; }),
              1);
    EXPECT_EQ(finding(result_of(contacts + R"(, "uncertainty": 0.05)"), "contacts-agree"), nullptr);
    EXPECT_NE(finding(result, "default-uncertainty"), nullptr);
    EXPECT_NE(value_of<std::vector<plan::Work>>(survey_figures(result), "default_uncertainties"), nullptr);
}

/// Six holes on a circle of which the third is moved sideways by 3 mm: nearly its own mirror image.
std::string nearly_symmetric() {
    std::string text = regular(6, 50);
    const double angle = 2.0 * std::numbers::pi * 2 / 6;
    const std::string from = "{\"id\": \"3\", \"at\": [" + std::to_string(10.0 + 50.0 * std::cos(angle)) +
                             ", " + std::to_string(-5.0 + 50.0 * std::sin(angle)) + "]";
    const std::string to = "{\"id\": \"3\", \"at\": [" +
                           std::to_string(10.0 + 50.0 * std::cos(angle) - 3.0 * std::sin(angle)) + ", " +
                           std::to_string(-5.0 + 50.0 * std::sin(angle) + 3.0 * std::cos(angle)) + "]";
    const std::size_t at = text.find(from);
    EXPECT_NE(at, std::string::npos);
    return text.replace(at, from.size(), to);
}

TEST(SurveyFindings, warn_of_a_pattern_that_nearly_bolts_up_mirrored) {
    const SurveyResult result = result_of(nearly_symmetric());
    const plan::Finding* mirrored = finding(result, "mirrored-pattern");
    ASSERT_NE(mirrored, nullptr);
    EXPECT_EQ(mirrored->severity, plan::Severity::warn);
    EXPECT_EQ(mirrored->where, "3");
    EXPECT_EQ(*mirrored->value, 5.0);
    EXPECT_NE(mirrored->message.find("3 alone tells the sides apart; try 3 before the others."),
              std::string::npos);
    const SurveyResult whole = result_of(regular(6, 50));
    ASSERT_NE(finding(whole, "mirrored-pattern"), nullptr);
    EXPECT_EQ(finding(whole, "mirrored-pattern")->severity, plan::Severity::note);
}

TEST(SurveyFindings, tell_a_circle_that_is_not_as_expected) {
    EXPECT_EQ(finding(result_of(regular(6, 50) + R"(, "expect": {"circle": {"count": 6, "diameter": 100}})"),
                      "expected-circle"),
              nullptr);
    const SurveyResult larger =
        result_of(regular(6, 50) + R"(, "expect": {"circle": {"count": 6, "diameter": 99}})");
    ASSERT_NE(finding(larger, "expected-circle"), nullptr);
    EXPECT_EQ(finding(larger, "expected-circle")->message,
              "the circle is 1.00 mm larger than expected, more than its uncertainty.");
    const SurveyResult uneven = result_of(nearly_symmetric() + R"(, "expect": {"circle": {"count": 6}})");
    ASSERT_NE(finding(uneven, "expected-circle"), nullptr);
    EXPECT_EQ(finding(uneven, "expected-circle")->message.find("not equally spaced"), 0u);
}

/// Three points with all spans; the last is read 0.5 too long.
const std::string with_a_wrong_span = R"("points": [{"id": "1", "at": [0, 0]}, {"id": "2", "at": [30, 0]},
    {"id": "3", "at": [0, 40]}], "uncertainty": 0.05, "spans": [{"between": ["1", "2"], "centres": 30},
    {"between": ["2", "3"], "over": 60.5, "pins": [10, 10]}])";

TEST(SurveyFindings, tell_suspects_with_what_to_do) {
    const Survey survey = survey_of(with_a_wrong_span);
    Adjusted adjusted = adjust(survey);
    ASSERT_TRUE(adjusted.fit);
    const int span = int(survey.readings.size()) - 1;
    adjusted.fit->suspects = {{span, 0.5, "digits exchanged: 60.50 for 60.05 mm", 50.05, {0}}};
    const SurveyResult result = work_out(survey, *adjusted.fit);
    const plan::Finding* suspect = finding(result, "suspect-reading");
    ASSERT_NE(suspect, nullptr);
    EXPECT_EQ(suspect->severity, plan::Severity::warn);
    EXPECT_EQ(suspect->where, "span 2-3 (over)");
    EXPECT_EQ(
        suspect->message,
        "span 2-3 (over) reads 0.50 mm more than the others say; perhaps digits exchanged: 60.50 for 60.05 "
        "mm; as well it may be x of 1; measure it again, or put \"leave_out\": [\"span 2-3 (over)\"].");
    EXPECT_TRUE(result.holds);
    // 0.5 mm over the 0.05 that the reading is good to.
    EXPECT_NEAR(*suspect->value, 10.0, 1e-9);
}

TEST(SurveyFindings, say_that_uncertainty_is_greater_where_a_gross_error_is_kept) {
    const std::string six = regular(6, 50, "0.05");
    const auto with = [&](const std::string& length, const std::string& more = "") {
        return result_of(six + R"(, "spans": [{"between": ["1", "4"], "centres": )" + length + "}]" + more);
    };
    const SurveyResult good = with("100.05");
    EXPECT_EQ(kept_words(good), "");
    EXPECT_EQ(value_of<std::string>(survey_figures(good), "uncertainty"), nullptr);
    const SurveyResult bad = with("103");
    ASSERT_EQ(bad.fit.suspects.size(), 1u);
    EXPECT_EQ(kept_words(bad), "a reading that disagrees is kept: true uncertainty is greater");
    ASSERT_NE(finding(bad, "readings-agree"), nullptr);
    EXPECT_EQ(finding(bad, "readings-agree")->message.find(kept_words(bad)), 0u);
    EXPECT_NEAR(*finding(bad, "suspect-reading")->value, 3.0 / bad.survey.readings.back().sigma, 0.1);
    EXPECT_EQ(kept_words(with("103", R"(, "leave_out": ["span 1-4"])")), "");
}

TEST(SurveyResult, equal_spacing_does_not_hang_on_the_datum) {
    // Spans alone of six holes, none quite on its place: the axes are whatever the datum says.
    const std::string spans = R"("points": [{"id": "1"}, {"id": "2"}, {"id": "3"}, {"id": "4"}, {"id": "5"},
        {"id": "6"}], "uncertainty": 0.03, "clockwise": ["1", "3", "2"], "spans": [)" +
                              spans_of_six() + "]";
    const SurveyResult first = result_of(spans);
    ASSERT_TRUE(first.kind.spacing);
    for (const char* datum : {R"({"origin": "circle", "x_axis": ["3", "6"]})",
                              R"({"origin": "mean of 1, 2"})", R"({"origin": "5", "x_axis": ["5", "6"]})"}) {
        const SurveyResult other = result_of(spans + ", \"datum\": " + datum);
        ASSERT_TRUE(other.kind.spacing) << datum;
        const EqualSpacing &a = *first.kind.spacing, &b = *other.kind.spacing;
        EXPECT_NEAR(a.worst_mm, b.worst_mm, 1e-8) << datum;
        EXPECT_NEAR(a.diameter_mm, b.diameter_mm, 1e-8) << datum;
        EXPECT_NEAR(a.chance, b.chance, 1e-8) << datum;
        for (std::size_t i = 0; i < 6; ++i)
            EXPECT_NEAR(plan::distance_mm(a.centre_mm, first.fit.points_mm[i]),
                        plan::distance_mm(b.centre_mm, other.fit.points_mm[i]), 1e-8)
                << datum;
    }
}

TEST(SurveyFindings, tell_disagreement_that_no_reading_explains) {
    const Survey survey = survey_of(with_a_wrong_span);
    Adjusted adjusted = adjust(survey);
    ASSERT_TRUE(adjusted.fit);
    adjusted.fit->suspects.clear();
    const SurveyResult result = work_out(survey, *adjusted.fit);
    ASSERT_NE(finding(result, "readings-agree"), nullptr);
    EXPECT_EQ(finding(result, "readings-agree")->severity, plan::Severity::warn);
    EXPECT_NEAR(*finding(result, "readings-agree")->value, adjusted.fit->sigma_scale, 1e-12);
}

TEST(SurveyFindings, say_plainly_when_nothing_fits) {
    const Survey survey = survey_of(with_a_wrong_span);
    Adjusted adjusted = adjust(survey);
    ASSERT_TRUE(adjusted.fit);
    adjusted.fit->suspects.clear();
    adjusted.fit->sigma_scale = 50.0;
    const SurveyResult result = work_out(survey, *adjusted.fit);
    EXPECT_FALSE(result.fits);
    EXPECT_FALSE(result.holds);
    ASSERT_NE(finding(result, "readings-agree"), nullptr);
    EXPECT_EQ(finding(result, "readings-agree")->severity, plan::Severity::stop);
}

TEST(SurveyFindings, one_gross_reading_that_the_rest_expose_is_no_misfit) {
    const Survey survey = survey_of(with_a_wrong_span);
    const Adjusted adjusted = adjust(survey);
    ASSERT_TRUE(adjusted.fit);
    ASSERT_FALSE(adjusted.fit->suspects.empty());
    EXPECT_TRUE(work_out(survey, *adjusted.fit).fits);
}

TEST(SurveyTroubles, become_faults_at_their_place) {
    const std::vector<std::string> kinds{"survey"};
    const std::string text = survey_text(R"("points": [{"id": "1", "at": [0, 0]}, {"id": "2"}, {"id": "3"}],
  "spans": [{"between": ["1", "2"], "centres": 30},
            {"between": ["2", "3"], "centres": 40}])");
    const auto opened = parameters::open_file(text, "s.json", parameters::Role::calculation, kinds);
    const auto faults = faults_of({{"spans[1]", 4, "this", "that"}, {"clockwise", 0, "nothing", "three ids"}},
                                  opened.document);
    ASSERT_EQ(faults.size(), 2u);
    EXPECT_EQ(parameters::to_text(faults[0]), "s.json:4:13: spans[1]: found this, wanted that");
    EXPECT_EQ(parameters::to_text(faults[1]), "s.json:1:1: clockwise: found nothing, wanted three ids");
}

}  // namespace
}  // namespace fitup::calculations
