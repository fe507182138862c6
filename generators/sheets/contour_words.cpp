#include "sheets/contour_words.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "base/text.hpp"
#include "plan/stroke.hpp"
#include "sheets/signs.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;
using plan::Stroke;

/// Sizes that differ by less are one (positions are held to 1e-6 mm).
constexpr double same_mm = 1e-5;
bool is_same(double a, double b) { return std::abs(a - b) < same_mm; }

struct Parts {
    std::vector<Stroke> lines, arcs;
};

Parts parts_of(const plan::Contour& contour) {
    Parts parts;
    for (const Stroke& stroke : contour.strokes())
        (stroke.is_line() ? parts.lines : parts.arcs).push_back(stroke);
    return parts;
}

bool are_alike(const std::vector<Stroke>& arcs, double sweep_rad) {
    for (const Stroke& arc : arcs) {
        if (!is_same(arc.radius_mm, arcs.front().radius_mm) || std::abs(arc.sweep_rad - sweep_rad) > 1e-7)
            return false;
    }
    return true;
}

double turn_deg(Point along) {
    double degrees = std::atan2(along.y_mm, along.x_mm) * 180.0 / std::numbers::pi;
    if (degrees > 90.0 - 1e-9) degrees -= 180.0;
    if (degrees <= -90.0 - 1e-9) degrees += 180.0;
    return std::abs(degrees) < 1e-9 ? 0.0 : degrees;
}

std::optional<KnownShape> slot_of(const Parts& parts) {
    if (parts.lines.size() != 2 || parts.arcs.size() != 2 || !are_alike(parts.arcs, std::numbers::pi))
        return std::nullopt;
    const Point a = parts.arcs[0].centre, b = parts.arcs[1].centre;
    const double width_mm = 2.0 * parts.arcs[0].radius_mm;
    return KnownShape{KnownShape::Kind::slot,
                      {(a.x_mm + b.x_mm) / 2.0, (a.y_mm + b.y_mm) / 2.0},
                      plan::distance_mm(a, b) + width_mm,
                      width_mm,
                      0.0,
                      turn_deg({b.x_mm - a.x_mm, b.y_mm - a.y_mm})};
}

bool are_square(const std::vector<Stroke>& lines) {
    for (std::size_t i = 0; i < 4; ++i) {
        const Point a = plan::direction_at(lines[i], 0.0), b = plan::direction_at(lines[(i + 1) % 4], 0.0);
        if (std::abs(a.x_mm * b.x_mm + a.y_mm * b.y_mm) > 1e-9) return false;
    }
    return is_same(plan::length_mm(lines[0]), plan::length_mm(lines[2])) &&
           is_same(plan::length_mm(lines[1]), plan::length_mm(lines[3]));
}

std::optional<KnownShape> rectangle_of(const Parts& parts) {
    if (parts.lines.size() != 4 || (!parts.arcs.empty() && parts.arcs.size() != 4)) return std::nullopt;
    if (!are_alike(parts.arcs, std::numbers::pi / 2.0) || !are_square(parts.lines)) return std::nullopt;
    KnownShape shape;
    shape.kind = KnownShape::Kind::rectangle;
    shape.corner_mm = parts.arcs.empty() ? 0.0 : parts.arcs[0].radius_mm;
    Point sum;
    for (const Stroke& line : parts.lines) {
        sum.x_mm += (line.from.x_mm + line.to.x_mm) / 8.0;
        sum.y_mm += (line.from.y_mm + line.to.y_mm) / 8.0;
    }
    shape.centre = sum;
    const double first_mm = plan::length_mm(parts.lines[0]) + 2.0 * shape.corner_mm,
                 second_mm = plan::length_mm(parts.lines[1]) + 2.0 * shape.corner_mm;
    const Stroke& longer = parts.lines[first_mm >= second_mm - same_mm ? 0 : 1];
    shape.length_mm = std::max(first_mm, second_mm);
    shape.width_mm = std::min(first_mm, second_mm);
    shape.turn_deg = turn_deg(plan::direction_at(longer, 0.0));
    return shape;
}

std::string turned_words(double turn_deg) {
    if (turn_deg == 0.0) return "";
    return " at " + short_text(turn_deg, 2) + sign::degree;
}

}  // namespace

std::optional<KnownShape> known_shape(const plan::Contour& contour) {
    if (const plan::Circle* circle = contour.circle())
        return KnownShape{KnownShape::Kind::circle, circle->centre, 2.0 * circle->radius_mm,
                          2.0 * circle->radius_mm};
    const Parts parts = parts_of(contour);
    if (const auto slot = slot_of(parts)) return slot;
    return rectangle_of(parts);
}

std::string shape_words(const plan::Contour& contour, const SheetSizes& sizes) {
    const auto shape = known_shape(contour);
    const std::string by = std::string(" ") + sign::times + " ";
    if (!shape) {
        const plan::Box2 box = contour.box();
        return "free shape, " + sizes.text(box.most.x_mm - box.least.x_mm) + by +
               sizes.text(box.most.y_mm - box.least.y_mm) + " over all";
    }
    if (shape->kind == KnownShape::Kind::circle) return sign::diameter + sizes.text(shape->length_mm);
    const std::string size = sizes.text(shape->length_mm) + by + sizes.text(shape->width_mm);
    if (shape->kind == KnownShape::Kind::slot) return size + " slot" + turned_words(shape->turn_deg);
    return size + (shape->corner_mm > 0.0 ? ", R" + sizes.text(shape->corner_mm) : "") +
           turned_words(shape->turn_deg);
}

plan::Point shape_centre(const plan::Contour& contour) {
    if (const auto shape = known_shape(contour)) return shape->centre;
    const plan::Box2 box = contour.box();
    return {(box.least.x_mm + box.most.x_mm) / 2.0, (box.least.y_mm + box.most.y_mm) / 2.0};
}

}  // namespace fitup::sheets
