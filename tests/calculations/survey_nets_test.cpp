#include <gtest/gtest.h>

#include <Eigen/Dense>

#include "calculations/nets.hpp"

namespace fitup::calculations {

namespace {

using namespace testing;

void expect_true_places(const Net& net, unsigned seed, const std::string& kind) {
    Random random(seed);
    const Adjusted adjusted = adjust(measured(net, random));
    ASSERT_TRUE(adjusted.fit) << kind << " " << seed << ": " << adjusted.troubles[0].found;
    // Of some thousand distances one in a million is off by 5.
    EXPECT_LT(most_off(*adjusted.fit, net.at), 6.5) << kind << " " << seed;
}

TEST(Nets, of_spans_to_neighbours_alone_settle_where_the_points_are) {
    for (unsigned seed = 1; seed <= 6; ++seed) {
        Random random(seed);
        expect_true_places(ring(random, 36 + 4 * int(seed)), seed, "ring");
        expect_true_places(grid(random, 6, 5 + int(seed)), seed, "grid");
        expect_true_places(strip(random, 40 + 4 * int(seed)), seed, "strip");
        expect_true_places(scattered(random, 40 + 5 * int(seed)), seed, "scattered");
    }
}

TEST(Nets, of_two_hundred_points_settle_where_the_points_are) {
    Random random(3);
    expect_true_places(grid(random, 20, 10), 3, "grid");
    expect_true_places(scattered(random, 200), 3, "scattered");
}

TEST(Nets, covariance_of_many_points_is_the_pseudo_inverse) {
    // The other way: singular values of all equations, where the three motions of the whole are nought.
    Random random(5);
    const Survey survey = measured(scattered(random, 40), random);
    const SurveyFit fit = *adjust(survey).fit;
    Eigen::MatrixXd equations = Eigen::MatrixXd::Zero(Eigen::Index(survey.readings.size()), 80);
    for (std::size_t i = 0; i < survey.readings.size(); ++i) {
        const Reading& r = survey.readings[i];
        const Point along = plan::unit(fit.points_mm[std::size_t(r.b)] - fit.points_mm[std::size_t(r.a)]);
        equations(Eigen::Index(i), 2 * r.a) = -along.x_mm / r.sigma;
        equations(Eigen::Index(i), 2 * r.a + 1) = -along.y_mm / r.sigma;
        equations(Eigen::Index(i), 2 * r.b) = along.x_mm / r.sigma;
        equations(Eigen::Index(i), 2 * r.b + 1) = along.y_mm / r.sigma;
    }
    const Eigen::JacobiSVD<Eigen::MatrixXd> svd(equations, Eigen::ComputeThinV);
    Eigen::MatrixXd inverse = Eigen::MatrixXd::Zero(80, 80);
    for (Eigen::Index k = 0; k < 77; ++k)
        inverse +=
            svd.matrixV().col(k) * svd.matrixV().col(k).transpose() / std::pow(svd.singularValues()[k], 2);
    ASSERT_LT(svd.singularValues()[77], 1e-9 * svd.singularValues()[0]);
    // The variance of a distance is the same in all axes.
    for (const auto& [a, b] : {std::pair{0, 1}, {3, 39}, {12, 30}, {7, 8}}) {
        const Point along = plan::unit(fit.points_mm[std::size_t(b)] - fit.points_mm[std::size_t(a)]);
        Eigen::VectorXd rate = Eigen::VectorXd::Zero(80);
        rate.segment(2 * a, 2) << -along.x_mm, -along.y_mm;
        rate.segment(2 * b, 2) << along.x_mm, along.y_mm;
        const Eigen::Map<const Eigen::MatrixXd> covariance(fit.covariance_mm2.data(), 80, 80);
        const double expected = rate.dot(inverse * rate);
        EXPECT_NEAR(rate.dot(covariance * rate), expected, 1e-8 * expected);
    }
}

TEST(Nets, a_piece_that_hangs_on_two_points_is_no_single_arrangement) {
    Random random(2);
    Net net = grid(random, 6, 6);
    // Four more points beyond the last row, joined to it by its two end points alone.
    const int first = net.count();
    for (int i = 0; i < 4; ++i)
        net.at.push_back({30.0 + 60.0 * i + random.between(-9, 9), 310.0 + random.between(-20, 20)});
    for (int i = 0; i < 4; ++i) {
        for (int j = 0; j < i; ++j) net.measure(first + i, first + j);
        net.measure(first + i, 30);
        net.measure(first + i, 35);
    }
    const Adjusted adjusted = adjust(measured(net, random));
    ASSERT_FALSE(adjusted.fit);
    EXPECT_NE(adjusted.troubles[0].found.find("two arrangements"), std::string::npos)
        << adjusted.troubles[0].found;
}

TEST(Nets, a_gross_error_in_a_great_net_is_found_and_named) {
    for (unsigned seed = 1; seed <= 3; ++seed) {
        Random random(seed);
        const Net net = scattered(random, 60);
        Survey survey = measured(net, random);
        const std::size_t wrong = 40 + 11 * seed;
        Reading& reading = survey.readings[wrong];
        reading.value = reading.written[0] = std::round(reading.value / 25.4 * 1e3) / 1e3;
        const Adjusted adjusted = adjust(survey);
        ASSERT_TRUE(adjusted.fit) << adjusted.troubles[0].found;
        ASSERT_EQ(adjusted.fit->suspects.size(), 1u) << seed;
        EXPECT_EQ(adjusted.fit->suspects[0].reading, int(wrong));
        EXPECT_NE(adjusted.fit->suspects[0].blunder.find("read in inches"), std::string::npos);
    }
}

}  // namespace

}  // namespace fitup::calculations
