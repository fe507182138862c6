#include "calculations/survey_layout.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "calculations/survey_loci.hpp"
#include "calculations/survey_settle.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using plan::Point;

/// How far a reading may be off on the way: places built one on another carry errors on.
constexpr double slack_sigmas = 10.0, slack_share = 0.003, slack_rad = 0.01, exact_sigmas = 3.29;
/// The most that one reading counts against a layout, and how much worse than the best one is dropped.
constexpr double most_against = 25.0, worse_dropped = 30.0;
/// Less than one reading against it.
constexpr double all_fit = 20.0;
/// Layouts carried along: plenty for networks built by meetings alone, more where one has to guess.
constexpr std::size_t width = 24, width_guessing = 96, width_widely = 512, most_layouts = 12,
                      most_layouts_guessing = 48;
constexpr int guesses = 12;
/// Loci of one point that are crossed with one another; further ones only judge.
constexpr std::size_t most_crossed = 6;
/// Meetings of different loci nearer than this share of the survey's size are one place, seen with errors.
constexpr double one_place_share = 0.02;
/// Layouts whose places are all nearer than this are one.
constexpr double double_share = 1e-4;
/// Off the base by more than this, a place has a side.
constexpr double side_share = 1e-3;
/// A layout that new readings speak against this much is settled on the way: places built one on another
/// carry errors on.
constexpr double settled_on_the_way = 1.0;
constexpr int turns_tried = 72;

struct Partial {
    Places places;
    double score = 0.0;
    double last = 0.0;  ///< what the last point added to the score
};

/// Where a point may lie, and of which crossing of two loci this is a place.
struct Meeting {
    Point at;
    int crossing = 0;
};

class Building {
  public:
    Building(const Network& network, const Care& care)
        : network_(network),
          carefully_(care.settle_on_the_way),
          rank_(care.base),
          exact_(care.exact),
          widely_(care.widely),
          size_mm_(std::max(extent_mm(network), 1e-6)) {
        readings_of_.resize(network.points);
        for (const Observation& seen : network.seen)
            for (const int point : {seen.a, seen.b, seen.c})
                if (point >= 0) readings_of_[std::size_t(point)].push_back(&seen);
    }

    std::vector<Layout> run() {
        begin();
        while (const auto next = next_point()) place(*next);
        return finished();
    }

  private:
    void begin() {
        Partial first{Places(network_.points), 0.0, 0.0};
        std::vector<std::optional<double>> x(network_.points), y(network_.points);
        for (const Observation& seen : network_.seen) {
            if (seen.quantity == Quantity::x) x[std::size_t(seen.a)] = seen.value;
            if (seen.quantity == Quantity::y) y[std::size_t(seen.a)] = seen.value;
        }
        std::size_t known = 0;
        for (std::size_t i = 0; i < network_.points; ++i) known += x[i] && y[i] ? 1 : 0;
        own_axes_ = known < 2 && free_motions(network_) > 0;
        own_axes_ = own_axes_ || known == 0;
        for (std::size_t i = 0; i < network_.points && !own_axes_; ++i)
            if (x[i] && y[i]) first.places[i] = Point{*x[i], *y[i]};
        if (own_axes_) lay_base(first.places);
        beam_ = {first};
        one_side_ = own_axes_ && !has_angles(network_);
    }

    /// A span many of whose neighbours see both its ends, as the first two places.
    void lay_base(Places& places) {
        const auto bases = bases_by_worth();
        if (bases.empty()) {
            places[0] = Point{};
            return;
        }
        base_ = bases[std::min(rank_, bases.size() - 1)];
        places[std::size_t(base_->a)] = Point{};
        places[std::size_t(base_->b)] = Point{base_->value, 0.0};
    }

    /// Each with no point of one before it, as far as that goes: a gross error in one base spoils none of the
    /// next.
    std::vector<const Observation*> bases_by_worth() const {
        std::vector<std::pair<int, const Observation*>> all;
        for (const Observation& seen : network_.seen)
            if (seen.quantity == Quantity::span) all.emplace_back(common_neighbours(seen), &seen);
        std::ranges::stable_sort(all, [](const auto& a, const auto& b) { return a.first > b.first; });
        std::vector<const Observation*> apart, rest;
        std::vector<char> used(network_.points);
        for (const auto& [worth, seen] : all) {
            char &a = used[std::size_t(seen->a)], &b = used[std::size_t(seen->b)];
            (a || b ? rest : apart).push_back(seen);
            a = b = 1;
        }
        apart.insert(apart.end(), rest.begin(), rest.end());
        return apart;
    }

    int common_neighbours(const Observation& base) const {
        int count = 0;
        for (const Observation* first : readings_of_[std::size_t(base.a)])
            for (const Observation* second : readings_of_[std::size_t(base.b)])
                count += first->quantity == Quantity::span && second->quantity == Quantity::span &&
                                 other_end(*first, base.a) == other_end(*second, base.b)
                             ? 1
                             : 0;
        return count;
    }

    static int other_end(const Observation& seen, int point) { return seen.a == point ? seen.b : seen.a; }

    std::vector<Locus> loci(std::size_t point, const Places& places) const {
        std::vector<Locus> all;
        for (const Observation* seen : readings_of_[point]) {
            // In axes of its own a layout knows nothing of coordinates.
            if (own_axes_ && (seen->quantity == Quantity::x || seen->quantity == Quantity::y)) continue;
            if (const auto locus = locus_of(*seen, int(point), places)) all.push_back(*locus);
        }
        return all;
    }

    /// The point with the most loci; the same for every layout of the beam.
    std::optional<std::size_t> next_point() const {
        std::optional<std::size_t> best;
        std::size_t most = 0;
        const Places& places = beam_.front().places;
        for (std::size_t i = 0; i < places.size(); ++i) {
            if (places[i]) continue;
            const std::size_t count = loci(i, places).size();
            if (!best || count > most) best = i, most = count;
        }
        return best;
    }

    void place(std::size_t point) {
        std::vector<Partial> grown;
        for (const Partial& partial : beam_) grow(partial, point, grown);
        std::ranges::stable_sort(grown, {}, &Partial::score);
        const double limit = grown.front().score + worse_dropped;
        std::erase_if(grown, [&](const Partial& partial) { return partial.score > limit; });
        const std::size_t most = widely_ ? width_widely : guessing_ ? width_guessing : width;
        if (grown.size() > most) grown.resize(most);
        beam_ = std::move(grown);
        for (Partial& partial : beam_)
            if (carefully_ && partial.last > settled_on_the_way) settle_so_far(partial);
        std::ranges::stable_sort(beam_, {}, &Partial::score);
        drop_doubles();
    }

    void drop_doubles() {
        std::vector<Partial> kept;
        for (Partial& partial : beam_)
            if (std::ranges::none_of(kept, [&](const Partial& other) { return is_same(other, partial); }))
                kept.push_back(std::move(partial));
        beam_ = std::move(kept);
    }

    bool is_same(const Partial& a, const Partial& b) const {
        for (std::size_t i = 0; i < a.places.size(); ++i)
            if (a.places[i] && plan::distance_mm(*a.places[i], *b.places[i]) > double_share * size_mm_)
                return false;
        return true;
    }

    /// The base to where every layout has it, so that layouts can be compared.
    static void lay_back(std::vector<Point>& at, std::size_t first, std::size_t second) {
        const Point from = at[first], along = at[second] - from;
        const double turn = std::atan2(along.y_mm, along.x_mm);
        for (Point& p : at) p = plan::turned(p - from, -turn);
    }

    void settle_so_far(Partial& partial) const {
        std::vector<int> index(network_.points, -1);
        std::vector<Point> at;
        for (std::size_t i = 0; i < network_.points; ++i)
            if (partial.places[i]) index[i] = int(at.size()), at.push_back(*partial.places[i]);
        Network so_far{at.size(), {}};
        for (Observation seen : network_.seen) {
            if (!is_judged(seen, partial.places)) continue;
            for (int* point : {&seen.a, &seen.b, &seen.c})
                if (*point >= 0) *point = index[std::size_t(*point)];
            so_far.seen.push_back(seen);
        }
        std::vector<Point> settled = settle(so_far, std::move(at)).at_mm;
        if (base_)
            lay_back(settled, std::size_t(index[std::size_t(base_->a)]),
                     std::size_t(index[std::size_t(base_->b)]));
        double score = 0.0;
        for (const Observation& seen : so_far.seen) score += against(seen, settled);
        if (!(score < partial.score)) return;
        partial.score = score;
        for (std::size_t i = 0; i < network_.points; ++i)
            if (partial.places[i]) partial.places[i] = settled[std::size_t(index[i])];
    }

    void grow(const Partial& partial, std::size_t point, std::vector<Partial>& grown) {
        std::vector<std::pair<Partial, int>> found;
        for (const Meeting& candidate : candidates(partial.places, point)) {
            Partial next = partial;
            next.places[point] = candidate.at;
            next.last = judged(next.places, point);
            next.score += next.last;
            found.emplace_back(std::move(next), candidate.crossing);
        }
        std::ranges::stable_sort(found, {}, [](const auto& each) { return each.first.score; });
        std::vector<Meeting> kept;
        for (auto& [next, crossing] : found) {
            const Meeting here{*next.places[point], crossing};
            if (std::ranges::any_of(kept, [&](const Meeting& other) { return is_same(other, here); }))
                continue;
            kept.push_back(here);
            grown.push_back(std::move(next));
        }
    }

    /// The two places of one crossing are two, however near.
    bool is_same(const Meeting& a, const Meeting& b) const {
        return a.crossing != b.crossing && plan::distance_mm(a.at, b.at) < one_place_share * size_mm_;
    }

    std::vector<Meeting> candidates(const Places& places, std::size_t point) {
        const std::vector<Locus> all = loci(point, places);
        std::vector<Meeting> found;
        int crossing = 0;
        for (std::size_t i = 0; i < std::min(all.size(), most_crossed); ++i) {
            for (std::size_t j = i + 1; j < std::min(all.size(), most_crossed); ++j, ++crossing)
                for (const Point meeting : meetings(all[i], all[j])) found.push_back({meeting, crossing});
        }
        if (found.empty()) return guessed(all, places);
        if (one_side_ && !has_side(places)) {
            // Spans are the same for the mirror image: the first place off the base is put above it.
            std::erase_if(found, [](const Meeting& meeting) { return meeting.at.y_mm < 0.0; });
        }
        return found;
    }

    /// Too few readings lead to the places known so far: a spread of guesses, for the settling to mend.
    std::vector<Meeting> guessed(const std::vector<Locus>& all, const Places& places) {
        guessing_ = true;
        Point mean;
        double count = 0.0;
        for (const auto& p : places)
            if (p) mean = mean + *p, ++count;
        mean = mean * (1.0 / std::max(count, 1.0));
        const Locus around{mean, {}, 0.5 * size_mm_ * (1.0 + 0.1 * count), true};
        std::vector<Meeting> found;
        for (const Point at : spread_over(all.empty() ? around : all.front(), mean, size_mm_, guesses))
            found.push_back({at, 0});
        return found;
    }

    bool has_side(const Places& places) const {
        return std::ranges::any_of(
            places, [&](const auto& p) { return p && std::abs(p->y_mm) > side_share * size_mm_; });
    }

    double against(const Observation& seen, std::span<const Point> at) const {
        const double miss = misfit(seen, equation_of(seen, at).fitted);
        const double slack = seen.quantity == Quantity::angle ? slack_rad : slack_share * size_mm_;
        const double share =
            miss / (exact_ ? exact_sigmas * seen.sigma : std::max(slack_sigmas * seen.sigma, slack));
        return std::min(share * share, most_against);
    }

    /// Readings between the point and places that are known.
    double judged(const Places& places, std::size_t point) const {
        std::vector<Point> at(places.size());
        for (std::size_t i = 0; i < places.size(); ++i) at[i] = places[i].value_or(Point{});
        double sum = 0.0;
        for (const Observation* seen : readings_of_[point])
            if (is_judged(*seen, places)) sum += against(*seen, at);
        return sum;
    }

    /// All its places known; coordinates say nothing in axes of one's own.
    bool is_judged(const Observation& seen, const Places& places) const {
        if (own_axes_ && (seen.quantity == Quantity::x || seen.quantity == Quantity::y)) return false;
        return std::ranges::all_of(std::array{seen.a, seen.b, seen.c},
                                   [&](int p) { return p < 0 || places[std::size_t(p)].has_value(); });
    }

    std::vector<Layout> finished() const {
        std::vector<Layout> all;
        for (const Partial& partial : beam_) {
            Layout layout{{}, partial.score};
            for (const auto& p : partial.places) layout.at_mm.push_back(*p);
            if (own_axes_ && has_coordinates(network_))
                lay_on_coordinates(layout, all);
            else
                all.push_back(std::move(layout));
        }
        std::ranges::stable_sort(all, {}, &Layout::score);
        // Where one layout fits every reading, one that a reading speaks against needs no second look.
        const double limit =
            exact_ || all.front().score < all_fit ? all_fit : all.front().score + worse_dropped;
        if (exact_ || !guessing_)
            std::erase_if(all, [&](const Layout& layout) { return layout.score > limit; });
        const std::size_t most = guessing_ ? most_layouts_guessing : most_layouts;
        if (all.size() > most) all.resize(most);
        return all;
    }

    /// A layout in axes of its own, and its mirror image, turned and shifted to the coordinates there are.
    void lay_on_coordinates(const Layout& layout, std::vector<Layout>& all) const {
        for (const double side : {1.0, -1.0}) {
            if (side < 0.0 && has_angles(network_)) break;
            std::vector<Layout> turned;
            for (int i = 0; i < turns_tried; ++i) {
                Layout next = layout;
                for (Point& p : next.at_mm)
                    p = plan::turned({p.x_mm * side, p.y_mm}, 2.0 * std::numbers::pi * i / turns_tried);
                next.score += shift_to_coordinates(next.at_mm);
                turned.push_back(std::move(next));
            }
            for (std::size_t i = 0; i < turned.size(); ++i) {
                const double before = turned[(i + turned.size() - 1) % turned.size()].score;
                const double after = turned[(i + 1) % turned.size()].score;
                if (turned[i].score <= before && turned[i].score < after) all.push_back(turned[i]);
            }
            if (free_motions(network_) > 0) all.push_back(turned.front());
        }
    }

    double shift_to_coordinates(std::vector<Point>& at) const {
        Point sum;
        double x = 0.0, y = 0.0;
        for (const Observation& seen : network_.seen) {
            const Point here = at[std::size_t(seen.a)];
            if (seen.quantity == Quantity::x) sum.x_mm += seen.value - here.x_mm, ++x;
            if (seen.quantity == Quantity::y) sum.y_mm += seen.value - here.y_mm, ++y;
        }
        const Point shift{x > 0.0 ? sum.x_mm / x : 0.0, y > 0.0 ? sum.y_mm / y : 0.0};
        for (Point& p : at) p = p + shift;
        double score = 0.0;
        for (const Observation& seen : network_.seen)
            if (seen.quantity == Quantity::x || seen.quantity == Quantity::y) score += against(seen, at);
        return score;
    }

    const Network& network_;
    bool carefully_;
    std::size_t rank_;
    bool exact_, widely_;
    double size_mm_;
    std::vector<std::vector<const Observation*>> readings_of_;
    std::vector<Partial> beam_;
    const Observation* base_ = nullptr;  ///< in axes of one's own
    bool own_axes_ = false;              ///< coordinates are looked at when all is laid
    bool one_side_ = false;
    bool guessing_ = false;
};

}  // namespace

std::vector<Layout> starting_layouts(const Network& network, const Care& care) {
    return Building(network, care).run();
}

}  // namespace fitup::calculations
