#include "solid/spline_patch.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <array>
#include <cmath>
#include <math.hxx>
#include <math_Vector.hxx>

namespace fitup::solid {
namespace {

/// Samples across one span of a surface each way: a span of our threads is a sixteenth of a turn at most.
constexpr int samples_a_span = 2;
/// Along an edge that is no spline.
constexpr int edge_samples = 16;
/// Places of Gauss's rule across one span each way: exact for polynomials of degree 11.
constexpr int gauss_points = 6;
/// Newton steps; each doubles the digits.
constexpr int most_steps = 20;
/// An edge belongs to a surface when it lies on it this closely.
constexpr double on_surface_mm = 1e-6;
/// Of the surface's range of a parameter: nearer values are one, and an edge may miss a straight line by as
/// much.
constexpr double same_share = 1e-6;

/// A Newton step to a peak of a function of one variable; where it bends upward, the end it rises to.
double nearer_peak(double at, double slope, double bend, double least, double most) {
    if (bend < 0.0) return std::clamp(at - slope / bend, least, most);
    return slope > 0.0 ? most : slope < 0.0 ? least : at;
}

}  // namespace

SplinePatch::SplinePatch(const BRepAdaptor_Surface& surface)
    : surface_(surface),
      u_spans_(std::max(1, surface.NbUKnots() - 1)),
      v_spans_(std::max(1, surface.NbVKnots() - 1)) {}

std::optional<SplinePatch> SplinePatch::of(const TopoDS_Face& face) {
    const BRepAdaptor_Surface surface(face, false);
    if (surface.GetType() != GeomAbs_BSplineSurface) return {};
    SplinePatch patch(surface);
    if (!patch.take_domain(face)) return {};
    return patch;
}

std::vector<SplinePatch::Sample> SplinePatch::surface_samples() const {
    const int columns = samples_a_span * u_spans_;
    const int rows = samples_a_span * v_spans_;
    const double u_first = surface_.FirstUParameter(), u_width = surface_.LastUParameter() - u_first;
    const double v_first = surface_.FirstVParameter(), v_width = surface_.LastVParameter() - v_first;
    std::vector<Sample> grid;
    for (int i = 0; i <= columns; ++i) {
        for (int k = 0; k <= rows; ++k) {
            const Parameters at{u_first + u_width * i / columns, v_first + v_width * k / rows};
            grid.push_back({at, surface_.Value(at.u, at.v).XYZ()});
        }
    }
    return grid;
}

/// Gauss and Newton's way from the nearest sample.
std::optional<SplinePatch::Parameters> SplinePatch::inverted(const gp_XYZ& point,
                                                             const std::vector<Sample>& grid) const {
    const auto nearest = std::min_element(grid.begin(), grid.end(), [&](const Sample& a, const Sample& b) {
        return (a.point - point).SquareModulus() < (b.point - point).SquareModulus();
    });
    Parameters at = nearest->at;
    for (int step = 0; step < most_steps; ++step) {
        gp_Pnt here;
        gp_Vec du, dv;
        surface_.D1(at.u, at.v, here, du, dv);
        const gp_Vec off(point - here.XYZ());
        const double uu = du.SquareMagnitude(), vv = dv.SquareMagnitude(), uv = du.Dot(dv);
        const double whole = uu * vv - uv * uv;
        if (!(whole > 1e-12 * uu * vv)) return {};
        const double step_u = (off.Dot(du) * vv - off.Dot(dv) * uv) / whole;
        const double step_v = (off.Dot(dv) * uu - off.Dot(du) * uv) / whole;
        at.u = std::clamp(at.u + step_u, surface_.FirstUParameter(), surface_.LastUParameter());
        at.v = std::clamp(at.v + step_v, surface_.FirstVParameter(), surface_.LastVParameter());
        if (std::abs(step_u) * std::sqrt(uu) + std::abs(step_v) * std::sqrt(vv) < 1e-3 * on_surface_mm) break;
    }
    if ((surface_.Value(at.u, at.v).XYZ() - point).Modulus() > on_surface_mm) return {};
    return at;
}

/// Nothing when the edge does not lie on the surface, or is not straight in its parameters.
std::optional<SplinePatch::Segment> SplinePatch::segment(const TopoDS_Edge& edge,
                                                         const std::vector<Sample>& grid) const {
    const BRepAdaptor_Curve curve(edge);
    const double first = curve.FirstParameter(), last = curve.LastParameter();
    const auto from = inverted(curve.Value(first).XYZ(), grid);
    const auto middle = inverted(curve.Value(0.5 * (first + last)).XYZ(), grid);
    const auto to = inverted(curve.Value(last).XYZ(), grid);
    if (!from || !middle || !to) return {};
    // Whatever the curve's own parameter, its middle lies on the line between its ends.
    const double u_range = surface_.LastUParameter() - surface_.FirstUParameter();
    const double v_range = surface_.LastVParameter() - surface_.FirstVParameter();
    const double du = (to->u - from->u) / u_range, dv = (to->v - from->v) / v_range;
    const double off = du * (middle->v - from->v) / v_range - dv * (middle->u - from->u) / u_range;
    if (std::abs(off) > same_share * std::hypot(du, dv)) return {};
    return Segment{*from, *to};
}

/// The sides above and below between two neighbouring corners.
bool SplinePatch::take_strip(const std::vector<Segment>& segments, double u_from, double u_to) {
    const double middle = 0.5 * (u_from + u_to);
    std::vector<std::array<double, 2>> sides;
    for (const Segment& segment : segments) {
        const auto [least, most] = std::minmax(segment.from.u, segment.to.u);
        if (least > middle || most < middle) continue;
        const auto v_at = [&segment](double u) {
            return segment.from.v +
                   (segment.to.v - segment.from.v) * (u - segment.from.u) / (segment.to.u - segment.from.u);
        };
        sides.push_back({v_at(u_from), v_at(u_to)});
    }
    if (sides.size() != 2) return false;
    if (sides[0][0] + sides[0][1] > sides[1][0] + sides[1][1]) std::swap(sides[0], sides[1]);
    strips_.push_back({u_from, u_to, sides[0][0], sides[0][1], sides[1][0], sides[1][1]});
    return true;
}

bool SplinePatch::take_domain(const TopoDS_Face& face) {
    const std::vector<Sample> grid = surface_samples();
    std::vector<Segment> segments;
    std::vector<double> corners;
    for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
        const TopoDS_Edge edge = TopoDS::Edge(edges.Current());
        const auto found = BRep_Tool::Degenerated(edge) ? std::nullopt : segment(edge, grid);
        if (!found) return false;
        segments.push_back(*found);
        edges_.emplace_back(edge);
        corners.push_back(found->from.u);
        corners.push_back(found->to.u);
    }
    std::sort(corners.begin(), corners.end());
    const double same = same_share * (surface_.LastUParameter() - surface_.FirstUParameter());
    for (std::size_t i = 0; i + 1 < corners.size(); ++i) {
        if (corners[i + 1] - corners[i] > same && !take_strip(segments, corners[i], corners[i + 1]))
            return false;
    }
    return !strips_.empty();
}

gp_XYZ SplinePatch::corner() const {
    return surface_.Value(strips_.front().u_from, strips_.front().low_from).XYZ();
}

/// Spans of the spline that a strip touches.
int SplinePatch::spans_along(const Strip& strip) const {
    const double range = surface_.LastUParameter() - surface_.FirstUParameter();
    return std::max(1, static_cast<int>(std::ceil((strip.u_to - strip.u_from) / range * u_spans_)));
}

SplinePatch::Share SplinePatch::share(const gp_XYZ& about) const {
    math_Vector places(1, gauss_points), weights(1, gauss_points);
    math::GaussPoints(gauss_points, places);
    math::GaussWeights(gauss_points, weights);
    Share sum;
    for (const Strip& strip : strips_) {
        const int spans = spans_along(strip);
        const double u_half = (strip.u_to - strip.u_from) / (2.0 * spans);
        for (int i = 0; i < spans * gauss_points; ++i) {
            const int m = i % gauss_points + 1;
            const double u = strip.u_from + u_half * (2.0 * (i / gauss_points) + 1.0 + places(m));
            const double v_half = (strip.high(u) - strip.low(u)) / (2.0 * v_spans_);
            for (int k = 0; k < v_spans_ * gauss_points; ++k) {
                const int n = k % gauss_points + 1;
                gp_Pnt point;
                gp_Vec du, dv;
                surface_.D1(u, strip.low(u) + v_half * (2.0 * (k / gauss_points) + 1.0 + places(n)), point,
                            du, dv);
                const gp_XYZ normal = du.XYZ().Crossed(dv.XYZ());
                const double weight = weights(m) * weights(n) * u_half * v_half;
                sum.area_mm2 += weight * normal.Modulus();
                sum.flux_mm3 += weight * (point.XYZ() - about).Dot(normal);
            }
        }
    }
    return sum;
}

std::vector<SplinePatch::Sample> SplinePatch::domain_samples() const {
    std::vector<Sample> grid;
    const int rows = samples_a_span * v_spans_;
    for (const Strip& strip : strips_) {
        const int columns = samples_a_span * spans_along(strip);
        for (int i = 0; i <= columns; ++i) {
            const double u = strip.u_from + (strip.u_to - strip.u_from) * i / columns;
            for (int k = 0; k <= rows; ++k) {
                const double v = strip.low(u) + (strip.high(u) - strip.low(u)) * k / rows;
                grid.push_back({{u, v}, surface_.Value(u, v).XYZ()});
            }
        }
    }
    return grid;
}

plan::Box SplinePatch::box() const {
    const std::vector<Sample> grid = domain_samples();
    plan::Box box;
    for (int axis = 0; axis < 3; ++axis) {
        const auto k = static_cast<std::size_t>(axis);
        box.most[k] = outermost(grid, axis, 1.0);
        box.least[k] = -outermost(grid, axis, -1.0);
        for (const BRepAdaptor_Curve& edge : edges_) {
            box.most[k] = std::max(box.most[k], outermost(edge, axis, 1.0));
            box.least[k] = std::min(box.least[k], -outermost(edge, axis, -1.0));
        }
    }
    return box;
}

const SplinePatch::Strip& SplinePatch::strip_at(double u) const {
    const auto beyond =
        std::find_if(strips_.begin(), strips_.end(), [u](const Strip& strip) { return strip.u_to >= u; });
    return beyond != strips_.end() ? *beyond : strips_.back();
}

/// Greatest value of `sense` times a coordinate.
double SplinePatch::outermost(const std::vector<Sample>& grid, int axis, double sense) const {
    const auto value = [&](const Sample& sample) { return sense * sample.point.Coord(axis + 1); };
    const auto best = std::max_element(grid.begin(), grid.end(),
                                       [&](const Sample& a, const Sample& b) { return value(a) < value(b); });
    return std::max(value(*best), climbed(best->at, axis, sense));
}

/// The same along an edge, where the domain's sides are slanted and the search inside it stops short.
double SplinePatch::outermost(const BRepAdaptor_Curve& edge, int axis, double sense) {
    const double first = edge.FirstParameter(), last = edge.LastParameter();
    const int spans = edge.GetType() == GeomAbs_BSplineCurve ? std::max(1, edge.NbKnots() - 1) : edge_samples;
    const int count = samples_a_span * spans;
    double at = first, best = -1e300;
    for (int i = 0; i <= count; ++i) {
        const double parameter = first + (last - first) * i / count;
        const double value = sense * edge.Value(parameter).Coord(axis + 1);
        if (value > best) best = value, at = parameter;
    }
    for (int step = 0; step < most_steps; ++step) {
        gp_Pnt point;
        gp_Vec d1, d2;
        edge.D2(at, point, d1, d2);
        best = std::max(best, sense * point.Coord(axis + 1));
        const double next =
            nearer_peak(at, sense * d1.Coord(axis + 1), sense * d2.Coord(axis + 1), first, last);
        if (next == at) break;
        at = next;
    }
    return best;
}

/// Newton's way to the peak along one parameter and then the other, again and again, held in the domain.
double SplinePatch::climbed(Parameters at, int axis, double sense) const {
    double best = -1e300;
    for (int step = 0; step < most_steps; ++step) {
        gp_Pnt point;
        gp_Vec du, dv, duu, dvv, duv;
        surface_.D2(at.u, at.v, point, du, dv, duu, dvv, duv);
        best = std::max(best, sense * point.Coord(axis + 1));
        if (step % 2 == 0) {
            at.u = nearer_peak(at.u, sense * du.Coord(axis + 1), sense * duu.Coord(axis + 1),
                               strips_.front().u_from, strips_.back().u_to);
            const Strip& strip = strip_at(at.u);
            at.v = std::clamp(at.v, strip.low(at.u), strip.high(at.u));
        } else {
            const Strip& strip = strip_at(at.u);
            at.v = nearer_peak(at.v, sense * dv.Coord(axis + 1), sense * dvv.Coord(axis + 1), strip.low(at.u),
                               strip.high(at.u));
        }
    }
    return best;
}

}  // namespace fitup::solid
