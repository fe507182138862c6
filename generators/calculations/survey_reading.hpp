#pragma once

#include <optional>

#include "calculations/survey.hpp"
#include "parts/reading.hpp"

namespace fitup::calculations {

/// A survey, or the faults that stood in its way (never both).
struct ReadSurvey {
    std::optional<Survey> survey;
    parameters::Faults faults;
};

/// A checked document to a survey, every reading reduced to centres and with its uncertainty.
///
/// Faults: ids that are unknown or stand twice, spans and angles of a point to itself, contacts at one place,
/// spans over less than their pins, points at one place as read or without any reading, spans alone without
/// `clockwise` or against the coordinates, names to leave out that no reading has, patterns that are not
/// there or have another number of places.
ReadSurvey read_survey(const parameters::Document& document);

/// Reads `bolts_to` into the survey: the other pattern's places as seen by whoever measured.
void read_bolts_to(parts::Reader& reader, const parts::Field& field, Survey& survey);

}  // namespace fitup::calculations
