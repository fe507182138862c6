#include <BRep_Builder.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Plane.hxx>
#include <Precision.hxx>
#include <TopoDS.hxx>

#include "solid/patches.hpp"
#include "solid/skin_faces.hpp"

namespace fitup::solid {
namespace {

Handle(Geom_Surface) surface_over(const Track& track) {
    const gp_Pnt origin(track.origin.x_mm, track.origin.y_mm, 0.0);
    const gp_Dir direction(track.direction.x_mm, track.direction.y_mm, 0.0);
    if (track.is_arc)
        return new Geom_CylindricalSurface(gp_Ax3(origin, gp::DZ(), direction), track.radius_mm);
    return new Geom_Plane(gp_Ax3(origin, direction.Crossed(gp::DZ()), direction));
}

/// A vertical strip over one track: (u, v) is the track's parameter and z on a cylinder and on a plane alike.
struct Strip {
    TopoDS_Edge low;
    TopoDS_Edge high;
    TopoDS_Edge at_first;  ///< upright, from the low rim to the high one
    TopoDS_Edge at_last;
};

TopoDS_Face strip_face(const Track& track, const Strip& strip, double z_low_mm, double z_high_mm) {
    const BRep_Builder builder;
    TopoDS_Face face;
    builder.MakeFace(face, surface_over(track), Precision::Confusion());
    lay_on(strip.low, face, {0.0, z_low_mm, 1.0, 0.0});
    lay_on(strip.high, face, {0.0, z_high_mm, 1.0, 0.0});
    const Line2 first{0.0, z_low_mm, 0.0, 1.0};
    const Line2 last{track.extent, z_low_mm, 0.0, 1.0};
    if (track.is_full_turn()) {
        lay_seam_on(strip.at_first, face, last, first);
    } else {
        lay_on(strip.at_first, face, first);
        lay_on(strip.at_last, face, last);
    }
    builder.Add(face, closed_wire(std::initializer_list<TopoDS_Shape>{
                          strip.low, strip.at_last, strip.high.Reversed(), strip.at_first.Reversed()}));
    return face;
}

}  // namespace

std::vector<TopoDS_Face> wall_faces(Rims& rims, const plan::Wall& wall) {
    const Rim& low = rims.at(wall.contour, wall.z_low_mm);
    const Rim& high = rims.at(wall.contour, wall.z_high_mm);
    std::vector<TopoDS_Edge> uprights;
    for (std::size_t i = 0; i < low.vertices.size(); ++i) {
        uprights.push_back(straight_edge(low.vertices[i], high.vertices[i]));
    }
    const auto tracks = rims.tracks(wall.contour);
    std::vector<TopoDS_Face> faces;
    for (std::size_t i = 0; i < tracks.size(); ++i) {
        const Track& track = tracks[i];
        const TopoDS_Face face =
            strip_face(track, {low.edges[i], high.edges[i], uprights[track.first], uprights[track.last]},
                       wall.z_low_mm, wall.z_high_mm);
        // The strip's normal points right of its track, which is out of the contour where the track runs
        // along it.
        faces.push_back(TopoDS::Face(turned(face, track.along != wall.metal_inside)));
    }
    return faces;
}

}  // namespace fitup::solid
