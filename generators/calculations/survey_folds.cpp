#include "calculations/survey_folds.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "calculations/survey_loci.hpp"
#include "calculations/survey_unfold.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using plan::Point;

/// A span that misses by more of its slack than this (squared) is bad.
constexpr double bad_from = 1.0;
constexpr int steps_around = 2;
constexpr std::size_t most_crossed = 8, most_rounds = 80, most_around = 90;
/// A move has to mend at least this much.
constexpr double least_gain = 1.0;

Point mirrored(Point p, Point through, Point along) {
    const Point off = p - through;
    return through + along * (2.0 * plan::dot(off, along)) - off;
}

/// Points put elsewhere, and how much better the spans fit by that.
struct Move {
    std::vector<std::pair<int, Point>> to;
    double gain = 0.0;
};

class Mending {
  public:
    Mending(const SpanGraph& graph, std::vector<Point> at) : graph_(graph), at_(std::move(at)) {}

    std::vector<Point> run() {
        double score = spans_against(graph_, at_);
        std::set<std::vector<int>> failed;
        for (std::size_t round = 0; round < most_rounds; ++round) {
            std::vector<Move> moves = moves_from_here();
            std::ranges::stable_sort(moves, [](const Move& a, const Move& b) { return a.gain > b.gain; });
            bool moved = false;
            std::size_t tried = 0;
            for (const Move& move : moves) {
                if (tried++ == 6) break;
                std::vector<Point> next = at_;
                for (const auto& [point, place] : move.to) next[std::size_t(point)] = place;
                next = robustly_settled_near(graph_, std::move(next));
                const double there = spans_against(graph_, next);
                if (there > score - least_gain) continue;
                at_ = std::move(next), score = there, moved = true;
                break;
            }
            if (!moved) break;
        }
        return at_;
    }

  private:
    std::vector<Move> moves_from_here() const {
        std::vector<char> is_bad(graph_.spans.size(), 0);
        std::vector<int> ends;
        for (std::size_t i = 0; i < graph_.spans.size(); ++i) {
            if (span_against(graph_.spans[i], at_) <= bad_from) continue;
            is_bad[i] = 1;
            ends.push_back(graph_.spans[i].a);
            ends.push_back(graph_.spans[i].b);
        }
        std::vector<Move> moves;
        if (ends.empty()) return moves;
        for (const int point : points_around(graph_, ends, 0)) add_best_place(point, moves);
        std::vector<int> around = points_around(graph_, ends, steps_around);
        if (around.size() > most_around) around.resize(most_around);
        for (std::size_t i = 0; i < around.size(); ++i)
            for (std::size_t j = i + 1; j < around.size(); ++j)
                add_turned(around[i], around[j], is_bad, moves);
        return moves;
    }

    /// The point at the best other meeting of two of its spans.
    void add_best_place(int point, std::vector<Move>& moves) const {
        const auto& links = graph_.links[std::size_t(point)];
        Places places(at_.begin(), at_.end());
        std::vector<Locus> loci;
        for (const SpanGraph::Link& link : links)
            loci.push_back(*locus_of(graph_.spans[std::size_t(link.span)], point, places));
        const double here = against_at(point, at_[std::size_t(point)]);
        Move best;
        const std::size_t count = std::min(loci.size(), most_crossed);
        for (std::size_t i = 0; i < count; ++i)
            for (std::size_t j = i + 1; j < count; ++j)
                for (const Point at : meetings(loci[i], loci[j])) {
                    const double gain = here - against_at(point, at);
                    if (gain > best.gain) best = {{{point, at}}, gain};
                }
        if (best.gain > least_gain) moves.push_back(std::move(best));
    }

    double against_at(int point, Point at) const {
        double sum = 0.0;
        for (const SpanGraph::Link& link : graph_.links[std::size_t(point)]) {
            const Observation& span = graph_.spans[std::size_t(link.span)];
            sum += miss_against(span, plan::distance_mm(at, at_[std::size_t(link.to)]));
        }
        return sum;
    }

    /// Pieces that only two points and bad spans join to the rest, turned over the line through the two.
    void add_turned(int a, int b, const std::vector<char>& is_bad, std::vector<Move>& moves) const {
        std::vector<char> hinge(at_.size(), 0);
        hinge[std::size_t(a)] = hinge[std::size_t(b)] = 1;
        const std::vector<int> piece = pieces_of(graph_, hinge, is_bad);
        const int count = 1 + *std::ranges::max_element(piece);
        if (count < 2) return;
        const Point from = at_[std::size_t(a)], between = at_[std::size_t(b)] - from;
        if (plan::length(between) < 1e-6) return;
        const Point along = plan::unit(between);
        std::vector<double> gain(std::size_t(count), 0.0);
        for (std::size_t i = 0; i < graph_.spans.size(); ++i) {
            const Observation& span = graph_.spans[i];
            const int first = piece[std::size_t(span.a)], last = piece[std::size_t(span.b)];
            if (is_bad[i] == 0 || first == last || first < 0 || last < 0) continue;
            const double now = span_against(span, at_);
            const double turned = miss_against(
                span,
                plan::distance_mm(mirrored(at_[std::size_t(span.a)], from, along), at_[std::size_t(span.b)]));
            gain[std::size_t(first)] += now - turned;
            gain[std::size_t(last)] += now - turned;
        }
        std::vector<std::size_t> sizes(std::size_t(count), 0);
        for (const int p : piece)
            if (p >= 0) ++sizes[std::size_t(p)];
        for (int k = 0; k < count; ++k) {
            // Turning a piece over or all the others is the same.
            if (gain[std::size_t(k)] <= least_gain || 2 * sizes[std::size_t(k)] > at_.size()) continue;
            Move move{{}, gain[std::size_t(k)]};
            for (std::size_t p = 0; p < piece.size(); ++p)
                if (piece[p] == k) move.to.emplace_back(int(p), mirrored(at_[p], from, along));
            moves.push_back(std::move(move));
        }
    }

    const SpanGraph& graph_;
    std::vector<Point> at_;
};

}  // namespace

std::vector<Point> folds_mended(const SpanGraph& graph, std::vector<Point> at) {
    return Mending(graph, std::move(at)).run();
}

}  // namespace fitup::calculations
