#include "calculations/survey_patches.hpp"

#include <algorithm>
#include <cmath>

#include "calculations/survey_loci.hpp"
#include "calculations/survey_unfold.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using plan::Point;

/// A triangle under this share of its longest side says too little of where its third corner is.
constexpr double least_height_share = 0.08;
/// A place is decided where the spans to it fit it this well, a share of the limit for each, and no other
/// place so well by far.
constexpr double fits_each = 1.5, decided_by = 12.0;
/// Places nearer than this share of the shortest span are one.
constexpr double one_place_share = 0.02;
/// Spans of a point that are crossed with one another, and how often a growing patch is settled.
constexpr std::size_t most_crossed = 6, settled_each = 6;
/// Points of a patch that each point gets a length to.
constexpr std::size_t most_stiffeners = 10;

struct Triangle {
    int a, b, c;
    double height_share;
};

double span_value(const SpanGraph& graph, int a, int b) {
    for (const SpanGraph::Link& link : graph.links[std::size_t(a)])
        if (link.to == b) return graph.spans[std::size_t(link.span)].value;
    return 0.0;
}

double height_share(double a, double b, double c) {
    const double half = (a + b + c) / 2.0, longest = std::max({a, b, c});
    const double square = half * (half - a) * (half - b) * (half - c);
    return square > 0.0 ? 2.0 * std::sqrt(square) / (longest * longest) : 0.0;
}

/// Triangles of spans, the widest first.
std::vector<Triangle> triangles_of(const SpanGraph& graph) {
    std::vector<Triangle> all;
    for (const Observation& span : graph.spans)
        for (const SpanGraph::Link& link : graph.links[std::size_t(span.a)]) {
            if (link.to <= span.a || link.to <= span.b) continue;
            const double third = span_value(graph, span.b, link.to);
            if (third <= 0.0) continue;
            const double wide = height_share(span.value, graph.spans[std::size_t(link.span)].value, third);
            if (wide > least_height_share) all.push_back({span.a, span.b, link.to, wide});
        }
    std::ranges::stable_sort(all,
                             [](const auto& s, const auto& t) { return s.height_share > t.height_share; });
    return all;
}

class Growing {
  public:
    Growing(const SpanGraph& graph, const Triangle& seed) : graph_(graph), places_(graph.links.size()) {
        const double ab = span_value(graph, seed.a, seed.b), ac = span_value(graph, seed.a, seed.c),
                     bc = span_value(graph, seed.b, seed.c);
        const double along = (ab * ab + ac * ac - bc * bc) / (2.0 * ab);
        put(seed.a, {});
        put(seed.b, {ab, 0.0});
        put(seed.c, {along, std::sqrt(std::max(ac * ac - along * along, 0.0))});
    }

    Patch run() {
        std::size_t settled = 0;
        while (!open_.empty()) {
            const int point = next();
            if (point < 0) break;
            if (order_.size() >= settled + settled_each) settle_patch(), settled = order_.size();
        }
        if (order_.size() > 3) settle_patch();
        Patch patch{order_, {}};
        for (const int point : order_) patch.at_mm.push_back(*places_[std::size_t(point)]);
        return patch;
    }

  private:
    void put(int point, Point at) {
        places_[std::size_t(point)] = at;
        order_.push_back(point);
        std::erase(open_, point);
        for (const SpanGraph::Link& link : graph_.links[std::size_t(point)])
            if (!places_[std::size_t(link.to)] && std::ranges::find(open_, link.to) == open_.end())
                open_.push_back(link.to);
    }

    std::vector<const Observation*> to_known(int point) const {
        std::vector<const Observation*> all;
        for (const SpanGraph::Link& link : graph_.links[std::size_t(point)])
            if (places_[std::size_t(link.to)]) all.push_back(&graph_.spans[std::size_t(link.span)]);
        return all;
    }

    /// Puts the point that is decided best.
    /// @returns it; -1 where none is
    int next() {
        int best = -1;
        Decision most;
        for (const int point : open_) {
            const Decision decision = decided(point);
            if (decision.by > most.by) best = point, most = decision;
        }
        if (best >= 0) put(best, most.at);
        return best;
    }

    struct Decision {
        Point at;
        double by = 0.0;  ///< how much worse the next place is
    };

    Decision decided(int point) const {
        const auto spans = to_known(point);
        if (spans.size() < 3) return {};
        std::vector<std::pair<double, Point>> places;
        double shortest = 1e300;
        for (std::size_t i = 0; i < std::min(spans.size(), most_crossed); ++i) {
            shortest = std::min(shortest, spans[i]->value);
            for (std::size_t j = i + 1; j < std::min(spans.size(), most_crossed); ++j)
                for (const Point at :
                     meetings(*locus_of(*spans[i], point, places_), *locus_of(*spans[j], point, places_)))
                    places.emplace_back(against(spans, point, at), at);
        }
        if (places.empty()) return {};
        std::ranges::stable_sort(places, {}, [](const auto& each) { return each.first; });
        const auto& [least, at] = places.front();
        if (least > fits_each * double(spans.size())) return {};
        double other = 25.0 * double(spans.size());
        for (const auto& [score, there] : places)
            if (plan::distance_mm(there, at) > one_place_share * shortest) other = std::min(other, score);
        return other - least > decided_by ? Decision{at, (other - least) * double(spans.size())} : Decision{};
    }

    double against(const std::vector<const Observation*>& spans, int point, Point at) const {
        double sum = 0.0;
        for (const Observation* span : spans) {
            const int other = span->a == point ? span->b : span->a;
            const double miss = span->value - plan::distance_mm(at, *places_[std::size_t(other)]);
            const double share = miss / span_slack_mm(*span);
            sum += std::min(share * share, 25.0);
        }
        return sum;
    }

    void settle_patch() {
        std::vector<int> index(places_.size(), -1);
        std::vector<Point> at;
        for (const int point : order_)
            index[std::size_t(point)] = int(at.size()), at.push_back(*places_[std::size_t(point)]);
        Network part{at.size(), {}};
        for (Observation span : graph_.spans) {
            span.a = index[std::size_t(span.a)], span.b = index[std::size_t(span.b)];
            if (span.a >= 0 && span.b >= 0) part.seen.push_back(span);
        }
        at = briefly_settled(span_graph(part), std::move(at));
        for (const int point : order_)
            places_[std::size_t(point)] = at[std::size_t(index[std::size_t(point)])];
    }

    const SpanGraph& graph_;
    Places places_;
    std::vector<int> order_, open_;
};

}  // namespace

std::vector<Patch> patches_of(const SpanGraph& graph) {
    std::vector<Patch> patches;
    std::vector<std::vector<char>> in;
    for (const Triangle& seed : triangles_of(graph)) {
        const bool known = std::ranges::any_of(in, [&](const auto& is_in) {
            return is_in[std::size_t(seed.a)] != 0 && is_in[std::size_t(seed.b)] != 0 &&
                   is_in[std::size_t(seed.c)] != 0;
        });
        if (known) continue;
        Patch patch = Growing(graph, seed).run();
        std::vector<char> is_in(graph.links.size(), 0);
        for (const int point : patch.points) is_in[std::size_t(point)] = 1;
        in.push_back(std::move(is_in));
        patches.push_back(std::move(patch));
        if (patches.back().points.size() == graph.links.size()) break;
    }
    std::ranges::stable_sort(
        patches, [](const Patch& a, const Patch& b) { return a.points.size() > b.points.size(); });
    return patches;
}

SpanGraph stiffened(const SpanGraph& graph, const std::vector<Patch>& patches) {
    SpanGraph result = graph;
    for (const Patch& patch : patches) {
        const std::size_t count = patch.points.size();
        if (count < 4) continue;
        const std::size_t step = std::max<std::size_t>(1, count / most_stiffeners);
        for (std::size_t i = 0; i < count; ++i)
            for (std::size_t j = i + 1; j < count; j += step) {
                const int a = patch.points[i], b = patch.points[j];
                if (span_value(graph, a, b) > 0.0) continue;
                const double length = plan::distance_mm(patch.at_mm[i], patch.at_mm[j]);
                const int span = int(result.spans.size());
                result.spans.push_back({Quantity::span, a, b, -1, length, 1.0, -1});
                result.links[std::size_t(a)].push_back({b, span});
                result.links[std::size_t(b)].push_back({a, span});
            }
    }
    return result;
}

}  // namespace fitup::calculations
