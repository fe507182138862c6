#include <gtest/gtest.h>

#include <algorithm>

#include "calculations/surveys.hpp"

namespace fitup::calculations {

namespace {

using namespace testing;

constexpr double unchecked = 0.02;

/// What a span more does, by adjusting the survey with it: how many readings begin to be checked, and how
/// well the worst of them is.
std::pair<int, double> worth_by_adjusting(const Survey& survey, const std::vector<Point>& at, int a, int b) {
    const auto before = adjust(survey, {false, false}).fit;
    Survey more = survey;
    add_span(more, a, b, span(at, a, b));
    const auto after = adjust(more, {false, false}).fit;
    if (!before || !after) return {0, 0.0};
    std::pair<int, double> worth{0, 1.0};
    for (std::size_t i = 0; i < survey.readings.size(); ++i) {
        if (before->residuals[i].redundancy >= unchecked || after->residuals[i].redundancy < unchecked)
            continue;
        ++worth.first;
        worth.second = std::min(worth.second, after->residuals[i].redundancy);
    }
    return worth;
}

bool has_span(const Survey& survey, int a, int b) {
    for (const Reading& r : survey.readings)
        if (r.quantity == Quantity::span && std::minmax(r.a, r.b) == std::minmax(a, b)) return true;
    return false;
}

TEST(Proposals, the_only_span_not_yet_measured) {
    // Coordinates of three points and two spans to the fourth: nothing checks these two.
    const std::vector<Point> at{{0, 0}, {120, 5}, {131, 88}, {-12, 97}};
    Survey survey = survey_of(4);
    for (int i = 0; i < 3; ++i) add_at(survey, i, at[std::size_t(i)]);
    for (int i = 0; i < 3; ++i) add_span(survey, i, (i + 1) % 3, span(at, i, (i + 1) % 3));
    add_span(survey, 3, 0, span(at, 3, 0));
    add_span(survey, 3, 1, span(at, 3, 1));
    survey.clockwise = {3, 2, 1};
    add_coordinate(survey, 3, Quantity::y, at[3].y_mm, 5.0);  // tells the side, and checks little
    const auto adjusted = adjust(survey);
    ASSERT_TRUE(adjusted.fit);
    ASSERT_FALSE(adjusted.fit->proposals.empty());
    const Proposal& first = adjusted.fit->proposals.front();
    EXPECT_EQ(std::minmax(first.a, first.b), std::minmax(2, 3));
    EXPECT_EQ(first.why.substr(0, 45), "one wrong reading of span 4-1 or span 4-2 can");
    EXPECT_NE(first.why.find("a span between 3 and 4 would show it"), std::string::npos) << first.why;
}

TEST(Proposals, none_where_all_is_checked) {
    const auto fit = adjust(mixed_survey(winch_studs(), 2)).fit;
    ASSERT_TRUE(fit);
    EXPECT_TRUE(fit->proposals.empty());
}

TEST(Proposals, the_span_that_trying_all_finds_best) {
    // A fan: each point from the two before it and angles that tell the side; no reading is checked.
    const auto at = winch_studs();
    Survey survey = survey_of(8);
    add_span(survey, 0, 1, span(at, 0, 1));
    for (int i = 2; i < 8; ++i) {
        add_span(survey, i - 1, i, span(at, i - 1, i));
        add_angle(survey, i - 1, i - 2, i, angle_at(at, i - 1, i - 2, i));
    }
    const auto adjusted = adjust(survey);
    ASSERT_TRUE(adjusted.fit);
    EXPECT_EQ(adjusted.fit->redundancy, 0);
    Survey growing = survey;
    ASSERT_FALSE(adjusted.fit->proposals.empty());
    for (const Proposal& proposal : adjusted.fit->proposals) {
        std::pair<int, double> best{0, 0.0};
        for (int a = 0; a < 8; ++a)
            for (int b = a + 1; b < 8; ++b)
                if (!has_span(growing, a, b)) best = std::max(best, worth_by_adjusting(growing, at, a, b));
        const auto proposed = worth_by_adjusting(growing, at, proposal.a, proposal.b);
        EXPECT_EQ(proposed.first, best.first) << proposal.why;
        EXPECT_NEAR(proposed.second, best.second, 1e-7) << proposal.why;
        add_span(growing, proposal.a, proposal.b, span(at, proposal.a, proposal.b));
    }
}

TEST(Proposals, an_outlier_that_nothing_shows_is_shown_by_the_span_proposed) {
    const std::vector<Point> at{{0, 0}, {120, 5}, {131, 88}, {-12, 97}};
    Survey survey = survey_of(4);
    for (const auto& [a, b] : {std::pair{0, 1}, {0, 3}, {1, 2}}) add_span(survey, a, b, span(at, a, b));
    add_angle(survey, 0, 1, 3, angle_at(at, 0, 1, 3));
    add_angle(survey, 1, 2, 0, angle_at(at, 1, 2, 0));
    survey.readings[2].value += 3.0;
    const auto blind = adjust(survey);
    ASSERT_TRUE(blind.fit) << blind.troubles.front().found;
    EXPECT_TRUE(blind.fit->suspects.empty());
    EXPECT_EQ(blind.fit->redundancy, 0);
    for (const Residual& residual : blind.fit->residuals) EXPECT_FALSE(residual.detectable);
    ASSERT_FALSE(blind.fit->proposals.empty());
    const Proposal proposal = blind.fit->proposals.front();
    EXPECT_NE(proposal.why.find("can't be seen"), std::string::npos);
    add_span(survey, proposal.a, proposal.b, span(at, proposal.a, proposal.b));
    const auto seeing = adjust(survey);
    ASSERT_TRUE(seeing.fit);
    ASSERT_EQ(seeing.fit->suspects.size(), 1u);
    std::vector<int> named = seeing.fit->suspects[0].or_else;
    named.push_back(seeing.fit->suspects[0].reading);
    EXPECT_NE(std::ranges::find(named, 2), named.end());
}

TEST(Proposals, a_triangle_can_only_be_measured_again) {
    const std::vector<Point> at{{0, 0}, {120, 5}, {31, 88}};
    const auto fit = adjust(spans_survey(at, 1)).fit;
    ASSERT_TRUE(fit);
    ASSERT_FALSE(fit->proposals.empty());
    EXPECT_NE(fit->proposals.front().why.find("taken again another way"), std::string::npos);
}

}  // namespace

}  // namespace fitup::calculations
