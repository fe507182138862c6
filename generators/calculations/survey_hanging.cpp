// Which points the readings leave to move, from the rank of the equations at places without any symmetry:
// what isn't held there is held nowhere, but for luck.
#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "calculations/survey_structure.hpp"
#include "calculations/survey_words.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using Eigen::MatrixXd;
using Eigen::RowVectorXd;
using Eigen::VectorXd;
using plan::Point;

constexpr double square_mm = 100.0;
/// Of the greatest eigenvalue. What is held at such places comes out above 1e-7, what isn't at 1e-16.
constexpr double nothing_share = 1e-11;
/// Rate of a reading along a unit motion below which it doesn't see it.
constexpr double nothing_seen = 1e-5;

/// Places of no symmetry, the same every time: multiples of two irrationals that are no multiples of one
/// another, less their whole parts.
std::vector<Point> plain_places(std::size_t count) {
    std::vector<Point> at;
    for (std::size_t i = 1; i <= count; ++i) {
        const double x = double(i) * 0.7548776662466927, y = double(i) * 0.5698402909980532;
        const double z = double(i * i) * 0.4142135623730951;
        at.push_back({square_mm * (x - std::floor(x)) + 7.0 * (z - std::floor(z)),
                      square_mm * (y - std::floor(y)) - 5.0 * (z - std::floor(z))});
    }
    return at;
}

class Hanging {
  public:
    Hanging(const Survey& survey, const Network& network)
        : survey_(survey), network_(network), at_(plain_places(network.points)) {
        readings_.resize(network.points);
        for (const Observation& seen : network.seen)
            for (const int point : {seen.a, seen.b, seen.c})
                if (point >= 0) readings_[std::size_t(point)].push_back(seen.reading);
    }

    std::vector<SurveyTrouble> run() {
        free_ = free_motions(network_);
        find_motions();
        if (motions_.cols() <= free_) return {};
        held_ = held_points();
        while (motions_.cols() > free_ && propose()) continue;
        return troubles();
    }

  private:
    RowVectorXd row_of(const Observation& seen) const {
        const ReadingEquation equation = equation_of(seen, at_);
        RowVectorXd row = RowVectorXd::Zero(Eigen::Index(2 * network_.points));
        for (int i = 0; i < 2 * equation.count; ++i)
            row[2 * equation.point[std::size_t(i / 2)] + i % 2] = equation.rates[std::size_t(i)];
        return seen.quantity == Quantity::angle ? RowVectorXd(row * square_mm) : row;
    }

    /// All motions that no reading sees, the free ones of the whole among them.
    void find_motions() {
        const auto size = Eigen::Index(2 * network_.points);
        MatrixXd normal = MatrixXd::Zero(size, size);
        for (const Observation& seen : network_.seen) {
            const RowVectorXd row = row_of(seen);
            normal.noalias() += row.transpose() * row;
        }
        const Eigen::SelfAdjointEigenSolver<MatrixXd> solver(normal);
        const double limit = nothing_share * std::max(solver.eigenvalues().maxCoeff(), 1.0);
        Eigen::Index count = 0;
        while (count < size && solver.eigenvalues()[count] < limit) ++count;
        motions_ = solver.eigenvectors().leftCols(count);
    }

    double seen_by_span(int a, int b) const {
        return (row_of({Quantity::span, a, b, -1, 1.0, 1.0, -1}) * motions_).norm();
    }

    bool together(int a, int b) const { return a == b || seen_by_span(a, b) < nothing_seen; }

    /// The points that coordinates hold, or the most that keep their distances: what the others hang on.
    std::vector<int> held_points() const {
        const int count = int(network_.points);
        std::vector<int> best;
        if (free_ == 0) {
            for (int p = 0; p < count; ++p)
                if (motions_.middleRows(Eigen::Index(2) * p, 2).norm() < nothing_seen) best.push_back(p);
            if (!best.empty()) return best;
        }
        for (int a = 0; a < count; ++a) {
            for (int b = a + 1; b < count; ++b) {
                if (!together(a, b)) continue;
                std::vector<int> body;
                for (int p = 0; p < count; ++p)
                    if (together(a, p) && together(b, p)) body.push_back(p);
                if (body.size() > best.size()) best = body;
            }
        }
        return best.empty() ? std::vector<int>{0} : best;
    }

    bool is_held(int point) const { return std::ranges::find(held_, point) != held_.end(); }

    /// The span that holds most of what still moves, from a point with the fewest readings to one that is
    /// held.
    bool propose() {
        std::pair<int, int> best{-1, -1};
        double most = 0.0;
        for (int a = 0; a < int(network_.points); ++a) {
            for (int b = a + 1; b < int(network_.points); ++b) {
                const double seen = seen_by_span(a, b);
                if (seen < nothing_seen) continue;
                const std::size_t fewest = std::min(readings_of(a), readings_of(b));
                const double worth =
                    seen + (is_held(a) || is_held(b) ? 10.0 : 0.0) + 100.0 / double(1 + fewest);
                if (worth > most) best = {a, b}, most = worth;
            }
        }
        if (best.first < 0) return false;
        take(best);
        return true;
    }

    std::size_t readings_of(int point) const {
        const auto p = std::size_t(point);
        const auto there = std::ranges::count_if(
            proposed_, [&](const auto& pair) { return pair.first == point || pair.second == point; });
        return readings_[p].size() + std::size_t(there);
    }

    /// Drops from the motions the one that the span sees.
    void take(std::pair<int, int> pair) {
        const VectorXd seen =
            (row_of({Quantity::span, pair.first, pair.second, -1, 1.0, 1.0, -1}) * motions_);
        const Eigen::HouseholderQR<MatrixXd> qr(MatrixXd(seen.normalized()));
        const MatrixXd turn = qr.householderQ() * MatrixXd::Identity(motions_.cols(), motions_.cols());
        motions_ = (motions_ * turn).rightCols(motions_.cols() - 1).eval();
        proposed_.push_back(pair);
    }

    std::vector<SurveyTrouble> troubles() {
        std::vector<SurveyTrouble> all;
        std::vector<std::pair<int, int>> rest = proposed_;
        for (int p = 0; p < int(network_.points); ++p) {
            if (is_held(p) || readings_[std::size_t(p)].size() > 1) continue;
            std::vector<std::pair<int, int>> own;
            for (const auto& pair : rest)
                if (pair.first == p || pair.second == p) own.push_back(pair);
            std::erase_if(rest, [&](const auto& pair) { return pair.first == p || pair.second == p; });
            if (!own.empty()) all.push_back(trouble_at_point(survey_, p, read_of(p), wanted(own)));
        }
        if (!rest.empty()) all.push_back(of_moving(rest));
        // One point, or motions that no span would see: coordinates are what is missing.
        if (all.empty())
            all.push_back(trouble_at_point(survey_, 0, "points that the readings don't hold", "x and y"));
        return all;
    }

    std::string read_of(int point) const {
        const auto& own = readings_[std::size_t(point)];
        if (own.empty()) return "point " + id_of(survey_, point) + " without any reading";
        return "point " + id_of(survey_, point) + " with no reading but " +
               survey_.readings[std::size_t(own[0])].name;
    }

    std::string wanted(const std::vector<std::pair<int, int>>& spans) const {
        std::string text = spans.size() == 1 ? "one more reading, such as "
                                             : std::to_string(spans.size()) + " more readings, such as ";
        for (std::size_t i = 0; i < spans.size(); ++i) {
            if (i > 0) text += i + 1 == spans.size() ? " and " : ", ";
            text += span_between(survey_, spans[i].first, spans[i].second);
        }
        return text;
    }

    SurveyTrouble of_moving(const std::vector<std::pair<int, int>>& rest) const {
        std::vector<int> moving;
        for (int p = 0; p < int(network_.points); ++p)
            if (!is_held(p) && readings_[std::size_t(p)].size() > 1) moving.push_back(p);
        if (moving.empty()) moving = {rest.front().second};
        const std::string found = moving.size() == 1
                                      ? "point " + id_of(survey_, moving[0]) + " can still move"
                                      : "points " + ids_text(survey_, moving) + " can still move";
        return trouble_at_point(survey_, moving.front(), found, wanted(rest));
    }

    const Survey& survey_;
    const Network& network_;
    std::vector<Point> at_;
    std::vector<std::vector<int>> readings_;
    int free_ = 0;
    MatrixXd motions_;
    std::vector<int> held_;
    std::vector<std::pair<int, int>> proposed_;
};

}  // namespace

std::vector<SurveyTrouble> hanging_points(const Survey& survey, const Network& network) {
    return Hanging(survey, network).run();
}

}  // namespace fitup::calculations
