// Surveys held against data that others have published and certified.
#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "calculations/surveys.hpp"

namespace fitup::calculations {
namespace {

using namespace testing;

/// Known to far better than anything read: as good as fixed.
constexpr double fixed_sigma_mm = 1e-5;

// Trilateration of one station from three fixed ones, as textbooks of adjustment have it (C. D. Ghilani and
// P. R. Wolf, Adjustment Computations, the chapter on horizontal surveys; data from memory, in other units
// there). The solution, its residuals and its cofactors were worked out again by Gauss-Newton's method in
// another language, to 1e-12.
TEST(Published, trilateration_from_three_fixed_stations) {
    const std::array<plan::Point, 3> stations{{{865.40, 4527.15}, {2432.55, 2047.25}, {2865.22, 27.15}}};
    const std::array<double, 3> lengths{6049.00, 4736.83, 5446.49};
    Survey survey = survey_of(4);
    for (int i = 0; i < 3; ++i) {
        add_at(survey, i, stations[std::size_t(i)], fixed_sigma_mm);
        add_span(survey, i, 3, lengths[std::size_t(i)], 1.0);
    }
    const auto fit = adjust(survey).fit;
    ASSERT_TRUE(fit);
    // Spans and one side of the base leave two places: the one to the right of the stations.
    EXPECT_NEAR(fit->points_mm[3].x_mm, 6861.316787718, 1e-6);
    EXPECT_NEAR(fit->points_mm[3].y_mm, 3727.818565717, 1e-6);
    const std::array<double, 3> residuals{0.037372650438, -0.076792841979, 0.047365573351};
    std::size_t seen = 0;
    for (std::size_t i = 0; i < survey.readings.size(); ++i) {
        if (survey.readings[i].quantity != Quantity::span) continue;
        EXPECT_NEAR(fit->residuals[i].residual, residuals[seen++], 1e-6);
    }
    EXPECT_EQ(seen, 3u);
    EXPECT_NEAR(fit->covariance_mm2[6 * 8 + 6], 0.630188965614, 1e-6);
    EXPECT_NEAR(fit->covariance_mm2[7 * 8 + 7], 2.494688535530, 1e-6);
}

// NIST Statistical Reference Datasets, univariate, NumAcc3: 1001 values 1000000.2, 1000000.1, 1000000.3, ..;
// certified mean 1000000.2, standard deviation 0.1 (both exact; from memory). Taken as thousandths, so that
// they fit a bench.
TEST(Published, mean_and_spread_of_numbers_that_differ_late) {
    Survey survey = survey_of(2);
    add_at(survey, 1, {0.0, 0.0}, 0.01);
    add_coordinate(survey, 0, Quantity::y, 5.0, 0.01);
    add_coordinate(survey, 0, Quantity::x, 1000.0002, 0.0001);
    for (int i = 0; i < 500; ++i) {
        add_coordinate(survey, 0, Quantity::x, 1000.0001, 0.0001);
        add_coordinate(survey, 0, Quantity::x, 1000.0003, 0.0001);
    }
    const auto fit = adjust(survey).fit;
    ASSERT_TRUE(fit);
    EXPECT_NEAR(fit->points_mm[0].x_mm, 1000.0002, 1e-10);
    EXPECT_EQ(fit->redundancy, 1000);
    // The spread over the stated uncertainty: the certified deviation over it.
    EXPECT_NEAR(fit->sigma_scale, 1.0, 1e-6);
    EXPECT_NEAR(std::sqrt(fit->covariance_mm2[0]), 0.0001 / std::sqrt(1001.0), 1e-12);
}

}  // namespace
}  // namespace fitup::calculations
