#include "calculations/clearance.hpp"

#include <algorithm>
#include <cmath>
#include <queue>

#include "base/units.hpp"

namespace fitup::calculations {

namespace {

/// Stretches to begin with are no longer than this.
constexpr double first_stretch_rad = 0.1;
/// Shorter ones tell nothing new.
constexpr double least_stretch_rad = 1e-9;
/// Pieces this near are looked at exactly.
constexpr double separation_within_mm = clearance_within_mm / 8.0;

/// A piece of the lever against a part of the obstacle over a stretch of the swing.
struct Candidate {
    double lower_mm = 0.0;
    int piece = 0;
    int node = 0;
    double middle_rad = 0.0;
    double half_rad = 0.0;
    bool is_settled = false;  ///< looked at as closely as numbers allow
    bool operator<(const Candidate& other) const { return lower_mm > other.lower_mm; }  // least on top
};

double radius_of(const Vector& middle) { return std::hypot(middle[0], middle[1]); }

/// The lever turns by an angle: seen from the lever the obstacle turns back.
TurnZ back_by(double rad) { return {std::cos(rad), -std::sin(rad)}; }

class Search {
  public:
    Search(std::span<const Convex> lever, const ObstacleShape& obstacle)
        : lever_(lever), obstacle_(obstacle) {}

    Clearance run(double from_rad, double to_rad) {
        start(from_rad, to_rad);
        while (!queue_.empty()) {
            const Candidate top = queue_.top();
            certain_mm_ = top.lower_mm;
            if (top.lower_mm >= best_.least_mm - clearance_within_mm || best_.touches || top.is_settled)
                break;
            queue_.pop();
            const BallNode& node = obstacle_.nodes[std::size_t(top.node)];
            if (node.piece < 0)
                descend(top, node);
            else
                look(top, obstacle_.pieces[std::size_t(node.piece)]);
        }
        if (queue_.empty()) certain_mm_ = best_.least_mm;
        return result();
    }

  private:
    void start(double from_rad, double to_rad) {
        best_.least_mm = 1e300;
        const int stretches = std::max(1, int(std::ceil((to_rad - from_rad) / first_stretch_rad)));
        const double half_rad = (to_rad - from_rad) / stretches / 2.0;
        for (int i = 0; i < stretches; ++i) {
            for (int piece = 0; piece < int(lever_.size()); ++piece)
                add({0.0, piece, 0, from_rad + half_rad * (2 * i + 1), half_rad});
        }
    }

    /// Queued with the bound that its balls give; dropped where that is too far already.
    void add(Candidate candidate) {
        const BallNode& node = obstacle_.nodes[std::size_t(candidate.node)];
        const Convex& piece = lever_[std::size_t(candidate.piece)];
        const double apart_mm = length(piece.middle - back_by(candidate.middle_rad).apply(node.middle)) -
                                piece.reach_mm - node.reach_mm;
        // Either body may be taken as the one that moves.
        const double moves_mm =
            std::min(radius_of(node.middle), radius_of(piece.middle)) * candidate.half_rad;
        candidate.lower_mm = std::max(candidate.lower_mm, apart_mm - moves_mm);
        push(candidate);
    }

    void push(const Candidate& candidate) {
        if (candidate.lower_mm < best_.least_mm) queue_.push(candidate);
    }

    void descend(const Candidate& candidate, const BallNode& node) {
        for (const int child : {node.first, node.second}) {
            Candidate below = candidate;
            below.node = child;
            add(below);
        }
    }

    /// The exact distance at the stretch's middle, and what it says of the whole stretch.
    void look(const Candidate& candidate, const Convex& still) {
        const Convex& piece = lever_[std::size_t(candidate.piece)];
        const Separation apart =
            separation(piece, still, back_by(candidate.middle_rad), separation_within_mm);
        if (apart.upper_mm < best_.least_mm) take(candidate, apart);
        const double lower_mm = std::max(candidate.lower_mm, over_stretch(candidate, piece, still, apart));
        if (lower_mm >= best_.least_mm - clearance_within_mm || candidate.half_rad < least_stretch_rad) {
            // Good enough as it is, or as good as it gets: it stays as a bound.
            Candidate done = candidate;
            done.lower_mm = lower_mm;
            done.is_settled = true;
            push(done);
            return;
        }
        for (const double side : {-0.5, 0.5}) {
            Candidate half = candidate;
            half.middle_rad += side * candidate.half_rad;
            half.half_rad *= 0.5;
            half.lower_mm = lower_mm;
            add(half);
        }
    }

    static double over_stretch(const Candidate& candidate, const Convex& piece, const Convex& still,
                               const Separation& apart) {
        const double level = std::hypot(apart.across[0], apart.across[1]);
        const double radius_mm = radius_of(still.middle) + still.reach_mm;
        const double curve_mm = radius_mm * level * candidate.half_rad * candidate.half_rad / 2.0;
        const double before_mm =
            apart_along(piece, still, back_by(candidate.middle_rad - candidate.half_rad), apart.across);
        const double after_mm =
            apart_along(piece, still, back_by(candidate.middle_rad + candidate.half_rad), apart.across);
        return std::min(before_mm, after_mm) - curve_mm;
    }

    void take(const Candidate& candidate, const Separation& apart) {
        best_.least_mm = apart.upper_mm;
        best_.touches = apart.upper_mm == 0.0;
        best_.at_deg = candidate.middle_rad * deg_per_rad;
        const TurnZ turn{std::cos(candidate.middle_rad), std::sin(candidate.middle_rad)};
        best_.on_lever = turn.apply(apart.on_fixed);
        best_.on_obstacle = turn.apply(apart.on_turned);
    }

    Clearance result() {
        best_.obstacle = obstacle_.name;
        best_.error_mm = best_.touches ? 0.0 : std::max(0.0, best_.least_mm - std::max(0.0, certain_mm_));
        best_.error_mm += obstacle_.within_mm;
        best_.less_by_mm = best_.error_mm;
        return best_;
    }

    std::span<const Convex> lever_;
    const ObstacleShape& obstacle_;
    std::priority_queue<Candidate> queue_;
    Clearance best_;
    double certain_mm_ = 0.0;
};

/// A lever that starts wholly inside a shell touches none of its triangles.
bool starts_inside(std::span<const Convex> lever, const ObstacleShape& obstacle, Angle from) {
    if (!obstacle.is_shell) return false;
    const TurnZ turn{from.cos(), from.sin()};
    return std::any_of(lever.begin(), lever.end(), [&](const Convex& piece) {
        return is_inside(obstacle, turn.apply(farthest(piece, {0.3, 0.5, 0.8})));
    });
}

}  // namespace

Clearance least_clearance(std::span<const Convex> lever, const ObstacleShape& obstacle, Angle from,
                          Angle to) {
    if (starts_inside(lever, obstacle, from)) {
        Clearance inside;
        inside.obstacle = obstacle.name;
        inside.at_deg = from.degrees();
        inside.touches = true;
        inside.error_mm = inside.less_by_mm = obstacle.within_mm;
        return inside;
    }
    return Search(lever, obstacle).run(from.radians(), to.radians());
}

}  // namespace fitup::calculations
