#include "solid/thread_frame.hpp"

#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_Circle.hxx>
#include <Precision.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "solid/patches.hpp"

namespace fitup::solid {
namespace {

constexpr double path_steps_per_turn = 32.0;

gp_Trsf placed(const gp_Trsf& place, bool mirrored, double phase) {
    gp_Trsf whole = place;
    if (mirrored) {
        gp_Trsf mirror;
        mirror.SetMirror(gp_Ax2(gp::Origin(), gp::DY()));
        whole.Multiply(mirror);
    }
    gp_Trsf turn;
    turn.SetRotation(gp::OZ(), phase);
    whole.Multiply(turn);
    return whole;
}

gp_Pnt point_of(const Crossing& at) {
    return {at.radius_mm * std::cos(at.turn_rad), at.radius_mm * std::sin(at.turn_rad), at.z_mm};
}

}  // namespace

Walk backwards(Walk walk) {
    std::reverse(walk.begin(), walk.end());
    for (Walked& step : walk) step.forward = !step.forward;
    return walk;
}

void append(Walk& walk, const Walk& more) { walk.insert(walk.end(), more.begin(), more.end()); }

Handle(Geom2d_Curve) level(double v, double shift) {
    return new Geom2d_Line(gp_Pnt2d(shift, v), gp_Dir2d(1.0, 0.0));
}

int path_steps(double turns_rad, int least) {
    return std::max(least,
                    static_cast<int>(std::ceil(turns_rad / (2.0 * std::numbers::pi) * path_steps_per_turn)));
}

ThreadFrame::ThreadFrame(const plan::ThreadedLength& of, const gp_Trsf& place)
    : layout_(of),
      splines_(steps_per_turn(of.form.major_radius_mm(), thread_within_mm)),
      mirrored_(of.hand == plan::Hand::left),
      looks_inwards_(of.side == plan::ThreadSide::internal),
      // The middle of the root ends at angle 0, so that of the crest half a turn from there.
      phase_(-layout_.turn_at_circle(1, 0, 0.5)),
      place_(placed(place, mirrored_, phase_)) {}

TopoDS_Vertex ThreadFrame::vertex(const Crossing& at) const {
    TopoDS_Vertex made;
    BRep_Builder().MakeVertex(made, point_of(at).Transformed(place_), Precision::Confusion());
    return made;
}

TopoDS_Edge ThreadFrame::edge(const Handle(Geom_Curve) & curve, double first, double last,
                              const TopoDS_Vertex& from, const TopoDS_Vertex& to) const {
    const BRep_Builder builder;
    TopoDS_Edge made;
    curve->Transform(place_);
    builder.MakeEdge(made, curve, Precision::Confusion());
    builder.Add(made, from.Oriented(TopAbs_FORWARD));
    builder.Add(made, to.Oriented(TopAbs_REVERSED));
    builder.Range(made, first, last);
    return made;
}

TopoDS_Edge ThreadFrame::edge_through(const std::function<Crossing(double)>& path, double first, double last,
                                      int steps, const TopoDS_Vertex& from, const TopoDS_Vertex& to) const {
    const std::function<gp_Pnt(double)> point = [&](double t) { return point_of(path(t)); };
    return edge(through(point, first, last, steps), first, last, from, to);
}

TopoDS_Edge ThreadFrame::arc(std::size_t end, double first, double last, const TopoDS_Vertex& from,
                             const TopoDS_Vertex& to) const {
    const EndForm& form = layout_.end(end);
    const gp_Ax2 axes(gp_Pnt(0.0, 0.0, form.z_mm), gp::DZ(), gp::DX());
    return edge(new Geom_Circle(axes, form.radius_mm), first, last, from, to);
}

void ThreadFrame::add_face(const Handle(Geom_Surface) & surface, const Walk& walk) {
    const BRep_Builder builder;
    surface->Transform(place_);
    TopoDS_Face face;
    builder.MakeFace(face, surface, Precision::Confusion());
    std::vector<TopoDS_Shape> edges;
    for (const Walked& step : walk) {
        builder.UpdateEdge(step.edge, step.on_face, face, Precision::Confusion());
        edges.push_back(turned(step.edge, !step.forward));
    }
    builder.Add(face, closed_wire(edges));
    // Mirrored, a surface's normal points the other way.
    faces_.push_back(TopoDS::Face(turned(face, looks_inwards_ != mirrored_)));
}

Ring ThreadFrame::ring(std::size_t end, const Walk& arcs) const {
    Ring made{layout_.end(end).z_mm, layout_.end(end).radius_mm, {}};
    for (const Walked& step : arcs) {
        double first = 0.0, last = 0.0;
        BRep_Tool::Range(step.edge, first, last);
        const double from = mirrored_ ? -(last + phase_) : first + phase_;
        made.arcs.push_back({TopoDS::Edge(turned(step.edge, mirrored_)), from, from + last - first});
    }
    if (mirrored_) std::reverse(made.arcs.begin(), made.arcs.end());
    return made;
}

}  // namespace fitup::solid
