#include "solid/closed_form.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "solid/spline_patch.hpp"

// Volume by the divergence theorem: V = 1/3 sum over faces of the integral of (p - c) . n dA, c any fixed
// point. On the first three surfaces that integral, and the area, become sums over the boundary's edges
// (Green's theorem):
//   plane      (p - c) . n is constant; the area is half the integral of P x dP along the boundary.
//   cylinder   p = L + R e(u) + v D,           dA = R du dv:          minus the sum over arcs of v R [..] du
//   cone       p = L + r(v) e(u) + v cos(a) D, r(v) = R + v sin(a):   minus the sum over arcs of r(v)^2 / (2
//   sin a) [..] du
//   torus      p = L + R e(u) + r n, n = cos v e(u) + sin v D:        a patch between two u and two v,
//   integrated
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

/// A patch of a torus between two of its meridians and two of its parallels; of a whole tube both parallels
/// are the seam. Only for right-handed frames, whose normal points away from the tube's middle.
class TorusPatch {
  public:
    TorusPatch(const gp_Torus& torus, const std::vector<Side>& sides)
        : place_(torus.Location().XYZ()),
          axis_(torus.Axis().Direction().XYZ()),
          major_mm_(torus.MajorRadius()),
          minor_mm_(torus.MinorRadius()) {
        is_known_ = torus.Position().Direct() && sides.size() == 4;
        for (const Side& side : sides) is_known_ = is_known_ && take(side);
        is_known_ = is_known_ && meridians_ == 2 && parallels_ == 2 && is_consistent();
    }

    std::optional<Share> share(const gp_XYZ& about) const {
        if (!is_known_) return std::nullopt;
        const double end = v_ + sweep_v_;
        const double sines = std::sin(end) - std::sin(v_);
        const double squares =
            sweep_v_ / 2.0 + (std::sin(2.0 * end) - std::sin(2.0 * v_)) / 4.0;  // of cosines
        const double products = (std::sin(end) * std::sin(end) - std::sin(v_) * std::sin(v_)) / 2.0;
        const double across = major_mm_ * sines + minor_mm_ * squares;
        const double along = major_mm_ * (std::cos(v_) - std::cos(end)) + minor_mm_ * products;
        const double own = (major_mm_ * major_mm_ + minor_mm_ * minor_mm_) * sines +
                           major_mm_ * minor_mm_ * (squares + sweep_v_);
        const gp_XYZ sum_of_e = axis_.Crossed(least_ - most_);
        const double flux =
            (place_ - about).Dot(sum_of_e) * across + sweep_u_ * ((place_ - about).Dot(axis_) * along + own);
        return Share{minor_mm_ * sweep_u_ * (major_mm_ * sweep_v_ + minor_mm_ * sines), minor_mm_ * flux};
    }

    /// Where the surface faces along a coordinate axis, either way, on the outer or inner side of the ring:
    /// what lies farthest out within the patch lies there.
    template <class Take>
    void take_bulges(int coordinate, const Take& take) const {
        const gp_XYZ ahead = axis_.Crossed(least_);
        const double amplitude = std::hypot(least_.Coord(coordinate), ahead.Coord(coordinate));
        const double most = std::atan2(ahead.Coord(coordinate), least_.Coord(coordinate));
        for (const double facing : {1.0, -1.0}) {
            for (const double outer : {1.0, -1.0}) {
                const double u = facing * outer > 0.0 ? most : most + std::numbers::pi;
                const double v = std::atan2(facing * axis_.Coord(coordinate), outer * amplitude);
                if (passes(u, sweep_u_) && passes(v - v_, sweep_v_))
                    take(place_.Coord(coordinate) + facing * (outer * major_mm_ * amplitude + minor_mm_));
            }
        }
    }

  private:
    bool take(const Side& side) {
        if (!side.is_arc) return false;
        const gp_XYZ to_centre = side.centre - place_;
        if (are_parallel(side.axis, axis_)) {
            ++parallels_;
            sweep_u_ = std::abs(side.turn);
            const double level = to_centre.Dot(axis_), out = side.radius_mm - major_mm_;
            return (to_centre - axis_ * level).Modulus() < on_surface_mm &&
                   std::abs(std::hypot(level, out) - minor_mm_) < on_surface_mm;
        }
        if (std::abs(side.axis.Dot(axis_)) > parallel ||
            std::abs(side.radius_mm - minor_mm_) > on_surface_mm ||
            std::abs(to_centre.Modulus() - major_mm_) > on_surface_mm ||
            std::abs(to_centre.Dot(axis_)) > on_surface_mm ||
            std::abs(side.axis.Dot(to_centre)) > on_surface_mm)
            return false;
        ++meridians_;
        take_meridian(side, to_centre / major_mm_);
        return true;
    }
    /// The boundary runs up v at the patch's greatest u and down at its least.
    void take_meridian(const Side& side, const gp_XYZ& e) {
        const double rise = side.turn * side.axis.Dot(e.Crossed(axis_));
        if (rise < 0.0) {
            least_ = e;
            return;
        }
        most_ = e;
        sweep_v_ = rise;
        v_ = std::atan2((side.from - side.centre).Dot(axis_), (side.from - side.centre).Dot(e));
    }
    /// The seam's turn must lead from one meridian to the other.
    bool is_consistent() const {
        if (least_.Modulus() < 0.5 || most_.Modulus() < 0.5) return false;
        const gp_XYZ turned = least_ * std::cos(sweep_u_) + axis_.Crossed(least_) * std::sin(sweep_u_);
        return (turned - most_).Modulus() * major_mm_ < on_surface_mm;
    }
    static bool passes(double angle, double sweep) {
        const double full = 2.0 * std::numbers::pi;
        return angle - full * std::floor(angle / full) <= sweep;
    }

    gp_XYZ place_, axis_;
    double major_mm_, minor_mm_;
    gp_XYZ least_{0.0, 0.0, 0.0}, most_{0.0, 0.0, 0.0};  ///< e(u) at both meridians
    double sweep_u_ = 0.0, v_ = 0.0, sweep_v_ = 0.0;
    int meridians_ = 0, parallels_ = 0;
    bool is_known_ = false;
};

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
        case GeomAbs_Torus:
            return TorusPatch(surface.Torus(), sides).share(about);
        default:
            return std::nullopt;
    }
}

/// The first three surfaces are ruled, so what lies farthest out of them lies on an edge; a bend bulges
/// beyond its edges.
class Extent {
  public:
    void take(const TorusPatch& patch) {
        for (int i = 0; i < 3; ++i) {
            patch.take_bulges(i + 1, [&](double value) { take(static_cast<std::size_t>(i), value); });
        }
    }
    void take(const Side& side) {
        take(side.from);
        take(side.to);
        if (!side.is_arc) return;
        for (int i = 0; i < 3; ++i) take_arc(side, i);
    }
    void take(const plan::Box& box) {
        take(gp_XYZ(box.least[0], box.least[1], box.least[2]));
        take(gp_XYZ(box.most[0], box.most[1], box.most[2]));
    }
    plan::Box box() const { return box_; }
    bool empty() const { return box_.least[0] > box_.most[0]; }

  private:
    void take(std::size_t axis, double value) {
        box_.least[axis] = std::min(box_.least[axis], value);
        box_.most[axis] = std::max(box_.most[axis], value);
    }
    void take(const gp_XYZ& point) {
        for (int i = 0; i < 3; ++i) take(static_cast<std::size_t>(i), point.Coord(i + 1));
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

namespace {

/// Sums what faces add.
class Sum {
  public:
    /// @returns false for a face of an unknown kind
    bool take(const TopoDS_Face& face) {
        if (BRepAdaptor_Surface(face, false).GetType() == GeomAbs_BSplineSurface) return take_patch(face);
        const auto sides = sides_of(face);
        if (!sides || sides->empty()) return false;
        const auto share = share_of(face, *sides, about(sides->front().from));
        if (!share || !(share->area_mm2 > 0.0)) return false;
        add(face, *share);
        for (const Side& side : *sides) extent_.take(side);
        const BRepAdaptor_Surface surface(face, false);
        if (surface.GetType() == GeomAbs_Torus) extent_.take(TorusPatch(surface.Torus(), *sides));
        return true;
    }

    std::optional<Amounts> amounts() {
        if (extent_.empty()) return std::nullopt;
        sum_.box = extent_.box();
        return sum_;
    }

  private:
    bool take_patch(const TopoDS_Face& face) {
        const auto patch = SplinePatch::of(face);
        if (!patch) return false;
        const SplinePatch::Share share = patch->share(about(patch->corner()));
        add(face, {share.area_mm2, share.flux_mm3});
        extent_.take(patch->box());
        return true;
    }

    /// A point near the part, so that parts far from the origin lose no digits.
    const gp_XYZ& about(const gp_XYZ& point) {
        if (!about_) about_ = point;
        return *about_;
    }

    void add(const TopoDS_Face& face, const Share& share) {
        sum_.area_mm2 += share.area_mm2;
        sum_.volume_mm3 += (face.Orientation() == TopAbs_REVERSED ? -1.0 : 1.0) * share.flux_mm3 / 3.0;
    }

    Amounts sum_;
    Extent extent_;
    std::optional<gp_XYZ> about_;
};

}  // namespace

std::optional<Amounts> amounts_in_closed_form(const TopoDS_Shape& shape) {
    Sum sum;
    for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
        if (!sum.take(TopoDS::Face(faces.Current()))) return std::nullopt;
    }
    return sum.amounts();
}

}  // namespace fitup::solid
