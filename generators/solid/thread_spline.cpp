#include "solid/thread_spline.hpp"

#include <BSplCLib.hxx>
#include <Precision.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColStd_Array2OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_Array1OfPnt2d.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <cmath>
#include <numbers>
#include <vector>

#include "base/error.hpp"

namespace fitup::solid {
namespace {

constexpr double full_turn = 2.0 * std::numbers::pi;
/// A degree more than this half is where a uniform B-spline of odd degree has its middle.
constexpr int half_support = (turn_degree + 1) / 2;

gp_Pnt at(double cosine, double sine, double turn_rad, const SectionPole& pole, double rise_mm) {
    return {pole.radius_mm * cosine, pole.radius_mm * sine, pole.along_mm + rise_mm * turn_rad};
}

struct Knots {
    TColStd_Array1OfReal values;
    TColStd_Array1OfInteger multiplicities;
};

Knots clamped_knots(double first, double last, int steps, int degree) {
    Knots knots{{1, steps + 1}, {1, steps + 1}};
    for (int k = 0; k <= steps; ++k) {
        knots.values(k + 1) = k == steps ? last : first + (last - first) * k / steps;
        knots.multiplicities(k + 1) = k == 0 || k == steps ? degree + 1 : 1;
    }
    return knots;
}

/// Interpolates at the poles' own places (Greville's): well conditioned.
template <class Point, class Points>
Points interpolated(const std::function<Point(double)>& point, const Knots& knots) {
    const int steps = knots.values.Length() - 1;
    const int count = steps + turn_degree;
    TColStd_Array1OfReal flat(1, count + turn_degree + 1);
    BSplCLib::KnotSequence(knots.values, knots.multiplicities, flat);
    TColStd_Array1OfReal places(1, count);
    BSplCLib::BuildSchoenbergPoints(turn_degree, flat, places);
    TColStd_Array1OfInteger order(1, count);
    order.Init(0);
    Points poles(1, count);
    for (int i = 1; i <= count; ++i) poles(i) = point(places(i));
    int problem = 0;
    BSplCLib::Interpolate(turn_degree, flat, places, order, poles, problem);
    if (problem != 0) throw KernelError("a thread's edge: no spline goes through its points");
    return poles;
}

TColgp_Array1OfPnt bezier_poles(std::span<const SectionPole> section, double rise_mm, double turn_rad) {
    TColgp_Array1OfPnt poles(1, static_cast<int>(section.size()));
    int i = 0;
    for (const SectionPole& pole : section)
        poles(++i) = at(std::cos(turn_rad), std::sin(turn_rad), turn_rad, pole, rise_mm);
    return poles;
}

}  // namespace

double turn_error(int steps_per_turn) {
    double sum = 0.0;
    // Both signs of k; the terms of |k| = 3 are 1e-4 of the first and less.
    for (int k = 1; k <= 3; ++k) {
        sum += std::pow(k * steps_per_turn - 1, -(turn_degree + 1)) +
               std::pow(k * steps_per_turn + 1, -(turn_degree + 1));
    }
    return sum;
}

int steps_per_turn(double radius_mm, double within_mm) {
    int steps = 8;
    while (radius_mm * turn_error(steps) > within_mm) ++steps;
    return steps;
}

double TurnSplines::step_rad() const { return full_turn / steps_; }

Handle(Geom_BSplineCurve) TurnSplines::unit_turns(double first, double last) const {
    const double step = step_rad();
    const double push = std::pow(0.5 * step / std::sin(0.5 * step), turn_degree + 1);
    const int low = static_cast<int>(std::floor(first / step + 1e-9));
    const int high = std::max(low + 1, static_cast<int>(std::ceil(last / step - 1e-9)));
    TColgp_Array1OfPnt poles(1, high - low + turn_degree);
    for (int i = 1; i <= poles.Length(); ++i) {
        const double turn = (low - half_support + i) * step;
        poles(i) = gp_Pnt(push * std::cos(turn), push * std::sin(turn), turn);
    }
    TColStd_Array1OfReal knots(1, high - low + 2 * turn_degree + 1);
    TColStd_Array1OfInteger multiplicities(1, knots.Length());
    multiplicities.Init(1);
    for (int i = 1; i <= knots.Length(); ++i) knots(i) = (low - turn_degree + i - 1) * step;
    Handle(Geom_BSplineCurve) turns = new Geom_BSplineCurve(poles, knots, multiplicities, turn_degree);
    turns->Segment(first, last);
    return turns;
}

Handle(Geom_BSplineCurve) TurnSplines::helix(const SectionPole& pole, double rise_mm, double first,
                                             double last) const {
    Handle(Geom_BSplineCurve) curve = unit_turns(first, last);
    for (int i = 1; i <= curve->NbPoles(); ++i) {
        const gp_Pnt turn = curve->Pole(i);
        curve->SetPole(i, at(turn.X(), turn.Y(), turn.Z(), pole, rise_mm));
    }
    return curve;
}

Handle(Geom_BSplineSurface) TurnSplines::sweep(std::span<const SectionPole> section, double rise_mm,
                                               double first, double last) const {
    std::vector<Handle(Geom_BSplineCurve)> paths;
    std::vector<double> weights;
    for (const SectionPole& pole : section) {
        paths.push_back(helix(pole, rise_mm, first, last));
        weights.push_back(pole.weight);
    }
    return across_paths(paths, weights);
}

Handle(Geom_BSplineSurface)
    across_paths(const std::vector<Handle(Geom_BSplineCurve)>& paths, std::span<const double> weights) {
    const auto& along = paths.front();
    const int across = static_cast<int>(paths.size());
    TColgp_Array2OfPnt poles(1, along->NbPoles(), 1, across);
    TColStd_Array2OfReal pole_weights(1, along->NbPoles(), 1, across);
    bool is_rational = false;
    for (int k = 1; k <= across; ++k) {
        const auto at = static_cast<std::size_t>(k - 1);
        is_rational = is_rational || weights[at] != 1.0;
        for (int i = 1; i <= along->NbPoles(); ++i) {
            poles(i, k) = paths[at]->Pole(i);
            pole_weights(i, k) = weights[at];
        }
    }
    const Knots v = clamped_knots(0.0, 1.0, 1, across - 1);
    if (!is_rational) {
        return new Geom_BSplineSurface(poles, along->Knots(), v.values, along->Multiplicities(),
                                       v.multiplicities, turn_degree, across - 1);
    }
    Handle(Geom_BSplineSurface) surface =
        new Geom_BSplineSurface(poles, pole_weights, along->Knots(), v.values, along->Multiplicities(),
                                v.multiplicities, turn_degree, across - 1);
    // The kernel's mesher begins with the knots; without one amid a round piece it makes ten times the
    // triangles.
    surface->InsertVKnot(0.5, 1, Precision::PConfusion());
    return surface;
}

Handle(Geom_BSplineCurve)
    section_curve(std::span<const SectionPole> section, double rise_mm, double turn_rad) {
    const Knots v = clamped_knots(0.0, 1.0, 1, static_cast<int>(section.size()) - 1);
    const TColgp_Array1OfPnt poles = bezier_poles(section, rise_mm, turn_rad);
    if (section.size() == 2) return new Geom_BSplineCurve(poles, v.values, v.multiplicities, 1);
    TColStd_Array1OfReal weights(1, poles.Length());
    for (int i = 1; i <= poles.Length(); ++i) weights(i) = section[static_cast<std::size_t>(i - 1)].weight;
    return new Geom_BSplineCurve(poles, weights, v.values, v.multiplicities, poles.Length() - 1);
}

Handle(Geom_BSplineCurve)
    through(const std::function<gp_Pnt(double)>& point, double first, double last, int steps) {
    const Knots knots = clamped_knots(first, last, steps, turn_degree);
    return new Geom_BSplineCurve(interpolated<gp_Pnt, TColgp_Array1OfPnt>(point, knots), knots.values,
                                 knots.multiplicities, turn_degree);
}

Handle(Geom2d_BSplineCurve)
    through(const std::function<gp_Pnt2d(double)>& point, double first, double last, int steps) {
    const Knots knots = clamped_knots(first, last, steps, turn_degree);
    return new Geom2d_BSplineCurve(interpolated<gp_Pnt2d, TColgp_Array1OfPnt2d>(point, knots), knots.values,
                                   knots.multiplicities, turn_degree);
}

Handle(Geom2d_BSplineCurve)
    line_between(const gp_Pnt2d& from, const gp_Pnt2d& to, double first, double last) {
    const Knots knots = clamped_knots(first, last, 1, 1);
    TColgp_Array1OfPnt2d poles(1, 2);
    poles(1) = from;
    poles(2) = to;
    return new Geom2d_BSplineCurve(poles, knots.values, knots.multiplicities, 1);
}

}  // namespace fitup::solid
