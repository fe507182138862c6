#include <BRep_Builder.hxx>
#include <Geom_Plane.hxx>
#include <TopoDS.hxx>
#include <cmath>
#include <map>

#include "base/error.hpp"
#include "solid/bevel_match.hpp"
#include "solid/patches.hpp"
#include "solid/skin_faces.hpp"

namespace fitup::solid {
namespace {

TopoDS_Face drill_point(Rims& rims, const plan::Slope& slope) {
    const Track& track = rims.tracks(slope.outer).front();
    const Rim& rim = rims.at(slope.outer, slope.z_outer_mm);
    ConePatch patch{track.origin, track.direction, track.extent, {}, {}, {}, {}};
    patch.from = {slope.z_outer_mm, track.radius_mm, rim.edges.front(), {}};
    patch.to = {slope.z_inner_mm, 0.0, {}, vertex(track.origin, slope.z_inner_mm)};
    patch.start = patch.finish = straight_edge(rim.vertices.front(), patch.to.tip);
    return cone_face(patch, slope.faces_up);
}

TopoDS_Face round_bevel(Rims& rims, const plan::Slope& slope) {
    const Track& outer = rims.tracks(slope.outer).front();
    const Track& inner = rims.tracks(*slope.inner).front();
    const Rim& from = rims.at(slope.outer, slope.z_outer_mm);
    const Rim& to = rims.at(*slope.inner, slope.z_inner_mm);
    ConePatch patch{outer.origin, outer.direction, outer.extent, {}, {}, {}, {}};
    patch.from = {slope.z_outer_mm, outer.radius_mm, from.edges.front(), {}};
    patch.to = {slope.z_inner_mm, inner.radius_mm, to.edges.front(), {}};
    patch.start = patch.finish = straight_edge(from.vertices.front(), to.vertices.front());
    return cone_face(patch, slope.faces_up);
}

/// The bevel between a path and its inset, a face for each piece; neighbours share the edge between their
/// corners.
class PathBevel {
  public:
    PathBevel(Rims& rims, const plan::Slope& slope)
        : outer_(rims.tracks(slope.outer)),
          inner_(rims.tracks(*slope.inner)),
          from_(rims.at(slope.outer, slope.z_outer_mm)),
          to_(rims.at(*slope.inner, slope.z_inner_mm)),
          faces_up_(slope.faces_up) {}

    TopoDS_Face face(const BevelPiece& piece) {
        if (piece.outer_track && piece.inner_track && !outer_[*piece.outer_track].is_arc) return flat(piece);
        return conical(piece);
    }

  private:
    TopoDS_Edge side(std::size_t outer_corner, std::size_t inner_corner) {
        auto& edge = sides_[{outer_corner, inner_corner}];
        if (edge.IsNull()) edge = straight_edge(from_.vertices[outer_corner], to_.vertices[inner_corner]);
        return edge;
    }
    TopoDS_Edge start_of(const BevelPiece& piece) { return side(piece.outer_corner, piece.inner_corner); }
    TopoDS_Edge end_of(const BevelPiece& piece) {
        return side(piece.outer_track ? (piece.outer_corner + 1) % outer_.size() : piece.outer_corner,
                    piece.inner_track ? (piece.inner_corner + 1) % inner_.size() : piece.inner_corner);
    }

    TopoDS_Face flat(const BevelPiece& piece) {
        const Track& outer = outer_[*piece.outer_track];
        const Track& inner = inner_[*piece.inner_track];
        const gp_Pnt origin(outer.origin.x_mm, outer.origin.y_mm, from_.z_mm);
        const gp_Dir along(outer.direction.x_mm, outer.direction.y_mm, 0.0);
        const gp_Vec across(origin, gp_Pnt(inner.origin.x_mm, inner.origin.y_mm, to_.z_mm));
        const gp_Dir normal = gp_Vec(along).Crossed(across);
        const std::array<TopoDS_Shape, 4> edges{from_.edges[*piece.outer_track], end_of(piece),
                                                to_.edges[*piece.inner_track].Reversed(),
                                                start_of(piece).Reversed()};
        const TopoDS_Face face = face_on(new Geom_Plane(gp_Ax3(origin, normal, along)), closed_wire(edges));
        // Outer to inner is to the left, so this normal points up whichever end is higher.
        return TopoDS::Face(turned(face, !faces_up_));
    }

    TopoDS_Face conical(const BevelPiece& piece) {
        const Track& track = piece.outer_track ? outer_[*piece.outer_track] : inner_[*piece.inner_track];
        ConePatch patch{track.origin, track.direction, track.extent, {}, {}, {}, {}};
        patch.from = piece.outer_track ? arc_end(from_, outer_, *piece.outer_track)
                                       : tip_end(from_, piece.outer_corner);
        patch.to =
            piece.inner_track ? arc_end(to_, inner_, *piece.inner_track) : tip_end(to_, piece.inner_corner);
        patch.start = track.along ? start_of(piece) : end_of(piece);
        patch.finish = track.along ? end_of(piece) : start_of(piece);
        return cone_face(patch, faces_up_);
    }

    static ConeEnd arc_end(const Rim& rim, std::span<const Track> tracks, std::size_t index) {
        return {rim.z_mm, tracks[index].radius_mm, rim.edges[index], {}};
    }
    static ConeEnd tip_end(const Rim& rim, std::size_t corner) {
        return {rim.z_mm, 0.0, {}, rim.vertices[corner]};
    }

    std::span<const Track> outer_;
    std::span<const Track> inner_;
    const Rim& from_;
    const Rim& to_;
    bool faces_up_;
    std::map<std::pair<std::size_t, std::size_t>, TopoDS_Edge> sides_;
};

std::vector<TopoDS_Face> path_bevel(Rims& rims, const plan::Slope& slope) {
    const auto pieces = match_bevel(rims, slope.outer, *slope.inner);
    if (pieces.empty())
        throw KernelError("the bevel at " + slope.name + ": its two edges are no offsets of each other");
    PathBevel bevel(rims, slope);
    std::vector<TopoDS_Face> faces;
    for (const auto& piece : pieces) faces.push_back(bevel.face(piece));
    return faces;
}

}  // namespace

std::vector<TopoDS_Face> slope_faces(Rims& rims, const plan::Slope& slope) {
    const bool outer_round = rims.tracks(slope.outer).front().is_full_turn();
    const bool inner_round = !slope.inner || rims.tracks(*slope.inner).front().is_full_turn();
    if (outer_round != inner_round) {
        throw KernelError("the slope at " + slope.name + ": one of its edges is a circle, the other is not");
    }
    if (!outer_round) return path_bevel(rims, slope);
    return {slope.inner ? round_bevel(rims, slope) : drill_point(rims, slope)};
}

}  // namespace fitup::solid
