#include <algorithm>

#include "base/error.hpp"
#include "parts/plate_shape.hpp"

namespace fitup::parts {

namespace {

using plan::Circle;
using plan::Contour;

std::vector<Circle> circles_to_go_around(const plan::Plan& plan, double margin_mm) {
    std::vector<Circle> circles;
    for (const plan::Hole& hole : plan.holes) {
        circles.push_back({hole.at_mm, largest_diameter_mm(hole) / 2.0 + margin_mm});
    }
    for (const plan::Register& reg : plan.registers) {
        circles.push_back({plan::Point{}, reg.diameter_mm / 2.0 + margin_mm});
    }
    return circles;
}

std::optional<Contour> contour_of(Reader&, const Field&, const RoundOutline& round, const plan::Plan&) {
    return Contour(Circle{plan::Point{}, round.diameter_mm / 2.0});
}

std::optional<Contour> contour_of(Reader& reader, const Field& field, const RectangleOutline& size,
                                  const plan::Plan&) {
    return rectangle_contour(reader, field["rectangle"], {plan::Point{}, size, Angle{}});
}

std::optional<Contour> contour_of(Reader& reader, const Field& field, const PolygonOutline& polygon,
                                  const plan::Plan&) {
    return polygon_contour(reader, field["polygon"], polygon);
}

std::optional<Contour> contour_of(Reader& reader, const Field& field, const AroundOutline& around,
                                  const plan::Plan& plan) {
    const std::vector<Circle> circles = circles_to_go_around(plan, around.margin_mm);
    if (!circles.empty()) return plan::hull(circles);
    reader.wrong_in_words(field["around"], "there is no hole, bore or register to go around");
    return {};
}

bool keeps_its_edges(const Contour& outline, double inset_mm) {
    try {
        const std::vector<Contour> narrowed = plan::inset(outline, inset_mm);
        return narrowed.size() == 1 && narrowed[0].edges().size() == outline.edges().size();
    } catch (const KernelError&) {
        return false;  // the narrowed outline all but touches itself
    }
}

/// A chamfer narrows each face by its size; where that face would lose an edge or fall apart, there is no
/// such chamfer.
void check_edge_break(Reader& reader, const Field& field, const plan::Slab& body) {
    const double size_mm = *body.edge_break_mm;
    if (2.0 * size_mm >= body.thickness_mm) {
        reader.wrong(field["size"],
                     "less than half the thickness, " + reader.length_text(body.thickness_mm / 2.0));
        return;
    }
    if (keeps_its_edges(body.outline, size_mm)) return;
    reader.wrong(field["size"], "a size smaller than every edge and corner radius of the outline");
}

}  // namespace

double largest_diameter_mm(const plan::Hole& hole) {
    return std::max({hole.diameter_mm, hole.finish_diameter_mm.value_or(0.0),
                     hole.slot_length_mm.value_or(0.0), hole.recess ? hole.recess->diameter_mm : 0.0,
                     hole.countersink ? hole.countersink->diameter_mm : 0.0});
}

std::optional<Contour> rectangle_contour(Reader& reader, const Field& field,
                                         const ReliefRectangle& rectangle) {
    const RectangleOutline& size = rectangle.size;
    const double shorter_mm = std::min(size.width_mm, size.height_mm);
    if (2.0 * size.corner_radius_mm > shorter_mm) {
        reader.wrong(field["corner_radius"],
                     "at most half the shorter side, " + reader.length_text(shorter_mm / 2.0));
        return {};
    }
    return plan::rectangle(rectangle.at, size.width_mm, size.height_mm, size.corner_radius_mm,
                           rectangle.angle);
}

std::optional<Contour> polygon_contour(Reader& reader, const Field& field, const PolygonOutline& polygon) {
    auto contour = plan::polygon(polygon.points, polygon.corner_radius_mm);
    if (contour) return contour;
    const bool is_radius = polygon.corner_radius_mm > 0.0 && plan::polygon(polygon.points, 0.0);
    if (is_radius) {
        reader.wrong(field["corner_radius"], "a radius that fits every edge between its two corners");
    } else {
        reader.wrong_in_words(field["points"],
                              "these points make no area, or an edge crosses or touches another");
    }
    return {};
}

void add_body(Reader& reader, const AdapterPlate& plate, plan::Plan& plan) {
    const Field root = reader.root();
    const auto contour = std::visit(
        [&](const auto& kind) { return contour_of(reader, root["outline"], kind, plan); }, plate.outline);
    if (!contour) return;
    plan.body.outline = *contour;
    plan.body.thickness_mm = plate.thickness_mm;
    plan.body.edge_break_mm = plate.edge_break_mm;
    plan.body.edge_break_modelled = plate.edge_break_modelled;
    if (plate.edge_break_mm && plate.edge_break_modelled)
        check_edge_break(reader, root["edge_break"], plan.body);
}

}  // namespace fitup::parts
