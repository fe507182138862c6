#include <BRepBndLib.hxx>
#include <BRepGProp.hxx>
#include <Bnd_Box.hxx>
#include <GProp_GProps.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>

#include "solid/kernel_call.hpp"
#include "solid/solid_impl.hpp"
#include "solid/spline_patch.hpp"

namespace fitup::solid {
namespace {

constexpr plan::Box nothing_yet{{1e300, 1e300, 1e300}, {-1e300, -1e300, -1e300}};

struct FaceAmounts {
    double area_mm2 = 0.0;
    plan::Box box = nothing_yet;
};

/// Area and box of one face by the kernel's own search, which takes tens of milliseconds for a spline.
FaceAmounts searched(const TopoDS_Face& face) {
    GProp_GProps area;
    BRepGProp::SurfaceProperties(face, area);
    FaceAmounts amounts{area.Mass(), nothing_yet};
    Bnd_Box box;
    BRepBndLib::AddOptimal(face, box, false, false);
    if (box.IsVoid()) return amounts;
    auto& [least, most] = amounts.box;
    box.Get(least[0], least[1], least[2], most[0], most[1], most[2]);
    return amounts;
}

FaceAmounts measured(const TopoDS_Face& face) {
    const auto patch = SplinePatch::of(face);
    return patch ? FaceAmounts{patch->share({}).area_mm2, patch->box()} : searched(face);
}

Amounts integrated(const TopoDS_Shape& shape) {
    Amounts amounts;
    GProp_GProps volume;
    BRepGProp::VolumeProperties(shape, volume);
    amounts.volume_mm3 = volume.Mass();
    plan::Box box = nothing_yet;
    for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
        const FaceAmounts own = measured(TopoDS::Face(faces.Current()));
        amounts.area_mm2 += own.area_mm2;
        for (std::size_t k = 0; k < 3; ++k) {
            box.least[k] = std::min(box.least[k], own.box.least[k]);
            box.most[k] = std::max(box.most[k], own.box.most[k]);
        }
    }
    if (box.least[0] <= box.most[0]) amounts.box = box;
    return amounts;
}

}  // namespace

KernelBody::KernelBody(TopoDS_Solid body_shape, FaceNames face_names)
    : shape(std::move(body_shape)), names(std::move(face_names)), amounts_(amounts_of(shape)) {}

Amounts amounts_of(const TopoDS_Shape& shape) {
    return kernel_call("measuring volume, area and box", [&] {
        const auto amounts = amounts_in_closed_form(shape);
        return amounts ? *amounts : integrated(shape);
    });
}

}  // namespace fitup::solid
