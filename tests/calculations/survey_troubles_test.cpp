#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "calculations/surveys.hpp"

namespace fitup::calculations {

namespace {

using namespace testing;

/// Four points of no symmetry.
const std::vector<Point> four{{0, 0}, {120, 5}, {131, 88}, {-12, 97}};

std::vector<SurveyTrouble> troubles_of(const Survey& survey) {
    const Adjusted adjusted = adjust(survey);
    EXPECT_FALSE(adjusted.fit);
    return adjusted.troubles;
}

std::string all_text(const std::vector<SurveyTrouble>& troubles) {
    std::string text;
    for (const SurveyTrouble& t : troubles)
        text += t.key + ":" + std::to_string(t.line) + ": " + t.found + "; wanted " + t.wanted + "\n";
    return text;
}

TEST(Troubles, spans_alone_without_a_side) {
    Survey survey = spans_survey(winch_studs(), 3);
    survey.clockwise.reset();
    survey.clockwise_line = 7;
    const auto troubles = troubles_of(survey);
    ASSERT_EQ(troubles.size(), 1u);
    EXPECT_EQ(troubles[0].key, "clockwise");
    EXPECT_EQ(troubles[0].line, 7);
    EXPECT_NE(troubles[0].wanted.find("mirror image"), std::string::npos);
}

TEST(Troubles, three_points_on_a_line_tell_no_side) {
    const std::vector<Point> at{{0, 0}, {60, 0.01}, {120, 0}, {50, 80}};
    Survey survey = spans_survey(at, 2);
    survey.clockwise = {0, 1, 2};
    const auto troubles = troubles_of(survey);
    ASSERT_EQ(troubles.size(), 1u) << all_text(troubles);
    EXPECT_EQ(troubles[0].key, "clockwise");
    EXPECT_NE(troubles[0].found.find("on one line"), std::string::npos);
}

TEST(Troubles, a_side_that_the_coordinates_contradict) {
    Survey survey = mixed_survey(winch_studs(), 2);
    survey.clockwise = clockwise_of(winch_studs());
    EXPECT_TRUE(adjust(survey).fit);
    std::swap((*survey.clockwise)[1], (*survey.clockwise)[2]);
    const auto troubles = troubles_of(survey);
    ASSERT_EQ(troubles.size(), 1u);
    EXPECT_NE(troubles[0].found.find("anticlockwise"), std::string::npos);
}

TEST(Troubles, points_with_too_few_readings_are_all_told) {
    Survey survey = spans_survey(four, 2);
    for (int i = 0; i < 2; ++i) survey.points.push_back({std::to_string(5 + i), 50 + i});
    add_span(survey, 4, 0, 77.0);  // 5 hangs on one span, 6 on nothing
    const auto troubles = troubles_of(survey);
    ASSERT_EQ(troubles.size(), 2u) << all_text(troubles);
    EXPECT_EQ(troubles[0].key, "points[4]");
    EXPECT_EQ(troubles[0].line, 50);
    EXPECT_EQ(troubles[0].found, "point 5 with no reading but span 5-1");
    EXPECT_EQ(troubles[0].wanted.substr(0, 40), "one more reading, such as a span between");
    EXPECT_EQ(troubles[1].key, "points[5]");
    EXPECT_EQ(troubles[1].found, "point 6 without any reading");
    EXPECT_EQ(troubles[1].wanted.substr(0, 15), "2 more readings");
}

TEST(Troubles, two_groups_that_hang_together_by_one_point_can_turn) {
    // Two rigid fours that share point 4: enough readings in all, but one group can turn about it.
    Survey survey = survey_of(7);
    const std::vector<Point> at{{0, 0}, {120, 5}, {131, 88}, {-12, 97}, {-90, 20}, {-130, 110}, {-60, 150}};
    for (const auto& group : {std::vector{0, 1, 2, 3}, std::vector{3, 4, 5, 6}})
        for (const int a : group)
            for (const int b : group)
                if (a < b) add_span(survey, a, b, span(at, a, b));
    survey.clockwise = clockwise_of(at);
    const auto troubles = troubles_of(survey);
    ASSERT_EQ(troubles.size(), 1u) << all_text(troubles);
    EXPECT_EQ(troubles[0].found, "points 5, 6 and 7 can still move");
    EXPECT_EQ(troubles[0].wanted.substr(0, 40), "one more reading, such as a span between");
    // What is proposed holds it.
    const auto digits = troubles[0].wanted.substr(troubles[0].wanted.find("between") + 8);
    const int a = digits[0] - '1', b = digits[6] - '1';
    add_span(survey, a, b, span(at, a, b));
    const Adjusted held = adjust(survey);
    EXPECT_TRUE(held.fit || held.troubles[0].found.find("two arrangements") != std::string::npos)
        << all_text(held.troubles);
}

TEST(Troubles, angles_alone_have_no_size) {
    Survey survey = survey_of(3);
    add_angle(survey, 0, 1, 2, 1.0);
    add_angle(survey, 1, 2, 0, 1.1);
    add_angle(survey, 2, 0, 1, 3.14159 - 2.1);
    const auto troubles = troubles_of(survey);
    ASSERT_EQ(troubles.size(), 1u) << all_text(troubles);
    EXPECT_EQ(troubles[0].wanted.substr(0, 40), "one more reading, such as a span between");
}

TEST(Troubles, a_triangle_that_does_not_close_names_its_three_spans) {
    Survey survey = survey_of(3);
    add_span(survey, 0, 1, 100.0);
    add_span(survey, 1, 2, 120.0);
    add_span(survey, 2, 0, 250.0);
    survey.clockwise = {0, 1, 2};
    const auto troubles = troubles_of(survey);
    ASSERT_FALSE(troubles.empty());
    EXPECT_EQ(troubles[0].key, "spans[2]");
    EXPECT_EQ(troubles[0].found,
              "span 3-1 of 250.00 mm between centres, with span 2-3 of 120.00 mm and span 1-2 of 100.00 mm");
    EXPECT_EQ(troubles[0].wanted.substr(0, 17), "at most 220.00 mm");
    survey.units = plan::Units::in;
    EXPECT_NE(troubles_of(survey)[0].found.find("9.8425 in"), std::string::npos);
}

TEST(Troubles, spans_that_do_not_reach_from_two_known_points_are_told_with_these) {
    Survey survey = survey_of(3);
    add_at(survey, 0, {0, 0});
    add_at(survey, 1, {100, 0});
    add_span(survey, 0, 2, 20.0);
    add_span(survey, 1, 2, 25.0);
    survey.clockwise = {0, 1, 2};
    const auto troubles = troubles_of(survey);
    ASSERT_EQ(troubles.size(), 1u) << all_text(troubles);
    EXPECT_EQ(troubles[0].key, "spans[5]");
    EXPECT_EQ(
        troubles[0].found,
        "1 and 2 100.00 mm apart by their coordinates, with span 2-3 of 25.00 mm and span 1-3 of 20.00 mm");
    EXPECT_EQ(troubles[0].wanted.substr(0, 16), "at most 45.00 mm");
}

TEST(Troubles, a_broken_triangle_among_many_spans_is_one_suspect) {
    Survey survey = spans_survey(winch_studs(), 3);
    survey.readings[4].value += 400.0;
    survey.readings[4].written[0] += 400.0;
    const Adjusted adjusted = adjust(survey);
    ASSERT_TRUE(adjusted.fit) << all_text(adjusted.troubles);
    ASSERT_EQ(adjusted.fit->suspects.size(), 1u);
    EXPECT_EQ(adjusted.fit->suspects[0].reading, 4);
    EXPECT_NEAR(adjusted.fit->suspects[0].by, 400.0, 1e-6);
}

TEST(Troubles, two_arrangements_are_told_by_the_span_that_differs) {
    // Five of six spans: 4 on either side of the line from 1 to 3.
    Survey survey = survey_of(4);
    for (const auto& [a, b] : {std::pair{0, 1}, {1, 2}, {0, 2}, {2, 3}, {3, 0}})
        add_span(survey, a, b, span(four, a, b));
    survey.clockwise = clockwise_of(four);
    const auto troubles = troubles_of(survey);
    ASSERT_EQ(troubles.size(), 1u) << all_text(troubles);
    EXPECT_NE(troubles[0].found.find("two arrangements: 2 and 4 are"), std::string::npos)
        << troubles[0].found;
    EXPECT_EQ(troubles[0].wanted, "a span between 2 and 4, to tell which");
    add_span(survey, 1, 3, span(four, 1, 3));
    EXPECT_TRUE(adjust(survey).fit);
}

TEST(Troubles, a_rhombus_folds_onto_itself_and_is_no_second_arrangement) {
    // Equal spans: with 4 on the other side it would lie on 2, where there is a hole already.
    const double h = 50.0 * std::sqrt(3.0);
    const std::vector<Point> at{{0, 0}, {50, -h}, {100, 0}, {50, h}};
    Survey survey = survey_of(4);
    for (const auto& [a, b] : {std::pair{0, 1}, {1, 2}, {0, 2}, {2, 3}, {3, 0}})
        add_span(survey, a, b, 100.0);
    survey.clockwise = clockwise_of(at);
    const Adjusted adjusted = adjust(survey);
    ASSERT_TRUE(adjusted.fit) << all_text(adjusted.troubles);
    EXPECT_NEAR(plan::distance_mm(adjusted.fit->points_mm[1], adjusted.fit->points_mm[3]), 2 * h, 1e-9);
}

TEST(Troubles, spans_from_two_known_points_leave_the_side_open) {
    Survey survey = survey_of(4);
    add_at(survey, 0, four[0]);
    add_at(survey, 2, four[2]);
    for (const int i : {1, 3})
        for (const int k : {0, 2}) add_span(survey, i, k, span(four, i, k));
    add_span(survey, 1, 3, span(four, 1, 3));
    const auto troubles = troubles_of(survey);
    ASSERT_EQ(troubles.size(), 1u) << all_text(troubles);
    EXPECT_NE(troubles[0].wanted.find("`clockwise`"), std::string::npos);
    survey.clockwise = clockwise_of(four);
    const Adjusted adjusted = adjust(survey);
    ASSERT_TRUE(adjusted.fit) << all_text(adjusted.troubles);
    EXPECT_LT(farthest(adjusted.fit->points_mm, four), 1e-9);
}

TEST(Troubles, a_point_in_line_with_those_it_is_read_from_is_held_in_one_direction) {
    Survey survey = spans_survey(four, 2);
    survey.points.push_back({"5", 55});
    const Point middle = (four[0] + four[2]) * 0.5;
    add_span(survey, 4, 0, plan::distance_mm(middle, four[0]));
    add_span(survey, 4, 2, plan::distance_mm(middle, four[2]));
    const auto troubles = troubles_of(survey);
    ASSERT_FALSE(troubles.empty());
    EXPECT_EQ(troubles[0].key, "points[4]") << all_text(troubles);
    EXPECT_EQ(troubles[0].wanted, "a reading of it across that line");
}

TEST(Troubles, two_points_at_one_place) {
    Survey survey = mixed_survey(four, 2);
    survey.points.push_back({"5", 55});
    add_at(survey, 4, four[1] + Point{0.02, 0.0});
    const auto troubles = troubles_of(survey);
    ASSERT_EQ(troubles.size(), 1u) << all_text(troubles);
    EXPECT_EQ(troubles[0].key, "points[4]");
    EXPECT_NE(troubles[0].found.find("points 2 and 5 at one place"), std::string::npos);
}

TEST(Troubles, readings_that_are_none_are_all_told) {
    Survey survey = mixed_survey(four, 2);
    survey.readings[0].b = survey.readings[0].a;
    survey.readings[1].sigma = 0.0;
    survey.readings[2].value = std::numeric_limits<double>::quiet_NaN();
    survey.readings[3].value = -4.0;
    survey.readings[4].c = 99;
    survey.readings[4].quantity = Quantity::angle;
    const auto troubles = troubles_of(survey);
    ASSERT_EQ(troubles.size(), 5u) << all_text(troubles);
    for (std::size_t i = 0; i < 5; ++i) {
        EXPECT_EQ(troubles[i].key, survey.readings[i].key);
        EXPECT_EQ(troubles[i].line, survey.readings[i].line);
    }
}

TEST(Troubles, a_length_over_pins_shorter_than_they_are_may_be_inches) {
    Survey survey = spans_survey(four, 2);
    Reading& reading = survey.readings[0];
    reading.taken = Taken::over;
    reading.pins_mm = {10, 10};
    reading.written = {5.122};
    reading.value = 5.122 - 10.0;
    const auto troubles = troubles_of(survey);
    ASSERT_EQ(troubles.size(), 1u);
    EXPECT_NE(troubles[0].wanted.find("is it inches? 5.122 in is 130.10 mm"), std::string::npos)
        << troubles[0].wanted;
}

TEST(Troubles, nothing_measured) {
    EXPECT_FALSE(adjust(survey_of(1)).fit);
    EXPECT_FALSE(adjust(survey_of(3)).fit);
    Survey left_out = mixed_survey(four, 2);
    for (Reading& reading : left_out.readings) reading.left_out = true;
    EXPECT_FALSE(adjust(left_out).fit);
}

TEST(Troubles, a_fit_or_a_trouble_for_any_survey) {
    // Readings put together blindly: never neither, never both, nothing that isn't a number.
    std::mt19937_64 engine(4);
    for (int tries = 0; tries < 300; ++tries) {
        const int count = 1 + int(engine() % 6);
        Survey survey = survey_of(std::size_t(count));
        const auto some = [&] { return int(engine() % std::uint64_t(count)); };
        const auto length = [&] { return 1.0 + double(engine() % 3000) / 10.0; };
        for (int i = int(engine() % 14); i > 0; --i) {
            const auto kind = engine() % 4;
            if (kind == 0)
                add_coordinate(survey, some(), engine() % 2 == 0 ? Quantity::x : Quantity::y, length());
            if (kind == 1) add_angle(survey, some(), some(), some(), length() / 100.0 - 1.5);
            if (kind > 1) add_span(survey, some(), some(), length());
        }
        if (count > 2 && engine() % 2 == 0) survey.clockwise = {0, 1, 2};
        const Adjusted adjusted = adjust(survey);
        EXPECT_NE(adjusted.fit.has_value(), !adjusted.troubles.empty())
            << tries << ": " << count << " points, " << survey.readings.size() << " readings";
        if (!adjusted.fit) continue;
        for (const Point& p : adjusted.fit->points_mm)
            EXPECT_TRUE(std::isfinite(p.x_mm) && std::isfinite(p.y_mm));
        for (const double c : adjusted.fit->covariance_mm2) EXPECT_TRUE(std::isfinite(c));
        for (const Residual& r : adjusted.fit->residuals) EXPECT_TRUE(std::isfinite(r.normalised));
    }
}

}  // namespace

}  // namespace fitup::calculations
