#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <numbers>

#include "calculations/surveys.hpp"

namespace fitup::calculations {

namespace {

using namespace testing;

/// Of the flattest corner over the opposite side.
double height(const std::vector<Point>& at, int a, int b, int c) {
    const double area =
        plan::cross(at[std::size_t(b)] - at[std::size_t(a)], at[std::size_t(c)] - at[std::size_t(a)]);
    return std::abs(area) / std::max({span(at, a, b), span(at, b, c), span(at, a, c)});
}

/// Places at least 20 mm apart in a square of 400 mm, from one number.
std::vector<Point> random_places(std::mt19937_64& engine, std::size_t count) {
    std::uniform_real_distribution<double> spread(-200.0, 200.0);
    std::vector<Point> at;
    while (at.size() < count) {
        const Point next{spread(engine), spread(engine)};
        // Three points on one line do not tell a fourth from its mirror image.
        bool apart = at.size() != 2 || height({at[0], at[1], next}, 0, 1, 2) > 20.0;
        for (const Point& p : at) apart = apart && plan::distance_mm(p, next) > 20.0;
        if (apart) at.push_back(next);
    }
    return at;
}

/// Each new point read from three others (from all where there are fewer), in shuffled order.
Survey random_spans(const std::vector<Point>& at, std::mt19937_64& engine) {
    std::vector<std::pair<int, int>> pairs;
    for (int i = 1; i < int(at.size()); ++i) {
        std::vector<int> others(static_cast<std::size_t>(i));
        for (int k = 0; k < i; ++k) others[std::size_t(k)] = k;
        do std::shuffle(others.begin(), others.end(), engine);
        while (i > 3 && height(at, others[0], others[1], others[2]) < 20.0);
        for (int k = 0; k < std::min(i, 3); ++k) pairs.emplace_back(others[std::size_t(k)], i);
    }
    std::shuffle(pairs.begin(), pairs.end(), engine);
    Survey survey = survey_of(at.size());
    for (const auto& [a, b] : pairs) add_span(survey, a, b, span(at, a, b));
    survey.clockwise = clockwise_of(at);
    return survey;
}

std::string told(const Adjusted& adjusted) {
    std::string text;
    for (const SurveyTrouble& trouble : adjusted.troubles)
        text += trouble.key + ": " + trouble.found + "; wanted " + trouble.wanted + "\n";
    return text;
}

TEST(Adjust, exact_spans_give_the_points_back) {
    EXPECT_TRUE(rc::check([] {
        std::mt19937_64 engine(*rc::gen::inRange(0, 1000000));
        const auto at = random_places(engine, std::size_t(*rc::gen::inRange(4, 16)));
        const Adjusted adjusted = adjust(random_spans(at, engine));
        if (!adjusted.fit) RC_FAIL(told(adjusted));
        RC_ASSERT(farthest(adjusted.fit->points_mm, as_spans_alone(at)) < 1e-9);
        RC_ASSERT(adjusted.fit->sum_of_squares < 1e-12);
        RC_ASSERT(adjusted.fit->suspects.empty());
    }));
}

TEST(Adjust, exact_readings_of_all_kinds_give_the_points_back) {
    EXPECT_TRUE(rc::check([] {
        std::mt19937_64 engine(*rc::gen::inRange(0, 1000000));
        const int count = *rc::gen::inRange(4, 14);
        const auto at = random_places(engine, std::size_t(count));
        Survey survey = survey_of(at.size());
        // Two points by coordinates; the others by spans and angles, some with one coordinate.
        add_at(survey, 0, at[0]);
        add_at(survey, 1, at[1]);
        for (int i = 2; i < count; ++i) {
            add_span(survey, i, i - 1, span(at, i, i - 1));
            add_span(survey, i - 2, i, span(at, i, i - 2));
            const auto kind = engine() % 3;
            if (kind == 0) add_coordinate(survey, i, Quantity::x, at[std::size_t(i)].x_mm);
            if (kind == 1) add_coordinate(survey, i, Quantity::y, at[std::size_t(i)].y_mm);
            add_angle(survey, i - 1, i - 2, i, angle_at(at, i - 1, i - 2, i));  // tells the side
        }
        const Adjusted adjusted = adjust(survey);
        if (!adjusted.fit) RC_FAIL(told(adjusted));
        RC_ASSERT(farthest(adjusted.fit->points_mm, at) < 1e-9);
    }));
}

TEST(Adjust, points_that_no_two_spans_reach_from_known_ones) {
    // Each of three points is read from each of three others (no triangle anywhere): nine spans hold six
    // points.
    const std::vector<Point> at{{0, 0}, {100, 10}, {40, 90}, {-30, 70}, {120, -60}, {60, 30}};
    Survey survey = survey_of(6);
    for (int a = 0; a < 3; ++a)
        for (int b = 3; b < 6; ++b) add_span(survey, a, b, span(at, a, b));
    add_span(survey, 0, 1, span(at, 0, 1));  // tells the arrangements of the nine apart
    survey.clockwise = clockwise_of(at);
    const Adjusted adjusted = adjust(survey);
    ASSERT_TRUE(adjusted.fit) << told(adjusted);
    EXPECT_LT(farthest(adjusted.fit->points_mm, as_spans_alone(at)), 1e-9);
}

TEST(Adjust, a_rigid_motion_of_the_readings_moves_the_result_alike) {
    EXPECT_TRUE(rc::check([] {
        std::mt19937_64 engine(*rc::gen::inRange(0, 1000000));
        const auto at = winch_studs();
        Survey survey = mixed_survey(at, 2);
        disturb(survey, engine);
        const double turn = 0.001 * *rc::gen::inRange(-3000, 3000);
        const Point shift{0.1 * *rc::gen::inRange(-5000, 5000), 0.1 * *rc::gen::inRange(-5000, 5000)};
        const auto moved = [&](Point p) { return plan::turned(p, turn) + shift; };
        Survey other = survey;
        for (std::size_t i = 0; i + 1 < survey.readings.size(); ++i) {
            if (survey.readings[i].quantity != Quantity::x) continue;
            const Point p = moved({survey.readings[i].value, survey.readings[i + 1].value});
            other.readings[i].value = p.x_mm;
            other.readings[i + 1].value = p.y_mm;
        }
        const auto first = adjust(survey).fit, second = adjust(other).fit;
        RC_ASSERT(first && second);
        std::vector<Point> expected;
        for (const Point& p : first->points_mm) expected.push_back(moved(p));
        RC_ASSERT(farthest(second->points_mm, expected) < 1e-8);
        RC_ASSERT(std::abs(first->sum_of_squares - second->sum_of_squares) < 1e-7);
        // The covariance turns with the points.
        for (std::size_t i = 0; i < at.size(); ++i) {
            const ErrorEllipse a = error_ellipse(*first, i), b = error_ellipse(*second, i);
            RC_ASSERT(std::abs(a.major_mm - b.major_mm) < 1e-8);
            RC_ASSERT(std::abs(a.minor_mm - b.minor_mm) < 1e-8);
        }
    }));
}

TEST(Adjust, clockwise_chooses_between_mirror_images) {
    const auto at = winch_studs();
    Survey survey = spans_survey(at, 3);
    const auto seen = adjust(survey);
    std::swap((*survey.clockwise)[0], (*survey.clockwise)[1]);
    const auto mirrored = adjust(survey);
    ASSERT_TRUE(seen.fit && mirrored.fit);
    EXPECT_LT(farthest(seen.fit->points_mm, as_spans_alone(at)), 1e-9);
    auto expected = as_spans_alone(at);
    for (Point& p : expected) p.y_mm = -p.y_mm;
    EXPECT_LT(farthest(mirrored.fit->points_mm, expected), 1e-9);
}

TEST(Adjust, coordinates_of_one_point_and_spans_keep_that_point) {
    const auto at = winch_studs();
    Survey survey = spans_survey(at, 3);
    add_at(survey, 3, {10.0, 20.0}, 0.02);
    const auto fit = adjust(survey).fit;
    ASSERT_TRUE(fit);
    EXPECT_NEAR(fit->points_mm[3].x_mm, 10.0, 1e-9);
    EXPECT_NEAR(fit->points_mm[3].y_mm, 20.0, 1e-9);
    EXPECT_NEAR(fit->points_mm[0].y_mm, fit->points_mm[1].y_mm, 1e-9);
    EXPECT_GT(fit->points_mm[1].x_mm, fit->points_mm[0].x_mm);
    EXPECT_NEAR(error_ellipse(*fit, 3).major_mm, 0.02, 1e-9);
    for (std::size_t i = 0; i < at.size(); ++i)
        for (std::size_t j = 0; j < i; ++j)
            EXPECT_NEAR(plan::distance_mm(fit->points_mm[i], fit->points_mm[j]), span(at, int(i), int(j)),
                        1e-9);
}

TEST(Adjust, one_coordinate_of_some_points_turns_what_spans_hold) {
    const auto at = winch_studs();
    Survey survey = spans_survey(at, 3);
    survey.clockwise.reset();
    for (const int i : {0, 3, 5}) add_coordinate(survey, i, Quantity::x, at[std::size_t(i)].x_mm);
    for (const int i : {2, 7}) add_coordinate(survey, i, Quantity::y, at[std::size_t(i)].y_mm);
    const auto adjusted = adjust(survey);
    ASSERT_TRUE(adjusted.fit) << told(adjusted);
    EXPECT_LT(farthest(adjusted.fit->points_mm, at), 1e-9);
}

TEST(Adjust, weighted_mean_of_one_coordinate) {
    // Closed form: weights 1 / sigma^2.
    Survey survey = survey_of(1);
    add_coordinate(survey, 0, Quantity::x, 10.00, 0.1);
    add_coordinate(survey, 0, Quantity::x, 10.12, 0.05);
    add_coordinate(survey, 0, Quantity::x, 10.06, 0.2);
    add_coordinate(survey, 0, Quantity::y, 5.0, 0.3);
    const auto fit = adjust(survey).fit;
    ASSERT_TRUE(fit);
    const double weights = 100.0 + 400.0 + 25.0;
    EXPECT_NEAR(fit->points_mm[0].x_mm, (100 * 10.0 + 400 * 10.12 + 25 * 10.06) / weights, 1e-12);
    EXPECT_NEAR(fit->covariance_mm2[0], 1.0 / weights, 1e-15);
    EXPECT_NEAR(fit->covariance_mm2[3], 0.09, 1e-15);
    EXPECT_EQ(fit->redundancy, 2);
    EXPECT_NEAR(fit->residuals[0].redundancy, 1.0 - 100.0 / weights, 1e-12);
    EXPECT_EQ(fit->residuals[3].redundancy, 0.0);
    EXPECT_FALSE(fit->residuals[3].detectable);
    EXPECT_NEAR(*fit->residuals[0].detectable, 4.13 * 0.1 / std::sqrt(1.0 - 100.0 / weights), 1e-3);
}

TEST(Adjust, the_misclosure_of_a_triangle_is_shared_by_its_angles) {
    // Every textbook of surveying: three angles of one weight each take a third of what their sum is off.
    Survey survey = survey_of(3);
    const double rad = std::numbers::pi / 180.0;
    add_span(survey, 0, 1, 200.0);
    const double angles[3] = {62.31 * rad, 48.12 * rad, 69.63 * rad};  // 180.06 together
    add_angle(survey, 0, 1, 2, angles[0]);
    add_angle(survey, 1, 2, 0, angles[1]);
    add_angle(survey, 2, 0, 1, angles[2]);
    const auto fit = adjust(survey).fit;
    ASSERT_TRUE(fit);
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_NEAR(fit->residuals[i + 1].residual, 0.02 * rad, 1e-10);
        EXPECT_NEAR(fit->residuals[i + 1].redundancy, 1.0 / 3.0, 1e-9);
        EXPECT_NEAR(fit->residuals[i + 1].normalised, 0.02 * rad / 1e-3 * std::sqrt(3.0), 1e-7);
    }
    EXPECT_NEAR(fit->residuals[0].residual, 0.0, 1e-9);
    EXPECT_EQ(fit->redundancy, 1);
}

TEST(Adjust, redundancy_numbers_add_up_to_the_redundancy) {
    std::mt19937_64 engine(5);
    for (Survey survey : {spans_survey(winch_studs(), 3), mixed_survey(winch_studs(), 2)}) {
        disturb(survey, engine);
        const auto fit = adjust(survey).fit;
        ASSERT_TRUE(fit);
        double sum = 0.0, squares = 0.0;
        for (std::size_t i = 0; i < fit->residuals.size(); ++i) {
            sum += fit->residuals[i].redundancy;
            squares += std::pow(fit->residuals[i].residual / survey.readings[i].sigma, 2);
        }
        EXPECT_NEAR(sum, fit->redundancy, 1e-9);
        EXPECT_NEAR(squares, fit->sum_of_squares, 1e-9);
        EXPECT_NEAR(fit->sigma_scale, std::sqrt(squares / fit->redundancy), 1e-12);
    }
}

TEST(Adjust, a_reading_left_out_is_held_against_the_others) {
    Survey survey = mixed_survey(winch_studs(), 2);
    survey.readings[4].value += 7.0;
    survey.readings[4].left_out = true;
    const auto fit = adjust(survey).fit;
    ASSERT_TRUE(fit);
    EXPECT_LT(farthest(fit->points_mm, winch_studs()), 1e-9);
    EXPECT_NEAR(fit->residuals[4].residual, 7.0, 1e-9);
    EXPECT_GT(fit->residuals[4].normalised, 7.0 / 0.1);
    EXPECT_EQ(fit->residuals[4].redundancy, 0.0);
}

TEST(Adjust, the_datum_is_the_mean_of_points_and_an_axis_through_two) {
    std::mt19937_64 engine(8);
    for (Survey survey : {spans_survey(winch_studs(), 3), mixed_survey(winch_studs(), 2)}) {
        disturb(survey, engine);
        survey.datum = Datum{{2, 5}, false, {4, 1}, ""};
        const auto fit = adjust(survey).fit;
        ASSERT_TRUE(fit);
        const auto& at = fit->points_mm;
        EXPECT_NEAR(at[2].x_mm + at[5].x_mm, 0.0, 1e-9);
        EXPECT_NEAR(at[2].y_mm + at[5].y_mm, 0.0, 1e-9);
        EXPECT_NEAR(at[1].y_mm, at[4].y_mm, 1e-9);
        EXPECT_GT(at[1].x_mm, at[4].x_mm);
        // What defines the axes is without doubt in them.
        const std::size_t n = 2 * at.size();
        const auto c = [&](std::size_t i, std::size_t j) { return fit->covariance_mm2[i * n + j]; };
        EXPECT_NEAR(c(4, 4) + c(10, 10) + 2 * c(4, 10), 0.0, 1e-12);
        EXPECT_NEAR(c(3, 3) + c(9, 9) - 2 * c(3, 9), 0.0, 1e-12);
    }
}

TEST(Adjust, is_the_same_every_time) {
    Survey survey = spans_survey(winch_studs(), 3);
    std::mt19937_64 engine(3);
    disturb(survey, engine);
    const auto first = adjust(survey).fit, second = adjust(survey).fit;
    ASSERT_TRUE(first && second);
    EXPECT_EQ(first->points_mm, second->points_mm);
    EXPECT_EQ(first->covariance_mm2, second->covariance_mm2);
}

}  // namespace

}  // namespace fitup::calculations
