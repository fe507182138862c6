// Circles and equal spacing through points: published data, an independent minimiser, exact points, moved
// points, and the statistics against random draws.
#include "calculations/circle_fit.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "calculations/chance.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {
namespace {

using plan::Point;
using Points = std::vector<Point>;

constexpr double pi = std::numbers::pi;

TEST(ChiSquareTail, agrees_with_closed_forms) {
    for (const double x : {1e-6, 0.1, 1.0, 2.0, 3.9, 7.0, 20.0, 60.0}) {
        EXPECT_NEAR(chi_square_tail(x, 1), std::erfc(std::sqrt(x / 2.0)), 1e-13) << x;
        EXPECT_NEAR(chi_square_tail(x, 2), std::exp(-x / 2.0), 1e-13) << x;
        EXPECT_NEAR(chi_square_tail(x, 4), std::exp(-x / 2.0) * (1.0 + x / 2.0), 1e-13) << x;
        // Even degrees: a Poisson sum.
        double term = std::exp(-x / 2.0), sum = 0.0;
        for (int k = 0; k < 20; ++k) {
            sum += term;
            term *= x / 2.0 / (k + 1);
        }
        EXPECT_NEAR(chi_square_tail(x, 40), sum, 1e-13) << x;
    }
    // Printed tables of chi-square: 95 % points (from memory).
    EXPECT_NEAR(chi_square_tail(3.841459, 1), 0.05, 1e-7);
    EXPECT_NEAR(chi_square_tail(18.307038, 10), 0.05, 1e-7);
    EXPECT_NEAR(chi_square_tail(124.342113, 100), 0.05, 1e-7);
    EXPECT_EQ(chi_square_tail(5.0, 0), 1.0);
    EXPECT_EQ(once_in(1.0 / 4012.0), "once in 4000");
    EXPECT_EQ(once_in(0.25), "once in 4");
    EXPECT_EQ(once_in(1e-9), "once in more than a million");
}

double squares_about(const Points& points, Point centre) {
    double mean = 0.0, sum = 0.0;
    for (const Point& point : points) mean += plan::distance_mm(point, centre) / double(points.size());
    for (const Point& point : points) sum += std::pow(plan::distance_mm(point, centre) - mean, 2);
    return sum;
}

/// Shrinking steps along the axes and diagonals, of a function of the centre alone: nothing of the fit is
/// used.
template <typename Function>
Point least_by_search(const Function& of, Point start, double step) {
    Point best = start;
    double least = of(best);
    while (step > 1e-10) {
        bool is_better = false;
        for (int k = 0; k < 16; ++k) {
            const Point next = best + plan::turned({step, 0.0}, k * pi / 8.0);
            if (of(next) < least) {
                least = of(next);
                best = next;
                is_better = true;
            }
        }
        if (!is_better) step /= 2.0;
    }
    return best;
}

const Points published{{1, 7}, {2, 6}, {5, 8}, {7, 7}, {9, 5}, {3, 7}};

// W. Gander, G. H. Golub, R. Strebel, Least-squares fitting of circles and ellipses, BIT 34 (1994): the
// geometric fit. Points and results from memory; the search below is independent of both.
TEST(CircleFit, agrees_with_published_data_and_a_plain_search) {
    const auto fit = fit_circle(published, {});
    ASSERT_TRUE(fit);
    EXPECT_NEAR(fit->centre_mm.x_mm, 4.73978, 5e-6);
    EXPECT_NEAR(fit->centre_mm.y_mm, 2.98353, 5e-6);
    EXPECT_NEAR(fit->diameter_mm / 2.0, 4.71423, 5e-6);
    const Point searched =
        least_by_search([](Point c) { return squares_about(published, c); }, {5.0, 3.0}, 1.0);
    EXPECT_NEAR(fit->centre_mm.x_mm, searched.x_mm, 1e-6);
    EXPECT_NEAR(fit->centre_mm.y_mm, searched.y_mm, 1e-6);
    double squares = 0.0;
    for (const double residual : fit->residuals_mm) squares += residual * residual;
    EXPECT_NEAR(squares, squares_about(published, searched), 1e-12);
}

Points on_circle(Point centre, double radius, const std::vector<double>& angles) {
    Points points;
    for (const double angle : angles) points.push_back(centre + plan::turned({radius, 0.0}, angle));
    return points;
}

TEST(CircleFit, exact_points_come_back) {
    EXPECT_TRUE(rc::check([] {
        const auto in = [](int low, int high) { return *rc::gen::inRange(low, high) / 997.0; };
        const Point centre{in(-300000, 300000), in(-300000, 300000)};
        const double radius = in(5000, 400000);
        std::vector<double> angles;
        double angle = in(0, 6000);
        const int count = *rc::gen::inRange(3, 14);
        for (int i = 0; i < count; ++i) angles.push_back(angle += 2.0 * pi * in(300, 900) / count);
        const auto fit = fit_circle(on_circle(centre, radius, angles), {});
        RC_ASSERT(fit);
        RC_ASSERT(plan::distance_mm(fit->centre_mm, centre) < 1e-9);
        RC_ASSERT(std::abs(fit->diameter_mm / 2.0 - radius) < 1e-9);
        RC_ASSERT(std::abs(std::remainder(fit->start_angle_rad - angles[0], 2.0 * pi)) < 1e-11);
        RC_ASSERT(fit->worst_residual_mm < 1e-9);
        RC_ASSERT(fit->chance > 0.5);
    }));
}

TEST(CircleFit, moves_with_its_points) {
    EXPECT_TRUE(rc::check([] {
        const double turn = *rc::gen::inRange(-3000, 3000) / 1000.0;
        const Point shift{*rc::gen::inRange(-9000, 9000) / 7.0, *rc::gen::inRange(-9000, 9000) / 7.0};
        Points moved;
        for (const Point& point : published) moved.push_back(plan::turned(point, turn) + shift);
        const auto fit = fit_circle(published, {}), other = fit_circle(moved, {});
        RC_ASSERT(fit && other);
        RC_ASSERT(plan::distance_mm(plan::turned(fit->centre_mm, turn) + shift, other->centre_mm) < 1e-9);
        RC_ASSERT(std::abs(fit->diameter_mm - other->diameter_mm) < 1e-9);
        RC_ASSERT(std::abs(fit->roundness_mm - other->roundness_mm) < 1e-9);
    }));
}

TEST(CircleFit, points_on_a_line_have_none) {
    EXPECT_FALSE(fit_circle(Points{{0, 0}, {1, 1}, {2, 2}, {5, 5}}, {}));
    EXPECT_FALSE(fit_circle(Points{{0, 0}, {100, 0}, {50, 0.001}}, {}));
    EXPECT_FALSE(fit_circle(Points{{0, 0}, {1, 1}}, {}));
}

std::vector<double> diagonal(std::size_t points, double sigma_mm) {
    std::vector<double> covariance(4 * points * points, 0.0);
    for (std::size_t i = 0; i < 2 * points; ++i) covariance[i * (2 * points + 1)] = sigma_mm * sigma_mm;
    return covariance;
}

struct Draws {
    std::mt19937_64 random{20240229};
    std::normal_distribution<double> normal;
    Points operator()(const Points& points, double sigma_mm) {
        Points drawn;
        for (const Point& point : points)
            drawn.push_back(point + Point{sigma_mm * normal(random), sigma_mm * normal(random)});
        return drawn;
    }
};

double standard_deviation(const std::vector<double>& values) {
    double mean = 0.0, sum = 0.0;
    for (const double value : values) mean += value / double(values.size());
    for (const double value : values) sum += (value - mean) * (value - mean);
    return std::sqrt(sum / double(values.size() - 1));
}

TEST(CircleFit, sigmas_are_those_of_random_draws) {
    const Points points = on_circle({10, -20}, 60.0, {0.1, 0.5, 1.2, 2.0, 2.4, 3.3});
    const double sigma_mm = 0.02;
    const auto fit = fit_circle(points, diagonal(points.size(), sigma_mm));
    Draws draw;
    std::vector<double> x, y, diameter, start, chance;
    for (int k = 0; k < 4000; ++k) {
        const auto one = fit_circle(draw(points, sigma_mm), diagonal(points.size(), sigma_mm));
        x.push_back(one->centre_mm.x_mm);
        y.push_back(one->centre_mm.y_mm);
        diameter.push_back(one->diameter_mm);
        start.push_back(one->start_angle_rad);
        chance.push_back(one->chance);
    }
    // 4000 draws know a standard deviation to 1.1 %.
    EXPECT_NEAR(standard_deviation(x) / fit->centre_sigma_mm.x_mm, 1.0, 0.05);
    EXPECT_NEAR(standard_deviation(y) / fit->centre_sigma_mm.y_mm, 1.0, 0.05);
    EXPECT_NEAR(standard_deviation(diameter) / fit->diameter_sigma_mm, 1.0, 0.05);
    EXPECT_NEAR(standard_deviation(start) / fit->start_angle_sigma_rad, 1.0, 0.05);
    // Chances of what is true are spread evenly from 0 to 1.
    EXPECT_NEAR(standard_deviation(chance), std::sqrt(1.0 / 12.0), 0.02);
    EXPECT_NEAR(
        double(std::count_if(chance.begin(), chance.end(), [](double c) { return c < 0.1; })) / 4000.0, 0.1,
        0.02);
}

Points equally_spaced(Point centre, double radius, int count, double start) {
    std::vector<double> angles;
    for (int i = 0; i < count; ++i) angles.push_back(start + 2.0 * pi * i / count);
    return on_circle(centre, radius, angles);
}

TEST(EqualSpacing, exact_places_come_back_in_any_order_and_with_gaps) {
    Points points = equally_spaced({3, 4}, 190.5, 12, 0.7);
    points = {points[5], points[0], points[7], points[11], points[2]};
    const auto spacing = fit_equal_spacing(points, {}, 12);
    ASSERT_TRUE(spacing);
    EXPECT_NEAR(spacing->diameter_mm, 381.0, 1e-9);
    EXPECT_LT(plan::distance_mm(spacing->centre_mm, {3, 4}), 1e-9);
    EXPECT_EQ(spacing->ordinal, (std::vector<int>{0, 7, 2, 6, 9}));
    EXPECT_NEAR(std::remainder(spacing->start_angle_rad - 0.7 - 2.0 * pi * 5 / 12, 2.0 * pi), 0.0, 1e-11);
    EXPECT_LT(spacing->worst_mm, 1e-9);
    EXPECT_GT(spacing->chance, 0.5);
    EXPECT_FALSE(fit_equal_spacing(points, {}, 4));
}

TEST(EqualSpacing, a_hole_out_of_place_is_seen_once_it_is_out_by_more_than_its_error) {
    Points points = equally_spaced({0, 0}, 60.0, 8, 0.3);
    const auto covariance = diagonal(8, 0.05);
    points[3] = points[3] + Point{0.03, 0.02};
    EXPECT_GT(fit_equal_spacing(points, covariance, 8)->chance, 0.5);
    points[3] = points[3] + Point{0.4, 0.3};
    EXPECT_LT(fit_equal_spacing(points, covariance, 8)->chance, 1e-6);
}

TEST(EqualSpacing, chances_of_what_is_true_are_spread_evenly) {
    const Points points = equally_spaced({5, 5}, 60.0, 6, 0.2);
    Draws draw;
    int under_a_tenth = 0, under_a_half = 0;
    for (int k = 0; k < 2000; ++k) {
        const double chance = fit_equal_spacing(draw(points, 0.03), diagonal(6, 0.03), 6)->chance;
        under_a_tenth += chance < 0.1 ? 1 : 0;
        under_a_half += chance < 0.5 ? 1 : 0;
    }
    EXPECT_NEAR(under_a_tenth / 2000.0, 0.1, 0.03);
    EXPECT_NEAR(under_a_half / 2000.0, 0.5, 0.05);
}

/// Points and covariance seen from the first point with +X to the second: what spans alone give. `J` moves
/// each coordinate with the old ones, in first order.
void hold_first_two(Points& points, std::vector<double>& covariance) {
    const std::size_t n = 2 * points.size();
    const Point origin = points[0], along = points[1] - points[0];
    const double turn = -std::atan2(along.y_mm, along.x_mm), length = plan::length(along);
    Points held;
    for (const Point& point : points) held.push_back(plan::turned(point - origin, turn));
    std::vector<double> J(n * n, 0.0), half(n * n, 0.0), result(n * n, 0.0);
    for (std::size_t i = 0; i < points.size(); ++i) {
        for (const std::size_t axis : {std::size_t(0), std::size_t(1)}) {
            const auto unit = plan::turned(axis == 0 ? Point{1, 0} : Point{0, 1}, turn);
            J[(2 * i) * n + 2 * i + axis] += unit.x_mm;
            J[(2 * i + 1) * n + 2 * i + axis] += unit.y_mm;
            J[(2 * i) * n + axis] -= unit.x_mm;
            J[(2 * i + 1) * n + axis] -= unit.y_mm;
            // The turn that keeps the second point on +X.
            const Point about = plan::left_of(held[i]) * (unit.y_mm / length);
            J[(2 * i) * n + 2 + axis] -= about.x_mm;
            J[(2 * i + 1) * n + 2 + axis] -= about.y_mm;
            J[(2 * i) * n + axis] += about.x_mm;
            J[(2 * i + 1) * n + axis] += about.y_mm;
        }
    }
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < n; ++j)
            for (std::size_t k = 0; k < n; ++k) half[i * n + j] += J[i * n + k] * covariance[k * n + j];
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < n; ++j)
            for (std::size_t k = 0; k < n; ++k) result[i * n + j] += half[i * n + k] * J[j * n + k];
    points = held;
    covariance = result;
}

TEST(PatternFits, what_is_judged_does_not_hang_on_where_the_axes_lie) {
    Draws draw;
    // Small errors, so that what first order leaves out is smaller still.
    Points points = draw(equally_spaced({5, 5}, 60.0, 7, 0.2), 0.0004);
    std::vector<double> covariance = diagonal(7, 0.0003);
    const auto circle = fit_circle(points, covariance);
    const auto spacing = fit_equal_spacing(points, covariance, 7);
    hold_first_two(points, covariance);
    ASSERT_NEAR(covariance[0], 0.0, 1e-15);
    const auto held_circle = fit_circle(points, covariance);
    const auto held_spacing = fit_equal_spacing(points, covariance, 7);
    EXPECT_NEAR(circle->chance, held_circle->chance, 1e-5);
    EXPECT_NEAR(circle->diameter_sigma_mm, held_circle->diameter_sigma_mm, 1e-9);
    EXPECT_NEAR(spacing->chance, held_spacing->chance, 1e-5);
    EXPECT_NEAR(spacing->diameter_mm, held_spacing->diameter_mm, 1e-6);
}

}  // namespace
}  // namespace fitup::calculations
