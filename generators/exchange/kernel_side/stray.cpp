#include "exchange/kernel_side/stray.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <Poly_PolygonOnTriangulation.hxx>
#include <Poly_Triangulation.hxx>
#include <Precision.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <array>
#include <cmath>

namespace fitup::exchange {
namespace {

/// Free forms are measured at places, not bounded: twice what is found there.
constexpr double doubt_of_samples = 2.0;

struct Corner {
    gp_Pnt at;
    gp_Pnt2d uv;
};
using Triangle = std::array<Corner, 3>;

struct Ranges {
    double u = 0.0, v = 0.0;
};

Ranges ranges_of(const Triangle& t) {
    const auto [u0, u1] = std::minmax({t[0].uv.X(), t[1].uv.X(), t[2].uv.X()});
    const auto [v0, v1] = std::minmax({t[0].uv.Y(), t[1].uv.Y(), t[2].uv.Y()});
    return {u1 - u0, v1 - v0};
}

/// Height of an arc of this sweep over its chord.
double sagitta_mm(double radius_mm, double sweep_rad) {
    return radius_mm * (1.0 - std::cos(std::min(sweep_rad, M_PI) / 2.0));
}

/// Corners at the tip have no direction of their own and count for nothing.
double on_cone_mm(const Triangle& t, const gp_Cone& cone) {
    double most_mm = 0.0, least_u = 1e300, most_u = -1e300;
    for (const Corner& corner : t) {
        const gp_Vec out(cone.Location(), corner.at);
        const double radius_mm = out.Crossed(gp_Vec(cone.Axis().Direction())).Magnitude();
        if (radius_mm < Precision::Confusion()) continue;
        most_mm = std::max(most_mm, radius_mm);
        least_u = std::min(least_u, corner.uv.X());
        most_u = std::max(most_u, corner.uv.X());
    }
    return most_u < least_u ? 0.0 : sagitta_mm(most_mm, most_u - least_u);
}

/// Radius of the least circle round a triangle's corners: no point of the triangle is farther from all three.
double least_circle_mm(const Triangle& t) {
    std::array<double, 3> side{t[0].at.Distance(t[1].at), t[1].at.Distance(t[2].at),
                               t[2].at.Distance(t[0].at)};
    std::sort(side.begin(), side.end());
    const auto [a, b, c] = side;
    if (c * c >= a * a + b * b) return c / 2.0;
    const double twice_area = gp_Vec(t[0].at, t[1].at).Crossed(gp_Vec(t[0].at, t[2].at)).Magnitude();
    return a * b * c / (2.0 * twice_area);
}

double on_sphere_mm(const Triangle& t, double radius_mm) {
    const double within_mm = std::min(least_circle_mm(t), radius_mm);
    return radius_mm - std::sqrt(radius_mm * radius_mm - within_mm * within_mm);
}

double on_torus_mm(const Triangle& t, const gp_Torus& torus) {
    const Ranges range = ranges_of(t);
    return sagitta_mm(torus.MajorRadius() + torus.MinorRadius(), range.u) +
           sagitta_mm(torus.MinorRadius(), range.v);
}

/// How far the surface stands off the triangle's plane at seven places between its corners.
double on_free_form_mm(const Triangle& t, const BRepAdaptor_Surface& surface) {
    gp_Vec normal = gp_Vec(t[0].at, t[1].at).Crossed(gp_Vec(t[0].at, t[2].at));
    const bool is_thin = normal.Magnitude() < gp::Resolution();
    if (!is_thin) normal.Normalize();
    constexpr std::array<std::array<double, 3>, 7> places{{{0.5, 0.5, 0},
                                                           {0, 0.5, 0.5},
                                                           {0.5, 0, 0.5},
                                                           {1.0 / 3, 1.0 / 3, 1.0 / 3},
                                                           {2.0 / 3, 1.0 / 6, 1.0 / 6},
                                                           {1.0 / 6, 2.0 / 3, 1.0 / 6},
                                                           {1.0 / 6, 1.0 / 6, 2.0 / 3}}};
    double most = 0.0;
    for (const auto& share : places) {
        gp_XY uv(0.0, 0.0);
        gp_XYZ flat(0.0, 0.0, 0.0);
        for (std::size_t i = 0; i < 3; ++i) {
            uv += t[i].uv.XY() * share[i];
            flat += t[i].at.XYZ() * share[i];
        }
        const gp_Vec off(gp_Pnt(flat), surface.Value(uv.X(), uv.Y()));
        most = std::max(most, is_thin ? off.Magnitude() : std::abs(off.Dot(normal)));
    }
    return doubt_of_samples * most;
}

double off_surface_mm(const Triangle& t, const BRepAdaptor_Surface& surface) {
    switch (surface.GetType()) {
        case GeomAbs_Plane:
            return 0.0;
        case GeomAbs_Cylinder:
            return sagitta_mm(surface.Cylinder().Radius(), ranges_of(t).u);
        case GeomAbs_Cone:
            return on_cone_mm(t, surface.Cone());
        case GeomAbs_Sphere:
            return on_sphere_mm(t, surface.Sphere().Radius());
        case GeomAbs_Torus:
            return on_torus_mm(t, surface.Torus());
        default:
            return on_free_form_mm(t, surface);
    }
}

/// The curve's farthest place from the chord between two of its parameters.
double off_chord_mm(const BRepAdaptor_Curve& curve, double from, double to) {
    if (curve.GetType() == GeomAbs_Line) return 0.0;
    if (curve.GetType() == GeomAbs_Circle) return sagitta_mm(curve.Circle().Radius(), std::abs(to - from));
    const gp_Pnt start = curve.Value(from), end = curve.Value(to);
    const gp_Vec chord(start, end);
    double most = 0.0;
    for (const double share : {0.25, 0.5, 0.75}) {
        const gp_Vec there(start, curve.Value(from + share * (to - from)));
        const double along = chord.SquareMagnitude() == 0.0
                                 ? 0.0
                                 : std::clamp(there.Dot(chord) / chord.SquareMagnitude(), 0.0, 1.0);
        most = std::max(most, (there - chord * along).Magnitude());
    }
    return doubt_of_samples * most;
}

double off_edges_mm(const TopoDS_Face& face, const Handle(Poly_Triangulation) & triangulation,
                    const TopLoc_Location& place) {
    double most = 0.0;
    for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
        const TopoDS_Edge edge = TopoDS::Edge(edges.Current());
        if (BRep_Tool::Degenerated(edge)) continue;
        const auto polygon = BRep_Tool::PolygonOnTriangulation(edge, triangulation, place);
        if (polygon.IsNull() || !polygon->HasParameters()) continue;
        const BRepAdaptor_Curve curve(edge, face);
        for (int i = 1; i < polygon->NbNodes(); ++i)
            most = std::max(most, off_chord_mm(curve, polygon->Parameter(i), polygon->Parameter(i + 1)));
    }
    return most;
}

/// What one face's triangles and the face are from each other.
double off_face_mm(const TopoDS_Face& face) {
    TopLoc_Location place;
    const auto triangulation = BRep_Tool::Triangulation(face, place);
    const BRepAdaptor_Surface surface(face);
    const auto corner = [&](int node) {
        return Corner{triangulation->Node(node).Transformed(place.Transformation()),
                      triangulation->UVNode(node)};
    };
    double nodes_mm = 0.0, inside_mm = 0.0;
    for (int i = 1; i <= triangulation->NbNodes(); ++i) {
        const Corner node = corner(i);
        nodes_mm = std::max(nodes_mm, node.at.Distance(surface.Value(node.uv.X(), node.uv.Y())));
    }
    for (int i = 1; i <= triangulation->NbTriangles(); ++i) {
        int a = 0, b = 0, c = 0;
        triangulation->Triangle(i).Get(a, b, c);
        if (a == b || b == c || c == a) continue;
        inside_mm = std::max(inside_mm, off_surface_mm({corner(a), corner(b), corner(c)}, surface));
    }
    return nodes_mm + inside_mm + off_edges_mm(face, triangulation, place);
}

bool has_triangles(const TopoDS_Face& face) {
    TopLoc_Location place;
    const auto triangulation = BRep_Tool::Triangulation(face, place);
    return !triangulation.IsNull() && triangulation->NbTriangles() > 0 && triangulation->HasUVNodes();
}

}  // namespace

double stray_mm(const TopoDS_Shape& triangulated) {
    double most = 0.0;
    for (TopExp_Explorer faces(triangulated, TopAbs_FACE); faces.More(); faces.Next())
        most = std::max(most, off_face_mm(TopoDS::Face(faces.Current())));
    return most;
}

int faces_without_triangles(const TopoDS_Shape& triangulated) {
    int count = 0;
    for (TopExp_Explorer faces(triangulated, TopAbs_FACE); faces.More(); faces.Next())
        count += has_triangles(TopoDS::Face(faces.Current())) ? 0 : 1;
    return count;
}

}  // namespace fitup::exchange
