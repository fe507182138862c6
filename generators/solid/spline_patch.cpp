#include "solid/spline_patch.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <BRepTools.hxx>
#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <array>
#include <cmath>
#include <math.hxx>
#include <math_Vector.hxx>
#include <vector>

namespace fitup::solid {
namespace {

/// Samples across one span of a patch each way: a span of our threads is a sixteenth of a turn at most, and
/// between two samples the surface bends by less than a thousandth of that.
constexpr int samples_a_span = 4;
/// Places of Gauss's rule across one span each way: exact for polynomials of degree 11.
constexpr int gauss_points = 6;
/// Newton steps from a sample; each doubles the digits.
constexpr int most_steps = 12;

struct Domain {
    double u_least = 0.0, u_most = 0.0, v_least = 0.0, v_most = 0.0;
};

bool is_on(double value, double bound, double width) { return std::abs(value - bound) < 1e-9 * width; }

/// Whether an edge runs along one side of the domain.
bool is_side(const TopoDS_Edge& edge, const TopoDS_Face& face, const Domain& domain) {
    double first = 0.0, last = 0.0;
    const Handle(Geom2d_Curve) curve = BRep_Tool::CurveOnSurface(edge, face, first, last);
    if (curve.IsNull()) return false;
    const double width = domain.u_most - domain.u_least;
    const double height = domain.v_most - domain.v_least;
    const std::array points{curve->Value(first), curve->Value(0.5 * (first + last)), curve->Value(last)};
    const auto all = [&points](const auto& holds) {
        return std::all_of(points.begin(), points.end(), holds);
    };
    return all([&](const gp_Pnt2d& p) { return is_on(p.X(), domain.u_least, width); }) ||
           all([&](const gp_Pnt2d& p) { return is_on(p.X(), domain.u_most, width); }) ||
           all([&](const gp_Pnt2d& p) { return is_on(p.Y(), domain.v_least, height); }) ||
           all([&](const gp_Pnt2d& p) { return is_on(p.Y(), domain.v_most, height); });
}

/// A face that is all of its spline patch.
bool is_whole_patch(const TopoDS_Face& face, const BRepAdaptor_Surface& surface, Domain& domain) {
    if (surface.GetType() != GeomAbs_BSplineSurface) return false;
    BRepTools::UVBounds(face, domain.u_least, domain.u_most, domain.v_least, domain.v_most);
    for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
        if (!is_side(TopoDS::Edge(edges.Current()), face, domain)) return false;
    }
    return true;
}

/// The face's outermost points, and its area.
class Patch {
  public:
    Patch(const BRepAdaptor_Surface& surface, const Domain& domain)
        : surface_(surface),
          domain_(domain),
          u_spans_(std::max(1, surface.NbUIntervals(GeomAbs_C2))),
          v_spans_(std::max(1, surface.NbVIntervals(GeomAbs_C2))) {}

    /// Gauss's rule on each span, both ways.
    double area_mm2() const {
        math_Vector places(1, gauss_points), weights(1, gauss_points);
        math::GaussPoints(gauss_points, places);
        math::GaussWeights(gauss_points, weights);
        const double u_half = (domain_.u_most - domain_.u_least) / (2.0 * u_spans_);
        const double v_half = (domain_.v_most - domain_.v_least) / (2.0 * v_spans_);
        double sum = 0.0;
        for (int i = 0; i < u_spans_ * gauss_points; ++i) {
            const int m = i % gauss_points + 1;
            const double u = domain_.u_least + u_half * (2.0 * (i / gauss_points) + 1.0 + places(m));
            for (int k = 0; k < v_spans_ * gauss_points; ++k) {
                const int n = k % gauss_points + 1;
                const double v = domain_.v_least + v_half * (2.0 * (k / gauss_points) + 1.0 + places(n));
                gp_Pnt point;
                gp_Vec du, dv;
                surface_.D1(u, v, point, du, dv);
                sum += weights(m) * weights(n) * du.Crossed(dv).Magnitude();
            }
        }
        return sum * u_half * v_half;
    }

    plan::Box box() const {
        const std::vector<Sample> samples = all_samples();
        plan::Box box;
        for (int axis = 0; axis < 3; ++axis) {
            box.most[static_cast<std::size_t>(axis)] = outermost(samples, axis, 1.0);
            box.least[static_cast<std::size_t>(axis)] = -outermost(samples, axis, -1.0);
        }
        return box;
    }

  private:
    struct Sample {
        double u = 0.0;
        double v = 0.0;
        gp_XYZ at;
    };

    std::vector<Sample> all_samples() const {
        const int columns = samples_a_span * u_spans_;
        const int rows = samples_a_span * v_spans_;
        std::vector<Sample> samples;
        for (int i = 0; i <= columns; ++i) {
            const double u = domain_.u_least + (domain_.u_most - domain_.u_least) * i / columns;
            for (int k = 0; k <= rows; ++k) {
                const double v = domain_.v_least + (domain_.v_most - domain_.v_least) * k / rows;
                samples.push_back({u, v, surface_.Value(u, v).XYZ()});
            }
        }
        return samples;
    }

    /// Greatest value of `sense` times a coordinate.
    double outermost(const std::vector<Sample>& samples, int axis, double sense) const {
        const auto value = [&](const Sample& sample) { return sense * sample.at.Coord(axis + 1); };
        const auto best =
            std::max_element(samples.begin(), samples.end(),
                             [&](const Sample& a, const Sample& b) { return value(a) < value(b); });
        return std::max(value(*best), climbed(best->u, best->v, axis, sense));
    }

    /// Newton's way to the peak, both parameters at a time, held in the domain.
    double climbed(double u, double v, int axis, double sense) const {
        double best = -1e300;
        for (int step = 0; step < most_steps; ++step) {
            gp_Pnt point;
            gp_Vec du, dv, duu, dvv, duv;
            surface_.D2(u, v, point, du, dv, duu, dvv, duv);
            const double value = sense * point.Coord(axis + 1);
            if (value <= best) return best;
            best = value;
            u = stepped(u, sense * du.Coord(axis + 1), sense * duu.Coord(axis + 1), domain_.u_least,
                        domain_.u_most);
            v = stepped(v, sense * dv.Coord(axis + 1), sense * dvv.Coord(axis + 1), domain_.v_least,
                        domain_.v_most);
        }
        return best;
    }

    static double stepped(double at, double slope, double bend, double least, double most) {
        if (bend < 0.0) return std::clamp(at - slope / bend, least, most);
        return slope > 0.0 ? most : slope < 0.0 ? least : at;
    }

    const BRepAdaptor_Surface& surface_;
    Domain domain_;
    int u_spans_;
    int v_spans_;
};

}  // namespace

std::optional<PatchAmounts> patch_amounts(const TopoDS_Face& face) {
    const BRepAdaptor_Surface surface(face, false);
    Domain domain;
    if (!is_whole_patch(face, surface, domain)) return {};
    const Patch patch(surface, domain);
    return PatchAmounts{patch.area_mm2(), patch.box()};
}

}  // namespace fitup::solid
