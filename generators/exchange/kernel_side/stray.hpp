#pragma once

#include <TopoDS_Shape.hxx>

/// For exchange/kernel_side/ sources alone.
namespace fitup::exchange {

/// How far a shape's triangles and its surfaces are from each other at most, either way, in mm.
///
/// Planes, cylinders, cones, spheres and tori, and edges that are lines and circles, in closed form: what the
/// nearest point map of a triangle can't leave out is bounded by its edges' sagitta. Free-form faces and
/// edges by second derivatives at seven places a triangle (three a stretch of an edge), doubled. REQUIRES:
/// every face has triangles with parameters. Inside a kernel call.
double stray_mm(const TopoDS_Shape& triangulated);

/// Faces that got no triangles.
int faces_without_triangles(const TopoDS_Shape& triangulated);

}  // namespace fitup::exchange
