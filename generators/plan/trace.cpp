#include "plan/trace.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "plan/vector.hpp"

namespace fitup::plan {

namespace {

/// Ends nearer than this are one vertex: five times finer than the 1e-6 mm that positions are held to, and
/// far coarser than the error with which two curves' crossing is computed twice.
constexpr double join_mm = 2e-7;

/// Whether two strokes lie on one line, or one circle.
bool are_on_one_curve(const Stroke& first, const Stroke& second) {
    if (first.is_line() != second.is_line()) return false;
    if (!first.is_line())
        return distance_mm(first.centre, second.centre) < same_point_mm &&
               std::abs(first.radius_mm - second.radius_mm) < same_point_mm;
    const Point along = unit(first.to - first.from);
    return std::abs(cross(along, second.from - first.from)) < same_point_mm &&
           std::abs(cross(along, second.to - first.from)) < same_point_mm;
}

/// Of a stretch that two strokes share, its ends: `first` is cut there.
void add_shared_ends(const Stroke& first, const Stroke& second, std::vector<double>& shares) {
    for (const Point& end : {second.from, second.to}) {
        if (distance_mm(nearest_point(first, end), end) < same_point_mm)
            shares.push_back(share_of(first, end));
    }
}

std::vector<std::vector<double>> cut_shares(const std::vector<Stroke>& raw, SharedStretches shared) {
    std::vector<std::vector<double>> shares(raw.size(), {0.0, 1.0});
    std::vector<Box2> boxes;
    std::vector<std::size_t> order(raw.size());
    for (std::size_t i = 0; i < raw.size(); ++i) {
        boxes.push_back(box(raw[i]));
        order[i] = i;
    }
    std::sort(order.begin(), order.end(),
              [&](std::size_t a, std::size_t b) { return boxes[a].least.x_mm < boxes[b].least.x_mm; });
    for (std::size_t a = 0; a < order.size(); ++a) {
        const std::size_t i = order[a];
        for (std::size_t b = a + 1;
             b < order.size() && boxes[order[b]].least.x_mm <= boxes[i].most.x_mm + same_point_mm; ++b) {
            const std::size_t j = order[b];
            if (distance_mm(boxes[i], boxes[j]) > same_point_mm) continue;
            for (const Point& at : crossings(raw[i], raw[j])) {
                shares[i].push_back(share_of(raw[i], at));
                shares[j].push_back(share_of(raw[j], at));
            }
            if (shared == SharedStretches::none || !are_on_one_curve(raw[i], raw[j])) continue;
            add_shared_ends(raw[i], raw[j], shares[i]);
            add_shared_ends(raw[j], raw[i], shares[j]);
        }
    }
    return shares;
}

std::vector<Stroke> kept_pieces(const std::vector<Stroke>& raw, const std::function<bool(Point)>& on_boundary,
                                SharedStretches shared) {
    std::vector<Stroke> kept;
    auto shares = cut_shares(raw, shared);
    for (std::size_t i = 0; i < raw.size(); ++i) {
        std::sort(shares[i].begin(), shares[i].end());
        const double whole_mm = length_mm(raw[i]);
        double start = 0.0;
        for (const double end : shares[i]) {
            if ((end - start) * whole_mm < join_mm) continue;
            if (on_boundary(point_at(raw[i], 0.5 * (start + end))))
                kept.push_back(part_of(raw[i], start, end));
            start = end;
        }
    }
    return kept;
}

/// Of pieces that lie on one another: one where they run the same way; none where they run against each
/// other, since the region is on both sides then.
void drop_doubled(std::vector<Stroke>& kept) {
    const auto is_near = [](Point a, Point b) { return distance_mm(a, b) <= join_mm; };
    std::vector<std::pair<Point, std::size_t>> middles;
    for (std::size_t i = 0; i < kept.size(); ++i) middles.emplace_back(point_at(kept[i], 0.5), i);
    std::sort(middles.begin(), middles.end(),
              [](const auto& a, const auto& b) { return a.first.x_mm < b.first.x_mm; });
    std::vector<bool> is_dropped(kept.size(), false);
    for (std::size_t a = 0; a < middles.size(); ++a) {
        const std::size_t i = middles[a].second;
        for (std::size_t b = a + 1; b < middles.size(); ++b) {
            if (middles[b].first.x_mm - middles[a].first.x_mm > join_mm) break;
            const std::size_t j = middles[b].second;
            if (is_dropped[i] || is_dropped[j] || !is_near(middles[a].first, middles[b].first)) continue;
            const bool is_same = is_near(kept[i].from, kept[j].from) && is_near(kept[i].to, kept[j].to);
            const bool is_against = is_near(kept[i].from, kept[j].to) && is_near(kept[i].to, kept[j].from);
            if (is_same || is_against) is_dropped[j] = true;
            if (is_against && !is_same) is_dropped[i] = true;
        }
    }
    std::vector<Stroke> single;
    for (std::size_t i = 0; i < kept.size(); ++i) {
        if (!is_dropped[i]) single.push_back(kept[i]);
    }
    kept = std::move(single);
}

/// Finds strokes by the place they start at.
class Starts {
  public:
    explicit Starts(const std::vector<Stroke>& strokes) : strokes_(strokes), used_(strokes.size(), false) {
        for (std::size_t i = 0; i < strokes.size(); ++i) cells_.emplace(cell(strokes[i].from), i);
    }

    bool used(std::size_t i) const { return used_[i]; }
    void use(std::size_t i) { used_[i] = true; }

    std::optional<std::size_t> free_at(Point point) const {
        std::optional<std::size_t> best;
        double nearest_mm = join_mm;
        const auto [x, y] = cell(point);
        for (long dx = -1; dx <= 1; ++dx) {
            for (long dy = -1; dy <= 1; ++dy) {
                const auto range = cells_.equal_range({x + dx, y + dy});
                for (auto it = range.first; it != range.second; ++it) {
                    const double away_mm = distance_mm(strokes_[it->second].from, point);
                    if (used_[it->second] || away_mm > nearest_mm) continue;
                    nearest_mm = away_mm;
                    best = it->second;
                }
            }
        }
        return best;
    }

  private:
    static std::pair<long, long> cell(Point point) {
        return {std::lround(point.x_mm / join_mm / 2.0), std::lround(point.y_mm / join_mm / 2.0)};
    }
    const std::vector<Stroke>& strokes_;
    std::vector<bool> used_;
    std::multimap<std::pair<long, long>, std::size_t> cells_;
};

bool continues(const Stroke& first, const Stroke& second) {
    if (first.is_line() != second.is_line()) return false;
    if (first.is_line()) {
        const Point a = first.to - first.from;
        const Point b = second.to - second.from;
        return std::abs(cross(a, b)) <= 1e-9 * length(a) * length(b) && dot(a, b) > 0.0;
    }
    return first.sweep_rad * second.sweep_rad > 0.0 &&
           distance_mm(first.centre, second.centre) < same_point_mm &&
           std::abs(first.radius_mm - second.radius_mm) < same_point_mm;
}

void join_neighbours(std::vector<Stroke>& loop) {
    std::vector<Stroke> joined_loop;
    const auto append = [&joined_loop](const Stroke& stroke) {
        if (!joined_loop.empty() && continues(joined_loop.back(), stroke)) {
            joined_loop.back().to = stroke.to;
            joined_loop.back().sweep_rad += stroke.sweep_rad;
        } else {
            joined_loop.push_back(stroke);
        }
    };
    for (const Stroke& stroke : loop) append(stroke);
    if (joined_loop.size() > 1 && continues(joined_loop.back(), joined_loop.front())) {
        joined_loop.front().from = joined_loop.back().from;
        joined_loop.front().sweep_rad += joined_loop.back().sweep_rad;
        joined_loop.pop_back();
    }
    loop = std::move(joined_loop);
}

}  // namespace

std::optional<std::vector<std::vector<Stroke>>> trace(const std::vector<Stroke>& raw,
                                                      const std::function<bool(Point)>& on_boundary,
                                                      SharedStretches shared) {
    std::vector<Stroke> kept = kept_pieces(raw, on_boundary, shared);
    if (shared == SharedStretches::joined) drop_doubled(kept);
    Starts starts(kept);
    std::vector<std::vector<Stroke>> loops;
    for (std::size_t first = 0; first < kept.size(); ++first) {
        if (starts.used(first)) continue;
        std::vector<Stroke> loop{kept[first]};
        starts.use(first);
        while (distance_mm(loop.back().to, loop.front().from) > join_mm) {
            const auto next = starts.free_at(loop.back().to);
            if (!next) return {};
            starts.use(*next);
            loop.push_back(kept[*next]);
        }
        loops.push_back(std::move(loop));
    }
    return loops;
}

double signed_area_mm2(const std::vector<Stroke>& loop) {
    double twice_mm2 = 0.0;
    for (const Stroke& stroke : loop) twice_mm2 += twice_swept_area_mm2(stroke, loop.front().from);
    return twice_mm2 / 2.0;
}

Contour contour_of(std::vector<Stroke> loop) {
    join_neighbours(loop);
    if (signed_area_mm2(loop) < 0.0) {
        std::reverse(loop.begin(), loop.end());
        for (Stroke& stroke : loop) stroke = reversed(stroke);
    }
    if (loop.size() == 1) return Contour(Circle{loop.front().centre, loop.front().radius_mm});
    std::vector<Edge> edges;
    for (const Stroke& stroke : loop) {
        const Turn turn = stroke.sweep_rad > 0.0 ? Turn::anticlockwise : Turn::clockwise;
        edges.push_back({stroke.from, stroke.is_line() ? std::optional<Arc>() : Arc{stroke.centre, turn}});
    }
    return Contour(std::move(edges));
}

std::vector<Area> areas_of(const std::vector<std::vector<Stroke>>& loops) {
    std::vector<Area> areas;
    std::vector<Contour> islands;
    for (const auto& loop : loops) {
        if (signed_area_mm2(loop) > 0.0)
            areas.push_back({contour_of(loop), {}});
        else
            islands.push_back(contour_of(loop));
    }
    // Each island belongs to the least area around it.
    std::sort(areas.begin(), areas.end(),
              [](const Area& a, const Area& b) { return a.outer.area_mm2() < b.outer.area_mm2(); });
    for (Contour& island : islands) {
        const Point inside = strokes_of(island).front().from;
        for (Area& area : areas) {
            if (!area.outer.contains(inside)) continue;
            area.islands.push_back(std::move(island));
            break;
        }
    }
    return areas;
}

}  // namespace fitup::plan
