#pragma once

#include <optional>

#include "plan/cuts.hpp"
#include "rules/boundary.hpp"

namespace fitup::calculations {

/// What is to spare between a cut that turns and one that stands still.
///
/// All axes are along Z, so the metal hangs on one distance in the plane: between two axes, from an axis to
/// an area's edge, or between two areas; it never shrinks as that distance grows. What the distance can be
/// over a stretch of turns bounds the metal.
class WebPair {
  public:
    struct Limits {
        double wall_mm = 0.0;   ///< wanted beside one another
        double floor_mm = 0.0;  ///< wanted one above the other
        double most_mm() const { return wall_mm > floor_mm ? wall_mm : floor_mm; }
        double least_mm() const { return wall_mm < floor_mm ? wall_mm : floor_mm; }
    };
    struct Options {
        Limits limits;
        /// A cut that lies wholly in the other's area, a pocket's, is drilled from its floor and asks for
        /// nothing.
        bool may_lie_inside = false;
    };

    /// @param moving  at turn 0
    WebPair(const plan::Cut& moving, const plan::Cut& still, plan::Point centre, Options options);

    struct Value {
        double web_mm = 0.0, wanted_mm = 0.0;
        double spare_mm() const { return web_mm - wanted_mm; }
    };
    /// Measured as the rules measure it.
    Value at(double turn_rad) const;

    struct Bounds {
        double least_mm = 0.0, most_mm = 0.0;
    };
    /// Of what is to spare over a stretch of turns.
    Bounds over(double from_rad, double to_rad) const;

    /// No less is to spare: metal between two discs that hold the cuts, less what is wanted; quick.
    double surely_mm(double turn_rad) const;
    double surely_mm(double from_rad, double to_rad) const;

    const plan::Cut& moving() const { return moving_; }
    const plan::Cut& still() const { return still_; }

  private:
    struct Range {
        double least_mm = 0.0, most_mm = 0.0;
    };
    double axes_apart_mm(double turn_rad) const;
    Range axes_apart_mm(double from_rad, double to_rad) const;
    double apart_mm(double turn_rad) const;
    Range apart_mm(double from_rad, double to_rad) const;
    Value at_apart(double apart_mm) const;
    Value value_of(const plan::CutGap& gap, bool is_inside) const;
    plan::Contour turned(double turn_rad) const;
    plan::CutGap gap_at(double turn_rad) const;
    bool lies_inside(double turn_rad) const;

    plan::Cut moving_, still_;
    plan::Point centre_;
    Options options_;
    bool moving_is_disc_ = false, still_is_disc_ = false;
    plan::Circle moving_disc_, still_disc_;            ///< that hold the cuts
    double moving_arm_mm_ = 0.0, still_arm_mm_ = 0.0;  ///< from the turn's centre to theirs
    double angle_between_rad_ = 0.0;                   ///< from the still one to the moving, at turn 0
    /// Of an area that is no disc, to ask how far an axis is from it.
    std::optional<rules::Boundary> moving_edge_, still_edge_;
    /// Both cuts where they are measured: as turned, and a round one or a block about the origin with the
    /// other at its distance along X.
    mutable plan::Cut as_turned_, at_origin_, beside_;
};

/// What is to spare between a cut that turns and the outline.
class RimPair {
  public:
    /// @param outline, edge  outlive the pair
    RimPair(const plan::Cut& moving, const plan::Contour& outline, const rules::Boundary& edge,
            plan::Point centre, double wanted_mm);
    WebPair::Value at(double turn_rad) const;
    WebPair::Bounds over(double from_rad, double to_rad) const;
    const plan::Cut& moving() const { return moving_; }

  private:
    double rim_mm(double turn_rad) const;

    plan::Cut moving_;
    const plan::Contour* outline_;
    const rules::Boundary* edge_;
    plan::Point centre_;
    double wanted_mm_ = 0.0;
    double reach_mm_ = 0.0;     ///< of the cut from the turn's centre
    bool is_constant_ = false;  ///< a disc in a round outline about the turn's centre
};

}  // namespace fitup::calculations
