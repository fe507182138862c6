#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "plan/plan.hpp"
#include "rules/subject.hpp"

namespace fitup::calculations {

/// Metal between the holes that turn and all that stands still, over the turn: measured as the `web` rule
/// measures it.
///
/// Counted: every cut of a hole that turns (shaft, drill point, recess, countersink) against every cut that
/// does not (other holes, bore, registers, reliefs) and against the outline. A hole drilled from a pocket's
/// floor counts nothing there, but a tapped or dowel hole in a relief counts as opening into it. Not counted:
/// marks, and a hollow, whose bosses follow the holes.
class WebField {
  public:
    /// How the holes turn: about `centre`, anticlockwise in the plate's frame with `sense` 1, else -1.
    struct Axis {
        plan::Point centre;
        double sense = 1.0;
    };
    /// @param turning    per hole of the plan
    /// @param wanted_mm  metal that must stay; none: what the plate's rules warn at
    WebField(plan::Plan plan, const std::vector<bool>& turning, Axis axis, std::optional<double> wanted_mm);
    ~WebField();
    WebField(WebField&&) noexcept;

    /// The metal at a turn, where least is to spare.
    struct Metal {
        double web_mm = 0.0;
        double wanted_mm = 0.0;
        double spare_mm = 0.0;  ///< web less wanted
        std::size_t pair = 0;
    };
    Metal at(double turn_rad) const;
    /// Every pair with no more to spare than `spare_mm`, the least first.
    std::vector<Metal> under(double turn_rad, double spare_mm) const;

    /// What is to spare anywhere in a stretch of turns lies between these; certain, and near for short
    /// stretches.
    struct Bounds {
        double least_mm = 0.0, most_mm = 0.0;
    };
    Bounds over(double from_rad, double to_rad) const;

    /// "gearbox-3 and the recess of housing-5"
    std::string name(std::size_t pair) const;
    /// Ids of both holes: "gearbox-3, housing-5".
    std::string where(std::size_t pair) const;

  private:
    struct Parts;
    std::unique_ptr<Parts> parts_;
};

}  // namespace fitup::calculations
