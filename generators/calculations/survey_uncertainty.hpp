#pragma once

#include <span>
#include <string_view>

#include "calculations/survey.hpp"

/// How far a reading may be off that states no uncertainty of its own: one standard deviation, half of what
/// the trade gives as plus or minus.
namespace fitup::calculations {

/// A row of the table of defaults.
struct DefaultUncertainty {
    std::string_view what;
    double sigma = 0.0;  ///< mm; degrees for angles
    std::string_view source;
};

/// All defaults, for the papers and for whoever wants to see them.
std::span<const DefaultUncertainty> default_uncertainties();

/// One coordinate as scribed and punched, in mm.
double scribed_sigma_mm();
/// One contact of an edge finder, in mm. The centre of two is known to this over the square root of 2.
double contact_sigma_mm();
/// A span taken with the shortest calipers that reach `measured_mm`; over 1 m it grows with the length.
double caliper_sigma_mm(double measured_mm);
double angle_sigma_deg();
/// What the kind of hole adds (root of sum of squares) to a reading that has a default; 0 for "".
double kind_sigma_mm(std::string_view kind);
/// A place found by a trial of a template, in mm.
double trial_sigma_mm();

}  // namespace fitup::calculations
