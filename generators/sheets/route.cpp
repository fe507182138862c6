#include "sheets/route.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

/// A tour is a list of nodes: node 0 is zero and stays first, node k is stop k - 1. It closes from its last
/// node to the first.
namespace fitup::sheets {

namespace {

using Tour = std::vector<std::size_t>;

constexpr std::size_t neighbour_count = 8;
constexpr std::size_t longest_moved_piece = 3;
/// A change counts only when it saves more than rounding could feign.
constexpr double least_gain_mm = 1e-7;
/// Passes over all nodes; a tour of 2000 settles after about ten, so this only bounds the time.
constexpr int most_passes = 60;
/// Nodes that all nearest-neighbour starts together may visit: one start for many stops, each stop for a few.
constexpr std::size_t start_budget = 600;

class Improver {
  public:
    explicit Improver(const std::vector<plan::Point>& nodes) : nodes_(nodes), position_(nodes.size()) {
        find_neighbours();
    }

    /// A tour that neither turning a piece nor moving one makes shorter.
    Tour improved(Tour tour) {
        tour_ = std::move(tour);
        note_positions(0, tour_.size());
        for (int pass = 0; pass < most_passes && improve_once(); ++pass) continue;
        return tour_;
    }

    double distance(std::size_t a, std::size_t b) const {
        const double dx = nodes_[a].x_mm - nodes_[b].x_mm;
        const double dy = nodes_[a].y_mm - nodes_[b].y_mm;
        return std::sqrt(dx * dx + dy * dy);
    }

    double length(const Tour& tour) const {
        double sum = distance(tour.back(), tour.front());
        for (std::size_t i = 1; i < tour.size(); ++i) sum += distance(tour[i - 1], tour[i]);
        return sum;
    }

  private:
    void find_neighbours() {
        const std::size_t count = std::min(neighbour_count, nodes_.size() - 1);
        std::vector<std::pair<double, std::size_t>> others;
        for (std::size_t node = 0; node < nodes_.size(); ++node) {
            others.clear();
            for (std::size_t other = 0; other < nodes_.size(); ++other) {
                if (other != node) others.emplace_back(distance(node, other), other);
            }
            const auto middle = others.begin() + static_cast<std::ptrdiff_t>(count);
            std::partial_sort(others.begin(), middle, others.end());
            std::vector<std::size_t> nearest;
            for (auto it = others.begin(); it != middle; ++it) nearest.push_back(it->second);
            neighbours_.push_back(std::move(nearest));
        }
    }

    void note_positions(std::size_t from, std::size_t to) {
        for (std::size_t i = from; i < to; ++i) position_[tour_[i]] = i;
    }

    std::size_t after(std::size_t node) const { return tour_[(position_[node] + 1) % tour_.size()]; }
    std::size_t before(std::size_t node) const {
        return tour_[(position_[node] + tour_.size() - 1) % tour_.size()];
    }

    bool improve_once() {
        bool is_better = false;
        for (std::size_t node = 0; node < nodes_.size(); ++node) {
            while (turn_after(node) || turn_before(node)) is_better = true;
            for (std::size_t size = 1; size <= longest_moved_piece; ++size)
                is_better |= move_a_piece(node, size);
        }
        return is_better;
    }

    /// What replacing edges a-b and c-d by a-c and b-d saves.
    double gain(std::size_t a, std::size_t b, std::size_t c, std::size_t d) const {
        return distance(a, b) + distance(c, d) - distance(a, c) - distance(b, d);
    }

    /// 2-opt with the edges after `node` and after a node near it.
    bool turn_after(std::size_t node) {
        const std::size_t next = after(node);
        for (const std::size_t near : neighbours_[node]) {
            if (distance(node, near) >= distance(node, next)) return false;
            if (gain(node, next, near, after(near)) <= least_gain_mm) continue;
            turn(node, near);
            return true;
        }
        return false;
    }

    /// 2-opt with the edges before `node` and before a node near it.
    bool turn_before(std::size_t node) {
        const std::size_t last = before(node);
        for (const std::size_t near : neighbours_[node]) {
            if (distance(node, near) >= distance(node, last)) return false;
            if (gain(node, last, near, before(near)) <= least_gain_mm) continue;
            turn(last, before(near));
            return true;
        }
        return false;
    }

    /// Turns round what lies between the edges after `a` and after `b`; node 0 stays where it is.
    void turn(std::size_t a, std::size_t b) {
        const auto [first, last] = std::minmax(position_[a], position_[b]);
        std::reverse(tour_.begin() + static_cast<std::ptrdiff_t>(first) + 1,
                     tour_.begin() + static_cast<std::ptrdiff_t>(last) + 1);
        note_positions(first + 1, last + 1);
    }

    /// Or-opt: the piece of `size` nodes that starts at `node` goes between a node near one of its ends and
    /// the next one.
    bool move_a_piece(std::size_t node, std::size_t size) {
        const std::size_t from = position_[node];
        if (from == 0 || from + size > tour_.size() || size + 2 > tour_.size()) return false;
        const std::size_t last = tour_[from + size - 1];
        const std::size_t previous = before(node);
        const std::size_t next = after(last);
        const double saved = distance(previous, node) + distance(last, next) - distance(previous, next);
        for (const std::size_t end : {node, last}) {
            for (const std::size_t near : neighbours_[end]) {
                const std::size_t at = position_[near];
                const bool is_inside = at >= from && at < from + size;
                if (is_inside || near == previous) continue;
                if (try_to_move(from, size, near, saved)) return true;
            }
        }
        return false;
    }

    bool try_to_move(std::size_t from, std::size_t size, std::size_t near, double saved) {
        const std::size_t first = tour_[from];
        const std::size_t last = tour_[from + size - 1];
        const std::size_t next = after(near);
        const double opened = distance(near, next);
        const double straight = distance(near, first) + distance(last, next) - opened;
        const double turned = distance(near, last) + distance(first, next) - opened;
        if (saved - std::min(straight, turned) <= least_gain_mm) return false;
        move(from, size, position_[near] + 1, turned < straight);
        return true;
    }

    /// Moves the piece so that it stands before what is at `goal` now.
    void move(std::size_t from, std::size_t size, std::size_t goal, bool is_turned) {
        const auto at = [this](std::size_t i) { return tour_.begin() + static_cast<std::ptrdiff_t>(i); };
        if (is_turned) std::reverse(at(from), at(from + size));
        if (goal > from) {
            std::rotate(at(from), at(from + size), at(goal));
            note_positions(from, goal);
        } else {
            std::rotate(at(goal), at(from), at(from + size));
            note_positions(goal, from + size);
        }
    }

    const std::vector<plan::Point>& nodes_;
    std::vector<std::vector<std::size_t>> neighbours_;
    Tour tour_;
    std::vector<std::size_t> position_;
};

/// From zero to `first`, then always to the nearest node not yet visited; equal distances go to the lower
/// number.
Tour nearest_neighbour_tour(const Improver& improver, std::size_t node_count, std::size_t first) {
    Tour tour{0, first};
    std::vector<bool> is_visited(node_count);
    is_visited[0] = is_visited[first] = true;
    while (tour.size() < node_count) {
        std::size_t best = 0;
        double least = std::numeric_limits<double>::infinity();
        for (std::size_t node = 1; node < node_count; ++node) {
            if (is_visited[node]) continue;
            const double distance = improver.distance(tour.back(), node);
            if (distance < least) {
                least = distance;
                best = node;
            }
        }
        is_visited[best] = true;
        tour.push_back(best);
    }
    return tour;
}

/// Stops to begin at, nearest to zero first.
std::vector<std::size_t> first_stops(const Improver& improver, std::size_t node_count) {
    std::vector<std::size_t> firsts(node_count - 1);
    std::iota(firsts.begin(), firsts.end(), std::size_t{1});
    std::stable_sort(firsts.begin(), firsts.end(), [&](std::size_t a, std::size_t b) {
        return improver.distance(0, a) < improver.distance(0, b);
    });
    firsts.resize(std::clamp<std::size_t>(start_budget / node_count, 1, firsts.size()));
    return firsts;
}

}  // namespace

double way_length_mm(std::span<const plan::Point> stops, std::span<const std::size_t> order) {
    double sum = 0.0;
    plan::Point last;
    for (const std::size_t stop : order) {
        sum += plan::distance_mm(last, stops[stop]);
        last = stops[stop];
    }
    return sum + plan::distance_mm(last, {});
}

std::vector<std::size_t> short_way_round(std::span<const plan::Point> stops) {
    std::vector<std::size_t> order(stops.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    if (stops.size() < 3) return order;  // There is one way round two holes.

    std::vector<plan::Point> nodes{{}};
    nodes.insert(nodes.end(), stops.begin(), stops.end());
    Improver improver(nodes);
    Tour given(nodes.size());
    std::iota(given.begin(), given.end(), std::size_t{0});
    Tour best = improver.improved(given);
    double least = improver.length(best);
    for (const std::size_t first : first_stops(improver, nodes.size())) {
        Tour tour = improver.improved(nearest_neighbour_tour(improver, nodes.size(), first));
        if (improver.length(tour) < least - least_gain_mm) {
            least = improver.length(tour);
            best = std::move(tour);
        }
    }
    std::transform(best.begin() + 1, best.end(), order.begin(), [](std::size_t node) { return node - 1; });
    return order;
}

}  // namespace fitup::sheets
