#pragma once

#include <TopoDS_Edge.hxx>
#include <TopoDS_Vertex.hxx>
#include <cstddef>
#include <list>
#include <span>
#include <vector>

#include "plan/contour.hpp"

/// Edges of a skin's contours, each made once and shared by the faces that meet in it.
namespace fitup::solid {

/// Geometry of one edge of a contour: a straight run, or an arc that always runs anticlockwise about its
/// centre.
struct Track {
    bool is_arc = false;
    plan::Point origin;     ///< of a line: where it starts; of an arc: its centre
    plan::Point direction;  ///< of a line: along it; of an arc: from the centre to where it starts; unit
    double radius_mm = 0.0;
    double extent = 0.0;    ///< length in mm of a line, sweep in radians of an arc: the edge's last parameter
    bool along = true;      ///< false: the contour runs the other way (a clockwise arc)
    std::size_t first = 0;  ///< corner of the contour at parameter 0
    std::size_t last = 0;
    bool is_full_turn() const { return is_arc && first == last; }
};

std::vector<Track> tracks(const plan::Contour& contour);
/// Corners in order: the starts of a path's edges; for a circle the point at angle zero.
std::vector<plan::Point> corners(const plan::Contour& contour);

/// A contour at one height: the kernel's vertices and edges, one for each corner and track.
struct Rim {
    double z_mm = 0.0;
    std::vector<TopoDS_Vertex> vertices;
    std::vector<TopoDS_Edge> edges;
};

/// Every contour's tracks, and its rims as they are asked for.
class Rims {
  public:
    explicit Rims(std::span<const plan::Contour> contours);
    std::span<const Track> tracks(std::size_t contour) const { return entries_[contour].tracks; }
    std::span<const plan::Point> corners(std::size_t contour) const { return entries_[contour].corners; }
    std::size_t size() const { return entries_.size(); }
    /// The same rim for heights nearer than plan::same_point_mm. Stays where it is.
    const Rim& at(std::size_t contour, double z_mm);

  private:
    struct Entry {
        std::vector<Track> tracks;
        std::vector<plan::Point> corners;
        std::list<Rim> rims;
    };
    std::vector<Entry> entries_;
};

/// A straight edge; its parameter is the distance from `first` in mm.
TopoDS_Edge straight_edge(const TopoDS_Vertex& first, const TopoDS_Vertex& last);
TopoDS_Vertex vertex(plan::Point point, double z_mm);

}  // namespace fitup::solid
