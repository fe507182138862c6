#pragma once

#include <rapidcheck.h>

#include <cmath>
#include <string>

#include "parts/mockups.hpp"
#include "plan/skin.hpp"

/// Plates whose holes, recesses and cut-outs lie side by side, with webs of tenths of a millimetre between
/// them, so that wide allowances make them touch; and mock-up settings out of all that a file may ask for.
namespace fitup::parts::testing {

class CrowdedPlate {
  public:
    /// Drawn from rapidcheck: to be called within a property.
    static plan::Plan any() { return CrowdedPlate().made(); }

  private:
    using Point = plan::Point;
    using Contour = plan::Contour;

    static int between(int least, int most) { return *rc::gen::inRange(least, most + 1); }
    static double tenths(int least, int most) { return between(least, most) / 10.0; }
    static bool one_in(int count) { return between(1, count) == 1; }
    static plan::Side any_side() { return one_in(2) ? plan::Side::A : plan::Side::B; }

    plan::Plan made() {
        plan_.name = "crowded";
        plan_.body.thickness_mm = thickness_mm;
        plan_.body.outline = outline();
        middle();
        const int count = between(1, 24);
        for (int i = 0; i < count; ++i) feature();
        return plan_;
    }

    static Contour outline() {
        const double wide_mm = between(60, 260), high_mm = between(50, 200);
        if (one_in(2)) return Contour(plan::Circle{{}, wide_mm / 2.0});
        if (one_in(3)) {
            const Point corners[] = {{-wide_mm / 2, -high_mm / 2}, {wide_mm / 2, -high_mm / 2},
                                     {wide_mm / 2, 0.0},           {5.0, 0.0},
                                     {5.0, high_mm / 2},           {-wide_mm / 2, high_mm / 2}};
            return *plan::polygon(corners, between(0, 4));
        }
        return plan::rectangle({}, wide_mm, high_mm, between(0, 15), {});
    }

    /// A bore, with a recess or a spigot round it.
    void middle() {
        if (one_in(3)) return;
        plan::Hole bore;
        bore.id = "bore";
        bore.kind = plan::HoleKind::bore;
        bore.diameter_mm = one_in(4) ? between(40, 160) : between(10, 40);
        bore.depth_mm = thickness_mm;
        if (!is_within_outline(plan::shaft_contour(bore))) return;
        plan_.holes.push_back(bore);
        placed_.push_back(plan::shaft_contour(bore));
        const Contour wide(plan::Circle{{}, bore.diameter_mm / 2.0 + tenths(20, 100)});
        if (one_in(2) || !is_within_outline(wide)) return;
        if (one_in(2)) {
            plan_.raised.push_back({"register-A", plan::Side::A, wide, {placed_.back()}, 3.0});
        } else {
            plan_.pockets.push_back({"register-B",
                                     plan::PocketKind::register_recess,
                                     plan::Side::B,
                                     {{wide, {}}},
                                     4.0,
                                     false,
                                     {}});
        }
    }

    bool is_within_outline(const Contour& shape) const {
        return plan::relation(shape, plan_.body.outline) == plan::Relation::first_inside_second &&
               plan::gap(shape, plan_.body.outline).distance_mm >= 0.1;
    }

    void feature() {
        const double radius_mm = tenths(10, 90);
        const Point at = place(radius_mm);
        if (one_in(20))
            angle(at, radius_mm);
        else if (one_in(5))
            relief(at, radius_mm);
        else
            hole(at, radius_mm);
        last_mm_ = radius_mm;
        last_ = at;
    }

    /// Anywhere, or beside the one before: along an axis or askew with whole tenths (3, 4, 5).
    Point place(double radius_mm) const {
        const plan::Box2 box = plan_.body.outline.box();
        if (placed_.empty() || one_in(3))
            return {double(between(int(box.least.x_mm), int(box.most.x_mm))),
                    double(between(int(box.least.y_mm), int(box.most.y_mm)))};
        if (one_in(6)) return {box.least.x_mm + radius_mm + tenths(1, 30), 0.1 * between(-200, 200)};
        const double off_mm = last_mm_ + radius_mm + tenths(1, 30);
        const Point ways[] = {{1, 0},     {0, 1},      {-1, 0},     {0, -1},
                              {0.6, 0.8}, {-0.8, 0.6}, {0.6, -0.8}, {-0.8, -0.6}};
        return last_ + ways[between(0, 7)] * off_mm;
    }

    void hole(Point at, double radius_mm) {
        plan::Hole hole;
        hole.id = "h-" + std::to_string(++count_);
        hole.pattern = "h";
        hole.at_mm = at;
        hole.diameter_mm = 2.0 * radius_mm;
        hole.through = !one_in(3);
        hole.depth_mm = hole.through ? thickness_mm : thickness_mm / 2.0;
        if (one_in(5)) {
            hole.slot_length_mm = hole.diameter_mm + tenths(5, 150);
            hole.slot_direction = Angle::from_degrees(15 * between(0, 11));
        }
        if (one_in(6)) hole.recess = plan::Recess{any_side(), hole.diameter_mm + tenths(5, 60), 3.0, {}};
        if (one_in(5)) hole.kind = plan::HoleKind::dowel;
        if (is_free(plan::shaft_contour(hole))) plan_.holes.push_back(hole);
    }

    void relief(Point at, double radius_mm) {
        plan::Pocket pocket;
        pocket.id = "relief-" + std::to_string(++count_);
        pocket.side = any_side();
        pocket.through = one_in(2);
        pocket.depth_mm = pocket.through ? thickness_mm : 4.0;
        const int kind = between(0, 2);
        const double long_mm = 2.0 * radius_mm + tenths(5, 300);
        const Contour shape = kind == 0   ? Contour(plan::Circle{at, radius_mm})
                              : kind == 1 ? plan::rectangle(at, long_mm, 2.0 * radius_mm, between(0, 2), {})
                                          : plan::slot(at, at + Point{0.0, long_mm}, 2.0 * radius_mm);
        pocket.areas.push_back({shape, {}});
        if (is_free(shape)) plan_.pockets.push_back(pocket);
    }

    /// An angle of two oblongs whose sides lie on one line for a stretch, as they are drawn.
    void angle(Point at, double radius_mm) {
        const double long_mm = 2.0 * radius_mm + between(1, 20);
        const Point ends[] = {at + Point{long_mm / 2.0, radius_mm}, at + Point{radius_mm, long_mm / 2.0}};
        const Contour arms[] = {plan::rectangle(ends[0], long_mm, 2.0 * radius_mm, 0.0, {}),
                                plan::rectangle(ends[1], 2.0 * radius_mm, long_mm, 0.0, {})};
        if (!is_free(plan::rectangle(at + Point{1, 1} * (long_mm / 2.0), long_mm, long_mm, 0.0, {}))) return;
        for (const Contour& arm : arms) {
            plan::Pocket pocket;
            pocket.id = "relief-" + std::to_string(++count_);
            pocket.through = true;
            pocket.depth_mm = thickness_mm;
            pocket.areas.push_back({arm, {}});
            plan_.pockets.push_back(pocket);
        }
    }

    /// Webs of a tenth at least; now and then two cuts cross, as a part may have them.
    bool is_free(const Contour& shape) {
        if (!is_within_outline(shape)) return false;
        const bool may_cross = one_in(20);
        for (const Contour& other : placed_) {
            const plan::Relation how = plan::relation(shape, other);
            const bool is_clear =
                how == plan::Relation::apart && plan::gap(shape, other).distance_mm >= 0.0999;
            if (!is_clear && !(may_cross && how == plan::Relation::crossing)) return false;
        }
        placed_.push_back(shape);
        return true;
    }

    static constexpr double thickness_mm = 12.0;
    plan::Plan plan_;
    std::vector<Contour> placed_;
    Point last_;
    double last_mm_ = 0.0;
    int count_ = 0;
};

inline plan::Mockup any_generous_settings() {
    const auto tenths = [](int least, int most) { return *rc::gen::inRange(least, most + 1) / 10.0; };
    plan::Mockup settings;
    settings.thickness_mm = tenths(15, 100);
    settings.hole_allowance_mm = tenths(0, *rc::gen::element(5, 30, 50));
    settings.pilot_mm = tenths(10, 120);
    if (*rc::gen::inRange(0, 2) > 0) settings.shrinkage = tenths(0, *rc::gen::element(30, 100)) / 100.0;
    settings.joint_gap_mm = tenths(1, 10);
    if (*rc::gen::inRange(0, 3) > 0) settings.bed_mm = {{tenths(1000, 2500), tenths(1000, 2500)}};
    return settings;
}

}  // namespace fitup::parts::testing
