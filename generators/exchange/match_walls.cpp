#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "base/text.hpp"
#include "exchange/match.hpp"

namespace fitup::exchange {

namespace {

/// Arcs this near to a crossed hole's place are taken for pieces of its wall.
constexpr double near_mm = 1.0;

std::string place_text(plan::Point centre, double radius_mm, double low_mm, double high_mm) {
    return "d " + short_text(2.0 * radius_mm, 4) + " at " + short_text(centre.x_mm, 4) + ", " +
           short_text(centre.y_mm, 4) + ", z " + short_text(low_mm, 4) + " to " + short_text(high_mm, 4);
}

plan::Point centre_of(const Cylinder& cylinder) { return {cylinder.axis_point[0], cylinder.axis_point[1]}; }

struct Difference {
    double moved_mm = 0.0;
    double diameter_mm = 0.0;
    double range_mm = 0.0;
    double worst() const { return std::max({moved_mm, diameter_mm, range_mm}); }
};

Verdict verdict_of(const Difference& off, double within_mm) {
    if (off.moved_mm > within_mm) return Verdict::moved;
    if (off.diameter_mm > within_mm) return Verdict::resized;
    return off.range_mm > within_mm ? Verdict::differs : Verdict::same;
}

class WallMatching {
  public:
    WallMatching(const std::vector<ExpectedWall>& wanted, const Measurement& found,
                 const Strictness& strictness)
        : wanted_(wanted), strictness_(strictness), rows_(wanted.size()), settled_(wanted.size(), false) {
        for (const Cylinder& cylinder : found.cylinders) {
            if (is_along_z(cylinder.axis)) walls_.push_back(&cylinder);
        }
        std::stable_sort(walls_.begin(), walls_.end(), [](const Cylinder* a, const Cylinder* b) {
            return a->axis_point[0] < b->axis_point[0];
        });
        used_.resize(walls_.size(), false);
    }

    std::vector<Row> rows() {
        // Exact matches first, so that a moved hole cannot take its neighbour's place.
        for (const bool exact : {true, false}) {
            for (std::size_t w = 0; w < wanted_.size(); ++w) {
                if (!settled_[w]) settle(w, exact);
            }
        }
        for (std::size_t i = 0; i < walls_.size(); ++i) {
            const Cylinder& wall = *walls_[i];
            if (used_[i] || !wall.is_hole || wall.sweep_deg < full_turn_deg) continue;
            rows_.push_back({"extra hole", Verdict::extra, "", found_text(wall), 0.0});
        }
        return std::move(rows_);
    }

  private:
    static std::string found_text(const Cylinder& wall) {
        return place_text(centre_of(wall), wall.radius_mm, wall.low_mm, wall.high_mm);
    }

    Difference difference(const ExpectedWall& wanted, const Cylinder& found) const {
        Difference off{plan::distance_mm(wanted.centre, centre_of(found)),
                       2.0 * std::abs(wanted.radius_mm - found.radius_mm), 0.0};
        if (strictness_.is_mesh ? wanted.is_plain : wanted.is_level)
            off.range_mm =
                std::max(std::abs(wanted.low_mm - found.low_mm), std::abs(wanted.high_mm - found.high_mm));
        return off;
    }

    /// A mesh has a crossed wall in pieces, so that one piece may serve two.
    bool is_in_pieces(const ExpectedWall& wanted) const { return strictness_.is_mesh && !wanted.is_plain; }

    /// The found walls whose x is within reach.
    std::pair<std::size_t, std::size_t> within_reach(const ExpectedWall& wanted) const {
        const auto first = std::partition_point(walls_.begin(), walls_.end(), [&](const Cylinder* wall) {
            return wall->axis_point[0] < wanted.centre.x_mm - farthest_move_mm;
        });
        const auto end = std::partition_point(first, walls_.end(), [&](const Cylinder* wall) {
            return wall->axis_point[0] <= wanted.centre.x_mm + farthest_move_mm;
        });
        return {static_cast<std::size_t>(first - walls_.begin()),
                static_cast<std::size_t>(end - walls_.begin())};
    }

    /// Of a wall in pieces, the longest arc near its place is the one that is known best.
    double longest_deg(const ExpectedWall& wanted) const {
        double longest = 0.0;
        const auto [first, end] = within_reach(wanted);
        for (std::size_t i = first; i < end && is_in_pieces(wanted); ++i) {
            if (walls_[i]->is_hole == wanted.is_hole && difference(wanted, *walls_[i]).worst() < near_mm)
                longest = std::max(longest, walls_[i]->sweep_deg);
        }
        return longest;
    }

    /// The free found wall that differs least from what is wanted; none within reach.
    std::optional<std::size_t> best_match(const ExpectedWall& wanted) const {
        const double least_deg = 0.9 * longest_deg(wanted);
        std::optional<std::size_t> best;
        double least_mm = std::numeric_limits<double>::infinity();
        const auto [first, end] = within_reach(wanted);
        for (std::size_t i = first; i < end; ++i) {
            const bool is_taken = used_[i] && !is_in_pieces(wanted);
            if (is_taken || walls_[i]->is_hole != wanted.is_hole || walls_[i]->sweep_deg < least_deg)
                continue;
            const Difference off = difference(wanted, *walls_[i]);
            if (off.moved_mm > farthest_move_mm || off.diameter_mm > wanted.radius_mm) continue;
            if (off.worst() >= least_mm) continue;
            least_mm = off.worst();
            best = i;
        }
        return best;
    }

    void settle(std::size_t w, bool exact) {
        const ExpectedWall& wanted = wanted_[w];
        const auto match = best_match(wanted);
        rows_[w] = {wanted.id, is_in_pieces(wanted) ? Verdict::unmeasured : Verdict::missing,
                    place_text(wanted.centre, wanted.radius_mm, wanted.low_mm, wanted.high_mm), "", 0.0};
        if (!match) return;
        const Difference off = difference(wanted, *walls_[*match]);
        // What is farther off than that is some other wall: of this one the mesh shows nothing.
        if (is_in_pieces(wanted) && off.worst() > near_mm) return;
        const Verdict verdict = verdict_of(off, strictness_.within_mm);
        if (exact && verdict != Verdict::same) return;
        rows_[w].verdict = verdict;
        rows_[w].found = found_text(*walls_[*match]);
        rows_[w].difference_mm = off.worst();
        used_[*match] = settled_[w] = true;
    }

    const std::vector<ExpectedWall>& wanted_;
    Strictness strictness_;
    std::vector<const Cylinder*> walls_;  ///< by x
    std::vector<bool> used_;
    std::vector<Row> rows_;
    std::vector<bool> settled_;
};

}  // namespace

bool is_along_z(const plan::Point3& axis) { return std::abs(axis[2]) > 1.0 - 1e-6; }

std::vector<Row> wall_rows(const std::vector<ExpectedWall>& wanted, const Measurement& found,
                           const Strictness& strictness) {
    return WallMatching(wanted, found, strictness).rows();
}

}  // namespace fitup::exchange
