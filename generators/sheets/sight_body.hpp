#pragma once

#include <optional>
#include <vector>

#include "plan/stroke.hpp"
#include "sheets/cutting_line.hpp"
#include "sheets/metal_map.hpp"

/// What can be seen behind a plane: first stage of `edges_behind`.
namespace fitup::sheets {

/// Metal, or a cut, with upright walls only.
struct Prism {
    const Feature* feature = nullptr;
    std::vector<plan::Contour> contours;
    double low_mm = 0.0, high_mm = 0.0;
    std::optional<std::size_t> cone;  ///< the feature that it is a ring of
};

/// A piece of a prism's contour in the plane's own frame: X along it, Y behind it.
struct Wall {
    plan::Stroke stroke;
    plan::Box2 box;
    std::size_t contour = 0;  ///< counted over all prisms
};

/// The prisms of a part, their walls in the plane's frame, and where along the plane the picture may change:
/// at silhouettes and ends of walls, where walls cross each other or the plane.
class SightBody {
  public:
    SightBody(const MetalMap& metal, const CutPiece& plane);

    const std::vector<Prism>& prisms() const { return prisms_; }
    const std::vector<Wall>& walls() const { return walls_; }
    /// The prism of each contour.
    const std::vector<std::size_t>& prism_of() const { return prism_of_; }
    /// In order along the plane.
    const std::vector<double>& changes() const { return changes_; }

  private:
    plan::Point to_frame(plan::Point at) const;
    plan::Stroke to_frame(plan::Stroke stroke) const;
    bool can_be_seen(const Feature& feature) const;
    void add(const Feature& feature);
    void add_cone(const Feature& feature);
    void add_chamfered(const Feature& slab);
    void add_prism(Prism prism);
    void add_change(double along_mm);
    void add_changes(const Wall& wall);
    void add_meetings(const Wall& first, const Wall& second);
    void collect_changes();

    const MetalMap& metal_;
    CutPiece plane_;
    plan::Point way_;
    std::vector<Prism> prisms_;
    std::vector<std::size_t> prism_of_;
    std::vector<Wall> walls_;
    std::vector<double> changes_;
};

}  // namespace fitup::sheets
