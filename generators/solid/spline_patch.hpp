#pragma once

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <gp_XYZ.hxx>
#include <optional>
#include <vector>

#include "plan/plan.hpp"

namespace fitup::solid {

/// A face of a spline surface whose domain is the region between two values of v and two straight sides, as a
/// thread's are. The domain is found from the edges in space: no curves in surface parameters are needed.
class SplinePatch {
  public:
    /// @returns nothing for a face of another surface or with another domain.
    static std::optional<SplinePatch> of(const TopoDS_Face& face);

    /// What the face adds by the divergence theorem.
    struct Share {
        double area_mm2 = 0.0;
        /// Integral of (p - about) . n over the area, n = du x dv: three times a volume.
        double flux_mm3 = 0.0;
    };
    /// Gauss's rule on each span. Accuracy: 1e-9 relative on smooth patches.
    Share share(const gp_XYZ& about) const;
    /// Of the surface itself, not of its poles. Accuracy: 1e-9 mm on smooth patches.
    plan::Box box() const;
    gp_XYZ corner() const;

  private:
    explicit SplinePatch(const BRepAdaptor_Surface& surface);

    struct Parameters {
        double u = 0.0;
        double v = 0.0;
    };
    struct Sample {
        Parameters at;
        gp_XYZ point;
    };

    /// An edge in the surface's parameters, straight there.
    struct Segment {
        Parameters from;
        Parameters to;
    };
    /// Part of the domain between two values of u and two straight sides.
    struct Strip {
        double u_from = 0.0, u_to = 0.0;
        double low_from = 0.0, low_to = 0.0;    ///< v of the lower side at both ends
        double high_from = 0.0, high_to = 0.0;  ///< and of the upper one
        double share(double u) const { return (u - u_from) / (u_to - u_from); }
        double low(double u) const { return low_from + (low_to - low_from) * share(u); }
        double high(double u) const { return high_from + (high_to - high_from) * share(u); }
    };

    std::vector<Sample> surface_samples() const;
    std::vector<Sample> domain_samples() const;
    std::optional<Parameters> inverted(const gp_XYZ& point, const std::vector<Sample>& grid) const;
    std::optional<Segment> segment(const TopoDS_Edge& edge, const std::vector<Sample>& grid) const;
    bool take_domain(const TopoDS_Face& face);
    bool take_strip(const std::vector<Segment>& segments, double u_from, double u_to);
    int spans_along(const Strip& strip) const;
    const Strip& strip_at(double u) const;
    double outermost(const std::vector<Sample>& grid, int axis, double sense) const;
    static double outermost(const BRepAdaptor_Curve& edge, int axis, double sense);
    double climbed(Parameters from, int axis, double sense) const;

    BRepAdaptor_Surface surface_;
    int u_spans_ = 1;
    int v_spans_ = 1;
    std::vector<Strip> strips_;  ///< in order of u
    std::vector<BRepAdaptor_Curve> edges_;
};

}  // namespace fitup::solid
