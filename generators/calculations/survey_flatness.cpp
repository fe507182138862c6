#include "calculations/survey_flatness.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/text.hpp"
#include "calculations/survey_graph.hpp"
#include "calculations/survey_words.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using plan::Point;

/// What one standard deviation across the line changes its two spans by beyond proportion, as a share of
/// theirs. Rings of a hundred holes, each measured to the next three, settle beside the truth from 0.25 on;
/// of those under 0.2 none did (`NetsProbe`).
constexpr double most_bent = 0.2;
/// Cosine of the bend at the point above which its two spans go on in one direction.
constexpr double straight_on = 0.8;

class Flatness {
  public:
    Flatness(const SpanGraph& graph, const std::vector<Point>& at, const std::vector<double>& covariance)
        : graph_(graph), at_(at), covariance_(covariance) {}

    /// The greatest share at a point.
    double at(int point) const {
        double most = 0.0;
        const auto& links = graph_.links[std::size_t(point)];
        for (std::size_t i = 0; i < links.size(); ++i)
            for (std::size_t j = i + 1; j < links.size(); ++j)
                most = std::max(most, share(point, links[i], links[j]));
        return most;
    }

  private:
    double share(int point, const SpanGraph::Link& first, const SpanGraph::Link& second) const {
        const Point before = at_[std::size_t(point)] - at_[std::size_t(first.to)];
        const Point after = at_[std::size_t(second.to)] - at_[std::size_t(point)];
        const double a = plan::length(before), b = plan::length(after);
        if (!(plan::dot(before, after) > straight_on * a * b)) return 0.0;
        const double sigma_mm = std::min(graph_.spans[std::size_t(first.span)].sigma,
                                         graph_.spans[std::size_t(second.span)].sigma);
        return 0.5 * height_variance(point, first.to, second.to, a / (a + b)) * (1.0 / a + 1.0 / b) /
               sigma_mm;
    }

    /// Of the height over the line through two others. @param along  where its foot lies, 0 to 1
    double height_variance(int point, int first, int second, double along) const {
        const Point u = plan::unit(at_[std::size_t(second)] - at_[std::size_t(first)]);
        const std::array<std::pair<int, double>, 3> parts{
            {{point, 1.0}, {first, along - 1.0}, {second, -along}}};
        const std::size_t size = 2 * at_.size();
        double sum = 0.0;
        for (const auto& [p, rate] : parts)
            for (const auto& [q, other] : parts) {
                const auto of = [&](std::size_t i, std::size_t j) {
                    return covariance_[(2 * std::size_t(p) + i) * size + 2 * std::size_t(q) + j];
                };
                sum += rate * other *
                       (u.y_mm * u.y_mm * of(0, 0) - u.x_mm * u.y_mm * (of(0, 1) + of(1, 0)) +
                        u.x_mm * u.x_mm * of(1, 1));
            }
        return sum;
    }

    const SpanGraph& graph_;
    const std::vector<Point>& at_;
    const std::vector<double>& covariance_;
};

}  // namespace

std::vector<SurveyTrouble> too_flat(const Survey& survey, const Network& network,
                                    const std::vector<Point>& at, const std::vector<double>& covariance_mm2) {
    if (!is_spans_alone(network)) return {};
    const SpanGraph graph = span_graph(network);
    const Flatness flatness(graph, at, covariance_mm2);
    int flattest = 0;
    double most = 0.0;
    for (int point = 0; point < int(at.size()); ++point)
        if (const double here = flatness.at(point); here > most) flattest = point, most = here;
    if (most < most_bent) return {};
    const auto farthest = std::ranges::max_element(
        at, {}, [&](Point p) { return plan::distance_mm(p, at[std::size_t(flattest)]); });
    return {trouble_at_point(
        survey, flattest,
        "point " + id_of(survey, flattest) +
            " held in one direction only: it lies so nearly on a line with its neighbours that its spans "
            "hardly tell on which side",
        span_between(survey, flattest, int(farthest - at.begin())) + ", or others across that line")};
}

}  // namespace fitup::calculations
