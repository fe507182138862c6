#include "solid/closed_form.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <numbers>

// Volume by the divergence theorem: V = 1/3 sum over faces of the integral of (p - c) . n dA, c any fixed
// point. On each of the three surfaces that integral, and the area, become sums over the boundary's edges
// (Green's theorem):
//   plane      (p - c) . n is constant; the area is half the integral of P x dP along the boundary.
//   cylinder   p = L + R e(u) + v D,           dA = R du dv:          minus the sum over arcs of v R [..] du
//   cone       p = L + r(v) e(u) + v cos(a) D, r(v) = R + v sin(a):   minus the sum over arcs of r(v)^2 / (2
//   sin a) [..] du
// L place, D axis, e(u) unit vector from the axis, t(u) = de/du, a half angle. Along straight sides du = 0:
// only arcs count. h is 1 for a right-handed frame (its normal points away from the axis), -1 for a
// left-handed one.

namespace fitup::solid {
namespace {

/// An arc belongs to a surface when it lies on it this closely; files carry about 12 digits.
constexpr double on_surface_mm = 1e-5;
constexpr double parallel = 1e-7;

/// An edge as the face's boundary walks it.
struct Side {
    bool is_arc = false;
    gp_XYZ from;
    gp_XYZ to;
    gp_XYZ centre;
    gp_XYZ axis;
    double radius_mm = 0.0;
    double turn = 0.0;  ///< radians about `axis`
};

std::optional<Side> side_of(const TopoDS_Edge& edge) {
    const BRepAdaptor_Curve curve(edge);
    const bool backwards = edge.Orientation() == TopAbs_REVERSED;
    const double first = backwards ? curve.LastParameter() : curve.FirstParameter();
    const double last = backwards ? curve.FirstParameter() : curve.LastParameter();
    Side side;
    side.from = curve.Value(first).XYZ();
    side.to = curve.Value(last).XYZ();
    if (curve.GetType() == GeomAbs_Line) return side;
    if (curve.GetType() != GeomAbs_Circle) return std::nullopt;
    const gp_Circ circle = curve.Circle();
    side.is_arc = true;
    side.centre = circle.Location().XYZ();
    side.axis = circle.XAxis().Direction().XYZ().Crossed(circle.YAxis().Direction().XYZ());
    side.radius_mm = circle.Radius();
    side.turn = last - first;
    return side;
}

std::optional<std::vector<Side>> sides_of(const TopoDS_Face& face) {
    std::vector<Side> sides;
    for (TopExp_Explorer edges(face.Oriented(TopAbs_FORWARD), TopAbs_EDGE); edges.More(); edges.Next()) {
        const TopoDS_Edge edge = TopoDS::Edge(edges.Current());
        if (BRep_Tool::Degenerated(edge)) continue;
        const bool bounds = edge.Orientation() == TopAbs_FORWARD || edge.Orientation() == TopAbs_REVERSED;
        const auto side = bounds ? side_of(edge) : std::nullopt;
        if (!side) return std::nullopt;
        sides.push_back(*side);
    }
    return sides;
}

bool are_parallel(const gp_XYZ& a, const gp_XYZ& b) { return a.Crossed(b).Modulus() < parallel; }

/// What one face adds; the volume still wants the face's orientation and the third.
struct Share {
    double area_mm2 = 0.0;
    double flux_mm3 = 0.0;
};

std::optional<Share> plane_share(const gp_Pln& plane, const std::vector<Side>& sides, const gp_XYZ& about) {
    const gp_XYZ normal = plane.Position().XDirection().XYZ().Crossed(plane.Position().YDirection().XYZ());
    const gp_XYZ origin = plane.Location().XYZ();
    double area = 0.0;
    for (const Side& side : sides) {
        const gp_XYZ base = (side.is_arc ? side.centre : side.from) - origin;
        area += 0.5 * base.Crossed(side.to - side.from).Dot(normal);
        if (!side.is_arc) continue;
        if (!are_parallel(side.axis, normal)) return std::nullopt;
        area += 0.5 * side.radius_mm * side.radius_mm * side.turn * side.axis.Dot(normal);
    }
    return Share{area, (origin - about).Dot(normal) * area};
}

/// A cylinder or cone: its frame, and what arcs on it contribute.
struct Turned {
    gp_XYZ place;
    gp_XYZ axis;
    double radius_mm = 0.0;
    double half_angle = 0.0;  ///< 0 for a cylinder
    double handed = 1.0;

    double radius_at(double along_mm) const { return radius_mm + along_mm * std::tan(half_angle); }
    double along(const gp_XYZ& point) const { return (point - place).Dot(axis); }

    bool carries(const Side& side) const {
        if (side.is_arc) {
            const gp_XYZ off = side.centre - place - axis * along(side.centre);
            return are_parallel(side.axis, axis) && off.Modulus() < on_surface_mm &&
                   std::abs(side.radius_mm - radius_at(along(side.centre))) < on_surface_mm;
        }
        return is_straight_side(side);
    }

    /// The area between the arc and where the cone ends in its tip (or, of a cylinder, its frame), for each
    /// radian.
    double area_per_turn(const Side& side) const {
        if (half_angle == 0.0) return radius_mm * along(side.centre);
        return side.radius_mm * side.radius_mm / (2.0 * std::sin(half_angle));
    }

    Share share(const Side& side, const gp_XYZ& about) const {
        const double turn = handed * side.axis.Dot(axis) * side.turn;
        const gp_XYZ from = (side.from - side.centre) / side.radius_mm;
        const gp_XYZ to = (side.to - side.centre) / side.radius_mm;
        const gp_XYZ sum_of_e = axis.Crossed(from - to) * handed;
        const double across = std::cos(half_angle) * (place - about).Dot(sum_of_e);
        const double level =
            radius_mm * std::cos(half_angle) - std::sin(half_angle) * (place - about).Dot(axis);
        const double area = area_per_turn(side);
        return {-area * turn, -area * handed * (across + level * turn)};
    }

  private:
    bool is_straight_side(const Side& side) const {
        const gp_XYZ step = side.to - side.from;
        const gp_XYZ from = side.from - place - axis * along(side.from);
        const gp_XYZ to = side.to - place - axis * along(side.to);
        // On both, a straight side stays at one angle: its ends lie in one half-plane from the axis.
        const bool one_angle =
            from.Crossed(to).Modulus() <= on_surface_mm * std::max(from.Modulus(), to.Modulus()) &&
            from.Dot(to) > -on_surface_mm * on_surface_mm;
        const double lift = std::abs(step.Dot(axis)) * std::tan(half_angle);
        return one_angle &&
               std::abs(std::abs(from.Modulus() - to.Modulus()) - std::abs(lift)) < on_surface_mm &&
               std::abs(from.Modulus() - radius_at(along(side.from))) < on_surface_mm;
    }
};

Turned turned_from(const gp_Ax3& position, double radius_mm, double half_angle) {
    return {position.Location().XYZ(), position.Direction().XYZ(), radius_mm, half_angle,
            position.Direct() ? 1.0 : -1.0};
}

std::optional<Share> turned_share(const Turned& surface, const std::vector<Side>& sides,
                                  const gp_XYZ& about) {
    Share sum;
    for (const Side& side : sides) {
        if (!surface.carries(side)) return std::nullopt;
        if (!side.is_arc) continue;
        const Share share = surface.share(side, about);
        sum.area_mm2 += share.area_mm2;
        sum.flux_mm3 += share.flux_mm3;
    }
    return sum;
}

std::optional<Share> share_of(const TopoDS_Face& face, const std::vector<Side>& sides, const gp_XYZ& about) {
    const BRepAdaptor_Surface surface(face, false);
    switch (surface.GetType()) {
        case GeomAbs_Plane:
            return plane_share(surface.Plane(), sides, about);
        case GeomAbs_Cylinder:
            return turned_share(turned_from(surface.Cylinder().Position(), surface.Cylinder().Radius(), 0.0),
                                sides, about);
        case GeomAbs_Cone:
            return turned_share(turned_from(surface.Cone().Position(), surface.Cone().RefRadius(),
                                            surface.Cone().SemiAngle()),
                                sides, about);
        default:
            return std::nullopt;
    }
}

/// All three surfaces are ruled, so what lies farthest out lies on an edge.
class Extent {
  public:
    void take(const Side& side) {
        take(side.from);
        take(side.to);
        if (!side.is_arc) return;
        for (int i = 0; i < 3; ++i) take_arc(side, i);
    }
    plan::Box box() const { return box_; }
    bool empty() const { return box_.least[0] > box_.most[0]; }

  private:
    void take(const gp_XYZ& point) {
        for (int i = 0; i < 3; ++i) {
            const auto k = static_cast<std::size_t>(i);
            box_.least[k] = std::min(box_.least[k], point.Coord(i + 1));
            box_.most[k] = std::max(box_.most[k], point.Coord(i + 1));
        }
    }
    /// The arc's two points farthest along a coordinate axis, where it passes them.
    void take_arc(const Side& side, int coordinate) {
        const gp_XYZ start = side.from - side.centre;
        const gp_XYZ ahead = side.axis.Crossed(start);
        const double amplitude = std::hypot(start.Coord(coordinate + 1), ahead.Coord(coordinate + 1));
        const double most = std::atan2(ahead.Coord(coordinate + 1), start.Coord(coordinate + 1));
        const auto k = static_cast<std::size_t>(coordinate);
        const double middle = side.centre.Coord(coordinate + 1);
        if (passes(side.turn, most)) box_.most[k] = std::max(box_.most[k], middle + amplitude);
        if (passes(side.turn, most + std::numbers::pi))
            box_.least[k] = std::min(box_.least[k], middle - amplitude);
    }
    static bool passes(double turn, double angle) {
        const double full = 2.0 * std::numbers::pi;
        const double ahead = turn > 0.0 ? angle : -angle;
        return ahead - full * std::floor(ahead / full) <= std::abs(turn);
    }

    plan::Box box_{{1e300, 1e300, 1e300}, {-1e300, -1e300, -1e300}};
};

}  // namespace

std::optional<Amounts> amounts_in_closed_form(const TopoDS_Shape& shape) {
    Amounts sum;
    Extent extent;
    std::optional<gp_XYZ> about;  // near the part, so that parts far from the origin lose no digits
    for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
        const TopoDS_Face face = TopoDS::Face(faces.Current());
        const auto sides = sides_of(face);
        if (!sides || sides->empty()) return std::nullopt;
        if (!about) about = sides->front().from;
        const auto share = share_of(face, *sides, *about);
        if (!share || !(share->area_mm2 > 0.0)) return std::nullopt;
        sum.area_mm2 += share->area_mm2;
        sum.volume_mm3 += (face.Orientation() == TopAbs_REVERSED ? -1.0 : 1.0) * share->flux_mm3 / 3.0;
        for (const Side& side : *sides) extent.take(side);
    }
    if (extent.empty()) return std::nullopt;
    sum.box = extent.box();
    return sum;
}

}  // namespace fitup::solid
