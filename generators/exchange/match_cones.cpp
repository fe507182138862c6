#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <tuple>

#include "base/text.hpp"
#include "exchange/match.hpp"

namespace fitup::exchange {

namespace {

plan::Point centre_of(const ConeFace& cone) { return {cone.axis_point[0], cone.axis_point[1]}; }

std::string cone_text(plan::Point centre, double low_mm, double high_mm, double radius_low_mm,
                      double radius_high_mm) {
    const double half_rad = std::atan2(std::abs(radius_high_mm - radius_low_mm), high_mm - low_mm);
    return "d " + short_text(2.0 * radius_low_mm, 4) + " to " + short_text(2.0 * radius_high_mm, 4) + ", " +
           short_text(half_rad * 360.0 / std::numbers::pi, 3) + " deg, at " + short_text(centre.x_mm, 4) +
           ", " + short_text(centre.y_mm, 4) + ", z " + short_text(low_mm, 4) + " to " +
           short_text(high_mm, 4);
}

std::string expected_text(const ExpectedCone& cone) {
    return (cone.is_point ? "point " : "countersink ") +
           cone_text(cone.centre, cone.low_mm, cone.high_mm, cone.radius_low_mm, cone.radius_high_mm);
}

std::string found_text(const ConeFace& cone) {
    return "cone " +
           cone_text(centre_of(cone), cone.low_mm, cone.high_mm, cone.radius_low_mm, cone.radius_high_mm);
}

/// How far a crossed cone's ends, wherever they are, lie off the expected slope.
double slope_off_mm(const ExpectedCone& wanted, const ConeFace& found) {
    const double slope = (wanted.radius_high_mm - wanted.radius_low_mm) / (wanted.high_mm - wanted.low_mm);
    const auto off_mm = [&](double z_mm, double radius_mm) {
        return std::abs(wanted.radius_low_mm + slope * (z_mm - wanted.low_mm) - radius_mm);
    };
    return std::max(off_mm(found.low_mm, found.radius_low_mm), off_mm(found.high_mm, found.radius_high_mm));
}

/// How far a found cone's ends are from where they should be, apart from the axis' place.
double shape_off_mm(const ExpectedCone& wanted, const ConeFace& found) {
    if (wanted.is_crossed) return slope_off_mm(wanted, found);
    return std::max({std::abs(wanted.low_mm - found.low_mm), std::abs(wanted.high_mm - found.high_mm),
                     std::abs(wanted.radius_low_mm - found.radius_low_mm),
                     std::abs(wanted.radius_high_mm - found.radius_high_mm)});
}

/// Whether `upper` goes on where `lower` ends: one cone that another contour parts in two faces.
bool goes_on(const ConeFace& lower, const ConeFace& upper, double within_mm) {
    const auto slope = [](const ConeFace& cone) {
        return (cone.radius_high_mm - cone.radius_low_mm) / (cone.high_mm - cone.low_mm);
    };
    constexpr double same_slope = 1e-6;
    return lower.is_hole == upper.is_hole &&
           plan::distance_mm(centre_of(lower), centre_of(upper)) <= within_mm &&
           std::abs(lower.high_mm - upper.low_mm) <= within_mm &&
           std::abs(lower.radius_high_mm - upper.radius_low_mm) <= within_mm &&
           std::abs(slope(lower) - slope(upper)) < same_slope;
}

/// Cones along Z with those joined that go on in one another; the others are left out.
std::vector<ConeFace> joined(const std::vector<ConeFace>& found, double within_mm) {
    std::vector<ConeFace> cones;
    for (const ConeFace& cone : found) {
        if (is_along_z(cone.axis)) cones.push_back(cone);
    }
    // Faces of one cone have one axis but for the last digits: cells far coarser than those bring them
    // together.
    constexpr double cell_mm = 0.0137;
    const auto key = [](const ConeFace& cone) {
        return std::tuple(std::llround(cone.axis_point[0] / cell_mm),
                          std::llround(cone.axis_point[1] / cell_mm), cone.low_mm);
    };
    std::stable_sort(cones.begin(), cones.end(),
                     [&key](const ConeFace& a, const ConeFace& b) { return key(a) < key(b); });
    std::vector<ConeFace> result;
    for (const ConeFace& cone : cones) {
        if (result.empty() || !goes_on(result.back(), cone, within_mm)) {
            result.push_back(cone);
            continue;
        }
        result.back().high_mm = cone.high_mm;
        result.back().radius_high_mm = cone.radius_high_mm;
    }
    return result;
}

class ConeMatching {
  public:
    ConeMatching(const std::vector<ExpectedWall>& walls, const Measurement& found,
                 const Strictness& strictness)
        : walls_(walls),
          cones_(joined(found.cones, strictness.within_mm)),
          strictness_(strictness),
          used_(cones_.size(), false) {
        for (std::size_t k = 0; k < cones_.size(); ++k) {
            if (cones_[k].is_hole) order_.push_back(k);
        }
        std::stable_sort(order_.begin(), order_.end(), [this](std::size_t a, std::size_t b) {
            return cones_[a].axis_point[0] < cones_[b].axis_point[0];
        });
    }

    std::vector<Row> rows(const std::vector<ExpectedCone>& wanted) {
        std::vector<Row> rows;
        for (const ExpectedCone& cone : wanted) rows.push_back(row(cone));
        for (const ExpectedWall& wall : walls_) {
            if (!wall.is_plain || !wall.is_hole) continue;
            for_each_near(wall.centre, strictness_.within_mm, [&](std::size_t number) {
                if (used_[number]) return;
                used_[number] = true;
                rows.push_back({"extra cone", Verdict::extra, "", found_text(cones_[number]), 0.0});
            });
        }
        return rows;
    }

  private:
    template <typename Visit>
    void for_each_near(plan::Point centre, double reach_mm, const Visit& visit) const {
        auto next = std::partition_point(order_.begin(), order_.end(), [&](std::size_t number) {
            return cones_[number].axis_point[0] < centre.x_mm - reach_mm;
        });
        for (; next != order_.end(); ++next) {
            if (cones_[*next].axis_point[0] > centre.x_mm + reach_mm) return;
            if (plan::distance_mm(centre, centre_of(cones_[*next])) <= reach_mm) visit(*next);
        }
    }

    Row row(const ExpectedCone& wanted) {
        std::optional<std::size_t> best;
        double least_mm = std::numeric_limits<double>::infinity();
        for_each_near(wanted.centre, farthest_move_mm, [&](std::size_t number) {
            const ConeFace& cone = cones_[number];
            const bool same_way =
                (cone.radius_low_mm < cone.radius_high_mm) == (wanted.radius_low_mm < wanted.radius_high_mm);
            const double off_mm = off(wanted, cone);
            if (!same_way || used_[number] || off_mm >= least_mm) return;
            least_mm = off_mm;
            best = number;
        });
        Row row{wanted.id, is_out_of_sight(wanted) ? Verdict::unmeasured : Verdict::missing,
                expected_text(wanted), "", 0.0};
        if (!best) return row;
        const ConeFace& cone = cones_[*best];
        // One that is neither there nor of that shape is another hole's.
        const double moved_mm = plan::distance_mm(wanted.centre, centre_of(cone));
        const double shape_mm = shape_off_mm(wanted, cone);
        if (moved_mm > strictness_.within_mm && shape_mm > strictness_.within_mm) return row;
        row.verdict = moved_mm > strictness_.within_mm   ? Verdict::moved
                      : shape_mm > strictness_.within_mm ? Verdict::differs
                                                         : Verdict::same;
        row.found = found_text(cone);
        row.difference_mm = std::max(moved_mm, shape_mm);
        use(cone);
        return row;
    }

    double off(const ExpectedCone& wanted, const ConeFace& cone) const {
        return plan::distance_mm(wanted.centre, centre_of(cone)) + shape_off_mm(wanted, cone);
    }

    /// A file may hold one cone in several faces.
    void use(const ConeFace& cone) {
        for_each_near(centre_of(cone), strictness_.within_mm, [&](std::size_t number) {
            const ConeFace& other = cones_[number];
            if (std::abs(other.radius_low_mm - cone.radius_low_mm) <= strictness_.within_mm &&
                std::abs(other.low_mm - cone.low_mm) <= strictness_.within_mm &&
                std::abs(other.high_mm - cone.high_mm) <= strictness_.within_mm)
                used_[number] = true;
        });
    }

    /// A mesh shows a cone only where a plain wall ends in it.
    bool is_out_of_sight(const ExpectedCone& wanted) const {
        if (!strictness_.is_mesh) return false;
        return std::none_of(walls_.begin(), walls_.end(), [&wanted](const ExpectedWall& wall) {
            return wall.is_plain && wall.is_hole &&
                   plan::distance_mm(wall.centre, wanted.centre) < plan::same_point_mm &&
                   (std::abs(wall.low_mm - wanted.high_mm) < plan::same_point_mm ||
                    std::abs(wall.high_mm - wanted.low_mm) < plan::same_point_mm);
        });
    }

    const std::vector<ExpectedWall>& walls_;
    std::vector<ConeFace> cones_;
    Strictness strictness_;
    std::vector<std::size_t> order_;  ///< cones of holes along Z, by x
    std::vector<bool> used_;
};

}  // namespace

std::vector<Row> cone_rows(const std::vector<ExpectedCone>& wanted, const std::vector<ExpectedWall>& walls,
                           const Measurement& found, const Strictness& strictness) {
    return ConeMatching(walls, found, strictness).rows(wanted);
}

}  // namespace fitup::exchange
