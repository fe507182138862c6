#include "sheets/rod_outline.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "plan/stroke.hpp"
#include "plan/vector.hpp"
#include "sheets/rod_balls.hpp"
#include "sheets/rod_ends.hpp"
#include "sheets/view_lines.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;
using std::numbers::pi;

constexpr int chords_of_bend = 128, chords_of_ring = 24;
/// What runs more nearly towards the eye than this shows as its end.
constexpr double end_on = 1e-9;

class Outline {
  public:
    Outline(View& view, const plan::Rod& rod, const plan::RodPath& path, const ViewFrame& frame,
            double overshoot_mm)
        : view_(view),
          rod_(rod),
          path_(path),
          frame_(frame),
          overshoot_mm_(overshoot_mm),
          shapes_{end_shape(rod, 0), end_shape(rod, 1)},
          balls_(rod, path, frame) {}

    void draw() {
        add_centreline();
        for (std::size_t k = 0; k < path_.straights.size(); ++k) add_straight(k);
        for (const plan::RodBend& bend : path_.bends) add_bend(bend);
        for (const std::size_t end : {std::size_t{0}, std::size_t{1}}) add_end(end);
    }

  private:
    double radius_mm() const { return rod_.diameter_mm / 2.0; }

    void add_centreline() {
        for (const plan::RodStraight& straight : path_.straights) {
            const bool is_first = &straight == &path_.straights.front();
            const bool is_last = &straight == &path_.straights.back();
            const Vector from = straight.from - straight.along * (is_first ? overshoot_mm_ : 0.0);
            const Vector to = straight.to + straight.along * (is_last ? overshoot_mm_ : 0.0);
            if (plan::distance_mm(frame_.of(from), frame_.of(to)) > plan::same_point_mm)
                add_line(view_, LineKind::centre, frame_.of(from), frame_.of(to));
        }
        for (const plan::RodBend& bend : path_.bends) {
            if (frame_.shows_true_bend(bend.axis))
                add_stroke(view_, LineKind::centre, arc_of(bend, bend.radius_mm));
            else
                add_polyline(view_, LineKind::centre, centres_of(bend));
        }
    }

    /// Both sides of a round length from one radius to another: a straight, a thread, a chamfer.
    void add_sides(LineKind kind, const Vector& from, const Vector& to, double from_radius_mm,
                   double to_radius_mm) {
        const Point a = frame_.of(from), b = frame_.of(to);
        if (plan::distance_mm(a, b) < end_on) return;
        const Point aside = plan::left_of(plan::unit(b - a));
        for (const double side : {1.0, -1.0})
            add_line(view_, kind, a + aside * (side * from_radius_mm), b + aside * (side * to_radius_mm));
    }

    /// A curve on the surface, from share 0 to 1, as far as nothing lies before it; `whole` draws it where it
    /// is in sight throughout.
    void add_in_sight(const std::function<Vector(double)>& at, int count,
                      const std::function<void()>& whole) {
        std::vector<std::vector<Point>> runs(1);
        bool is_whole = true;
        for (int k = 0; k <= count; ++k) {
            const double share = double(k) / count;
            if (!balls_.hide(at(share))) {
                if (runs.back().empty() && k > 0)
                    runs.back().push_back(frame_.of(at(edge_of_sight(at, double(k - 1) / count, share))));
                runs.back().push_back(frame_.of(at(share)));
                continue;
            }
            is_whole = false;
            if (runs.back().empty()) continue;
            runs.back().push_back(frame_.of(at(edge_of_sight(at, share, double(k - 1) / count))));
            runs.emplace_back();
        }
        if (is_whole) return whole();
        for (std::vector<Point>& run : runs) {
            if (run.size() > 1) add_polyline(view_, LineKind::visible, std::move(run));
        }
    }

    /// The last share in sight between one that is hidden and one that is not.
    double edge_of_sight(const std::function<Vector(double)>& at, double hidden, double seen) const {
        for (int k = 0; k < 20; ++k) {
            const double middle = (hidden + seen) / 2.0;
            (balls_.hide(at(middle)) ? hidden : seen) = middle;
        }
        return seen;
    }

    void add_straight(std::size_t k) {
        const plan::RodStraight& straight = path_.straights[k];
        Vector from = straight.from, to = straight.to;
        if (k == 0) from = from + straight.along * shapes_[0].reach_mm;
        if (k + 1 == path_.straights.size()) to = to - straight.along * shapes_[1].reach_mm;
        const double length_mm = dot(to - from, straight.along);
        if (length_mm < plan::same_point_mm) return;
        const Vector level = cross(frame_.towards, straight.along);
        if (length(level) < true_end) return add_end_on(dot(to - from, frame_.towards) > 0.0 ? to : from);
        const Vector aside = unit(level) * radius_mm();
        const int count = std::max(1, int(std::ceil(length_mm / radius_mm() * 4.0)));
        for (const double side : {1.0, -1.0}) {
            const auto at = [&](double share) { return from + (to - from) * share + aside * side; };
            add_in_sight(at, count,
                         [&] { add_line(view_, LineKind::visible, frame_.of(at(0.0)), frame_.of(at(1.0))); });
        }
    }

    /// Where the rod runs straight towards the eye its wall shows as a circle.
    void add_end_on(const Vector& centre) {
        const auto at = [&](double share) {
            const double turn_rad = 2.0 * pi * share;
            return centre +
                   (frame_.right * std::cos(turn_rad) + frame_.up * std::sin(turn_rad)) * radius_mm();
        };
        add_in_sight(at, 4 * chords_of_ring,
                     [&] { add_circle(view_, LineKind::visible, frame_.of(centre), radius_mm()); });
    }

    plan::Stroke arc_of(const plan::RodBend& bend, double radius_mm) const {
        const Point centre = frame_.of(bend.centre);
        const auto at = [&](const Vector& on_line) {
            return centre + plan::unit(frame_.of(on_line) - centre) * radius_mm;
        };
        const bool is_left = dot(bend.axis, frame_.towards) > 0.0;
        return plan::arc_stroke(at(bend.from), at(bend.to), centre,
                                is_left ? plan::Turn::anticlockwise : plan::Turn::clockwise);
    }

    std::vector<Point> centres_of(const plan::RodBend& bend) const {
        std::vector<Point> centres;
        const Vector ahead = cross(bend.axis, bend.outward);
        for (int k = 0; k <= chords_of_bend; ++k) {
            const double turn_rad = bend.angle.radians() * k / chords_of_bend;
            centres.push_back(frame_.of(bend.centre + bend.outward * (bend.radius_mm * std::cos(turn_rad)) +
                                        ahead * (bend.radius_mm * std::sin(turn_rad))));
        }
        return centres;
    }

    void add_bend(const plan::RodBend& bend) {
        const bool is_true = frame_.shows_true_bend(bend.axis);
        const Vector ahead = cross(bend.axis, bend.outward);
        const auto turned = [&](const Vector& from, const Vector& to, double turn_rad) {
            return from * std::cos(turn_rad) + to * std::sin(turn_rad);
        };
        for (const double side : {1.0, -1.0}) {
            const auto at = [&](double share) {
                const double turn_rad = bend.angle.radians() * share;
                const Vector along = turned(ahead, bend.outward * -1.0, turn_rad);
                return bend.centre + turned(bend.outward, ahead, turn_rad) * bend.radius_mm +
                       unit(cross(frame_.towards, along)) * (side * radius_mm());
            };
            add_in_sight(at, chords_of_bend, [&] { add_whole_side(bend, at, is_true); });
        }
        if (is_true)
            add_bend_ends(bend);
        else
            add_turn_to_eye(bend);
    }

    void add_whole_side(const plan::RodBend& bend, const std::function<Vector(double)>& at, bool is_true) {
        if (is_true) {
            const double away_mm = plan::distance_mm(frame_.of(at(0.0)), frame_.of(bend.centre));
            return add_stroke(view_, LineKind::visible, arc_of(bend, away_mm));
        }
        std::vector<Point> points;
        for (int k = 0; k <= chords_of_bend; ++k) points.push_back(frame_.of(at(double(k) / chords_of_bend)));
        add_polyline(view_, LineKind::visible, std::move(points));
    }

    void add_bend_ends(const plan::RodBend& bend) {
        for (const Vector& end : {bend.from, bend.to}) {
            const Point out = plan::unit(frame_.of(end) - frame_.of(bend.centre)) * radius_mm();
            add_line(view_, LineKind::bend, frame_.of(end) - out, frame_.of(end) + out);
        }
    }

    /// A bend that turns right through the line of sight shows a round end there.
    void add_turn_to_eye(const plan::RodBend& bend) {
        if (std::abs(dot(bend.axis, frame_.towards)) > true_end) return;
        const Vector ahead = cross(bend.axis, bend.outward);
        // Along the rod is ahead x cos - outward x sin: towards the eye or away from it at these turns.
        const double first_rad = std::atan2(-dot(bend.outward, frame_.towards), dot(ahead, frame_.towards));
        for (const double turn_rad : {first_rad - pi, first_rad, first_rad + pi}) {
            if (turn_rad < true_end || turn_rad > bend.angle.radians() - true_end) continue;
            add_end_on(bend.centre +
                       (bend.outward * std::cos(turn_rad) + ahead * std::sin(turn_rad)) * bend.radius_mm);
        }
    }

    /// How much of a ring about the axis can be in sight: the half that faces the eye, all of it, or that
    /// half and of the other what stands out beside a thinner part.
    enum class RingPart { near_half, all, beside };

    void add_ring(LineKind kind, const Vector& centre, const Vector& outward, double radius_mm, RingPart part,
                  double thinner_mm = 0.0) {
        const double slant = dot(outward, frame_.towards);
        const Vector level = cross(outward, frame_.towards);
        if (length(level) < true_end) {
            if (slant > 0.0) add_circle(view_, kind, frame_.of(centre), radius_mm);
            return;
        }
        const Vector across = unit(level), near = unit(frame_.towards - outward * slant);
        const auto at = [&](double turn_rad) {
            return frame_.of(centre + across * (radius_mm * std::cos(turn_rad)) +
                             near * (radius_mm * std::sin(turn_rad)));
        };
        const auto add_part = [&](double from_rad, double to_rad, int count) {
            std::vector<Point> points;
            for (int k = 0; k <= count; ++k) points.push_back(at(from_rad + (to_rad - from_rad) * k / count));
            add_polyline(view_, kind, std::move(points));
        };
        if (std::abs(slant) < true_end) return add_part(0.0, pi, 1);
        if (part == RingPart::near_half || slant < 0.0) return add_part(0.0, pi, chords_of_ring);
        if (part == RingPart::all) return add_part(0.0, 2.0 * pi, 2 * chords_of_ring);
        const double beside_rad = std::acos(std::clamp(thinner_mm / radius_mm, 0.0, 1.0));
        add_part(-beside_rad, pi + beside_rad, 2 * chords_of_ring);
    }

    void add_end(std::size_t end) {
        const plan::RodStraight& straight = end == 0 ? path_.straights.front() : path_.straights.back();
        const Vector face = end == 0 ? straight.from : straight.to;
        const Vector inward = straight.along * (end == 0 ? 1.0 : -1.0), outward = inward * -1.0;
        const RodEndShape& shape = shapes_[end];
        const auto at = [&](double from_face_mm) { return face + inward * from_face_mm; };
        add_ring(LineKind::visible, face, outward, shape.rings.front().radius_mm, RingPart::all);
        for (std::size_t k = 1; k < shape.rings.size(); ++k) {
            const auto &before = shape.rings[k - 1], &ring = shape.rings[k];
            const bool is_shoulder = before.from_face_mm == ring.from_face_mm;
            add_ring(LineKind::visible, at(ring.from_face_mm), outward, ring.radius_mm,
                     is_shoulder ? RingPart::beside : RingPart::near_half, before.radius_mm);
            if (!is_shoulder)
                add_sides(LineKind::visible, at(before.from_face_mm), at(ring.from_face_mm), before.radius_mm,
                          ring.radius_mm);
        }
        if (!shape.thread_mm) return;
        add_sides(LineKind::thread, at(0.0), at(*shape.thread_mm), shape.root_radius_mm,
                  shape.root_radius_mm);
        add_ring(LineKind::visible, at(*shape.thread_mm), outward, rod_.ends[end].diameter_mm / 2.0,
                 RingPart::near_half);
    }

    static constexpr double true_end = 1e-6;

    View& view_;
    const plan::Rod& rod_;
    const plan::RodPath& path_;
    const ViewFrame& frame_;
    double overshoot_mm_;
    std::array<RodEndShape, 2> shapes_;
    RodBalls balls_;
};

}  // namespace

void add_rod(View& view, const plan::Rod& rod, const plan::RodPath& path, const ViewFrame& frame,
             double overshoot_mm) {
    Outline(view, rod, path, frame, overshoot_mm).draw();
}

}  // namespace fitup::sheets
