#include "bench/swept_groove.hpp"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepLib.hxx>
#include <BRepOffsetAPI_MakePipeShell.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace fitup::bench {
namespace {

/// A helix on the cylinder of the major diameter, from below the cylinder's end to above it. An edge a turn:
/// the cut came out empty or half done with one edge for all.
TopoDS_Wire helix(const plan::ThreadForm& form, int turns) {
    const Handle(Geom_CylindricalSurface) cylinder =
        new Geom_CylindricalSurface(gp::XOY(), form.major_radius_mm());
    const double turn = 2.0 * std::numbers::pi;
    const double length = std::hypot(turn, form.pitch_mm);
    const Handle(Geom2d_Line) line =
        new Geom2d_Line(gp_Pnt2d(0.0, -form.pitch_mm), gp_Dir2d(turn, form.pitch_mm));
    BRepBuilderAPI_MakeWire wire;
    for (int k = 0; k < turns; ++k) {
        const TopoDS_Edge edge = BRepBuilderAPI_MakeEdge(line, cylinder, k * length, (k + 1) * length);
        BRepLib::BuildCurve3d(edge);
        wire.Add(edge);
    }
    return wire;
}

/// The groove's section, a little beyond the cylinder so that no two faces lie in one another.
TopoDS_Wire groove(const plan::ThreadForm& form) {
    const double beyond_mm = 0.02;
    const double minor = form.minor_radius_mm();
    const double major = form.major_radius_mm() + beyond_mm;
    const double root_mm = form.pieces[0].to_mm;
    const double crest_mm = root_mm + (major - minor) * form.half_angle.tan();
    const double low_mm = -form.pitch_mm;
    return BRepBuilderAPI_MakePolygon(
        gp_Pnt(minor, 0.0, low_mm - root_mm), gp_Pnt(minor, 0.0, low_mm + root_mm),
        gp_Pnt(major, 0.0, low_mm + crest_mm), gp_Pnt(major, 0.0, low_mm - crest_mm), true);
}

}  // namespace

TopoDS_Shape swept_groove(const plan::ThreadForm& form, int turns) {
    BRepOffsetAPI_MakePipeShell sweep(helix(form, turns + 2));
    sweep.SetMode(gp::DZ());
    sweep.Add(groove(form));
    sweep.Build();
    if (!sweep.MakeSolid()) throw std::runtime_error("no sweep");
    return sweep.Shape();
}

}  // namespace fitup::bench
