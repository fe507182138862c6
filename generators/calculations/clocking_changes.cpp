#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "calculations/clocking.hpp"

// What would pass where no turn does. A bolt circle that changes by d moves its holes by d / 2, so that the
// best web changes by no more: where the best falls short by s, every circle nearer than 2 s falls short as
// well, and the walk from the file's own value leaves nothing out.
namespace fitup::calculations {

namespace {

/// How far a bolt circle is followed, as a share of its diameter, and a plate's thickness as a multiple.
constexpr double circle_reach = 0.15;
constexpr double thickness_reach = 2.0;
/// Steps are no shorter, so that a walk along a stretch that just fails ends.
constexpr double least_step_mm = 0.05;
/// Values are told to this, rounded away from what fails.
constexpr double told_mm = 0.1;
constexpr double close_mm = 1e-9;

struct Found {
    double value_mm = 0.0, turn_deg = 0.0;
};

class Changes {
  public:
    Changes(const Clocking& clocking, ClockingResult& result) : clocking_(clocking), result_(result) {}

    void add_thickness() {
        const double own_mm = clocking_.plate.plate().thickness_mm, most_mm = thickness_reach * own_mm;
        const auto tried = [&](double thickness_mm) {
            PlateChange change;
            change.thickness_mm = thickness_mm;
            return reached(change);
        };
        if (!tried(most_mm).turn_deg) {
            result_.in_vain.push_back("no thickness up to " + short_text(most_mm, 2) + " mm");
            return;
        }
        double low_mm = own_mm, high_mm = most_mm;
        while (high_mm - low_mm > told_mm / 4.0) {
            const double middle_mm = (low_mm + high_mm) / 2.0;
            (tried(middle_mm).turn_deg ? high_mm : low_mm) = middle_mm;
        }
        const double told = std::ceil(high_mm / told_mm - close_mm) * told_mm;
        if (const auto turn = tried(told).turn_deg)
            result_.changes.push_back({"thickness", "the plate's thickness", own_mm, told, *turn});
    }

    void add_circle(std::size_t pattern) {
        const auto own_mm = clocking_.plate.circle_diameter_mm(pattern);
        if (!own_mm) return;
        const std::string& name = clocking_.plate.plate().patterns[pattern].name;
        bool any = false;
        for (const double way : {-1.0, 1.0}) {
            const auto found = walk(pattern, *own_mm, way);
            if (!found) continue;
            any = true;
            result_.changes.push_back({"patterns." + name + ".circle.diameter", "the bolt circle of " + name,
                                       *own_mm, found->value_mm, found->turn_deg});
        }
        if (!any)
            result_.in_vain.push_back("no bolt circle of " + name + " within " +
                                      short_text(100.0 * circle_reach, 0) + " % of its own");
    }

  private:
    Reached reached(const PlateChange& change) const {
        const auto field = field_of(clocking_, change);
        // A plate that does not exist passes nowhere, and says nothing of those near it.
        if (!field) return {};
        return reach(*field, clocking_.from_deg, clocking_.to_deg, 0.0);
    }

    std::optional<Found> walk(std::size_t pattern, double own_mm, double way) const {
        double value_mm = own_mm;
        while (std::abs(value_mm - own_mm) <= circle_reach * own_mm) {
            PlateChange change;
            change.circle_mm = {pattern, value_mm};
            const Reached here = reached(change);
            if (here.turn_deg) return told(pattern, value_mm, way, *here.turn_deg);
            value_mm += way * std::max(least_step_mm, 2.0 * here.short_by_mm);
        }
        return {};
    }

    /// Rounded away from what fails, where that passes as well.
    Found told(std::size_t pattern, double value_mm, double way, double turn_deg) const {
        const double steps = value_mm / told_mm;
        const double round_mm =
            told_mm * (way > 0.0 ? std::ceil(steps - close_mm) : std::floor(steps + close_mm));
        PlateChange change;
        change.circle_mm = {pattern, round_mm};
        const Reached there = reached(change);
        return there.turn_deg ? Found{round_mm, *there.turn_deg} : Found{value_mm, turn_deg};
    }

    const Clocking& clocking_;
    ClockingResult& result_;
};

}  // namespace

void add_changes(const Clocking& clocking, ClockingResult& result) {
    Changes changes(clocking, result);
    changes.add_thickness();
    for (std::size_t i = 0; i < clocking.plate.plate().patterns.size(); ++i) changes.add_circle(i);
}

}  // namespace fitup::calculations
