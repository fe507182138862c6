#pragma once

#include <optional>
#include <string>
#include <vector>

#include "mesh/mesh.hpp"
#include "plan/plan.hpp"

/// What an exchange file holds, measured from the file alone, and its comparison with a plan. No kernel here.
namespace fitup::exchange {

/// A round wall found in a file: full or partial cylinder, joined over faces with the same axis, radius and
/// range.
struct Cylinder {
    plan::Point3 axis_point{};   ///< the axis at `low_mm`
    plan::Point3 axis{0, 0, 1};  ///< unit, its largest component positive
    double radius_mm = 0.0;
    double low_mm = 0.0;  ///< range along the axis, as the dot product with `axis`
    double high_mm = 0.0;
    bool is_hole = true;             ///< metal outside
    double sweep_deg = 360.0;        ///< how much of the turn is there
    std::vector<std::string> names;  ///< of its faces
};

struct ConeFace {
    plan::Point3 axis_point{};  ///< on the axis at the wide end
    plan::Point3 axis{0, 0, 1};
    double radius_low_mm = 0.0;  ///< at `low_mm` along axis
    double radius_high_mm = 0.0;
    double low_mm = 0.0;
    double high_mm = 0.0;
    bool is_hole = true;
};

/// A bend of a round rod: a piece of a torus, metal inside the tube.
struct BendFace {
    plan::Point3 centre{};
    plan::Point3 axis{0, 0, 1};  ///< unit, its largest component positive
    plan::Point3 middle{};       ///< of the tube, half-way along the bend
    double ring_radius_mm = 0.0;
    double tube_radius_mm = 0.0;
    double sweep_deg = 0.0;  ///< along the bend
};

struct Measurement {
    double volume_mm3 = 0.0;
    double area_mm2 = 0.0;
    plan::Box box;
    int bodies = 0;
    bool closed = false;
    std::vector<Cylinder> cylinders;
    std::vector<ConeFace> cones;
    std::vector<BendFace> bends;  ///< of a STEP file; a mesh shows none
    std::string product_name;     ///< of a STEP file
    std::string unit;             ///< length unit stated in the file: "mm", "in"; "" for STL
    /// How well the file can be known: 0 for STEP; for a mesh how far its facets stray from the round walls
    /// they stand for.
    double doubt_mm = 0.0;
    bool is_mesh = false;  ///< of facets
};

/// Measures a mesh: round walls are found again as runs of facets parallel to an axis.
Measurement measure(const mesh::Mesh& mesh);

/// `unmeasured`: a wall that another cut crosses has no plain run of facets in a mesh; only STEP shows it.
enum class Verdict { same, missing, extra, moved, resized, differs, unmeasured };
const char* to_text(Verdict verdict);

/// One line of `fitup inspect`.
struct Row {
    std::string what;  ///< hole id, "volume", "bounding box", "extra hole"
    Verdict verdict = Verdict::same;
    std::string expected;
    std::string found;
    double difference_mm = 0.0;
};

struct Comparison {
    std::vector<Row> rows;
    /// No row says that the file differs; unmeasured rows don't.
    bool agrees() const;
};

/// What the plan says the file should measure. `volume_mm3` may come from the solid where no closed form
/// exists.
struct Expectation {
    double volume_mm3 = 0.0;
    plan::Box box;
    double volume_tolerance_relative = 1e-9;
    /// Chord of the mesh for an STL, 0 for STEP.
    double chord_mm = 0.0;
};

/// Every hole's axis, diameter, depth and side, and volume and box, against the plan.
Comparison compare(const plan::Plan& plan, const Expectation& expectation, const Measurement& found,
                   double within_mm);

}  // namespace fitup::exchange
