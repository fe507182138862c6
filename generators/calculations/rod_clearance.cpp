#include "calculations/rod_clearance.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <queue>

#include "base/units.hpp"

namespace fitup::calculations {

namespace {

constexpr double first_stretch_rad = 0.02;
/// Shorter stretches tell nothing new.
constexpr double least_stretch_rad = 1e-8;
/// Shorter ones in which the chain is open are not looked into.
constexpr double least_open_rad = 1e-3;

Convex segment(const Vector& from, const Vector& to) {
    Convex body;
    body.points = {from, to};
    enclose(body);
    return body;
}

/// The distance from a rod's middle line to an obstacle: the nearest balls first.
Separation nearest_piece(const Convex& line, const ObstacleShape& obstacle) {
    using Entry = std::pair<double, int>;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
    const auto add = [&](int index) {
        const BallNode& node = obstacle.nodes[std::size_t(index)];
        queue.emplace(length(node.middle - line.middle) - node.reach_mm - line.reach_mm, index);
    };
    Separation best;
    best.lower_mm = best.upper_mm = 1e300;
    for (add(0); !queue.empty() && queue.top().first < best.upper_mm;) {
        const BallNode node = obstacle.nodes[std::size_t(queue.top().second)];
        queue.pop();
        if (node.piece < 0) {
            add(node.first);
            add(node.second);
            continue;
        }
        const Separation apart =
            separation(line, obstacle.pieces[std::size_t(node.piece)], {}, rod_clearance_within_mm / 8.0);
        const double lower_mm = std::min(best.lower_mm, apart.lower_mm);
        if (apart.upper_mm < best.upper_mm) best = apart;
        best.lower_mm = lower_mm;
    }
    return best;
}

/// A stretch of the input with what is certain over it.
struct Stretch {
    double lower_mm = 0.0;
    double middle_rad = 0.0;
    double half_rad = 0.0;
    bool operator<(const Stretch& other) const { return lower_mm > other.lower_mm; }  // least on top
};

/// One rod against one obstacle.
class Search {
  public:
    Search(const Chain& chain, std::size_t rod, double radius_mm, const ObstacleShape& obstacle)
        : chain_(chain), rod_(rod), radius_mm_(radius_mm), obstacle_(obstacle) {
        best_.least_mm = 1e300;
    }

    Clearance run(double from_rad, double to_rad) {
        const int stretches = std::max(1, int(std::ceil((to_rad - from_rad) / first_stretch_rad)));
        const double half_rad = (to_rad - from_rad) / stretches / 2.0;
        for (int i = 0; i < stretches; ++i) look(from_rad + half_rad * (2 * i + 1), half_rad);
        double certain_mm = best_.least_mm;
        while (!queue_.empty() && !best_.touches) {
            const Stretch top = queue_.top();
            certain_mm = std::min(top.lower_mm, best_.least_mm);
            if (top.lower_mm >= best_.least_mm - rod_clearance_within_mm || top.half_rad < least_stretch_rad)
                break;
            queue_.pop();
            for (const double side : {-0.5, 0.5})
                look(top.middle_rad + side * top.half_rad, top.half_rad / 2.0);
        }
        best_.obstacle = obstacle_.name;
        best_.error_mm =
            (best_.touches ? 0.0 : best_.least_mm - std::max(0.0, certain_mm)) + obstacle_.within_mm;
        best_.less_by_mm = best_.error_mm;
        return best_;
    }

  private:
    void look(double middle_rad, double half_rad) {
        const Pose pose = pose_at(chain_, middle_rad);
        if (pose.gap_mm > 0.0 && pose.open_rod <= rod_) {
            // Open here: a neighbour may close. What opens stops the linkage anyway.
            if (half_rad >= least_open_rad) queue_.push({-1e300, middle_rad, half_rad});
            return;
        }
        const Separation apart = nearest_piece(line_at(pose), obstacle_);
        if (apart.upper_mm - radius_mm_ < best_.least_mm) take(middle_rad, apart);
        const Reach reach = joint_reach(chain_, middle_rad, half_rad)[rod_];
        const double lower_mm =
            reach.is_known ? apart.lower_mm - radius_mm_ - std::max(reach.first_mm, reach.last_mm) : -1e300;
        if (lower_mm < best_.least_mm) queue_.push({lower_mm, middle_rad, half_rad});
    }

    Convex line_at(const Pose& pose) const {
        return segment(chain_.driving[rod_].at(pose.turns[rod_]),
                       chain_.loops[rod_].at(pose.turns[rod_ + 1]));
    }

    void take(double middle_rad, const Separation& apart) {
        best_.touches = apart.upper_mm <= radius_mm_;
        best_.least_mm = std::max(0.0, apart.upper_mm - radius_mm_);
        best_.at_deg = middle_rad * deg_per_rad;
        best_.on_obstacle = apart.on_turned;
        best_.on_lever = best_.touches ? apart.on_turned
                                       : apart.on_fixed + unit(apart.on_turned - apart.on_fixed) * radius_mm_;
    }

    const Chain& chain_;
    std::size_t rod_;
    double radius_mm_;
    const ObstacleShape& obstacle_;
    std::priority_queue<Stretch> queue_;
    Clearance best_;
};

}  // namespace

std::vector<Reach> joint_reach(const Chain& chain, double input_rad, double half_rad) {
    std::vector<Reach> reaches(chain.loops.size());
    Turn turn{std::cos(input_rad), std::sin(input_rad)};
    double turns_rad = half_rad;
    for (std::size_t i = 0; i < chain.loops.size(); ++i) {
        const Loop& loop = chain.loops[i];
        const Vector pin = chain.driving[i].at(turn);
        const Equation e = equation_of(loop, pin);
        const double moved_mm = chain.driving[i].radius_mm * turns_rad;
        const double least_size = std::sqrt(e.size_sq()) - 2.0 * loop.radius_mm * moved_mm;
        const double most_c = std::abs(e.c) + 2.0 * (length(e.from_centre) + moved_mm) * moved_mm;
        if (least_size <= most_c) return reaches;
        const double w = std::sqrt(least_size * least_size - most_c * most_c);
        turns_rad = 2.0 * loop.rod_mm / w * moved_mm;
        reaches[i] = {moved_mm, loop.radius_mm * turns_rad, true};
        turn = close(loop, pin).turn;
    }
    return reaches;
}

std::vector<RodClearance> rod_clearances(const Linkage& linkage, const Chain& chain,
                                         std::span<const ObstacleShape> obstacles) {
    std::vector<RodClearance> all;
    const auto travel = input_travel(linkage);
    for (std::size_t i = 0; i < linkage.rods.size(); ++i) {
        if (!linkage.rods[i].diameter_mm) continue;
        for (const ObstacleShape& obstacle : obstacles)
            all.push_back(
                {linkage.rods[i].name, Search(chain, i, *linkage.rods[i].diameter_mm / 2.0, obstacle)
                                           .run(travel[0].radians(), travel[1].radians())});
    }
    return all;
}

}  // namespace fitup::calculations
