#pragma once

#include <Geom2d_BSplineCurve.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <functional>
#include <span>

/// Helices and what is swept along them, as polynomial splines.
///
/// The cosine and sine of an angle t are splines of degree d with uniform knots a step h = 2 pi / n apart,
/// whose poles are the points of a circle at each step, pushed out by (h / 2 / sin(h / 2))^(d + 1). Such a
/// sum of shifted B-splines is exp(it) and ripples: by Poisson's summation the ripple of order k is (1 + k
/// n)^-(d + 1) of it, over all whole k but 0. An angle itself is such a spline exactly. So one set of poles
/// serves every curve and surface of a thread, and they fit one another to rounding wherever they meet along
/// a helix.
namespace fitup::solid {

inline constexpr int turn_degree = 7;

/// How far the splines leave the circle, over its radius, at most: 4e-10 with 16 steps a turn.
double turn_error(int steps_per_turn);
/// The fewest steps a turn, not under 8, with which a circle of this radius is kept within a distance.
int steps_per_turn(double radius_mm, double within_mm);

/// A pole of a section in an axial half plane.
struct SectionPole {
    double along_mm = 0.0;
    double radius_mm = 0.0;
    double weight = 1.0;
};

/// Parameter u of all curves and surfaces is the angle about Z in radians.
class TurnSplines {
  public:
    explicit TurnSplines(int steps_per_turn) : steps_(steps_per_turn) {}
    double step_rad() const;
    /// From angle `first` to `last`; at angle 0 at `along_mm`, rising by `rise_mm` a radian.
    Handle(Geom_BSplineCurve) helix(const SectionPole& pole, double rise_mm, double first, double last) const;
    /// Two poles: a straight section; three: a conic arc. v goes from 0 to 1 along it.
    Handle(Geom_BSplineSurface)
        sweep(std::span<const SectionPole> section, double rise_mm, double first, double last) const;

  private:
    /// (cos t, sin t, t)
    Handle(Geom_BSplineCurve) unit_turns(double first, double last) const;
    int steps_;
};

/// A surface from curves on the same knots, each the path of one pole of a section: u along them, v from 0 to
/// 1 across.
Handle(Geom_BSplineSurface)
    across_paths(const std::vector<Handle(Geom_BSplineCurve)>& paths, std::span<const double> weights);

/// A Bezier arc in the plane of angle `turn_rad`; parameter v from 0 to 1.
Handle(Geom_BSplineCurve)
    section_curve(std::span<const SectionPole> section, double rise_mm, double turn_rad);

/// Splines of degree `turn_degree` through a smooth curve's points, on uniform knots.
Handle(Geom_BSplineCurve)
    through(const std::function<gp_Pnt(double)>& point, double first, double last, int steps);
Handle(Geom2d_BSplineCurve)
    through(const std::function<gp_Pnt2d(double)>& point, double first, double last, int steps);
/// The straight line between two points, its parameter from `first` to `last`.
Handle(Geom2d_BSplineCurve) line_between(const gp_Pnt2d& from, const gp_Pnt2d& to, double first, double last);

}  // namespace fitup::solid
