#include "parts/mockup_joints.hpp"

#include <algorithm>
#include <cmath>

#include "parts/mockup_room.hpp"
#include "plan/vector.hpp"

namespace fitup::parts {

namespace {

using plan::Box2;
using plan::Contour;
using plan::Point;

/// Round a key's head and beside its neck.
constexpr double key_wall_mm = 2.5;
/// A longer joint has a key more.
constexpr double between_keys_mm = 80.0;
constexpr double key_radii_mm[] = {largest_key_mm, 4.5, 3.5};
constexpr double step_mm = 1.0;

double along(Point point, std::size_t axis) { return axis == 0 ? point.x_mm : point.y_mm; }

Contour round_at(Point centre, double radius_mm) { return Contour(plan::Circle{centre, radius_mm}); }

/// The middle of a key's round on the high side, and that of as much room behind its neck on the low one.
Point head_of(const Joint& joint, const Key& key) {
    return place_at(joint, key.at_mm, key_out_share * key.radius_mm);
}
Point root_of(const Joint& joint, const Key& key) { return place_at(joint, key.at_mm, -0.5 * key.radius_mm); }

/// The stretch that two cells share, if they lie side by side across the axis.
std::optional<std::array<double, 2>> shared(const Box2& low, const Box2& high, std::size_t axis) {
    if (std::abs(along(low.most, axis) - along(high.least, axis)) > plan::same_point_mm) return std::nullopt;
    const std::size_t other = 1 - axis;
    const double from_mm = std::max(along(low.least, other), along(high.least, other));
    const double to_mm = std::min(along(low.most, other), along(high.most, other));
    if (to_mm - from_mm < step_mm) return std::nullopt;
    return std::array{from_mm, to_mm};
}

class Keying {
  public:
    Keying(const Room& room, const std::vector<Box2>& cells, Joint& joint,
           const std::array<double, 2>& stretch)
        : room_(room), low_(cells[joint.low]), high_(cells[joint.high]), joint_(joint), stretch_(stretch) {}

    void run() {
        for (double at = stretch_[0] + step_mm; at < stretch_[1]; at += step_mm) {
            if (room_.is_free(round_at(place_at(joint_, at, 0.0), 0.5), 0.5)) joint_.metal_mm.push_back(at);
        }
        for (const double radius_mm : key_radii_mm) {
            if (joint_.keys.empty()) add_keys(radius_mm);
        }
    }

  private:
    void add_keys(double radius_mm) {
        std::vector<double> run;
        for (const double at : joint_.metal_mm) {
            const bool can_be = has_room(at, radius_mm);
            if (!run.empty() && (!can_be || at > run.back() + 1.5 * step_mm)) end_run(run, radius_mm);
            if (can_be) run.push_back(at);
        }
        end_run(run, radius_mm);
    }

    void end_run(std::vector<double>& run, double radius_mm) {
        if (run.empty()) return;
        const double long_mm = run.back() - run.front();
        const int count = std::max(1, int(std::round(long_mm / between_keys_mm)));
        for (int i = 0; i < count; ++i) {
            const double at = run.front() + long_mm * (i + 0.5) / count;
            const bool is_clear = joint_.keys.empty() || at - joint_.keys.back().at_mm > 4.0 * radius_mm;
            if (is_clear && has_room(at, radius_mm)) joint_.keys.push_back({at, radius_mm});
        }
        run.clear();
    }

    bool has_room(double at, double radius_mm) const {
        const Point head = head_of(joint_, {at, radius_mm}), root = root_of(joint_, {at, radius_mm});
        return is_in(high_, head, radius_mm + key_wall_mm) && is_in(low_, root, radius_mm + key_wall_mm) &&
               room_.is_free(round_at(head, radius_mm), key_wall_mm) &&
               room_.is_free(round_at(root, radius_mm), key_wall_mm);
    }

    /// Off every edge of the cell but the joint itself.
    bool is_in(const Box2& cell, Point middle, double room_mm) const {
        const std::size_t other = 1 - joint_.axis;
        const double off_low_mm = along(middle, joint_.axis) - along(cell.least, joint_.axis);
        const double off_high_mm = along(cell.most, joint_.axis) - along(middle, joint_.axis);
        return along(middle, other) - along(cell.least, other) > room_mm &&
               along(cell.most, other) - along(middle, other) > room_mm &&
               std::max(off_low_mm, off_high_mm) > room_mm;
    }

    const Room& room_;
    const Box2& low_;
    const Box2& high_;
    Joint& joint_;
    std::array<double, 2> stretch_;
};

/// C, D .. Z, then C2, D2 ..; I and O read as figures.
std::string letter_of(std::size_t number) {
    const std::string letters = "CDEFGHJKLMNPQRSTUVWXYZ";
    const std::size_t round = number / letters.size();
    return letters[number % letters.size()] + (round > 0 ? std::to_string(round + 1) : "");
}

/// One side of a piece, gone along with the piece on the left.
struct SidePath {
    std::size_t axis;  ///< of the joints on it
    bool is_most;      ///< the side of larger coordinates: the keys stand out of it
    bool is_forward;   ///< along the other axis
};

class Outlining {
  public:
    Outlining(const Box2& cell, double gap_mm, const Box2& whole)
        : cell_(cell), wide_(widened(cell, whole)), half_gap_mm_(gap_mm / 2.0) {}

    void add_side(const SidePath& side, std::vector<Key> keys) {
        std::sort(keys.begin(), keys.end(), [&](const Key& a, const Key& b) {
            return side.is_forward ? a.at_mm < b.at_mm : a.at_mm > b.at_mm;
        });
        const double line_mm = side.is_most ? most(side.axis) : least(side.axis);
        const std::size_t other = 1 - side.axis;
        edges_.push_back({point(side.axis, line_mm, side.is_forward ? least(other) : most(other)), {}});
        for (const Key& key : keys) add_key(side, key, line_mm);
    }

    Contour outline() { return Contour(std::move(edges_)); }

  private:
    static Point point(std::size_t axis, double across, double along) {
        return axis == 0 ? Point{across, along} : Point{along, across};
    }
    bool is_joint(std::size_t axis, bool is_most) const {
        return is_most ? along(cell_.most, axis) == along(wide_.most, axis)
                       : along(cell_.least, axis) == along(wide_.least, axis);
    }
    double least(std::size_t axis) const {
        return along(wide_.least, axis) + (is_joint(axis, false) ? half_gap_mm_ : 0.0);
    }
    double most(std::size_t axis) const {
        return along(wide_.most, axis) - (is_joint(axis, true) ? half_gap_mm_ : 0.0);
    }

    /// The same circle for both pieces, half a gap smaller for the key and larger for its seat.
    void add_key(const SidePath& side, const Key& key, double line_mm) {
        const double joint_mm = along(side.is_most ? cell_.most : cell_.least, side.axis);
        const double radius_mm = key.radius_mm + (side.is_most ? -half_gap_mm_ : half_gap_mm_);
        const double middle_mm = joint_mm + key_out_share * key.radius_mm;
        const double neck_mm =
            std::sqrt(radius_mm * radius_mm - (middle_mm - line_mm) * (middle_mm - line_mm));
        const double first_mm = key.at_mm + (side.is_forward ? -neck_mm : neck_mm);
        const double last_mm = key.at_mm + (side.is_forward ? neck_mm : -neck_mm);
        const plan::Turn turn = side.is_most ? plan::Turn::anticlockwise : plan::Turn::clockwise;
        edges_.push_back(
            {point(side.axis, line_mm, first_mm), plan::Arc{point(side.axis, middle_mm, key.at_mm), turn}});
        edges_.push_back({point(side.axis, line_mm, last_mm), {}});
    }

    Box2 cell_, wide_;
    double half_gap_mm_;
    std::vector<plan::Edge> edges_;
};

}  // namespace

Point place_at(const Joint& joint, double along_mm, double off_mm) {
    const double across_mm = joint.line_mm + off_mm;
    return joint.axis == 0 ? Point{across_mm, along_mm} : Point{along_mm, across_mm};
}

std::vector<Joint> joints_of(const Flat& flat, const std::vector<Box2>& cells) {
    Room room({flat.outline, flat.openings, flat.holes});
    std::vector<Joint> joints;
    for (std::size_t low = 0; low < cells.size(); ++low) {
        for (std::size_t high = 0; high < cells.size(); ++high) {
            for (const std::size_t axis : {std::size_t{0}, std::size_t{1}}) {
                const auto stretch = shared(cells[low], cells[high], axis);
                if (!stretch) continue;
                Joint joint{low, high, axis, along(cells[low].most, axis), {}, {}, letter_of(joints.size())};
                Keying(room, cells, joint, *stretch).run();
                // Where joints meet, the keys of one must leave metal round those of the other.
                for (const Key& key : joint.keys) {
                    room.take(round_at(head_of(joint, key), key.radius_mm));
                    room.take(round_at(root_of(joint, key), key.radius_mm));
                }
                if (!joint.metal_mm.empty()) joints.push_back(std::move(joint));
            }
        }
    }
    return joints;
}

Contour keyed_outline(const std::vector<Box2>& cells, std::size_t cell, const std::vector<Joint>& joints,
                      double gap_mm, const Box2& whole) {
    Outlining outlining(cells[cell], gap_mm, whole);
    // Anticlockwise from the lower left corner.
    for (const SidePath& side : {SidePath{1, false, true}, SidePath{0, true, true}, SidePath{1, true, false},
                                 SidePath{0, false, false}}) {
        std::vector<Key> keys;
        for (const Joint& joint : joints) {
            const bool is_here = joint.axis == side.axis && (side.is_most ? joint.low : joint.high) == cell;
            if (is_here) keys.insert(keys.end(), joint.keys.begin(), joint.keys.end());
        }
        outlining.add_side(side, std::move(keys));
    }
    return outlining.outline();
}

}  // namespace fitup::parts
