// The least-squares points and their covariance, by other ways of computing them.
#include <gtest/gtest.h>
#include <nlopt.h>

#include <Eigen/Dense>
#include <functional>
#include <numbers>

#include "calculations/surveys.hpp"

namespace fitup::calculations {

namespace {

using namespace testing;
using Eigen::MatrixXd;
using Eigen::VectorXd;

/// Misfit over sigma of every reading, with nothing of the library but the types.
VectorXd misfits(const Survey& survey, const std::vector<Point>& at) {
    VectorXd all(Eigen::Index(survey.readings.size()));
    for (std::size_t i = 0; i < survey.readings.size(); ++i) {
        const Reading& r = survey.readings[i];
        const Point a = at[std::size_t(r.a)];
        double fitted = 0.0;
        if (r.quantity == Quantity::x) fitted = a.x_mm;
        if (r.quantity == Quantity::y) fitted = a.y_mm;
        if (r.quantity == Quantity::span) {
            const Point b = at[std::size_t(r.b)];
            fitted = std::sqrt(std::pow(a.x_mm - b.x_mm, 2) + std::pow(a.y_mm - b.y_mm, 2));
        }
        if (r.quantity == Quantity::angle) {
            const Point b = at[std::size_t(r.b)], c = at[std::size_t(r.c)];
            fitted =
                std::atan2(c.y_mm - a.y_mm, c.x_mm - a.x_mm) - std::atan2(b.y_mm - a.y_mm, b.x_mm - a.x_mm);
            fitted = r.value - std::remainder(r.value - fitted, 2 * std::numbers::pi);
        }
        all[Eigen::Index(i)] = (r.value - fitted) / r.sigma;
    }
    return all;
}

std::vector<Point> places(const VectorXd& x) {
    std::vector<Point> at;
    for (Eigen::Index i = 0; i < x.size(); i += 2) at.push_back({x[i], x[i + 1]});
    return at;
}

VectorXd vector_of(const std::vector<Point>& at) {
    VectorXd x(Eigen::Index(2 * at.size()));
    for (std::size_t i = 0; i < at.size(); ++i) {
        x[Eigen::Index(2 * i)] = at[i].x_mm;
        x[Eigen::Index(2 * i + 1)] = at[i].y_mm;
    }
    return x;
}

/// Central differences.
MatrixXd rates(const Survey& survey, const VectorXd& x) {
    MatrixXd result(Eigen::Index(survey.readings.size()), x.size());
    constexpr double step = 1e-4;
    for (Eigen::Index j = 0; j < x.size(); ++j) {
        VectorXd more = x, less = x;
        more[j] += step;
        less[j] -= step;
        result.col(j) = (misfits(survey, places(less)) - misfits(survey, places(more))) / (2 * step);
    }
    return result;
}

MatrixXd covariance(const SurveyFit& fit) {
    const auto n = Eigen::Index(2 * fit.points_mm.size());
    return Eigen::Map<const MatrixXd>(fit.covariance_mm2.data(), n, n);
}

Survey with_angles() {
    const auto at = winch_studs();
    Survey survey = survey_of(at.size());
    add_at(survey, 0, at[0]);
    add_at(survey, 4, at[4], 0.1);
    add_coordinate(survey, 2, Quantity::y, at[2].y_mm);
    for (int i = 0; i < 8; ++i) add_span(survey, i, (i + 1) % 8, span(at, i, (i + 1) % 8));
    for (int i = 0; i < 8; ++i)
        add_angle(survey, i, (i + 1) % 8, (i + 3) % 8, angle_at(at, i, (i + 1) % 8, (i + 3) % 8));
    return survey;
}

TEST(Covariance, with_coordinates_is_the_inverse_by_numerical_rates) {
    for (Survey survey : {mixed_survey(winch_studs(), 2), with_angles()}) {
        std::mt19937_64 engine(11);
        disturb(survey, engine);
        const auto fit = adjust(survey).fit;
        ASSERT_TRUE(fit);
        const MatrixXd a = rates(survey, vector_of(fit->points_mm));
        const MatrixXd inverse = a.completeOrthogonalDecomposition().pseudoInverse();
        EXPECT_LT((covariance(*fit) - inverse * inverse.transpose()).cwiseAbs().maxCoeff(), 1e-8);
        // The places are where the sum stops falling.
        EXPECT_LT((a.transpose() * misfits(survey, fit->points_mm)).cwiseAbs().maxCoeff(), 1e-4);
    }
}

TEST(Covariance, of_spans_alone_is_the_inverse_with_the_axes_kept) {
    // A second way to a free network in given axes: the three coordinates that are 0 by definition are no
    // unknowns.
    Survey survey = spans_survey(winch_studs(), 3);
    std::mt19937_64 engine(12);
    disturb(survey, engine);
    const auto fit = adjust(survey).fit;
    ASSERT_TRUE(fit);
    const MatrixXd a = rates(survey, vector_of(fit->points_mm));
    std::vector<Eigen::Index> unknown{2};
    for (Eigen::Index i = 4; i < a.cols(); ++i) unknown.push_back(i);
    const MatrixXd kept = a(Eigen::all, unknown);
    MatrixXd expected = MatrixXd::Zero(a.cols(), a.cols());
    const MatrixXd inverse = (kept.transpose() * kept).inverse();
    expected(unknown, unknown) = inverse;
    EXPECT_LT((covariance(*fit) - expected).cwiseAbs().maxCoeff(), 1e-8);
}

TEST(Covariance, in_other_axes_is_what_the_axes_rates_give) {
    // Third way: each reading moved a little, the whole adjustment done again in the asked-for axes.
    for (Survey survey : {spans_survey(winch_studs(), 3), with_angles()}) {
        survey.datum = Datum{{1, 2, 6}, false, {3, 7}, ""};
        const auto fit = adjust(survey).fit;
        ASSERT_TRUE(fit);
        MatrixXd sum =
            MatrixXd::Zero(Eigen::Index(2 * survey.points.size()), Eigen::Index(2 * survey.points.size()));
        for (std::size_t i = 0; i < survey.readings.size(); ++i) {
            Survey more = survey, less = survey;
            const double step = 0.01 * survey.readings[i].sigma;
            more.readings[i].value += step;
            less.readings[i].value -= step;
            const auto up = adjust(more).fit, down = adjust(less).fit;
            ASSERT_TRUE(up && down);
            const VectorXd rate = (vector_of(up->points_mm) - vector_of(down->points_mm)) / 0.02;
            sum += rate * rate.transpose();
        }
        EXPECT_LT((covariance(*fit) - sum).cwiseAbs().maxCoeff(), 1e-7);
    }
}

TEST(Covariance, agrees_with_a_simulation) {
    for (const Survey& exact : {spans_survey(winch_studs(), 2), with_angles()}) {
        const auto fit = adjust(exact).fit;
        ASSERT_TRUE(fit);
        std::mt19937_64 engine(20);
        constexpr int tries = 2000;
        const VectorXd centre = vector_of(fit->points_mm);
        MatrixXd sum = MatrixXd::Zero(centre.size(), centre.size());
        double squares = 0.0;
        for (int i = 0; i < tries; ++i) {
            Survey survey = exact;
            disturb(survey, engine);
            const auto tried = adjust(survey, {false, false}).fit;
            ASSERT_TRUE(tried);
            const VectorXd off = vector_of(tried->points_mm) - centre;
            sum += off * off.transpose();
            squares += tried->sum_of_squares;
        }
        sum /= tries;
        const MatrixXd expected = covariance(*fit);
        // A sampled covariance strays by root((c_ii c_jj + c_ij^2) / tries): 4.5 of that over all entries.
        for (Eigen::Index i = 0; i < centre.size(); ++i)
            for (Eigen::Index j = 0; j < centre.size(); ++j)
                EXPECT_NEAR(
                    sum(i, j), expected(i, j),
                    4.5 * std::sqrt((expected(i, i) * expected(j, j) + std::pow(expected(i, j), 2)) / tries) +
                        1e-7)
                    << i << " " << j;
        // Chi-squared with as many degrees of freedom as there is redundancy.
        EXPECT_NEAR(squares / tries, fit->redundancy, 4.5 * std::sqrt(2.0 * fit->redundancy / tries));
    }
}

struct Goal {
    const Survey& survey;
};

double goal(unsigned count, const double* x, double* gradient, void* data) {
    const Survey& survey = static_cast<Goal*>(data)->survey;
    const VectorXd here = Eigen::Map<const VectorXd>(x, count);
    const VectorXd off = misfits(survey, places(here));
    if (gradient != nullptr)
        Eigen::Map<VectorXd>(gradient, count) = -2.0 * rates(survey, here).transpose() * off;
    return off.squaredNorm();
}

TEST(Adjust, agrees_with_a_general_optimiser) {
    for (Survey survey : {mixed_survey(winch_studs(), 3), with_angles()}) {
        std::mt19937_64 engine(30);
        disturb(survey, engine);
        const auto fit = adjust(survey).fit;
        ASSERT_TRUE(fit);
        std::vector<double> x;
        for (const Point& p : winch_studs()) {
            x.push_back(p.x_mm + 2.0);
            x.push_back(p.y_mm - 1.0);
        }
        Goal data{survey};
        const std::unique_ptr<nlopt_opt_s, decltype(&nlopt_destroy)> optimiser(
            nlopt_create(NLOPT_LD_LBFGS, unsigned(x.size())), nlopt_destroy);
        nlopt_set_min_objective(optimiser.get(), goal, &data);
        nlopt_set_xtol_rel(optimiser.get(), 1e-14);
        nlopt_set_maxeval(optimiser.get(), 20000);
        double least = 0.0;
        nlopt_optimize(optimiser.get(), x.data(), &least);
        EXPECT_NEAR(fit->sum_of_squares, least, 1e-7);
        EXPECT_LE(fit->sum_of_squares, least + 1e-9);
        EXPECT_LT(farthest(fit->points_mm, places(Eigen::Map<VectorXd>(x.data(), Eigen::Index(x.size())))),
                  1e-4);
    }
}

}  // namespace

}  // namespace fitup::calculations
