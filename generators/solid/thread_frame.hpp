#pragma once

#include <Geom2d_Curve.hxx>
#include <Geom_Curve.hxx>
#include <Geom_Surface.hxx>
#include <TopoDS_Vertex.hxx>
#include <functional>

#include "solid/thread.hpp"
#include "solid/thread_layout.hpp"

/// Stages of a thread's skin, for thread*.cpp alone. All is laid out for a right-hand thread in its own frame
/// and put in place, mirrored for a left-hand one, as it becomes a shape.
namespace fitup::solid {

/// An edge as one face walks it.
struct Walked {
    TopoDS_Edge edge;
    bool forward = true;
    Handle(Geom2d_Curve) on_face;
};
using Walk = std::vector<Walked>;
Walk backwards(Walk walk);
void append(Walk& walk, const Walk& more);
/// A line of constant v; u is the edge's parameter and the shift.
Handle(Geom2d_Curve) level(double v, double shift = 0.0);

class ThreadFrame {
  public:
    ThreadFrame(const plan::ThreadedLength& of, const gp_Trsf& place);
    const ThreadLayout& layout() const { return layout_; }
    const TurnSplines& splines() const { return splines_; }

    TopoDS_Vertex vertex(const Crossing& at) const;
    /// Takes the curve over.
    TopoDS_Edge edge(const Handle(Geom_Curve) & curve, double first, double last, const TopoDS_Vertex& from,
                     const TopoDS_Vertex& to) const;
    /// Along a path that no closed form is for.
    TopoDS_Edge edge_through(const std::function<Crossing(double)>& path, double first, double last,
                             int steps, const TopoDS_Vertex& from, const TopoDS_Vertex& to) const;
    /// Part of the circle of an end.
    TopoDS_Edge arc(std::size_t end, double first, double last, const TopoDS_Vertex& from,
                    const TopoDS_Vertex& to) const;
    /// The walk goes anticlockwise in the surface's parameters, u being the turn.
    void add_face(const Handle(Geom_Surface) & surface, const Walk& walk);
    std::vector<TopoDS_Face> take_faces() { return std::move(faces_); }
    /// From arcs in the order of their turns.
    Ring ring(std::size_t end, const Walk& arcs) const;

  private:
    ThreadLayout layout_;
    TurnSplines splines_;
    bool mirrored_;
    bool looks_inwards_;
    double phase_;
    gp_Trsf place_;
    std::vector<TopoDS_Face> faces_;
};

/// Where full form ends: the corners of the helices and for each piece the edges between them, along v.
struct EndEdges {
    std::array<TopoDS_Vertex, 4> corners;
    std::array<Walk, 4> creases;
};

/// The strips of full form between their ends.
void make_strips(ThreadFrame& frame, const EndEdges& low, const EndEdges& high);

/// A chamfer: two faces of its cone, so that neither goes round a whole turn.
class Chamfer {
  public:
    Chamfer(ThreadFrame& frame, std::size_t end);
    const EndEdges& edges() const { return edges_; }
    Ring close();

  private:
    struct Part;
    void add_crease(std::size_t piece, const Part& part);
    void add_touching(std::size_t piece);
    gp_Pnt2d on_cone(const Crossing& at, int wraps) const;
    Handle(Geom_Surface) cone(const Walk& walk) const;
    void add_cone_face(const Walk& walk);

    ThreadFrame& frame_;
    std::size_t end_;
    EndEdges edges_;
    /// The cone's edges along v, from where its crease leaves the circle to the cut and from there on.
    std::array<Walk, 4> on_cone_;
    TopoDS_Vertex first_vertex_;
    TopoDS_Vertex last_vertex_;
    double first_ = 0.0;
    double last_ = 0.0;
    Crossing cut_;
    TopoDS_Vertex cut_vertex_;
};

/// A run-out, a face for each piece of the profile.
class RunOut {
  public:
    explicit RunOut(ThreadFrame& frame);
    const EndEdges& edges() const { return edges_; }
    Ring close();

  private:
    Walk arcs_of(std::size_t piece) const;
    TopoDS_Edge helix(std::size_t k) const;
    Handle(Geom_Surface) surface(std::size_t piece) const;

    ThreadFrame& frame_;
    EndEdges edges_;
    std::array<TopoDS_Vertex, 4> circle_corners_;
};

/// Splines through points: with this many steps a turn, and at least so many an edge, they stay within
/// thread_within_mm.
int path_steps(double turns_rad, int least = 1);

}  // namespace fitup::solid
