#include <BRepBndLib.hxx>
#include <BRepGProp.hxx>
#include <Bnd_Box.hxx>
#include <GProp_GProps.hxx>

#include "solid/kernel_call.hpp"
#include "solid/solid_impl.hpp"

namespace fitup::solid {
namespace {

Amounts integrated(const TopoDS_Shape& shape) {
    Amounts amounts;
    GProp_GProps volume, area;
    BRepGProp::VolumeProperties(shape, volume);
    BRepGProp::SurfaceProperties(shape, area);
    amounts.volume_mm3 = volume.Mass();
    amounts.area_mm2 = area.Mass();
    Bnd_Box box;
    BRepBndLib::AddOptimal(shape, box, false, false);
    if (box.IsVoid()) return amounts;
    auto& [least, most] = amounts.box;
    box.Get(least[0], least[1], least[2], most[0], most[1], most[2]);
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
