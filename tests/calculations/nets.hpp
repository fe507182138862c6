#pragma once

#include <Eigen/Dense>
#include <numbers>
#include <set>

#include "calculations/surveys.hpp"

/// Nets of spans alone: made-up holes that each are measured to some of their neighbours.
namespace fitup::calculations::testing {

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
inline Net ring(Random& random, int count) {
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

/// Bolts on a circle with nothing measured across it, each measured to the next ones.
/// @param off_mm    how far each is off its place, at most
/// @param in_out_mm  by turns so far within and without the circle
inline Net bare_ring(Random& random, int count, int reach, double off_mm, double in_out_mm) {
    Net net;
    const double radius = 40.0 * count / (2.0 * std::numbers::pi);
    for (int i = 0; i < count; ++i) {
        const double r = radius + (i % 2 == 0 ? in_out_mm : -in_out_mm) + random.between(-off_mm, off_mm);
        const double along = random.between(-off_mm, off_mm) / radius;
        net.at.push_back(plan::turned({r, 0.0}, 2.0 * std::numbers::pi * i / count + along));
    }
    for (int i = 0; i < count; ++i)
        for (int k = 1; k <= reach; ++k) net.measure(i, (i + k) % count);
    return net;
}

/// Rows and columns out of true, each field
/// measured on its sides and both diagonals.
inline Net grid(Random& random, int columns, int rows) {
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
inline Net strip(Random& random, int count) {
    Net net;
    for (int i = 0; i < count; ++i)
        net.at.push_back(
            {45.0 * (i / 2) + random.between(-10, 10), 45.0 * (i % 2) + random.between(-10, 10)});
    for (int i = 0; i < count; ++i)
        for (int k = 1; k <= 4 && i + k < count; ++k) net.measure(i, i + k);
    return net;
}

/// Anywhere at least 20 mm apart, each measured to its nearest neighbours, so many of them or more.
inline Net scattered(Random& random, int count, std::size_t neighbours = 6) {
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
        for (std::size_t k = 0; k < neighbours; ++k) net.measure(i, others[k].second);
    }
    return net;
}

/// @param exact  as a perfect hand would; else each reading off by chance, as its uncertainty says
inline Survey measured(const Net& net, Random& random, bool exact = false) {
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
    if (!exact) disturb(survey, random.engine);
    return survey;
}

/// The most that any distance is off the true one, over its own standard deviation.
inline double most_off(const SurveyFit& fit, const std::vector<Point>& at) {
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

}  // namespace fitup::calculations::testing
