// Arrangements one fold away from one that fits.
#include <algorithm>
#include <cmath>
#include <random>
#include <set>

#include "calculations/survey_folds.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using plan::Point;

/// Shares of a usual span: points this near to a line stay where they are when a piece is turned over it.
constexpr double near_shares[] = {0.002, 0.05};
/// A fold whose spans miss by more than this many standard deviations (root of the sum of squares) settles
/// nowhere near what fits.
constexpr double most_missed = 150.0;
/// Points that move by less, in standard deviations of a span, are where they were.
constexpr double least_moved = 4.0;

struct Fold {
    std::vector<int> points;
    Point through, along;
    double missed = 0.0;  ///< sum of squares of misfits over sigma
};

Point over(const Fold& fold, Point p) {
    const Point off = p - fold.through;
    return fold.through + fold.along * (2.0 * plan::dot(off, fold.along)) - off;
}

class Folding {
  public:
    Folding(const SpanGraph& graph, const std::vector<Point>& at) : graph_(graph), at_(at) {
        std::mt19937_64 engine(1);
        for (std::size_t i = 0; i < at.size(); ++i) marks_.push_back(engine());
        std::vector<double> lengths, sigmas;
        for (const Observation& span : graph.spans)
            lengths.push_back(span.value), sigmas.push_back(span.sigma);
        std::ranges::sort(lengths);
        std::ranges::sort(sigmas);
        usual_mm_ = lengths[lengths.size() / 2];
        sigma_mm_ = sigmas[sigmas.size() / 2];
    }

    std::vector<std::vector<Point>> run(std::size_t most) {
        for (int p = 0; p < int(at_.size()); ++p) turn_point(p);
        for (int a = 0; a < int(at_.size()); ++a)
            for (int b = a + 1; b < int(at_.size()); ++b)
                for (const double share : near_shares) turn_pieces(a, b, share * usual_mm_);
        std::ranges::stable_sort(folds_, {}, &Fold::missed);
        std::vector<std::vector<Point>> all;
        for (const Fold& fold : folds_) {
            if (all.size() == most) break;
            all.push_back(at_);
            for (const int point : fold.points)
                all.back()[std::size_t(point)] = over(fold, at_[std::size_t(point)]);
        }
        return all;
    }

  private:
    bool set_line(Fold& fold, int a, int b) const {
        fold.through = at_[std::size_t(a)];
        const Point between = at_[std::size_t(b)] - fold.through;
        if (plan::length(between) < 1e-6) return false;
        fold.along = plan::unit(between);
        return true;
    }

    double off_line(const Fold& fold, int point) const {
        return std::abs(plan::cross(fold.along, at_[std::size_t(point)] - fold.through));
    }

    void turn_point(int point) {
        const auto& links = graph_.links[std::size_t(point)];
        for (std::size_t i = 0; i < links.size(); ++i)
            for (std::size_t j = i + 1; j < links.size(); ++j) {
                Fold fold{{point}, {}, {}, 0.0};
                if (set_line(fold, links[i].to, links[j].to)) keep(std::move(fold));
            }
    }

    void turn_pieces(int a, int b, double near_mm) {
        Fold line;
        if (!set_line(line, a, b)) return;
        std::vector<char> hinge(at_.size(), 0);
        for (int p = 0; p < int(at_.size()); ++p) hinge[std::size_t(p)] = off_line(line, p) < near_mm ? 1 : 0;
        hinge[std::size_t(a)] = hinge[std::size_t(b)] = 1;
        const std::vector<int> piece = pieces_of(graph_, hinge, {});
        const int count = 1 + *std::ranges::max_element(piece);
        if (count < 2) return;
        std::vector<std::vector<int>> members(static_cast<std::size_t>(count));
        for (std::size_t p = 0; p < piece.size(); ++p)
            if (piece[p] >= 0) members[std::size_t(piece[p])].push_back(int(p));
        // The largest piece stays: turning all the others is the same.
        std::ranges::sort(members, {}, [](const auto& each) { return each.size(); });
        members.pop_back();
        for (std::vector<int>& points : members) {
            line.points = std::move(points);
            keep(line);
        }
    }

    void keep(Fold fold) {
        std::uint64_t mark = 0;
        double moved = 0.0;
        for (const int point : fold.points) {
            mark ^= marks_[std::size_t(point)];
            moved = std::max(moved, 2.0 * off_line(fold, point));
        }
        if (moved < least_moved * sigma_mm_) return;
        fold.missed = missed(fold);
        if (fold.missed > most_missed * most_missed) return;
        // Of folds of the same points the one that fits best.
        const auto same = std::ranges::find(of_points_, mark);
        if (same == of_points_.end()) {
            of_points_.push_back(mark);
            folds_.push_back(std::move(fold));
        } else if (Fold& known = folds_[std::size_t(same - of_points_.begin())]; fold.missed < known.missed) {
            known = std::move(fold);
        }
    }

    double missed(const Fold& fold) const {
        std::vector<char> turned(at_.size(), 0);
        for (const int point : fold.points) turned[std::size_t(point)] = 1;
        double sum = 0.0;
        for (const int point : fold.points) {
            const Point there = over(fold, at_[std::size_t(point)]);
            for (const SpanGraph::Link& link : graph_.links[std::size_t(point)]) {
                if (turned[std::size_t(link.to)] != 0) continue;
                const Observation& span = graph_.spans[std::size_t(link.span)];
                const double miss =
                    (span.value - plan::distance_mm(there, at_[std::size_t(link.to)])) / span.sigma;
                sum += miss * miss;
            }
        }
        return sum;
    }

    const SpanGraph& graph_;
    const std::vector<Point>& at_;
    double usual_mm_ = 0.0, sigma_mm_ = 0.0;
    std::vector<std::uint64_t> marks_, of_points_;
    std::vector<Fold> folds_;
};

}  // namespace

std::vector<std::vector<Point>> folds_of(const SpanGraph& graph, const std::vector<Point>& at,
                                         std::size_t most) {
    if (graph.spans.empty()) return {};
    return Folding(graph, at).run(most);
}

}  // namespace fitup::calculations
