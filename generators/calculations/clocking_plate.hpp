#pragma once

#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "parts/adapter_plate.hpp"

namespace fitup::calculations {

/// What is changed of a plate's file.
struct PlateChange {
    double turn_deg = 0.0;               ///< of the patterns that turn, see ClockedPlate
    std::optional<double> thickness_mm;  ///< in place of the file's
    /// Bolt-circle diameter of the pattern with that index.
    std::optional<std::pair<std::size_t, double>> circle_mm;
};

/// An adapter plate's file, ready to be planned again and again with some of its patterns turned.
///
/// The turn is added to `rotate` of the first pattern that turns, as it is seen; patterns seen from the other
/// side get it the other way round, so that all turn together in the plate.
class ClockedPlate {
  public:
    /// @param document  of a plate, read without faults; kept alive
    /// @param turning   indices of patterns, at least one
    ClockedPlate(std::shared_ptr<const parameters::Document> document, parts::AdapterPlate plate,
                 std::vector<std::size_t> turning);

    /// The plan so changed; nothing where such a plate does not exist.
    std::optional<plan::Plan> plan(const PlateChange& change) const;

    const parts::AdapterPlate& plate() const { return plate_; }
    const std::vector<std::size_t>& turning() const { return turning_; }
    bool turns(std::size_t pattern) const;
    /// What `rotate` of a pattern that turns must say in the file, 0 to 360.
    double rotate_deg(std::size_t pattern, double turn_deg) const;
    /// The axis that the patterns turn about, in the plate's frame.
    plan::Point centre_mm() const;
    /// 1 where the turn is anticlockwise in the plate's frame, else -1.
    double sense() const;
    /// Whether a pattern turns about the same axis as the first one does.
    bool has_common_axis(std::size_t pattern) const;
    /// Key of a pattern's bolt circle: "patterns.housing.circle.diameter".
    std::string circle_key(std::size_t pattern) const;
    /// Of a pattern on a circle.
    std::optional<double> circle_diameter_mm(std::size_t pattern) const;

  private:
    plan::Point axis_of(std::size_t pattern) const;
    double sense_of(std::size_t pattern) const;

    std::shared_ptr<const parameters::Document> document_;
    parts::AdapterPlate plate_;
    std::vector<std::size_t> turning_;
};

}  // namespace fitup::calculations
