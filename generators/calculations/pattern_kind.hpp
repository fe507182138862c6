#pragma once

#include <optional>
#include <string>
#include <vector>

#include "calculations/circle_fit.hpp"
#include "calculations/survey.hpp"
#include "calculations/symmetry.hpp"
#include "trade/trade.hpp"

/// What pattern measured points are: on a circle or not, equally spaced or not, of which housing, symmetric
/// how.
namespace fitup::calculations {

/// The housing of the trade table with as many holes whose circle is nearest.
struct NearestHousing {
    const trade::Housing* housing = nullptr;
    double off_mm = 0.0;     ///< fitted diameter less the table's
    bool is_within = false;  ///< of two standard deviations of the fitted diameter
};

struct PatternKind {
    std::optional<CircleFit> circle;        ///< none for fewer than three points, or on a line
    std::optional<EqualSpacing> spacing;    ///< none where the points can't be equally spaced
    int spacings = 0;                       ///< how many spacings were asked about
    std::optional<NearestHousing> housing;  ///< none where no housing has as many holes
    std::vector<Symmetry> symmetries;
    MirroredUse mirrored;
    bool slack_is_default = false;  ///< no hole and fastener were given: 0.5 mm, as an M10 in 11 mm
};

/// Under this chance the readings speak against what was supposed.
inline constexpr double doubtful_chance = 0.05, unlikely_chance = 0.001;

PatternKind pattern_kind(const std::vector<plan::Point>& points_mm, const std::vector<double>& covariance_mm2,
                         const std::optional<ExpectedCircle>& expected,
                         const std::optional<BoltsTo>& bolts_to);

/// Plain sentences without their stops, for people and in the file's units: circle, spacing, housing,
/// symmetry, mirrored use.
struct KindInWords {
    std::string circle, spacing, housing, symmetry, mirrored;
};
KindInWords in_words(const PatternKind& kind, const Survey& survey);

}  // namespace fitup::calculations
