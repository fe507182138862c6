#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <numbers>
#include <set>

#include "calculations/surveys.hpp"

namespace fitup::calculations {

namespace {

using namespace testing;

/// Points, and which of them are measured to one another.
struct Net {
    std::vector<Point> at;
    std::set<std::pair<int, int>> pairs;

    void measure(int a, int b) { pairs.insert(std::minmax(a, b)); }
    int count() const { return int(at.size()); }
};

class Random {
  public:
    explicit Random(unsigned seed) : engine(seed) {}
    double between(double least, double most) {
        return least + (most - least) * (double(engine() >> 11) / 9007199254740992.0);
    }
    std::mt19937_64 engine;
};

/// Bolts on a circle, none quite on its place, each measured to the next three and a few across.
Net ring(Random& random, int count) {
    Net net;
    const double radius = 40.0 * count / (2.0 * std::numbers::pi);
    for (int i = 0; i < count; ++i) {
        const double angle = 2.0 * std::numbers::pi * (i + random.between(-0.15, 0.15)) / count;
        net.at.push_back(plan::turned({radius * random.between(0.98, 1.02), 0.0}, angle));
    }
    for (int i = 0; i < count; ++i)
        for (int k = 1; k <= 3; ++k) net.measure(i, (i + k) % count);
    for (int i = 0; i < count / 8; ++i) net.measure(8 * i, (8 * i + count / 2) % count);
    return net;
}

/// Rows and columns out of true, each field
/// measured on its sides and both diagonals.
Net grid(Random& random, int columns, int rows) {
    Net net;
    for (int i = 0; i < rows * columns; ++i)
        net.at.push_back(
            {50.0 * (i % columns) + random.between(-6, 6), 50.0 * (i / columns) + random.between(-6, 6)});
    for (int i = 0; i < net.count(); ++i) {
        const bool right = i % columns + 1 < columns, up = i + columns < net.count();
        if (right) net.measure(i, i + 1);
        if (up) net.measure(i, i + columns);
        if (right && up) net.measure(i, i + columns + 1), net.measure(i + 1, i + columns);
    }
    return net;
}

/// Two rows, each point measured to the next four.
Net strip(Random& random, int count) {
    Net net;
    for (int i = 0; i < count; ++i)
        net.at.push_back(
            {45.0 * (i / 2) + random.between(-10, 10), 45.0 * (i % 2) + random.between(-10, 10)});
    for (int i = 0; i < count; ++i)
        for (int k = 1; k <= 4 && i + k < count; ++k) net.measure(i, i + k);
    return net;
}

/// Anywhere at least 20 mm apart, each measured to its nearest six or more.
Net scattered(Random& random, int count) {
    Net net;
    const double side = 45.0 * std::sqrt(double(count));
    while (net.count() < count) {
        const Point next{random.between(0, side), random.between(0, side)};
        if (std::ranges::all_of(net.at, [&](Point p) { return plan::distance_mm(p, next) > 20.0; }))
            net.at.push_back(next);
    }
    for (int i = 0; i < count; ++i) {
        std::vector<std::pair<double, int>> others;
        for (int j = 0; j < count; ++j)
            if (j != i) others.emplace_back(span(net.at, i, j), j);
        std::ranges::sort(others);
        for (std::size_t k = 0; k < 6; ++k) net.measure(i, others[k].second);
    }
    return net;
}

Survey measured(const Net& net, Random& random) {
    Survey survey = survey_of(net.at.size());
    const double sigma_mm = random.between(0.02, 0.05);
    for (const auto& [a, b] : net.pairs) add_span(survey, a, b, span(net.at, a, b), sigma_mm);
    double widest = 0.0;
    for (int a = 0; a < net.count(); ++a) {
        const int b = (a + net.count() / 3) % net.count(), c = (a + 2 * net.count() / 3) % net.count();
        const Point from = net.at[std::size_t(a)];
        const double area = plan::cross(net.at[std::size_t(b)] - from, net.at[std::size_t(c)] - from);
        if (std::abs(area) < widest) continue;
        widest = std::abs(area);
        survey.clockwise = area < 0.0 ? std::array{a, b, c} : std::array{a, c, b};
    }
    disturb(survey, random.engine);
    return survey;
}

/// The most that any distance is off the true one, over its own standard deviation.
double most_off(const SurveyFit& fit, const std::vector<Point>& at) {
    const std::size_t size = 2 * at.size();
    double most = 0.0;
    for (std::size_t a = 0; a < at.size(); ++a) {
        for (std::size_t b = a + 1; b < at.size(); ++b) {
            const Point along = plan::unit(fit.points_mm[b] - fit.points_mm[a]);
            Eigen::VectorXd rate = Eigen::VectorXd::Zero(Eigen::Index(size));
            const std::size_t index[4] = {2 * a, 2 * a + 1, 2 * b, 2 * b + 1};
            const double rates[4] = {-along.x_mm, -along.y_mm, along.x_mm, along.y_mm};
            double variance = 0.0;
            for (int i = 0; i < 4; ++i)
                for (int j = 0; j < 4; ++j)
                    variance += rates[i] * rates[j] * fit.covariance_mm2[index[i] * size + index[j]];
            const double off =
                plan::distance_mm(fit.points_mm[a], fit.points_mm[b]) - span(at, int(a), int(b));
            most = std::max(most, std::abs(off) / std::sqrt(variance));
        }
    }
    return most;
}

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
