#pragma once

#include <NCollection_DataMap.hxx>
#include <TopTools_ShapeMapHasher.hxx>
#include <TopoDS_Shape.hxx>
#include <TopoDS_Solid.hxx>
#include <string>

#include "solid/closed_form.hpp"
#include "solid/solid.hpp"

/// For solid/ and exchange/kernel_side/ sources and the tests of both alone.
namespace fitup::solid {

/// The id that a face carries into the exchange file; orientation doesn't matter.
using FaceNames = NCollection_DataMap<TopoDS_Shape, std::string, TopTools_ShapeMapHasher>;

struct KernelBody : Solid::Impl {
    KernelBody(TopoDS_Solid body_shape, FaceNames face_names);
    double volume_mm3() const override { return amounts_.volume_mm3; }
    double area_mm2() const override { return amounts_.area_mm2; }
    plan::Box box() const override { return amounts_.box; }

    TopoDS_Solid shape;
    FaceNames names;  ///< one for each face of `shape`

  private:
    Amounts amounts_;  ///< asked more often than it changes
};

inline const KernelBody& body_of(const Solid& solid) { return static_cast<const KernelBody&>(solid.impl()); }

/// Volume, area and box of a closed shape: in closed form where that goes, else integrated by the kernel on
/// the surfaces themselves (never on triangles).
Amounts amounts_of(const TopoDS_Shape& shape);

}  // namespace fitup::solid
