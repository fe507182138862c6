#include "sheets/rod_bar.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "sheets/rod_ends.hpp"
#include "sheets/view_lines.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;

/// Of the rod's diameter: the gap of a break, how deep its edges wave, and the plain length left on each
/// side.
constexpr double gap_share = 0.4, wave_share = 0.12, plain_share = 1.0;

double inner_mm(const RodEndShape& shape) { return std::max(shape.reach_mm, shape.thread_mm.value_or(0.0)); }

class Bar {
  public:
    Bar(View& view, const plan::Rod& rod, const RodBar& bar) : view_(view), rod_(rod), bar_(bar) {}

    void draw() {
        const RodEndShape first = end_shape(rod_, 0), last = end_shape(rod_, 1);
        add_end(first, 0.0, 1.0, rod_.ends[0].diameter_mm / 2.0);
        add_end(last, bar_.shown_mm, -1.0, rod_.ends[1].diameter_mm / 2.0);
        const double from_mm = first.reach_mm, to_mm = bar_.shown_mm - last.reach_mm;
        if (!bar_.is_broken()) return add_sides(LineKind::visible, from_mm, to_mm, radius_mm(), radius_mm());
        const double middle_mm = (inner_mm(first) + bar_.shown_mm - inner_mm(last)) / 2.0;
        const double half_gap_mm = gap_share * rod_.diameter_mm / 2.0;
        add_sides(LineKind::visible, from_mm, middle_mm - half_gap_mm, radius_mm(), radius_mm());
        add_sides(LineKind::visible, middle_mm + half_gap_mm, to_mm, radius_mm(), radius_mm());
        for (const double x_mm : {middle_mm - half_gap_mm, middle_mm + half_gap_mm}) add_wave(x_mm);
    }

  private:
    double radius_mm() const { return rod_.diameter_mm / 2.0; }

    void add_sides(LineKind kind, double from_mm, double to_mm, double from_radius_mm, double to_radius_mm) {
        for (const double side : {1.0, -1.0})
            add_line(view_, kind, {from_mm, side * from_radius_mm}, {to_mm, side * to_radius_mm});
    }

    void add_across(double x_mm, double radius_mm) {
        add_line(view_, LineKind::visible, {x_mm, -radius_mm}, {x_mm, radius_mm});
    }

    void add_end(const RodEndShape& shape, double face_mm, double inward, double outer_mm) {
        for (std::size_t k = 0; k < shape.rings.size(); ++k) {
            const auto& ring = shape.rings[k];
            add_across(face_mm + inward * ring.from_face_mm, ring.radius_mm);
            if (k == 0 || shape.rings[k - 1].from_face_mm == ring.from_face_mm) continue;
            add_sides(LineKind::visible, face_mm + inward * shape.rings[k - 1].from_face_mm,
                      face_mm + inward * ring.from_face_mm, shape.rings[k - 1].radius_mm, ring.radius_mm);
        }
        if (!shape.thread_mm) return;
        const double end_mm = face_mm + inward * *shape.thread_mm;
        add_sides(LineKind::thread, face_mm, end_mm, shape.root_radius_mm, shape.root_radius_mm);
        add_across(end_mm, outer_mm);
    }

    void add_wave(double x_mm) {
        constexpr int points = 24;
        std::vector<Point> wave;
        for (int k = 0; k <= points; ++k) {
            const double share = 2.0 * k / points - 1.0;
            wave.push_back({x_mm + wave_share * rod_.diameter_mm * std::sin(std::numbers::pi * share),
                            share * radius_mm()});
        }
        add_polyline(view_, LineKind::thread, std::move(wave));
    }

    View& view_;
    const plan::Rod& rod_;
    const RodBar& bar_;
};

}  // namespace

RodBar bar_of(const plan::Rod& rod, double length_mm, double most_mm) {
    const double least_mm = inner_mm(end_shape(rod, 0)) + inner_mm(end_shape(rod, 1)) +
                            (gap_share + 2.0 * plain_share) * rod.diameter_mm;
    return {length_mm, std::min(length_mm, std::max(most_mm, least_mm))};
}

void add_bar(View& view, const plan::Rod& rod, const RodBar& bar, double overshoot_mm) {
    Bar(view, rod, bar).draw();
    add_line(view, LineKind::centre, {-overshoot_mm, 0.0}, {bar.shown_mm + overshoot_mm, 0.0});
}

}  // namespace fitup::sheets
