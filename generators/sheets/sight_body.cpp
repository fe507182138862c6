#include "sheets/sight_body.hpp"

#include <algorithm>
#include <cmath>

#include "plan/vector.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;
using plan::same_point_mm;
using plan::Stroke;

constexpr int rings_of_a_cone = 8;

/// Every cut of a part is asked about every other one.
bool meet(const plan::Box2& a, const plan::Box2& b) {
    return a.least.x_mm <= b.most.x_mm + same_point_mm && b.least.x_mm <= a.most.x_mm + same_point_mm &&
           a.least.y_mm <= b.most.y_mm + same_point_mm && b.least.y_mm <= a.most.y_mm + same_point_mm;
}

bool crosses(const Feature& feature, const Stroke& stroke) {
    if (!meet(feature.box, plan::box(stroke))) return false;
    for (const plan::Contour* contour : feature.contours()) {
        for (const Stroke& own : plan::strokes_of(*contour)) {
            if (plan::crossings(own, stroke).count > 0) return true;
        }
    }
    return false;
}

}  // namespace

SightBody::SightBody(const MetalMap& metal, const CutPiece& plane)
    : metal_(metal), plane_(plane), way_(plan::unit(plane.to - plane.from)) {
    for (const Feature& feature : metal.features()) {
        if (can_be_seen(feature)) add(feature);
    }
    collect_changes();
}

Point SightBody::to_frame(Point at) const {
    return {plan::dot(at - plane_.from, way_), plan::cross(way_, at - plane_.from)};
}
Stroke SightBody::to_frame(Stroke stroke) const {
    stroke.from = to_frame(stroke.from);
    stroke.to = to_frame(stroke.to);
    stroke.centre = to_frame(stroke.centre);
    return stroke;
}

/// A cut that neither the plane nor another contour crosses lies in metal all round, or in the floor of a
/// pocket, which is seen edge-on.
bool SightBody::can_be_seen(const Feature& feature) const {
    if (feature.is_mark || feature.shape == Feature::Shape::barrel) return false;
    if (!feature.takes) return true;
    const Stroke plane = plan::line_stroke(plane_.from, plane_.to);
    if (crosses(feature, plane)) return true;
    for (const Feature& other : metal_.features()) {
        if (!meet(feature.box, other.box) || &other == &feature || other.is_mark || other.id == feature.id)
            continue;
        for (const plan::Contour* contour : other.contours()) {
            for (const Stroke& stroke : plan::strokes_of(*contour)) {
                if (crosses(feature, stroke)) return true;
            }
        }
    }
    return false;
}

void SightBody::add(const Feature& feature) {
    std::vector<plan::Contour> contours;
    for (const plan::Contour* contour : feature.contours()) contours.push_back(*contour);
    if (feature.shape == Feature::Shape::cone) return add_cone(feature);
    if (feature.shape == Feature::Shape::chamfered) return add_chamfered(feature);
    add_prism({&feature, std::move(contours), feature.low_mm, feature.high_mm, std::nullopt});
}

void SightBody::add_cone(const Feature& feature) {
    const Point axis = feature.area.outer.circle()->centre;
    const std::size_t own = static_cast<std::size_t>(&feature - metal_.features().data());
    const double height_mm = feature.cone_high_mm - feature.cone_low_mm;
    for (int k = 0; k < rings_of_a_cone; ++k) {
        const double share = (k + 0.5) / rings_of_a_cone;
        const double radius_mm =
            feature.radius_low_mm + share * (feature.radius_high_mm - feature.radius_low_mm);
        double low_mm = feature.cone_low_mm + height_mm * k / rings_of_a_cone;
        double high_mm = feature.cone_low_mm + height_mm * (k + 1) / rings_of_a_cone;
        if (k == 0) low_mm = feature.low_mm;
        if (k + 1 == rings_of_a_cone) high_mm = feature.high_mm;
        add_prism({&feature, {plan::Contour(plan::Circle{axis, radius_mm})}, low_mm, high_mm, own});
    }
}

/// The broken edges as one step each, half as far in as they go.
void SightBody::add_chamfered(const Feature& slab) {
    const auto narrow = plan::inset(slab.area.outer, slab.break_mm / 2.0);
    const double low_mm = slab.low_mm + slab.break_mm, high_mm = slab.high_mm - slab.break_mm;
    add_prism({&slab, {slab.area.outer}, low_mm, high_mm, std::nullopt});
    if (narrow.size() != 1) return;
    add_prism({&slab, narrow, slab.low_mm, low_mm, std::nullopt});
    add_prism({&slab, narrow, high_mm, slab.high_mm, std::nullopt});
}

void SightBody::add_prism(Prism prism) {
    for (const plan::Contour& contour : prism.contours) {
        for (const Stroke& stroke : plan::strokes_of(contour)) {
            const Stroke own = to_frame(stroke);
            walls_.push_back({own, plan::box(own), prism_of_.size()});
        }
        prism_of_.push_back(prisms_.size());
    }
    prisms_.push_back(std::move(prism));
}

void SightBody::add_change(double along_mm) {
    if (along_mm > -same_point_mm && along_mm < plane_.length_mm() + same_point_mm)
        changes_.push_back(along_mm);
}

void SightBody::add_changes(const Wall& wall) {
    const Stroke& stroke = wall.stroke;
    for (const Point& end : {stroke.from, stroke.to}) add_change(end.x_mm);
    if (stroke.is_line()) {
        if ((stroke.from.y_mm < 0.0) != (stroke.to.y_mm < 0.0)) {
            const double share = stroke.from.y_mm / (stroke.from.y_mm - stroke.to.y_mm);
            add_change(stroke.from.x_mm + share * (stroke.to.x_mm - stroke.from.x_mm));
        }
        return;
    }
    for (const double way : {1.0, -1.0}) {
        if (plan::spans(stroke, {way, 0.0})) add_change(stroke.centre.x_mm + way * stroke.radius_mm);
        const double square = stroke.radius_mm * stroke.radius_mm - stroke.centre.y_mm * stroke.centre.y_mm;
        const Point out{way * std::sqrt(std::max(0.0, square)), -stroke.centre.y_mm};
        if (square >= 0.0 && plan::spans(stroke, out)) add_change(stroke.centre.x_mm + out.x_mm);
    }
}

void SightBody::collect_changes() {
    add_change(0.0);
    add_change(plane_.length_mm());
    for (std::size_t k = 0; k < walls_.size(); ++k) {
        add_changes(walls_[k]);
        for (std::size_t other = 0; other < k; ++other) add_meetings(walls_[k], walls_[other]);
    }
    std::sort(changes_.begin(), changes_.end());
}

void SightBody::add_meetings(const Wall& first, const Wall& second) {
    if (first.contour == second.contour || !meet(first.box, second.box)) return;
    for (const Point& at : plan::crossings(first.stroke, second.stroke)) add_change(at.x_mm);
}

}  // namespace fitup::sheets
