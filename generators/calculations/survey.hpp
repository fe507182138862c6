#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "plan/contour.hpp"
#include "plan/plan.hpp"

/// A bench survey: hole centres from touches and spans that each carry an error. Lengths in mm, angles in
/// rad; X to the right and Y up as seen by whoever measured, facing the casting.
namespace fitup::calculations {

/// What a reading says once it is reduced to centres.
enum class Quantity {
    x,     ///< of point a
    y,     ///< of point a
    span,  ///< from centre a to centre b
    angle  ///< at a, from b to c, anticlockwise
};

/// How it was taken.
enum class Taken { at, touch, over, inside, centres, angle };

struct Reading {
    Quantity quantity = Quantity::span;
    Taken taken = Taken::centres;
    int a = -1, b = -1, c = -1;  ///< indices into Survey::points
    double value = 0.0;          ///< reduced to centres: mm, or rad
    double sigma = 0.0;          ///< one standard deviation of `value`; mm or rad; positive
    bool sigma_is_default = false;
    /// As written: one number, or the two contacts of a touch pair. mm or rad.
    std::vector<double> written;
    std::array<double, 2> pins_mm{};  ///< diameters at a and b (over, inside); 0 otherwise
    std::string name;                 ///< for people: "x of 2", "span 2-4 (inside)", "angle at 1 from 2 to 4"
    std::string key;                  ///< in the file: "spans[1]", "points[0].at[0]"
    int line = 0;
    bool left_out = false;  ///< told, but not counted
};

struct SurveyPoint {
    std::string id;
    int line = 0;
    std::string kind = {};  ///< "dowel", "reamed", "drilled", "stud", "tapped", or "" where not stated
};

/// Where the result's axes lie. Without one: as measured; spans alone have the first point at the origin and
/// the second on +X.
struct Datum {
    std::vector<int> origin;            ///< points whose mean is the origin; empty: the origin as measured
    bool on_circle = false;             ///< the origin is the centre of the fitted circle
    std::array<int, 2> x_axis{-1, -1};  ///< +X runs from the first to the second; -1: as measured
    std::string words;                  ///< "mean of 1 and 2, +X from 2 to 1"
};

struct ExpectedCircle {
    std::optional<int> count;
    std::optional<double> diameter_mm;
};

/// What must pass through the holes.
struct BoltsTo {
    double hole_mm = 0.0;
    double fastener_mm = 0.0;
    /// The other pattern's places, seen as the survey is, in the order of its own ordinals; empty: the fitted
    /// pattern of `expect`.
    std::vector<plan::Point> pattern_mm;
    std::string pattern_name;
    /// Diameter of the position tolerance that the other pattern is made to; 0: it is exact.
    double made_within_mm = 0.0;
};

/// What a trial of a template made from the survey's places showed.
struct TrialMove {
    int point = -1;
    plan::Point moved_mm;   ///< in the result's axes
    double sigma_mm = 0.0;  ///< of each coordinate of the place so found
};

struct Survey {
    std::string name, revision;
    plan::Units units = plan::Units::mm;
    plan::Side measured_on = plan::Side::B;
    std::vector<SurveyPoint> points;
    std::vector<Reading> readings;
    std::optional<std::array<int, 3>> clockwise;
    int clockwise_line = 0;
    std::optional<Datum> datum;
    std::optional<ExpectedCircle> expect_circle;
    std::optional<BoltsTo> bolts_to;
    std::vector<TrialMove> trial = {};
};

/// A reading after the adjustment. One that is left out is held against the others alone: its redundancy
/// stays 0 and there is no `detectable`.
struct Residual {
    double fitted = 0.0;    ///< mm or rad
    double residual = 0.0;  ///< reading less fitted
    /// Share of an error in this reading that shows in its own residual, 0 to 1 (redundancy number).
    double redundancy = 0.0;
    /// Residual over its own standard deviation (Baarda's w); 0 where nothing checks the reading.
    double normalised = 0.0;
    /// Least error in it that the test would find with 80 % power; none where nothing checks it.
    std::optional<double> detectable;
};

/// A reading that doesn't agree with the rest.
struct Suspect {
    int reading = -1;
    double by = 0.0;  ///< what the others say it is wrong by: reading less what they give; mm or rad
    /// "read in inches: 3.4720 in is 88.19 mm", or "" where no usual blunder explains it.
    std::string blunder;
    std::optional<double> corrected;  ///< the value the blunder gives back, reduced to centres
    /// Other readings that explain the disagreement as well, so that they can't be told apart.
    std::vector<int> or_else;
};

/// One more measurement that would help most.
struct Proposal {
    int a = -1, b = -1;  ///< span between these points; b = -1: the coordinates of a
    std::string why;     ///< "would show a wrong reading of span 2-5"
};

struct SurveyFit {
    std::vector<plan::Point> points_mm;  ///< in the datum's axes
    std::vector<double>
        covariance_mm2;  ///< 2n x 2n by rows, of x and y of each point in turn, in the datum's axes
    std::vector<Residual> residuals;  ///< one a reading
    int redundancy = 0;               ///< readings counted less unknowns
    double sum_of_squares = 0.0;      ///< of residuals over sigma
    double sigma_scale = 1.0;         ///< root of sum_of_squares over redundancy; 1 without redundancy
    double rest_scale = 1.0;          ///< the same once the suspects are left out
    /// False where no arrangement was found that all readings but a few fit.
    bool is_arranged = true;
    std::vector<Suspect> suspects;  ///< the worst first
    std::vector<Proposal> proposals;
    double critical = 3.29;  ///< the `normalised` above which a reading is suspected
    int iterations = 0;
};

/// Semi-axes of a point's standard error ellipse.
struct ErrorEllipse {
    double major_mm = 0.0, minor_mm = 0.0;
    double major_direction_rad = 0.0;  ///< from +X
};
ErrorEllipse error_ellipse(const SurveyFit& fit, std::size_t point);

/// Other axes for a fit: an origin that depends on the points, and +X as before or through two of them.
struct Axes {
    plan::Point origin_mm;
    /// 2 x 2n by rows: the origin's change with x and y of each point in turn. Empty: the origin is fixed.
    std::vector<double> origin_rates;
    std::array<int, 2> x_axis{-1, -1};  ///< +X runs from the first to the second; -1: as before
    plan::Point origin_becomes_mm;      ///< where the origin lies in the new axes
};
/// The mean of some points as an origin (none: the origin as it is), +X as before.
Axes axes_at_mean(const SurveyFit& fit, const std::vector<int>& points);
/// The fit in other axes; its covariance belongs to these, so that what defines them has none.
SurveyFit moved_to(SurveyFit fit, const Axes& axes);

/// What keeps a survey from being worked out: too few readings, a triangle that doesn't close, spans that fit
/// two arrangements. Told at the readings' keys.
struct SurveyTrouble {
    std::string key;
    int line = 0;
    std::string found, wanted;
};

struct Adjusted {
    std::optional<SurveyFit> fit;  ///< none with troubles
    std::vector<SurveyTrouble> troubles;
};

/// What is done besides the adjustment itself. A simulation needs neither.
struct AdjustWork {
    bool suspects = true;
    bool proposals = true;
};

/// Weighted least squares with the covariance of the points; spans alone as a free network. The same survey
/// gives the same result to the last digit. A datum's `on_circle` is left to the caller (`moved_to`).
Adjusted adjust(const Survey& survey, const AdjustWork& work = {});

}  // namespace fitup::calculations
