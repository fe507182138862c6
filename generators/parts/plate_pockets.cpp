#include "parts/plate_shape.hpp"

namespace fitup::parts {

namespace {

using plan::Contour;

/// A relief's contour with the least inside radius of it, which limits the cutter.
struct Shape {
    std::optional<Contour> contour;
    std::optional<double> corner_radius_mm;
};

Shape shape_of(Reader&, const Field&, const plan::Circle& circle) { return {Contour(circle), {}}; }

Shape shape_of(Reader& reader, const Field& field, const ReliefSlot& slot) {
    if (plan::distance_mm(slot.from, slot.to) < plan::same_point_mm) {
        reader.wrong_in_words(field["slot"], "both ends lie at one place, wanted two places (or a circle)");
        return {};
    }
    return {plan::slot(slot.from, slot.to, slot.width_mm), slot.width_mm / 2.0};
}

Shape shape_of(Reader& reader, const Field& field, const ReliefRectangle& rectangle) {
    return {rectangle_contour(reader, field["rectangle"], rectangle), rectangle.size.corner_radius_mm};
}

Shape shape_of(Reader& reader, const Field& field, const PolygonOutline& polygon) {
    return {polygon_contour(reader, field["polygon"], polygon), polygon.corner_radius_mm};
}

void add_relief(Reader& reader, const ReliefParameters& relief, std::size_t ordinal, double thickness_mm,
                plan::Plan& plan) {
    const Shape shape =
        std::visit([&](const auto& kind) { return shape_of(reader, relief.field, kind); }, relief.shape);
    if (relief.depth_mm && *relief.depth_mm >= thickness_mm) {
        reader.wrong(relief.field["depth"], "less than the thickness, " + reader.length_text(thickness_mm),
                     "or \"through\"");
    }
    if (!shape.contour) return;
    plan.pockets.push_back({.id = "relief-" + std::to_string(ordinal),
                            .kind = plan::PocketKind::relief,
                            .side = relief.side,
                            .areas = {{*shape.contour, {}}},
                            .depth_mm = relief.depth_mm.value_or(thickness_mm),
                            .through = !relief.depth_mm,
                            .corner_radius_mm = shape.corner_radius_mm});
}

}  // namespace

void add_reliefs(Reader& reader, const AdapterPlate& plate, plan::Plan& plan) {
    for (std::size_t i = 0; i < plate.reliefs.size(); ++i) {
        add_relief(reader, plate.reliefs[i], i + 1, plate.thickness_mm, plan);
    }
}

}  // namespace fitup::parts
