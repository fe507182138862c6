#include "calculations/survey_nets.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>
#include <utility>

#include "calculations/survey_arrangement.hpp"
#include "calculations/survey_folds.hpp"
#include "calculations/survey_patches.hpp"
#include "calculations/survey_unfold.hpp"

namespace fitup::calculations {

namespace {

using plan::Point;

/// Less than three spans against it.
constexpr double all_fit = 60.0;
/// Spans that may be grossly off.
constexpr std::size_t gross = 2;
constexpr std::size_t most_layouts = 4, most_kicks = 40, patient_kicks = 12;
constexpr int few_steps = 30;
constexpr int steps_lifted = 2;

class Search {
  public:
    explicit Search(const Network& network) : network_(network), graph_(span_graph(network)) {}

    std::vector<Layout> run() {
        if (graph_.spans.empty()) return {};
        start();
        if (all_.empty()) return {};
        if (!found()) kick();
        sort();
        if (all_.size() > most_layouts) all_.resize(most_layouts);
        return std::move(all_);
    }

  private:
    /// What chance leaves, once settled.
    bool found() const {
        if (all_.front().score > all_fit) return false;
        return agrees(settle(network_, all_.front().at_mm, few_steps).sum_of_squares,
                      redundancy_of(network_));
    }

    /// Every span fits, but for a gross error or two.
    bool found_but_for_few() const {
        if (all_.front().score > all_fit) return false;
        std::vector<double> squares;
        for (const Observation& span : graph_.spans) {
            const double share = misfit(span, equation_of(span, all_.front().at_mm).fitted) / span.sigma;
            squares.push_back(share * share);
        }
        std::ranges::sort(squares);
        squares.resize(squares.size() - std::min(squares.size(), gross));
        const double sum = std::accumulate(squares.begin(), squares.end(), 0.0);
        return agrees(sum, redundancy_of(network_) - int(gross));
    }

    void sort() { std::ranges::stable_sort(all_, {}, &Layout::score); }

    void add(std::vector<Point> at) {
        if (at.empty()) return;
        at = robustly_settled(graph_, std::move(at));
        const double score = spans_against(graph_, at);
        all_.push_back({std::move(at), score});
        sort();
    }

    void start() {
        const SpanGraph stiff = stiffened(graph_, patches_of(graph_));
        for (const double bulge : {1.0, 3.0, 0.3}) {
            for (const SpanGraph* graph : {&stiff, &std::as_const(graph_)}) {
                add(unfolded(*graph, bulge));
                if (all_.empty() || found()) return;
            }
        }
        all_.front().at_mm = folds_mended(graph_, all_.front().at_mm);
        all_.front().score = spans_against(graph_, all_.front().at_mm);
    }

    /// Points around what doesn't fit are taken out of the plane at random and pressed flat again.
    void kick() {
        std::mt19937_64 engine(1);
        for (std::size_t i = 0; i < most_kicks && !found(); ++i) {
            if (i >= patient_kicks && found_but_for_few()) return;
            const std::size_t which = i % 4 == 3 && all_.size() > 1 ? 1 : 0;
            std::vector<Point> at = all_[which].at_mm;
            at = lifted(graph_, std::move(at), engine);
            at = robustly_settled_near(graph_, std::move(at));
            const double score = spans_against(graph_, at);
            if (score >= all_[which].score) continue;
            all_[which] = {std::move(at), score};
            sort();
        }
    }

    std::vector<Point> lifted(const SpanGraph& graph, std::vector<Point> at, std::mt19937_64& engine) const {
        std::vector<int> ends;
        for (const Observation& span : graph.spans) {
            if (span_against(span, at) <= 1.0) continue;
            ends.push_back(span.a);
            ends.push_back(span.b);
        }
        const std::vector<int> around = points_around(graph, ends, int(engine() % (steps_lifted + 2)));
        std::vector<double> height(at.size(), 0.0);
        const auto some = [&] { return 2.0 * double(engine() >> 11) / 9007199254740992.0 - 1.0; };
        for (const int point : around) height[std::size_t(point)] = some();
        return pressed_flat(graph, at, height);
    }

    const Network& network_;
    SpanGraph graph_;
    std::vector<Layout> all_;
};

}  // namespace

std::vector<Layout> net_layouts(const Network& network) { return Search(network).run(); }

}  // namespace fitup::calculations
