#pragma once

#include <optional>
#include <string>
#include <vector>

#include "parts/reading.hpp"
#include "plan/plan.hpp"

namespace fitup::calculations {

/// Measured places, from a survey's result file.
struct SurveyPlaces {
    std::vector<std::string> ids;
    std::vector<plan::Point> places_mm;  ///< as seen by whoever measured
    /// 2n x 2n by rows, of x and y of each place in turn; empty where the file has none.
    std::vector<double> covariance_mm2;
    plan::Side measured_on = plan::Side::B;

    /// In the plate's frame, as seen from that face: from A, X changes its sign.
    SurveyPlaces seen_from(plan::Side face) const;
    /// Those of these ids, in their order. REQUIRES: all are there.
    SurveyPlaces only(const std::vector<std::size_t>& which) const;
};

/// The result of a survey at a path relative to the calculation's file; faults at `field` where it can't be
/// read or has no sound places.
std::optional<SurveyPlaces> read_survey_places(parts::Reader& reader, const parts::Field& field);

}  // namespace fitup::calculations
