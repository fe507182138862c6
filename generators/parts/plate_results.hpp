#pragma once

#include "parts/adapter_plate.hpp"

/// What a plate takes from the results of calculations.
namespace fitup::parts {

/// The plate's thickness in mm: as the file states it, or the size that a stack's result solved; then `from`
/// names that result. A result that has none is a fault.
double read_thickness(Reader& reader, const Field& field, std::string& from);

/// Reads the places of a pattern from a survey's result, with their uncertainty and the side they were
/// measured on. What can't be read, or contradicts the pattern's own side, is a fault.
void read_survey(Reader& reader, const Field& field, PatternParameters& pattern);

/// What those results have to say beyond their figures: where the thickness is from, surveys that can't bolt
/// up.
plan::Findings result_findings(const AdapterPlate& plate);

}  // namespace fitup::parts
