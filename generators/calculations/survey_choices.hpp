#pragma once

#include "calculations/survey.hpp"
#include "parts/reading.hpp"

/// The parts of reading a survey that stand in sources of their own; faults go to the reader.
namespace fitup::calculations {

/// Index of the point that `field` names; -1 where it names none (a fault, unless there is no text at all).
int read_point(parts::Reader& reader, const parts::Field& field, const Survey& survey);

/// Coordinates of a point as read, the mean where a coordinate was taken twice; nothing where one is missing.
std::optional<plan::Point> place_as_read(const Survey& survey, int point);

/// clockwise, leave_out, datum, expect and trial, once points and readings are read.
void read_choices(parts::Reader& reader, const parts::Field& root, Survey& survey);

}  // namespace fitup::calculations
