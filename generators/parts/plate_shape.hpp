#pragma once

#include "parts/adapter_plate.hpp"

/// The plate's own shape: outline, registers, hollow, reliefs, marks. Each adds to the plan; shapes that do
/// not exist become faults of the reader.
namespace fitup::parts {

void add_registers(Reader& reader, const AdapterPlate& plate, plan::Plan& plan);

/// Outline, thickness, edge break. REQUIRES: holes and registers are in the plan (an `around` outline goes
/// round them).
void add_body(Reader& reader, const AdapterPlate& plate, plan::Plan& plan);

/// REQUIRES: the body and every hole are in the plan.
void add_hollow(Reader& reader, const AdapterPlate& plate, plan::Plan& plan);

void add_reliefs(Reader& reader, const AdapterPlate& plate, plan::Plan& plan);

void add_marks(Reader& reader, const AdapterPlate& plate, plan::Plan& plan);

/// The widest that a hole gets anywhere: recess, countersink, slot and reamed size included. mm.
double largest_diameter_mm(const plan::Hole& hole);

/// The contour of a polygon, or nothing and a fault that says whether its points or its corner radius are at
/// fault.
std::optional<plan::Contour> polygon_contour(Reader& reader, const Field& field,
                                             const PolygonOutline& polygon);

/// The contour of a rectangle, or nothing and a fault where its corners are too round for it.
std::optional<plan::Contour> rectangle_contour(Reader& reader, const Field& field,
                                               const ReliefRectangle& rectangle);

}  // namespace fitup::parts
