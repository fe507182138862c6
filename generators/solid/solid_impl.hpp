#pragma once

#include <NCollection_DataMap.hxx>
#include <TopTools_ShapeMapHasher.hxx>
#include <TopoDS_Shape.hxx>
#include <TopoDS_Solid.hxx>
#include <string>

#include "solid/solid.hpp"

/// For solid/ and exchange/kernel_side/ sources and the tests of both alone.
namespace fitup::solid {

/// The id that a face carries into the exchange file; orientation doesn't matter.
using FaceNames = NCollection_DataMap<TopoDS_Shape, std::string, TopTools_ShapeMapHasher>;

struct KernelBody : Solid::Impl {
    KernelBody(TopoDS_Solid body_shape, FaceNames face_names);
    double volume_mm3() const override { return volume_mm3_; }
    double area_mm2() const override;
    plan::Box box() const override;

    TopoDS_Solid shape;
    FaceNames names;  ///< one for each face of `shape`

  private:
    double volume_mm3_;  ///< asked more often than it changes
};

inline const KernelBody& body_of(const Solid& solid) { return static_cast<const KernelBody&>(solid.impl()); }

/// Measured on the surfaces themselves, whatever triangles the shape may carry.
double volume_mm3(const TopoDS_Shape& shape);
double area_mm2(const TopoDS_Shape& shape);
plan::Box box(const TopoDS_Shape& shape);

}  // namespace fitup::solid
