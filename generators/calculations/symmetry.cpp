#include "calculations/symmetry.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "calculations/fit_statistics.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using Eigen::Index;
using Eigen::Matrix2d;
using Eigen::MatrixXd;
using plan::Point;

constexpr double whole_turn = 2.0 * std::numbers::pi;
/// 1 of 10,000 pairs of normal errors has a larger sum of squares: -2 ln 0.0001.
constexpr double most_squares = 18.42068;
constexpr std::size_t all_pairs_up_to = 16;

/// y changed in sign where it mirrors, then turned, then shifted.
struct Move {
    bool mirrors = false;
    double turn_rad = 0.0;
    Point shift;
    Point operator()(Point point) const {
        if (mirrors) point.y_mm = -point.y_mm;
        return plan::turned(point, turn_rad) + shift;
    }
    Matrix2d matrix() const {
        const double c = std::cos(turn_rad), s = std::sin(turn_rad), sign = mirrors ? -1.0 : 1.0;
        return Matrix2d{{c, -s * sign}, {s, c * sign}};
    }
};

Point mean_of(std::span<const Point> points) {
    Point sum;
    for (const Point& point : points) sum = sum + point;
    return sum * (1.0 / double(points.size()));
}

/// The place that each moved point falls nearest to; -1 where that is further than `within_mm`, or taken by a
/// nearer one already.
std::vector<int> nearest_places(std::span<const Point> points, const Move& move, double within_mm) {
    std::vector<int> place(points.size(), -1), owner(points.size(), -1);
    std::vector<double> distance(points.size(), within_mm);
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Point at = move(points[i]);
        std::size_t best = 0;
        for (std::size_t j = 1; j < points.size(); ++j) {
            if (plan::distance_mm(at, points[j]) < plan::distance_mm(at, points[best])) best = j;
        }
        const double off_mm = plan::distance_mm(at, points[best]);
        if (off_mm > distance[best]) continue;
        if (owner[best] >= 0) place[std::size_t(owner[best])] = -1;
        owner[best] = int(i);
        distance[best] = off_mm;
        place[i] = int(best);
    }
    return place;
}

std::size_t count_of(const std::vector<int>& places) {
    return places.size() - std::size_t(std::count(places.begin(), places.end(), -1));
}

/// The move of the same sort that lays the points that have a place on it with least squares.
Move refitted(std::span<const Point> points, const std::vector<int>& places, const Move& move) {
    Point from, to;
    double count = 0.0;
    Move best{move.mirrors, 0.0, {}};
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (places[i] < 0) continue;
        from = from + best(points[i]);
        to = to + points[std::size_t(places[i])];
        count += 1.0;
    }
    if (count < 2.0) return move;
    from = from * (1.0 / count);
    to = to * (1.0 / count);
    double sine = 0.0, cosine = 0.0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (places[i] < 0) continue;
        const Point a = best(points[i]) - from, b = points[std::size_t(places[i])] - to;
        sine += plan::cross(a, b);
        cosine += plan::dot(a, b);
    }
    best.turn_rad = std::atan2(sine, cosine);
    best.shift = to - plan::turned(from, best.turn_rad);
    return best;
}

double worst_of(std::span<const Point> points, const std::vector<int>& places, const Move& move) {
    double worst = 0.0;
    for (std::size_t i = 0; i < points.size(); ++i)
        worst = std::max(worst, plan::distance_mm(move(points[i]), points[std::size_t(places[i])]));
    return worst;
}

/// Whether every point lies no further from its place than the errors of both explain.
bool is_explained(std::span<const Point> points, const std::vector<int>& places, const Move& move,
                  const MatrixXd& C) {
    const Matrix2d T = move.matrix();
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Index a = Index(2 * i), b = Index(2 * places[i]);
        const Matrix2d across = T * C.block<2, 2>(a, b);
        Matrix2d variance =
            T * C.block<2, 2>(a, a) * T.transpose() + C.block<2, 2>(b, b) - across - across.transpose();
        variance.diagonal().array() += floor_mm * floor_mm;
        const Point off = move(points[i]) - points[std::size_t(places[i])];
        const Eigen::Vector2d d(off.x_mm, off.y_mm);
        if (d.dot(variance.ldlt().solve(d)) > most_squares) return false;
    }
    return true;
}

double largest_sigma(const MatrixXd& C) { return std::sqrt(std::max(0.0, C.diagonal().maxCoeff())); }

bool by_kind_and_angle(const Symmetry& a, const Symmetry& b) {
    return a.is_mirror != b.is_mirror ? b.is_mirror : a.angle_rad < b.angle_rad;
}

double within_turn(double angle_rad, double turn_rad) {
    const double rest = std::fmod(angle_rad, turn_rad);
    return rest < 0.0 ? rest + turn_rad : rest;
}

/// Moves about the middle that lay the point on the place, as a turn and as a mirror image.
std::array<Move, 2> moves_onto(Point point, Point place) {
    const double from = std::atan2(point.y_mm, point.x_mm), to = std::atan2(place.y_mm, place.x_mm);
    return {Move{false, to - from, {}}, Move{true, to + from, {}}};
}

std::size_t outermost(std::span<const Point> points) {
    const auto less = [](const Point& a, const Point& b) { return plan::length(a) < plan::length(b); };
    return std::size_t(std::max_element(points.begin(), points.end(), less) - points.begin());
}

}  // namespace

std::vector<Symmetry> symmetries(std::span<const Point> points_mm, std::span<const double> covariance_mm2) {
    if (points_mm.size() < 2) return {};
    std::vector<Point> points(points_mm.begin(), points_mm.end());
    const Point middle = mean_of(points_mm);
    for (Point& point : points) point = point - middle;
    const MatrixXd C = shape_covariance(points_mm, covariance_mm2);
    const Point first = points[outermost(points)];
    // Far more than errors explain; what is judged is each point.
    const double within_mm = 20.0 * largest_sigma(C) + 100.0 * floor_mm;
    std::vector<Symmetry> found;
    for (const Point& place : points) {
        if (std::abs(plan::length(place) - plan::length(first)) > within_mm) continue;
        for (const Move& rough : moves_onto(first, place)) {
            const auto places = nearest_places(points, rough, 2.0 * within_mm);
            if (count_of(places) < points.size()) continue;
            const Move move = refitted(points, places, rough);
            const bool is_nothing =
                !move.mirrors && std::abs(std::remainder(move.turn_rad, whole_turn)) < 1e-9;
            if (is_nothing || !is_explained(points, places, move, C)) continue;
            const double angle = move.mirrors ? within_turn(move.turn_rad / 2.0, std::numbers::pi)
                                              : within_turn(move.turn_rad, whole_turn);
            found.push_back({move.mirrors, angle, worst_of(points, places, move)});
        }
    }
    std::sort(found.begin(), found.end(), by_kind_and_angle);
    return found;
}

namespace {

/// Keeps the mirror image under which most holes fall on a place.
class BestMirror {
  public:
    BestMirror(std::span<const Point> points, double slack_mm)
        : points_(points), slack_mm_(slack_mm), places_(points.size(), -1) {}

    void consider(Move move) {
        // What two points say is off by as much as these are; all that fall near say it better.
        const auto near = nearest_places(points_, move, 2.0 * slack_mm_);
        if (count_of(near) <= count_) return;
        for (const Move& one : {move, refitted(points_, near, move)}) {
            const auto places = nearest_places(points_, one, slack_mm_);
            if (count_of(places) <= count_) continue;
            count_ = count_of(places);
            places_ = places;
            move_ = one;
        }
    }
    bool is_whole() const { return count_ == points_.size(); }

    MirroredUse use() const {
        MirroredUse use{slack_mm_, int(count_), {}};
        std::vector<std::pair<double, int>> lonely;
        for (std::size_t j = 0; j < points_.size(); ++j) {
            if (std::find(places_.begin(), places_.end(), int(j)) != places_.end()) continue;
            double nearest = 1e300;
            for (const Point& point : points_)
                nearest = std::min(nearest, plan::distance_mm(move_(point), points_[j]));
            lonely.push_back({-nearest, int(j)});
        }
        std::sort(lonely.begin(), lonely.end());
        for (const auto& [off, place] : lonely) use.telling.push_back(place);
        return use;
    }

  private:
    std::span<const Point> points_;
    double slack_mm_;
    std::size_t count_ = 0;
    std::vector<int> places_;
    Move move_{true, 0.0, {}};
};

void try_about_the_middle(std::span<const Point> points, BestMirror& best) {
    std::vector<std::size_t> by_radius(points.size());
    std::iota(by_radius.begin(), by_radius.end(), std::size_t{0});
    std::sort(by_radius.begin(), by_radius.end(), [&](std::size_t a, std::size_t b) {
        return plan::length(points[a]) > plan::length(points[b]);
    });
    for (std::size_t k = 0; k < std::min<std::size_t>(3, points.size()); ++k) {
        for (const Point& place : points) {
            if (best.is_whole()) return;
            best.consider(moves_onto(points[by_radius[k]], place)[1]);
        }
    }
}

/// The mirror images that lay a on c and the direction from a to b on that from c to d.
void try_all_pairs(std::span<const Point> points, double slack_mm, BestMirror& best) {
    const std::size_t n = points.size();
    for (std::size_t a = 0; a < n; ++a) {
        for (std::size_t b = a + 1; b < n; ++b) {
            const Point from = points[b] - points[a];
            for (std::size_t cd = 0; cd < n * n; ++cd) {
                const std::size_t c = cd / n, d = cd % n;
                const Point to = points[d] - points[c];
                if (c == d || std::abs(plan::length(to) - plan::length(from)) > 2.0 * slack_mm) continue;
                if (best.is_whole()) return;
                Move move{true, std::atan2(to.y_mm, to.x_mm) + std::atan2(from.y_mm, from.x_mm), {}};
                move.shift = points[c] - move(points[a]);
                best.consider(move);
            }
        }
    }
}

}  // namespace

MirroredUse mirrored_use(std::span<const Point> points_mm, double slack_mm) {
    std::vector<Point> points(points_mm.begin(), points_mm.end());
    const Point middle = points.empty() ? Point{} : mean_of(points_mm);
    for (Point& point : points) point = point - middle;
    BestMirror best(points, slack_mm);
    try_about_the_middle(points, best);
    if (points.size() <= all_pairs_up_to) try_all_pairs(points, slack_mm, best);
    return best.use();
}

}  // namespace fitup::calculations
