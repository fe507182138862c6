#include "calculations/survey_arrangement.hpp"

#include <algorithm>
#include <cmath>

#include "calculations/survey_folds.hpp"
#include "calculations/survey_layout.hpp"
#include "calculations/survey_nets.hpp"
#include "calculations/survey_residuals.hpp"
#include "calculations/survey_words.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using plan::Point;

/// A second arrangement whose sum of squares is no more than this above the best one's (3.29 squared: one in
/// a thousand) can't be told from it.
constexpr double told_apart = 10.8;
/// Shares of the survey's size: places this near are one hole; distances that differ by less are the same; a
/// point nearer to the line through two others says nothing of the side; starts that differ by less are one.
constexpr double one_hole_share = 1e-3, same_share = 1e-6, on_line_share = 5e-3, other_start_share = 0.02;
constexpr std::size_t most_others = 2;
/// Folds of an arrangement that are settled, and how often anew from a better one.
constexpr std::size_t most_folds = 32, most_fold_rounds = 6;
/// A sum of squares this many times the redundancy may be one fold away from one that agrees.
constexpr double near_redundancy = 30.0;
/// Bases tried where nothing agrees; the score of one and of three readings against a layout.
constexpr std::size_t bases = 3, second_bases = 3;
constexpr double one_against = 30.0, few_against = 80.0;

struct Candidate {
    std::vector<Point> start;
    Settled settled;
    double score = 0.0;
    bool excluded = false;
};

class Choice {
  public:
    Choice(const Survey& survey, const Network& network, const Evidence& evidence)
        : survey_(survey),
          network_(network),
          size_mm_(std::max(extent_mm(network), 1e-6)),
          some_folds_(evidence.folds > 0 && !has_many_folds(evidence)),
          may_fold_(!tells_plainly(evidence)) {}

    Arrangement run() {
        if (is_great_net()) settle_these(net_layouts(network_), true);
        if (all_.empty() || (!agreeing() && some_against())) settle_from_bases();
        if (!is_great_net() && !agreeing() && some_against()) settle_patiently();
        if (is_great_net() || may_fold_) look_for_folds();
        look_for_second();
        if (survey_.clockwise) exclude([&](const Settled& s) { return !turns_as_told(s.at_mm); });
        exclude([&](const Settled& s) { return two_in_one_place(s.at_mm); });
        std::ranges::stable_sort(
            all_, [](const Candidate& a, const Candidate& b) { return a.excluded < b.excluded; });
        best_first();
        Arrangement result{all_.front().settled, {}, {}};
        result.starts = starts();
        tell_clockwise(result);
        tell_second(result);
        return result;
    }

  private:
    /// So many points that places built one on another carry errors too far on.
    bool is_great_net() const { return network_.points >= great_from && is_spans_alone(network_); }

    void settle_from_bases() {
        settle_all(network_, {});
        for (std::size_t base = 1; base < bases && !agreeing() && some_against(); ++base)
            settle_all(network_, {base, false, false});
        if (!agreeing() && many_against() && network_.points < great_from)
            settle_all(network_, {0, true, false});
    }

    /// With every choice of side, or, where these are too many, all at once.
    void settle_patiently() {
        if (some_folds_)
            settle_all(network_, {0, false, false, true});
        else if (may_fold_)
            settle_these(net_layouts(network_), true);
    }

    void look_for_second() {
        const Candidate* found = agreeing();
        if (found == nullptr) return;
        const Network fitted = as_fitted(found->settled.at_mm);
        settle_all(fitted, {0, false, true, some_folds_});
        // Where little is to spare, also what only comes near: errors may make up for the rest.
        for (std::size_t base = 0; may_fold_ && base < second_bases; ++base)
            for (const Network* readings : {&fitted, &network_})
                settle_these(starting_layouts(*readings, {base, false, false, some_folds_}), false);
    }

    /// From the best arrangement on, as long as a fold of it is better.
    void look_for_folds() {
        const SpanGraph graph = span_graph(network_);
        for (std::size_t round = 0; round < most_fold_rounds; ++round) {
            const Candidate* best = agreeing();
            if (best == nullptr)
                best = &*std::ranges::min_element(
                    all_, {}, [](const Candidate& each) { return each.settled.sum_of_squares; });
            if (best->settled.sum_of_squares > near_redundancy * redundancy_of(network_)) return;
            const double least = best->settled.sum_of_squares;
            std::vector<Layout> layouts;
            for (std::vector<Point>& at : folds_of(graph, best->settled.at_mm, most_folds))
                layouts.push_back({std::move(at), best->score});
            settle_these(std::move(layouts), false);
            const bool better = std::ranges::any_of(
                all_, [&](const Candidate& each) { return each.settled.sum_of_squares < least - 1e-6; });
            if (!better) return;
        }
    }

    /// Layouts that settled alike under a gross error may be two once it is left out.
    std::vector<std::vector<Point>> starts() {
        std::vector<std::vector<Point>> all{all_.front().start, all_.front().settled.at_mm};
        std::ranges::stable_sort(layouts_, {}, &Layout::score);
        for (const Layout& layout : layouts_) {
            if (all.size() == 2 + most_others) break;
            if (std::ranges::none_of(all, [&](const auto& other) {
                    return differing_pair(other, layout.at_mm).difference_mm < other_start_share * size_mm_;
                }))
                all.push_back(layout.at_mm);
        }
        return all;
    }

    double least_score() const { return std::ranges::min(all_, {}, &Candidate::score).score; }
    /// More than one gross error would explain, or more than a few.
    bool some_against() const { return least_score() > one_against; }
    bool many_against() const { return least_score() > few_against; }

    bool does_agree(const Candidate& candidate) const {
        return candidate.settled.steady && agrees(candidate.settled.sum_of_squares, redundancy_of(network_));
    }

    const Candidate* agreeing() const {
        const Candidate* best = nullptr;
        for (const Candidate& each : all_)
            if (does_agree(each) &&
                (best == nullptr || each.settled.sum_of_squares < best->settled.sum_of_squares))
                best = &each;
        return best;
    }

    /// Readings as the places give them. A layout built of these has no errors to carry on, so that only a
    /// second arrangement that fits comes near the first.
    Network as_fitted(const std::vector<Point>& at) const {
        Network network = network_;
        for (Observation& seen : network.seen) seen.value = equation_of(seen, at).fitted;
        return network;
    }

    /// Until one agrees; of readings as fitted all.
    void settle_all(const Network& readings, const Care& care) {
        settle_these(starting_layouts(readings, care), &readings == &network_);
    }

    /// @param until_one_agrees  the rest are then not settled
    void settle_these(std::vector<Layout> layouts, bool until_one_agrees) {
        const bool may_mirror = survey_.clockwise && is_spans_alone(network_);
        for (Layout& layout : layouts) {
            if (may_mirror && !runs_clockwise(layout.at_mm, *survey_.clockwise))
                for (Point& p : layout.at_mm) p.y_mm = -p.y_mm;
            layouts_.push_back(layout);
            Candidate candidate{layout.at_mm, settle(network_, layout.at_mm), layout.score};
            const bool known = std::ranges::any_of(all_, [&](const Candidate& other) {
                return std::abs(other.settled.sum_of_squares - candidate.settled.sum_of_squares) <
                           1e-6 * (1.0 + other.settled.sum_of_squares) &&
                       same_shape(other.settled.at_mm, candidate.settled.at_mm);
            });
            if (!known) all_.push_back(std::move(candidate));
            if (until_one_agrees && !all_.empty() && does_agree(all_.back())) break;
        }
    }

    /// Drops what doesn't serve, as long as something is left.
    template <typename Predicate>
    void exclude(const Predicate& unfit) {
        std::vector<std::size_t> dropped;
        std::size_t left = 0;
        for (std::size_t i = 0; i < all_.size(); ++i) {
            if (all_[i].excluded) continue;
            if (unfit(all_[i].settled))
                dropped.push_back(i);
            else
                ++left;
        }
        if (left == 0) return;
        for (const std::size_t i : dropped) all_[i].excluded = true;
    }

    /// The least sum of squares where it is one that chance leaves. With a gross error it says little, and
    /// the arrangement that most readings fit comes first.
    void best_first() {
        const auto end = std::ranges::find_if(all_, &Candidate::excluded);
        const auto by_sum = [](const Candidate& a, const Candidate& b) {
            return a.settled.sum_of_squares < b.settled.sum_of_squares;
        };
        std::stable_sort(all_.begin(), end, by_sum);
        if (agrees(all_.front().settled.sum_of_squares, redundancy_of(network_))) return;
        std::stable_sort(all_.begin(), end,
                         [](const Candidate& a, const Candidate& b) { return a.score < b.score - 1.0; });
    }

    bool turns_as_told(const std::vector<Point>& at) const { return runs_clockwise(at, *survey_.clockwise); }

    bool two_in_one_place(const std::vector<Point>& at) const {
        for (std::size_t i = 0; i < at.size(); ++i)
            for (std::size_t j = i + 1; j < at.size(); ++j)
                if (plan::distance_mm(at[i], at[j]) < one_hole_share * size_mm_) return true;
        return false;
    }

    /// Equal distances, and turned the same way; nothing else tells two arrangements apart.
    bool same_shape(const std::vector<Point>& first, const std::vector<Point>& second) const {
        return std::abs(differing_pair(first, second).difference_mm) < same_share * size_mm_ &&
               turned_alike(first, second);
    }

    struct Pair {
        int a = 0, b = 0;
        double difference_mm = 0.0;
    };

    static Pair differing_pair(const std::vector<Point>& first, const std::vector<Point>& second) {
        Pair most;
        for (std::size_t i = 0; i < first.size(); ++i) {
            for (std::size_t j = i + 1; j < first.size(); ++j) {
                const double difference =
                    std::abs(plan::distance_mm(first[i], first[j]) - plan::distance_mm(second[i], second[j]));
                if (difference > most.difference_mm) most = {int(i), int(j), difference};
            }
        }
        return most;
    }

    /// The widest triangle of the one over its first point's farthest partner, looked at in both.
    static bool turned_alike(const std::vector<Point>& one, const std::vector<Point>& other) {
        std::size_t far = 0, top = 0;
        for (std::size_t i = 0; i < one.size(); ++i)
            if (plan::distance_mm(one[0], one[i]) > plan::distance_mm(one[0], one[far])) far = i;
        const auto area = [&](const std::vector<Point>& at, std::size_t i) {
            return plan::cross(at[far] - at[0], at[i] - at[0]);
        };
        for (std::size_t i = 0; i < one.size(); ++i)
            if (std::abs(area(one, i)) > std::abs(area(one, top))) top = i;
        return area(one, top) * area(other, top) >= 0.0;
    }

    void tell_clockwise(Arrangement& result) const {
        if (!survey_.clockwise) return;
        const auto& ids = *survey_.clockwise;
        const std::vector<Point>& at = result.settled.at_mm;
        const Point a = at[std::size_t(ids[0])], b = at[std::size_t(ids[1])], c = at[std::size_t(ids[2])];
        const double longest =
            std::max({plan::distance_mm(a, b), plan::distance_mm(b, c), plan::distance_mm(a, c)});
        const double height = std::abs(plan::cross(b - a, c - a)) / longest;
        if (height < on_line_share * longest)
            result.troubles.push_back({"clockwise", survey_.clockwise_line,
                                       ids_text(survey_, ids) + ", which lie on one line",
                                       "three points that don't, to tell the pattern from its mirror image"});
        else if (!turns_as_told(at))
            result.troubles.push_back(
                {"clockwise", survey_.clockwise_line,
                 ids_text(survey_, ids) + ", which the readings put in anticlockwise order",
                 "the order as seen by whoever measured, facing the casting; coordinates and angles from the "
                 "same "
                 "side"});
    }

    void tell_second(Arrangement& result) const {
        // Under a gross error sums say nothing of the arrangement.
        if (!agrees(all_[0].settled.sum_of_squares, redundancy_of(network_))) return;
        for (std::size_t i = 1; i < all_.size(); ++i) {
            if (all_[i].excluded ||
                all_[i].settled.sum_of_squares > all_[0].settled.sum_of_squares + told_apart)
                return;
            if (!within_doubt(result.settled.at_mm, all_[i].settled.at_mm))
                return tell_two(result, all_[i].settled.at_mm);
        }
    }

    /// Spans alone, turned alike, and no distance differs by more than its standard deviation: the figures
    /// told of one cover the other.
    bool within_doubt(const std::vector<Point>& first, const std::vector<Point>& second) const {
        if (!is_spans_alone(network_) || !turned_alike(first, second)) return false;
        const auto covariance = covariance_of(network_, first);
        if (!covariance) return false;
        for (std::size_t a = 0; a < first.size(); ++a)
            for (std::size_t b = a + 1; b < first.size(); ++b) {
                const double difference =
                    plan::distance_mm(first[a], first[b]) - plan::distance_mm(second[a], second[b]);
                const Observation span{Quantity::span, int(a), int(b), -1, 0.0, 1.0, -1};
                const double variance = fitted_variance(*covariance, first.size(), equation_of(span, first));
                if (difference * difference > variance) return false;
            }
        return true;
    }

    void tell_two(Arrangement& result, const std::vector<Point>& second) const {
        const std::vector<Point>& first = result.settled.at_mm;
        const Pair pair = differing_pair(first, second);
        if (pair.difference_mm < same_share * size_mm_) return tell_mirrored(result, second);
        const auto length = [&](const std::vector<Point>& at) {
            return length_text(survey_, plan::distance_mm(at[std::size_t(pair.a)], at[std::size_t(pair.b)]));
        };
        result.troubles.push_back(
            trouble_at_point(survey_, pair.b,
                             "readings that fit two arrangements: " + id_of(survey_, pair.a) + " and " +
                                 id_of(survey_, pair.b) + " are " + length(first) + " apart in one and " +
                                 length(second) + " in the other",
                             span_between(survey_, pair.a, pair.b) + ", to tell which"));
    }

    void tell_mirrored(Arrangement& result, const std::vector<Point>& second) const {
        int farthest = 0;
        double most = 0.0;
        for (std::size_t i = 0; i < second.size(); ++i) {
            const double moved = plan::distance_mm(second[i], result.settled.at_mm[i]);
            if (moved > most) farthest = int(i), most = moved;
        }
        result.troubles.push_back(trouble_at_point(
            survey_, farthest,
            "point " + id_of(survey_, farthest) + " on either side of the points with coordinates",
            "`clockwise`: three ids in clockwise order as seen, this one among them"));
    }

    const Survey& survey_;
    const Network& network_;
    double size_mm_;
    bool some_folds_, may_fold_;
    std::vector<Candidate> all_;
    std::vector<Layout> layouts_;
};

}  // namespace

int redundancy_of(const Network& network) {
    return int(network.seen.size()) - int(2 * network.points) + free_motions(network);
}

bool agrees(double sum_of_squares, int redundancy) {
    return sum_of_squares <= redundancy + 4.0 * std::sqrt(2.0 * std::max(redundancy, 0)) + 12.0;
}

Arrangement arrange(const Survey& survey, const Network& network, const Evidence& evidence) {
    return Choice(survey, network, evidence).run();
}

}  // namespace fitup::calculations
