#include "calculations/survey_evidence.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "calculations/survey_graph.hpp"
#include "calculations/survey_words.hpp"

namespace fitup::calculations {

namespace {

/// A span that is L long and known to s leaves about L / s places to a point on its way round; so many bits
/// of that are lost to the errors of what lies between. Found by trying all foldings of zigzag rings
/// (`Nets.many_foldings_of_a_zigzag_ring_fit`).
constexpr double lost_bits = 4.5;
/// Of the arrangements that may be told, one in 2^this has another that fits as well.
constexpr double margin_bits = 3.0, margin_bits_blaming = 1.0;
/// With so many bits to a choice pieces need not be turned over to see whether they fit as well.
constexpr double plain_bits = 3.0;
/// So many choices are all looked at in any case, and so many with patience.
constexpr int few_folds = 4, many_folds = 9;

/// Points that lie fast to one another once three spans hold each: nothing within can fold.
struct Body {
    std::vector<char> is_in;
    int points = 0;
    int checks = 0;  ///< spans within to spare
};

class Counting {
  public:
    explicit Counting(const SpanGraph& graph) : graph_(graph), count_(graph.links.size()) {}

    Evidence run() {
        Evidence evidence{0, 0, int(graph_.spans.size()) - 2 * int(count_) + 3, 0.0};
        find_bodies();
        for (const Body& body : bodies_) evidence.checks -= body.checks;
        join(evidence);
        return evidence;
    }

  private:
    int spans_to_known(int point) const {
        int count = 0;
        for (const SpanGraph::Link& link : graph_.links[std::size_t(point)])
            count += known_[std::size_t(link.to)];
        return count;
    }

    /// Adds points that three spans or more lead to, as long as there are any.
    void grow(std::vector<char>& set, std::vector<int> fresh) const {
        std::vector<int> leading(count_, 0);
        while (!fresh.empty()) {
            const int point = fresh.back();
            fresh.pop_back();
            for (const SpanGraph::Link& link : graph_.links[std::size_t(point)]) {
                const auto to = std::size_t(link.to);
                if (set[to] == 0 && ++leading[to] == 3) set[to] = 1, fresh.push_back(link.to);
            }
        }
    }

    bool in_a_body(int a, int b) const {
        return std::ranges::any_of(bodies_, [&](const Body& body) {
            return body.is_in[std::size_t(a)] != 0 && body.is_in[std::size_t(b)] != 0;
        });
    }

    /// The third corners of triangles over a span that lie in no body yet.
    void find_bodies() {
        for (const Observation& span : graph_.spans) {
            if (in_a_body(span.a, span.b)) continue;
            for (const SpanGraph::Link& link : graph_.links[std::size_t(span.a)]) {
                const auto& others = graph_.links[std::size_t(link.to)];
                if (std::ranges::find(others, span.b, &SpanGraph::Link::to) == others.end()) continue;
                Body body{std::vector<char>(count_, 0), 0, 0};
                for (const int corner : {span.a, span.b, link.to}) body.is_in[std::size_t(corner)] = 1;
                grow(body.is_in, {span.a, span.b, link.to});
                take(std::move(body));
                break;
            }
        }
        std::ranges::stable_sort(bodies_, [](const Body& a, const Body& b) { return a.points > b.points; });
    }

    /// Bodies with three points in common are one.
    void take(Body body) {
        for (std::size_t i = 0; i < bodies_.size(); ++i) {
            int common = 0;
            for (std::size_t p = 0; p < count_; ++p) common += body.is_in[p] & bodies_[i].is_in[p];
            if (common < 3) continue;
            std::vector<int> all;
            for (std::size_t p = 0; p < count_; ++p)
                if ((body.is_in[p] |= bodies_[i].is_in[p]) != 0) all.push_back(int(p));
            grow(body.is_in, std::move(all));
            bodies_.erase(bodies_.begin() + std::ptrdiff_t(i));
            return take(std::move(body));
        }
        body.points = int(std::ranges::count(body.is_in, char(1)));
        body.checks = 3 - 2 * body.points;
        for (const Observation& span : graph_.spans)
            body.checks += body.is_in[std::size_t(span.a)] & body.is_in[std::size_t(span.b)];
        bodies_.push_back(std::move(body));
    }

    /// Puts the bodies and what is left together, from the largest on; each piece added may lie on either
    /// side.
    void join(Evidence& evidence) {
        known_.assign(count_, 0);
        if (bodies_.empty())
            known_[0] = 1;
        else
            known_ = bodies_.front().is_in;
        std::size_t left = count_ - std::size_t(std::ranges::count(known_, char(1)));
        while (left > 0) {
            left -= add_body(evidence);
            if (left > 0 && !added_) left -= add_point(evidence);
            ++evidence.folds;
        }
        // A first span has no side.
        if (bodies_.empty()) evidence.folds = std::max(0, evidence.folds - 2);
    }

    /// The first body that hangs on two known points. @returns how many points came in
    std::size_t add_body(Evidence& evidence) {
        added_ = false;
        for (const Body& body : bodies_) {
            std::vector<std::size_t> common, fresh;
            for (std::size_t p = 0; p < count_; ++p)
                if (body.is_in[p] != 0) (known_[p] != 0 ? common : fresh).push_back(p);
            if (fresh.empty() || common.size() < 2) continue;
            // What it hangs on is then as far apart on both sides: a check that no fold fails.
            if (common.size() == 2 && !has_span(common[0], common[1])) --evidence.checks;
            if (common.size() == 2 && parts_at(int(common[0]), int(common[1]))) ++evidence.flaps;
            for (const std::size_t p : fresh) known_[p] = 1;
            added_ = true;
            return fresh.size();
        }
        return 0;
    }

    bool has_span(std::size_t a, std::size_t b) const {
        return std::ranges::find(graph_.links[a], int(b), &SpanGraph::Link::to) != graph_.links[a].end();
    }

    /// The point with most spans to known ones.
    std::size_t add_point(Evidence& evidence) {
        int best = -1, most = -1;
        for (int p = 0; p < int(count_); ++p) {
            if (known_[std::size_t(p)] != 0) continue;
            const int spans = spans_to_known(p);
            if (spans > most) best = p, most = spans;
        }
        std::vector<int> hinge;
        for (const SpanGraph::Link& link : graph_.links[std::size_t(best)])
            if (known_[std::size_t(link.to)] != 0) hinge.push_back(link.to);
        if (hinge.size() == 2 && parts_at(hinge[0], hinge[1])) ++evidence.flaps;
        known_[std::size_t(best)] = 1;
        return 1;
    }

    /// Whether the net falls apart without the two.
    bool parts_at(int a, int b) const {
        std::vector<char> hinge(count_, 0);
        hinge[std::size_t(a)] = hinge[std::size_t(b)] = 1;
        const std::vector<int> piece = pieces_of(graph_, hinge, {});
        return *std::ranges::max_element(piece) > 0;
    }

    const SpanGraph& graph_;
    std::size_t count_;
    std::vector<Body> bodies_;
    std::vector<char> known_;
    bool added_ = false;
};

/// Points far from one another along spans, the first two the farthest.
std::vector<int> far_apart(const SpanGraph& graph, std::size_t wanted) {
    std::vector<int> all;
    std::vector<double> nearest = ways_from(graph, 0);
    while (all.size() < std::min(wanted, graph.links.size())) {
        const auto farthest = std::ranges::max_element(nearest) - nearest.begin();
        const std::vector<double> ways = ways_from(graph, std::size_t(farthest));
        for (std::size_t i = 0; i < nearest.size(); ++i)
            nearest[i] = all.empty() ? ways[i] : std::min(nearest[i], ways[i]);
        all.push_back(int(farthest));
    }
    return all;
}

double middle(std::vector<double> values) {
    const auto at = values.begin() + std::ptrdiff_t(values.size() / 2);
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

}  // namespace

Evidence evidence_of(const Network& network) {
    const SpanGraph graph = span_graph(network);
    if (graph.spans.empty()) return {};
    Evidence evidence = Counting(graph).run();
    std::vector<double> lengths, sigmas;
    for (const Observation& span : graph.spans) lengths.push_back(span.value), sigmas.push_back(span.sigma);
    evidence.bits = std::max(0.0, std::log2(middle(lengths) / middle(sigmas)) - lost_bits);
    return evidence;
}

bool tells_one(const Evidence& evidence, std::size_t left_out, std::size_t readings) {
    if (evidence.folds <= (left_out == 1 ? few_folds : 0)) return true;
    const double choices =
        evidence.folds + double(left_out) * std::log2(double(std::max<std::size_t>(readings, 2)));
    return evidence.bits * evidence.checks >= choices + (left_out > 0 ? margin_bits_blaming : margin_bits);
}

bool tells_plainly(const Evidence& evidence) {
    return evidence.flaps == 0 && evidence.bits * evidence.checks >= plain_bits * evidence.folds;
}

bool has_many_folds(const Evidence& evidence) { return evidence.folds > many_folds; }

std::string words_across(const Survey& survey, const Network& network, int spans) {
    const std::vector<int> far = far_apart(span_graph(network), 4);
    std::string text = span_between(survey, far[0], far[1]);
    if (spans > 1) text += " and " + span_between(survey, far[2], far[3]);
    return text + ", or coordinates of " + ids_text(survey, std::span(far).first(3));
}

SurveyTrouble trouble_with(const Evidence& evidence, const Survey& survey, const Network& network) {
    const int checks = std::max(evidence.checks, 0);
    const int needed = int(std::ceil((evidence.folds + margin_bits) / std::max(evidence.bits, 1.0)));
    const int more = std::max(1, needed - checks);
    const std::string spare = checks == 0   ? "no reading to spare tells"
                              : checks == 1 ? "one reading to spare tells"
                                            : std::to_string(checks) + " readings to spare tell";
    return {"spans", 0,
            "spans that may fit many arrangements: " + std::to_string(evidence.folds) +
                " points or pieces hang on two others and may lie on either side of them, and " + spare +
                " on which",
            std::to_string(more) + (more == 1 ? " more span across" : " more spans across") + ", such as " +
                words_across(survey, network, more)};
}

}  // namespace fitup::calculations
