#include <BRepBndLib.hxx>
#include <BRepGProp.hxx>
#include <Bnd_Box.hxx>
#include <GProp_GProps.hxx>

#include "solid/kernel_call.hpp"
#include "solid/solid_impl.hpp"

namespace fitup::solid {

KernelBody::KernelBody(TopoDS_Solid body_shape, FaceNames face_names)
    : shape(std::move(body_shape)), names(std::move(face_names)), volume_mm3_(solid::volume_mm3(shape)) {}

double KernelBody::area_mm2() const { return solid::area_mm2(shape); }

plan::Box KernelBody::box() const { return solid::box(shape); }

double volume_mm3(const TopoDS_Shape& shape) {
    return kernel_call("measuring a volume", [&] {
        GProp_GProps properties;
        BRepGProp::VolumeProperties(shape, properties);
        return properties.Mass();
    });
}

double area_mm2(const TopoDS_Shape& shape) {
    return kernel_call("measuring an area", [&] {
        GProp_GProps properties;
        BRepGProp::SurfaceProperties(shape, properties);
        return properties.Mass();
    });
}

plan::Box box(const TopoDS_Shape& shape) {
    return kernel_call("measuring a bounding box", [&] {
        Bnd_Box box;
        BRepBndLib::AddOptimal(shape, box, false, false);
        plan::Box result;
        if (box.IsVoid()) return result;
        box.Get(result.least[0], result.least[1], result.least[2], result.most[0], result.most[1],
                result.most[2]);
        return result;
    });
}

}  // namespace fitup::solid
