#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom_Circle.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Line.hxx>
#include <Geom_Plane.hxx>
#include <Precision.hxx>
#include <TopExp.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <array>
#include <cmath>
#include <gp_Circ.hxx>
#include <numbers>

#include "solid/kernel_call.hpp"
#include "solid/patches.hpp"
#include "solid/thread.hpp"

/// What a thread's circles join: planes and cylinders.
namespace fitup::solid {
namespace {

using std::numbers::pi;

TopoDS_Wire wire_of(const Ring& ring, bool anticlockwise) {
    std::vector<TopoDS_Shape> edges;
    for (const Ring::Arc& arc : ring.arcs) edges.push_back(turned(arc.edge, !anticlockwise));
    if (!anticlockwise) std::reverse(edges.begin(), edges.end());
    return closed_wire(edges);
}

/// The arcs of a half turn, counted from angle 0; their places as from 0 to 2 pi.
std::vector<Ring::Arc> half_of(const Ring& ring, int half) {
    std::vector<Ring::Arc> found;
    for (Ring::Arc arc : ring.arcs) {
        // An arc's middle tells its half in spite of rounding at its ends.
        const double middle = 0.5 * (arc.from_rad + arc.to_rad);
        const double back = 2.0 * pi * std::floor(middle / (2.0 * pi));
        if ((middle - back > pi) != (half == 1)) continue;
        arc.from_rad -= back;
        arc.to_rad -= back;
        found.push_back(arc);
    }
    std::sort(found.begin(), found.end(),
              [](const Ring::Arc& a, const Ring::Arc& b) { return a.from_rad < b.from_rad; });
    return found;
}

TopoDS_Vertex start_of(const std::vector<Ring::Arc>& arcs) {
    return TopExp::FirstVertex(arcs.front().edge, true);
}

void lay_arcs(const std::vector<Ring::Arc>& arcs, const TopoDS_Face& face, double v) {
    for (const Ring::Arc& arc : arcs) {
        double first = 0.0, last = 0.0;
        BRep_Tool::Range(arc.edge, first, last);
        const bool along = arc.edge.Orientation() == TopAbs_FORWARD;
        lay_on(arc.edge, face,
               along ? Line2{arc.from_rad - first, v, 1.0, 0.0} : Line2{arc.to_rad + first, v, -1.0, 0.0});
    }
}

}  // namespace

Ring plain_ring(double radius_mm, double z_mm, const gp_Trsf& place) {
    const gp_Circ circle(gp_Ax2(gp_Pnt(0.0, 0.0, z_mm), gp::DZ(), gp::DX()).Transformed(place), radius_mm);
    const BRep_Builder builder;
    std::array<TopoDS_Vertex, 2> ends;
    for (std::size_t k = 0; k < 2; ++k) {
        const gp_Pnt point(k == 0 ? radius_mm : -radius_mm, 0.0, z_mm);
        builder.MakeVertex(ends[k], point.Transformed(place), Precision::Confusion());
    }
    Ring ring{z_mm, radius_mm, {}};
    for (std::size_t k = 0; k < 2; ++k) {
        TopoDS_Edge edge;
        const double from = k == 0 ? 0.0 : pi;
        builder.MakeEdge(edge, new Geom_Circle(circle), Precision::Confusion());
        builder.Add(edge, ends[k].Oriented(TopAbs_FORWARD));
        builder.Add(edge, ends[1 - k].Oriented(TopAbs_REVERSED));
        builder.Range(edge, from, from + pi);
        ring.arcs.push_back({edge, from, from + pi});
    }
    return ring;
}

TopoDS_Face flat_face(const Ring& outer, const Ring* inner, bool up, const gp_Trsf& place) {
    return kernel_call("the flat end of a thread", [&] {
        const gp_Ax3 frame(gp_Pnt(0.0, 0.0, outer.z_mm), gp::DZ(), gp::DX());
        TopoDS_Face face = face_on(new Geom_Plane(frame.Transformed(place)), wire_of(outer, true));
        if (inner != nullptr) BRep_Builder().Add(face, wire_of(*inner, false));
        return TopoDS::Face(turned(face, !up));
    });
}

std::vector<TopoDS_Face> sleeve_faces(const Ring& low, const Ring& high, bool metal_inside,
                                      const gp_Trsf& place) {
    return kernel_call("the cylinder beside a thread", [&] {
        const double height = high.z_mm - low.z_mm;
        const gp_Ax3 frame = gp_Ax3(gp_Pnt(0.0, 0.0, low.z_mm), gp::DZ(), gp::DX()).Transformed(place);
        std::array<std::vector<Ring::Arc>, 2> lows{half_of(low, 0), half_of(low, 1)};
        std::array<std::vector<Ring::Arc>, 2> highs{half_of(high, 0), half_of(high, 1)};
        std::array<TopoDS_Edge, 2> seams;
        for (std::size_t k = 0; k < 2; ++k) seams[k] = straight_edge(start_of(lows[k]), start_of(highs[k]));
        std::vector<TopoDS_Face> faces;
        for (std::size_t k = 0; k < 2; ++k) {
            TopoDS_Face face;
            BRep_Builder().MakeFace(face, new Geom_CylindricalSurface(frame, low.radius_mm),
                                    Precision::Confusion());
            const double first = k == 0 ? 0.0 : pi;
            lay_arcs(lows[k], face, 0.0);
            lay_arcs(highs[k], face, height);
            lay_on(seams[k], face, {first, 0.0, 0.0, 1.0});
            lay_on(seams[1 - k], face, {first + pi, 0.0, 0.0, 1.0});
            std::vector<TopoDS_Shape> edges;
            for (const Ring::Arc& arc : lows[k]) edges.push_back(arc.edge);
            edges.push_back(seams[1 - k]);
            for (auto arc = highs[k].rbegin(); arc != highs[k].rend(); ++arc)
                edges.push_back(arc->edge.Reversed());
            edges.push_back(seams[k].Reversed());
            BRep_Builder().Add(face, closed_wire(edges));
            faces.push_back(TopoDS::Face(turned(face, !metal_inside)));
        }
        return faces;
    });
}

}  // namespace fitup::solid
