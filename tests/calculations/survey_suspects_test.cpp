#include <gtest/gtest.h>

#include <numbers>

#include "calculations/surveys.hpp"

namespace fitup::calculations {

namespace {

using namespace testing;

constexpr double doubt_mm = 0.05;

/// Spans over and inside pins of 10 mm between all neighbours and next ones, others between centres, and all
/// coordinates: enough to find two errors. Disturbed by errors of their own.
Survey full_survey(unsigned seed = 2) {
    const auto at = winch_studs();
    Survey survey = survey_of(8);
    for (int i = 0; i < 8; ++i) {
        add_pinned(survey, i, (i + 1) % 8, span(at, i, (i + 1) % 8), i % 2 == 0 ? Taken::over : Taken::inside,
                   10);
        add_span(survey, i, (i + 2) % 8, span(at, i, (i + 2) % 8));
        add_at(survey, i, at[std::size_t(i)]);
    }
    std::mt19937_64 engine(seed);
    disturb(survey, engine);
    // Scales give hundredths.
    for (Reading& reading : survey.readings) {
        const double rounded = std::round(reading.written[0] * 100.0) / 100.0;
        reading.value += rounded - reading.written[0];
        reading.written[0] = rounded;
    }
    return survey;
}

std::size_t find(const Survey& survey, const std::string& name) {
    for (std::size_t i = 0; i < survey.readings.size(); ++i)
        if (survey.readings[i].name == name) return i;
    throw std::runtime_error("no reading " + name);
}

/// Another number in place of what was written.
void write(Survey& survey, std::size_t reading, double number) {
    Reading& r = survey.readings[reading];
    r.value += (number - r.written[0]) / double(r.written.size());
    r.written[0] = number;
}

struct Case {
    std::string name;     ///< of the reading
    double factor, more;  ///< what was written: the right number times one and plus the other
    std::string words;    ///< in the blunder's text
};

/// The one suspect of a survey in which a reading was written wrong.
Suspect only_suspect(const Survey& survey) {
    const Adjusted adjusted = adjust(survey);
    for (const SurveyTrouble& trouble : adjusted.troubles)
        ADD_FAILURE() << trouble.key << " " << trouble.found;
    if (!adjusted.fit || adjusted.fit->suspects.size() != 1) {
        ADD_FAILURE() << (adjusted.fit ? adjusted.fit->suspects.size() : 0) << " suspects";
        for (const Suspect& s : adjusted.fit ? adjusted.fit->suspects : std::vector<Suspect>{})
            ADD_FAILURE() << survey.readings[std::size_t(s.reading)].name << " " << s.by << " " << s.blunder;
        return {};
    }
    return adjusted.fit->suspects.front();
}

TEST(Suspects, are_as_rare_in_a_survey_of_good_readings_as_the_test_says) {
    // 32 readings at 0.1 %: one survey in 31 has a false alarm, or somewhat fewer, since the tests are
    // correlated.
    int alarms = 0;
    constexpr int tries = 400;
    for (unsigned seed = 1; seed <= tries; ++seed) {
        const auto fit = adjust(full_survey(seed)).fit;
        ASSERT_TRUE(fit);
        alarms += fit->suspects.empty() ? 0 : 1;
    }
    EXPECT_GT(alarms, 2);
    EXPECT_LT(alarms, 12.8 + 3 * std::sqrt(12.8));
}

TEST(Suspects, are_found_by_the_others_and_every_usual_slip_is_named) {
    const std::vector<Case> cases{
        {"span 2-3 (inside)", 1 / 25.4, 0, "read in inches"},
        {"x of 4", 1 / 25.4, 0, "read in inches"},
        {"span 3-5", 25.4, 0, "turned into millimetres twice"},
        {"span 1-2 (over)", 1, 20, "both pins not taken off"},
        {"span 3-4 (over)", 1, 10, "the pin of 10.00 mm at 3 not taken off"},
        {"span 2-3 (inside)", 1, 20, "measured over and entered as inside"},
        {"span 7-8 (over)", 1, -20, "measured inside and entered as over"},
        {"span 3-5", 1, 10, "measured over the pins and entered as centres"},
        {"y of 6", -1, 0, "sign"},
        {"x of 8", 1, 5, "touched on one side only"},
        {"span 5-7", 1, -100, "a whole 100 mm misread"},
        {"span 8-2", 1, 1, "a whole 1 mm misread"},
        {"span 1-3", 1, 100, "one digit misread"},
    };
    for (const Case& tried : cases) {
        Survey survey = full_survey();
        const std::size_t index = find(survey, tried.name);
        const double right = survey.readings[index].value;
        // Rounded to what would have been written, so that the slip gives it back within hundredths.
        write(survey, index,
              std::round((survey.readings[index].written[0] * tried.factor + tried.more) * 1e3) / 1e3);
        const double wrong = survey.readings[index].value;
        const Suspect suspect = only_suspect(survey);
        EXPECT_EQ(suspect.reading, int(index)) << tried.name;
        EXPECT_NEAR(suspect.by, wrong - right, 4 * doubt_mm) << tried.name;
        EXPECT_NE(suspect.blunder.find(tried.words), std::string::npos)
            << tried.name << ": " << suspect.blunder;
        if (tried.words.find("turned") == std::string::npos) continue;
        ASSERT_TRUE(suspect.corrected) << tried.name << ": " << suspect.blunder;
        EXPECT_NEAR(*suspect.corrected, right, 0.02);
    }
}

TEST(Suspects, digits_exchanged) {
    Survey survey = full_survey();
    const std::size_t index = find(survey, "x of 1");
    write(survey, index, 82.81);  // for 88.21, by rounding and doubt
    const double right = 88.21;
    const Suspect suspect = only_suspect(survey);
    EXPECT_EQ(suspect.reading, int(index));
    EXPECT_EQ(suspect.blunder, "two digits exchanged: 82.81 for 88.21 mm");
    ASSERT_TRUE(suspect.corrected);
    EXPECT_NEAR(*suspect.corrected, right, 1e-9);
}

TEST(Suspects, one_of_two_pins_that_are_nearly_alike_is_named_before_a_whole_10_mm) {
    for (const double sense : {1.0, -1.0}) {
        Survey survey = full_survey();
        const std::size_t index = find(survey, "span 3-4 (over)");
        survey.readings[index].pins_mm = {10.03, 10.01};
        write(survey, index, survey.readings[index].written[0] + sense * 10.02);
        const Suspect suspect = only_suspect(survey);
        EXPECT_EQ(suspect.reading, int(index));
        // The two pins' values are nearer than doubt; so is a whole 10 mm, which is the less likely slip.
        EXPECT_NE(suspect.blunder.find("the pin of 10.03 mm at 3"), std::string::npos) << suspect.blunder;
        EXPECT_EQ(suspect.blunder.find("a whole 10 mm"), std::string::npos) << suspect.blunder;
    }
}

TEST(Suspects, both_contacts_in_inches_are_one_slip) {
    Survey survey = full_survey();
    const std::size_t index = find(survey, "x of 8");
    Reading& reading = survey.readings[index];
    const double right = reading.value;
    reading.taken = Taken::touch;
    reading.value = right / 25.4;
    reading.written = {(right - 5.0) / 25.4, (right + 5.0) / 25.4};
    const Suspect suspect = only_suspect(survey);
    EXPECT_EQ(suspect.reading, int(index));
    EXPECT_EQ(suspect.blunder.find("both contacts read in inches"), 0u) << suspect.blunder;
}

TEST(Suspects, a_contact_of_a_touch_pair_counts_half) {
    Survey survey = full_survey();
    Reading& reading = survey.readings[find(survey, "y of 4")];
    reading.taken = Taken::touch;
    reading.written = {reading.value - 5.1, reading.value + 5.1};
    write(survey, find(survey, "y of 4"), reading.written[0] + 10.0);
    const Suspect suspect = only_suspect(survey);
    EXPECT_NEAR(suspect.by, 5.0, 0.2);
    EXPECT_NE(suspect.blunder.find("a whole 10 mm misread on the scale"), std::string::npos)
        << suspect.blunder;
}

TEST(Suspects, a_survey_in_inches_is_told_in_inches) {
    Survey survey = full_survey();
    survey.units = plan::Units::in;
    const std::size_t index = find(survey, "x of 4");
    const double right = survey.readings[index].value;
    write(survey, index, right * 25.4);  // 97.5 entered in a file of inches
    const Suspect suspect = only_suspect(survey);
    EXPECT_EQ(suspect.reading, int(index));
    EXPECT_NE(suspect.blunder.find("read in millimetres: -97."), std::string::npos) << suspect.blunder;
    ASSERT_TRUE(suspect.corrected);
    EXPECT_NEAR(*suspect.corrected, right, 1e-9);
}

TEST(Suspects, a_span_between_other_points) {
    Survey survey = full_survey();
    const std::size_t index = find(survey, "span 3-5");
    write(survey, index, std::round(span(winch_studs(), 2, 5) * 100) / 100);
    const Suspect suspect = only_suspect(survey);
    EXPECT_EQ(suspect.reading, int(index));
    EXPECT_NE(suspect.blunder.find("taken between 3 and 6"), std::string::npos) << suspect.blunder;
    EXPECT_FALSE(suspect.corrected);
}

TEST(Suspects, an_angle_of_the_wrong_sign) {
    Survey survey = full_survey();
    add_angle(survey, 0, 1, 3, -angle_at(winch_studs(), 0, 1, 3));
    const Suspect suspect = only_suspect(survey);
    EXPECT_EQ(suspect.reading, int(survey.readings.size()) - 1);
    EXPECT_NE(suspect.blunder.find("sign: "), std::string::npos) << suspect.blunder;
}

TEST(Suspects, an_angle_of_the_wrong_sign_that_puts_a_point_on_another) {
    // Mirror images over the line from 1 to 2: the angle alone says on which side 3 lies, and 4 is on the
    // other.
    const std::vector<Point> at{
        {0, 0}, {120, 5}, plan::turned({70, 50}, 0.04), plan::turned({70, -50}, 0.04)};
    Survey survey = survey_of(4);
    for (const int i : {0, 1}) add_at(survey, i, at[std::size_t(i)], 0.02);
    for (const int i : {2, 3})
        for (const int k : {0, 1}) add_span(survey, i, k, span(at, i, k), 0.03);
    for (const int i : {2, 3}) add_angle(survey, 0, 1, i, angle_at(at, 0, 1, i) * (i == 2 ? -1.0 : 1.0));
    for (const int i : {2, 3}) add_angle(survey, 1, 0, i, angle_at(at, 1, 0, i));
    const Suspect suspect = only_suspect(survey);
    EXPECT_EQ(survey.readings[std::size_t(suspect.reading)].name, "angle at 1 from 2 to 3");
    EXPECT_NE(suspect.blunder.find("sign: "), std::string::npos) << suspect.blunder;
}

TEST(Suspects, a_number_smaller_than_its_pins_is_one_where_the_others_show_the_inches) {
    Survey survey = full_survey();
    const std::size_t index = find(survey, "span 3-4 (over)");
    const double right = survey.readings[index].value;
    write(survey, index, std::round(survey.readings[index].written[0] / 25.4 * 1e3) / 1e3);
    ASSERT_LT(survey.readings[index].value, 0.0);
    const Suspect suspect = only_suspect(survey);
    EXPECT_EQ(suspect.reading, int(index));
    EXPECT_EQ(suspect.blunder.substr(0, 14), "read in inches") << suspect.blunder;
    ASSERT_TRUE(suspect.corrected);
    EXPECT_NEAR(*suspect.corrected, right, 0.02);
    // Where it doesn't fit them either it stays a fault.
    write(survey, index, 3.0);
    const Adjusted other = adjust(survey);
    EXPECT_FALSE(other.fit);
    ASSERT_EQ(other.troubles.size(), 1u);
    EXPECT_EQ(other.troubles[0].key, survey.readings[index].key);
}

TEST(Suspects, coordinates_at_each_others_id) {
    Survey survey = full_survey();
    for (const char* axis : {"x", "y"}) {
        Reading& a = survey.readings[find(survey, std::string(axis) + " of 2")];
        Reading& b = survey.readings[find(survey, std::string(axis) + " of 7")];
        std::swap(a.value, b.value);
        std::swap(a.written, b.written);
    }
    const auto adjusted = adjust(survey);
    ASSERT_TRUE(adjusted.fit);
    ASSERT_EQ(adjusted.fit->suspects.size(), 4u);
    for (const Suspect& suspect : adjusted.fit->suspects) {
        EXPECT_EQ(suspect.blunder, "coordinates of 2 and 7 at each other's id");
        const Reading& reading = survey.readings[std::size_t(suspect.reading)];
        const Point right = winch_studs()[std::size_t(reading.a)];
        EXPECT_NEAR(*suspect.corrected, reading.quantity == Quantity::x ? right.x_mm : right.y_mm, 0.25);
    }
}

TEST(Suspects, x_and_y_in_each_others_place) {
    Survey survey = full_survey();
    std::swap(survey.readings[find(survey, "x of 3")].value, survey.readings[find(survey, "y of 3")].value);
    std::swap(survey.readings[find(survey, "x of 3")].written,
              survey.readings[find(survey, "y of 3")].written);
    const auto adjusted = adjust(survey);
    ASSERT_TRUE(adjusted.fit);
    ASSERT_EQ(adjusted.fit->suspects.size(), 2u);
    EXPECT_EQ(adjusted.fit->suspects[0].blunder, "x and y of 3 in each other's place");
}

TEST(Suspects, two_errors_are_both_found) {
    for (unsigned seed = 1; seed < 12; ++seed) {
        Survey survey = full_survey(seed);
        const std::size_t first = find(survey, "span 3-5"), second = find(survey, "y of 6");
        write(survey, first, survey.readings[first].written[0] + 1.3);
        write(survey, second, survey.readings[second].written[0] - 0.8);
        const auto fit = adjust(survey).fit;
        ASSERT_TRUE(fit);
        ASSERT_EQ(fit->suspects.size(), 2u) << seed;
        EXPECT_EQ(fit->suspects[0].reading, int(first));
        EXPECT_NEAR(fit->suspects[0].by, 1.3, 0.3);
        EXPECT_EQ(fit->suspects[1].reading, int(second));
        EXPECT_NEAR(fit->suspects[1].by, -0.8, 0.3);
    }
}

TEST(Suspects, two_gross_errors_are_both_found_and_named) {
    Survey survey = full_survey();
    const std::size_t first = find(survey, "span 1-3"), second = find(survey, "x of 4");
    write(survey, first, std::round(survey.readings[first].written[0] / 25.4 * 1e3) / 1e3);
    write(survey, second, -survey.readings[second].written[0]);
    const auto fit = adjust(survey).fit;
    ASSERT_TRUE(fit);
    ASSERT_EQ(fit->suspects.size(), 2u);
    for (const Suspect& suspect : fit->suspects)
        EXPECT_NE(suspect.blunder.find(suspect.reading == int(first) ? "read in inches" : "sign"),
                  std::string::npos)
            << suspect.blunder;
}

TEST(Suspects, what_cannot_be_told_apart_is_said) {
    // Six spans of four points: one more than needed, so that any of them may be the wrong one.
    const std::vector<Point> at{{0, 0}, {120, 5}, {131, 88}, {-12, 97}};
    Survey survey = spans_survey(at, 2);
    ASSERT_EQ(survey.readings.size(), 6u);
    write(survey, 2, survey.readings[2].written[0] + 2.37);
    const auto fit = adjust(survey).fit;
    ASSERT_TRUE(fit);
    ASSERT_EQ(fit->suspects.size(), 1u);
    EXPECT_EQ(fit->suspects[0].or_else.size(), 5u);
    for (const Residual& residual : fit->residuals)
        EXPECT_NEAR(std::abs(residual.normalised), std::abs(fit->residuals[0].normalised), 0.2);
}

TEST(Suspects, a_slip_tells_which_of_equals_it_was) {
    // The same six spans; read in inches, the wrong one alone has an explanation.
    const std::vector<Point> at{{0, 0}, {120, 5}, {131, 88}, {-12, 97}};
    Survey survey = spans_survey(at, 2);
    write(survey, 3, std::round(survey.readings[3].written[0] / 25.4 * 1e3) / 1e3);
    const auto adjusted = adjust(survey);
    ASSERT_TRUE(adjusted.fit);
    ASSERT_EQ(adjusted.fit->suspects.size(), 1u);
    EXPECT_EQ(adjusted.fit->suspects[0].reading, 3);
    EXPECT_NE(adjusted.fit->suspects[0].blunder.find("read in inches"), std::string::npos)
        << adjusted.fit->suspects[0].blunder << adjusted.fit->suspects[0].by;
}

TEST(Suspects, a_single_error_is_found_as_often_as_its_size_says) {
    // Detectable at 80 %: found four times in five (the worst test, of any reading, above the critical
    // value).
    const std::size_t index = find(full_survey(), "span 3-5");
    int found = 0;
    constexpr int tries = 200;
    for (unsigned seed = 100; seed < 100 + tries; ++seed) {
        Survey survey = full_survey(seed);
        const auto good = adjust(survey, {false, false}).fit;
        ASSERT_TRUE(good && good->residuals[index].detectable);
        const double by = *good->residuals[index].detectable;
        write(survey, index, survey.readings[index].written[0] + by);
        const auto fit = adjust(survey, {false, false}).fit;
        ASSERT_TRUE(fit);
        found += std::abs(fit->residuals[index].normalised) > fit->critical ? 1 : 0;
    }
    EXPECT_NEAR(double(found) / tries, 0.80, 3.0 * std::sqrt(0.16 / tries));
}

}  // namespace

}  // namespace fitup::calculations
