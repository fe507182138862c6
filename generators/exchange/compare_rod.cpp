#include "exchange/compare_rod.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/text.hpp"
#include "base/vector3.hpp"
#include "plan/rod_path.hpp"

namespace fitup::exchange {

namespace {

/// Farther than this from where it should be it is another shaft, not the same one moved.
constexpr double farthest_move_mm = 10.0;
constexpr double full_turn_deg = 359.0;

/// A round shaft between two places of its axis, with its radius at both.
struct Shaft {
    std::string id;
    Vector from{};
    Vector to{};
    double from_radius_mm = 0.0;
    double to_radius_mm = 0.0;

    Shaft reversed() const { return {id, to, from, to_radius_mm, from_radius_mm}; }
};

std::string place_text(const Vector& p) {
    return short_text(p[0], 4) + ", " + short_text(p[1], 4) + ", " + short_text(p[2], 4);
}

std::string shaft_text(const Shaft& shaft) {
    std::string text = "d " + short_text(2.0 * shaft.from_radius_mm, 4);
    if (shaft.from_radius_mm != shaft.to_radius_mm) text += " to " + short_text(2.0 * shaft.to_radius_mm, 4);
    return text + " from " + place_text(shaft.from) + " to " + place_text(shaft.to);
}

/// The steps of one end with some length, from its face inwards.
void expect_end(std::vector<Shaft>& list, const plan::Rod& rod, const plan::RodPath& path, std::size_t end) {
    const plan::RodStraight& straight = end == 0 ? path.straights.front() : path.straights.back();
    const Vector face = end == 0 ? straight.from : straight.to;
    const Vector inward = straight.along * (end == 0 ? 1.0 : -1.0);
    for (const plan::RodStep& step : plan::end_steps(rod, end)) {
        if (step.to_mm - step.from_mm < plan::same_point_mm) continue;
        const bool is_chamfer = step.from_radius_mm != step.to_radius_mm;
        list.push_back({(is_chamfer ? "chamfer-" : "turned-") + std::to_string(end + 1),
                        face + inward * step.from_mm, face + inward * step.to_mm, step.from_radius_mm,
                        step.to_radius_mm});
    }
}

std::vector<Shaft> expected_shafts(const plan::Rod& rod, const plan::RodPath& path) {
    std::vector<Shaft> list;
    expect_end(list, rod, path, 0);
    for (std::size_t i = 0; i < path.straights.size(); ++i) {
        const plan::RodStraight& straight = path.straights[i];
        const double before_mm = i == 0 ? plan::stepped_length_mm(rod, 0) : 0.0;
        const double after_mm = i + 1 == path.straights.size() ? plan::stepped_length_mm(rod, 1) : 0.0;
        if (straight.length_mm - before_mm - after_mm < plan::same_point_mm) continue;
        list.push_back({"straight-" + std::to_string(i + 1), straight.from + straight.along * before_mm,
                        straight.to - straight.along * after_mm, rod.diameter_mm / 2.0,
                        rod.diameter_mm / 2.0});
    }
    expect_end(list, rod, path, 1);
    return list;
}

std::vector<Shaft> found_shafts(const Measurement& found) {
    std::vector<Shaft> list;
    for (const Cylinder& wall : found.cylinders) {
        if (wall.is_hole || wall.sweep_deg < full_turn_deg) continue;
        list.push_back({"", wall.axis_point, wall.axis_point + wall.axis * (wall.high_mm - wall.low_mm),
                        wall.radius_mm, wall.radius_mm});
    }
    for (const ConeFace& cone : found.cones) {
        if (cone.is_hole) continue;
        // The point on the axis is at the wide end.
        const double length_mm = cone.high_mm - cone.low_mm;
        const bool is_wide_high = cone.radius_high_mm > cone.radius_low_mm;
        const Vector low = is_wide_high ? cone.axis_point - cone.axis * length_mm : cone.axis_point;
        list.push_back({"", low, low + cone.axis * length_mm, cone.radius_low_mm, cone.radius_high_mm});
    }
    return list;
}

struct Difference {
    double across_mm = 0.0;  ///< an end lies beside the wanted axis
    double along_mm = 0.0;   ///< an end lies farther in or out
    double diameter_mm = 0.0;
    double worst() const { return std::max({across_mm, along_mm, diameter_mm}); }
};

Difference one_way(const Shaft& wanted, const Shaft& found) {
    const Vector along = unit(wanted.to - wanted.from);
    Difference off;
    for (const Vector& step : {found.from - wanted.from, found.to - wanted.to}) {
        const double level_mm = dot(step, along);
        off.along_mm = std::max(off.along_mm, std::abs(level_mm));
        off.across_mm = std::max(off.across_mm, length(step - along * level_mm));
    }
    off.diameter_mm = 2.0 * std::max(std::abs(found.from_radius_mm - wanted.from_radius_mm),
                                     std::abs(found.to_radius_mm - wanted.to_radius_mm));
    return off;
}

Difference difference(const Shaft& wanted, const Shaft& found) {
    const Difference forwards = one_way(wanted, found), backwards = one_way(wanted, found.reversed());
    return forwards.worst() <= backwards.worst() ? forwards : backwards;
}

Verdict verdict_of(const Difference& off, double within_mm) {
    if (off.across_mm > within_mm) return Verdict::moved;
    if (off.diameter_mm > within_mm) return Verdict::resized;
    return off.along_mm > within_mm ? Verdict::differs : Verdict::same;
}

/// Matches each wanted shaft with the nearest free one found: exact ones first, so that a moved one takes no
/// other's place.
class Matching {
  public:
    Matching(std::vector<Shaft> wanted, std::vector<Shaft> found, double within_mm, bool is_mesh)
        : wanted_(std::move(wanted)),
          found_(std::move(found)),
          used_(found_.size(), false),
          rows_(wanted_.size()),
          settled_(wanted_.size(), false),
          within_mm_(within_mm),
          is_mesh_(is_mesh) {}

    void append(Comparison& comparison) {
        for (const bool exact : {true, false}) {
            for (std::size_t i = 0; i < wanted_.size(); ++i) {
                if (!settled_[i]) settle(i, exact);
            }
        }
        comparison.rows.insert(comparison.rows.end(), rows_.begin(), rows_.end());
        for (std::size_t i = 0; i < found_.size(); ++i) {
            if (!used_[i])
                comparison.rows.push_back({"extra shaft", Verdict::extra, "", shaft_text(found_[i]), 0.0});
        }
    }

  private:
    void settle(std::size_t index, bool exact) {
        const Shaft& wanted = wanted_[index];
        rows_[index] = {wanted.id, is_mesh_ ? Verdict::unmeasured : Verdict::missing, shaft_text(wanted), "",
                        0.0};
        const std::size_t best = nearest(wanted);
        if (best == found_.size()) return;
        const Difference off = difference(wanted, found_[best]);
        const Verdict verdict = verdict_of(off, within_mm_);
        if (exact && verdict != Verdict::same) return;
        rows_[index] = {wanted.id, verdict, shaft_text(wanted), shaft_text(found_[best]), off.worst()};
        used_[best] = settled_[index] = true;
    }

    std::size_t nearest(const Shaft& wanted) const {
        std::size_t best = found_.size();
        double least_mm = farthest_move_mm;
        for (std::size_t i = 0; i < found_.size(); ++i) {
            const double off_mm = used_[i] ? farthest_move_mm : difference(wanted, found_[i]).worst();
            if (off_mm >= least_mm) continue;
            least_mm = off_mm;
            best = i;
        }
        return best;
    }

    std::vector<Shaft> wanted_;
    std::vector<Shaft> found_;
    std::vector<bool> used_;
    std::vector<Row> rows_;
    std::vector<bool> settled_;
    double within_mm_;
    bool is_mesh_;
};

BendFace expected_bend(const plan::RodBend& bend, double tube_radius_mm) {
    BendFace expected;
    expected.centre = bend.centre;
    expected.axis = bend.axis;
    const Vector ahead = cross(bend.axis, bend.outward);
    const Angle half = bend.angle * 0.5;
    expected.middle = bend.centre + (bend.outward * half.cos() + ahead * half.sin()) * bend.radius_mm;
    expected.ring_radius_mm = bend.radius_mm;
    expected.tube_radius_mm = tube_radius_mm;
    expected.sweep_deg = bend.angle.degrees();
    return expected;
}

std::string bend_text(const BendFace& bend) {
    return "radius " + short_text(bend.ring_radius_mm, 4) + ", " + short_text(bend.sweep_deg, 4) +
           " deg about " + place_text(bend.centre);
}

/// By how much the farthest point of a bend's centreline is off.
double moved_mm(const BendFace& wanted, const BendFace& found) {
    const double tilt = length(cross(wanted.axis, found.axis));
    const double swept = std::abs(wanted.sweep_deg - found.sweep_deg) / 2.0 * std::numbers::pi / 180.0;
    return std::max({length(wanted.centre - found.centre), length(wanted.middle - found.middle),
                     wanted.ring_radius_mm * tilt, wanted.ring_radius_mm * swept});
}

double resized_mm(const BendFace& wanted, const BendFace& found) {
    return std::max(2.0 * std::abs(wanted.tube_radius_mm - found.tube_radius_mm),
                    std::abs(wanted.ring_radius_mm - found.ring_radius_mm));
}

Row bend_row(const std::string& id, const BendFace& wanted, std::vector<BendFace>& found, double within_mm) {
    const auto off_mm = [&](const BendFace& bend) {
        return std::max(moved_mm(wanted, bend), resized_mm(wanted, bend));
    };
    const auto best = std::min_element(found.begin(), found.end(), [&](const BendFace& a, const BendFace& b) {
        return off_mm(a) < off_mm(b);
    });
    Row row{id, Verdict::missing, bend_text(wanted), "", 0.0};
    if (best == found.end() || off_mm(*best) > farthest_move_mm) return row;
    row.verdict = moved_mm(wanted, *best) > within_mm     ? Verdict::moved
                  : resized_mm(wanted, *best) > within_mm ? Verdict::resized
                                                          : Verdict::same;
    row.found = bend_text(*best);
    row.difference_mm = off_mm(*best);
    found.erase(best);
    return row;
}

void append_bends(Comparison& comparison, const plan::Rod& rod, const plan::RodPath& path,
                  std::vector<BendFace> found, double within_mm) {
    for (std::size_t i = 0; i < path.bends.size(); ++i)
        comparison.rows.push_back(bend_row("bend-" + std::to_string(i + 1),
                                           expected_bend(path.bends[i], rod.diameter_mm / 2.0), found,
                                           within_mm));
    for (const BendFace& bend : found)
        comparison.rows.push_back({"extra bend", Verdict::extra, "", bend_text(bend), 0.0});
}

/// Whether what looks like a short shaft in a mesh is one band of facets across a bend: its middle lies on
/// the bend's centreline, but for what facets stray.
bool is_band_of_bend(const Shaft& shaft, const plan::RodPath& path, double near_mm) {
    const Vector middle = (shaft.from + shaft.to) * 0.5;
    return std::any_of(path.bends.begin(), path.bends.end(), [&](const plan::RodBend& bend) {
        const Vector off = middle - bend.centre;
        const Vector along = unit(shaft.to - shaft.from);
        const bool is_on_ring =
            std::abs(dot(off, bend.axis)) < near_mm && std::abs(length(off) - bend.radius_mm) < near_mm;
        const double angle = std::atan2(dot(off, cross(bend.axis, bend.outward)), dot(off, bend.outward));
        const bool is_tangent = std::abs(dot(along, unit(off))) * bend.radius_mm < near_mm;
        return is_on_ring && is_tangent && angle > 0.0 && angle < bend.angle.radians();
    });
}

/// Crests, roots and flanks of a modelled thread look like shafts and holes: they lie on its axis within its
/// length.
bool is_on_thread(const Vector& from, const Vector& to, const plan::Rod& rod, const plan::RodPath& path,
                  double near_mm) {
    for (const std::size_t end : {std::size_t{0}, std::size_t{1}}) {
        const auto thread = plan::modelled_thread(rod, end);
        if (!thread) continue;
        const plan::RodStraight& straight = end == 0 ? path.straights.front() : path.straights.back();
        const Vector face = end == 0 ? straight.from : straight.to;
        const Vector inward = straight.along * (end == 0 ? 1.0 : -1.0);
        const auto is_within = [&](const Vector& point) {
            const double level_mm = dot(point - face, inward);
            return level_mm > -near_mm && level_mm < thread->end_mm() + near_mm &&
                   length(point - face - inward * level_mm) < near_mm;
        };
        if (is_within(from) && is_within(to)) return true;
    }
    return false;
}

void append_holes(Comparison& comparison, const plan::Rod& rod, const plan::RodPath& path,
                  const Measurement& found, double near_mm) {
    for (const Cylinder& wall : found.cylinders) {
        if (!wall.is_hole || wall.sweep_deg < full_turn_deg) continue;
        const Vector far = wall.axis_point + wall.axis * (wall.high_mm - wall.low_mm);
        if (is_on_thread(wall.axis_point, far, rod, path, near_mm)) continue;
        comparison.rows.push_back(
            {"extra hole", Verdict::extra, "",
             "d " + short_text(2.0 * wall.radius_mm, 4) + " at " + place_text(wall.axis_point), 0.0});
    }
}

}  // namespace

void append_rod_rows(Comparison& comparison, const plan::Rod& rod, const Measurement& found, double within_mm,
                     double chord_mm) {
    const plan::RodPath path = plan::rod_path(rod);
    const bool is_mesh = chord_mm > 0.0;
    std::vector<Shaft> shafts = found_shafts(found);
    const double near_mm = within_mm + 4.0 * chord_mm;
    std::erase_if(shafts, [&](const Shaft& shaft) {
        return (is_mesh && is_band_of_bend(shaft, path, near_mm)) ||
               is_on_thread(shaft.from, shaft.to, rod, path, near_mm);
    });
    Matching(expected_shafts(rod, path), std::move(shafts), within_mm, is_mesh).append(comparison);
    if (!is_mesh) append_bends(comparison, rod, path, found.bends, within_mm);
    append_holes(comparison, rod, path, found, near_mm);
}

}  // namespace fitup::exchange
