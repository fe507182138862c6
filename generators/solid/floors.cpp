#include <BRep_Builder.hxx>
#include <Geom_Plane.hxx>
#include <TopoDS.hxx>

#include "solid/patches.hpp"
#include "solid/skin_faces.hpp"

namespace fitup::solid {
namespace {

TopoDS_Wire loop(Rims& rims, std::size_t contour, double z_mm) {
    const Rim& rim = rims.at(contour, z_mm);
    const auto tracks = rims.tracks(contour);
    std::vector<TopoDS_Shape> edges;
    for (std::size_t i = 0; i < tracks.size(); ++i) edges.push_back(turned(rim.edges[i], !tracks[i].along));
    return closed_wire(edges);
}

}  // namespace

TopoDS_Face floor_face(Rims& rims, const plan::Floor& floor) {
    const gp_Ax3 place(gp_Pnt(0.0, 0.0, floor.z_mm), gp::DZ(), gp::DX());
    TopoDS_Face face = face_on(new Geom_Plane(place), loop(rims, floor.outer, floor.z_mm));
    for (const std::size_t inner : floor.inner) {
        BRep_Builder().Add(face, loop(rims, inner, floor.z_mm).Reversed());
    }
    return TopoDS::Face(turned(face, !floor.faces_up));
}

}  // namespace fitup::solid
