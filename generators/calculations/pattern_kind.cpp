#include "calculations/pattern_kind.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "base/units.hpp"
#include "calculations/chance.hpp"

namespace fitup::calculations {

namespace {

/// Radial clearance of an M10 in a hole of 11 mm (ISO 273, medium series).
constexpr double usual_slack_mm = 0.5;

/// Lengths to a thousandth of a millimetre or a ten-thousandth of an inch.
std::string text_of(const Survey& survey, double length_mm) {
    if (survey.units == plan::Units::in) return short_text(length_mm / mm_per_inch, 4) + " in";
    return short_text(length_mm, 3) + " mm";
}

std::optional<NearestHousing> nearest_housing(const CircleFit& circle, int count) {
    std::optional<NearestHousing> nearest;
    for (const trade::Housing& housing : trade::housings()) {
        const double off_mm = circle.diameter_mm - housing.bolt_circle_mm;
        if (housing.hole_count != count || (nearest && std::abs(nearest->off_mm) <= std::abs(off_mm)))
            continue;
        nearest = {&housing, off_mm, std::abs(off_mm) <= 2.0 * circle.diameter_sigma_mm};
    }
    return nearest;
}

std::string circle_words(const PatternKind& kind, const Survey& survey) {
    if (!kind.circle)
        return survey.points.size() < 3 ? "too few points for a circle" : "the points lie on a line";
    const CircleFit& circle = *kind.circle;
    if (survey.points.size() == 3) return "three points lie on a circle in any case";
    const auto worst = std::max_element(circle.residuals_mm.begin(), circle.residuals_mm.end(),
                                        [](double a, double b) { return std::abs(a) < std::abs(b); });
    const std::string off = survey.points[std::size_t(worst - circle.residuals_mm.begin())].id + " is " +
                            text_of(survey, std::abs(*worst)) + (*worst > 0.0 ? " outside" : " inside");
    if (circle.chance >= doubtful_chance)
        return "one circle explains the readings; the worst, " + off + " it";
    if (circle.chance >= unlikely_chance)
        return "one circle hardly explains the readings: so far off comes by chance " +
               once_in(circle.chance) + "; " + off + " it";
    return "not on one circle: so far off would come by chance " + once_in(circle.chance) + "; " + off +
           " the best one";
}

std::string spacing_words(const PatternKind& kind, const Survey& survey) {
    const std::string count = std::to_string(kind.spacings);
    if (!kind.circle) return "";
    if (!kind.spacing) return "not equally spaced: two points would share one of " + count + " places";
    const EqualSpacing& spacing = *kind.spacing;
    const std::string worst = "; the worst hole is " + text_of(survey, spacing.worst_mm) + " from its place";
    if (spacing.chance >= doubtful_chance)
        return "equal spacing of " + count + " explains the readings" + worst;
    if (spacing.chance >= unlikely_chance)
        return "equal spacing of " + count + " hardly explains the readings: so far off comes by chance " +
               once_in(spacing.chance) + worst;
    return "not equally spaced: readings so far off " + count + " equal spacings would come by chance " +
           once_in(spacing.chance) + worst;
}

std::string housing_words(const PatternKind& kind, const Survey& survey) {
    if (!kind.circle) return "";
    const std::string count = std::to_string(kind.spacings);
    if (!kind.housing) return "no SAE housing has " + count + " holes";
    const trade::Housing& housing = *kind.housing->housing;
    const std::string name = "SAE " + housing.designation + " (" + count + " holes on " +
                             text_of(survey, housing.bolt_circle_mm) + ")";
    const std::string off = text_of(survey, std::abs(kind.housing->off_mm)) +
                            (kind.housing->off_mm > 0.0 ? " larger" : " smaller");
    const bool is_equal = kind.spacing && kind.spacing->chance >= unlikely_chance;
    if (kind.housing->is_within && is_equal)
        return name + " is within the uncertainty: the circle is " + off + "; its threads may be " +
               housing.thread_inch + " or " + housing.thread_metric + ", try them";
    return "no standard housing: the nearest with as many holes is " + name + ", the circle is " + off;
}

std::string symmetry_words(const PatternKind& kind) {
    const auto mirrors = std::count_if(kind.symmetries.begin(), kind.symmetries.end(),
                                       [](const Symmetry& one) { return one.is_mirror; });
    const auto turns = std::ptrdiff_t(kind.symmetries.size()) - mirrors;
    if (kind.symmetries.empty())
        return "not symmetric: no turn and no mirror image brings the pattern onto itself";
    std::string text;
    if (turns > 0) text = "every " + short_text(360.0 / double(turns + 1), 3) + " degrees it falls on itself";
    if (mirrors == 0) return text + ", but no mirror image does";
    if (!text.empty()) text += "; ";
    if (mirrors == 1) {
        const double axis_deg = kind.symmetries.back().angle_rad * deg_per_rad;
        return text + "it is its own mirror image in an axis at " + short_text(axis_deg, 1) + " degrees";
    }
    return text + "it is its own mirror image in " + std::to_string(mirrors) + " axes";
}

std::string mirrored_words(const PatternKind& kind, const Survey& survey) {
    const MirroredUse& use = kind.mirrored;
    const std::string clearance = "with " + text_of(survey, use.slack_mm) + " of room around each fastener" +
                                  (kind.slack_is_default ? " (as an M10 in 11 mm)" : "");
    if (use.telling.empty())
        return "used mirrored all " + std::to_string(use.fits) + " holes would still bolt up " + clearance +
               ": nothing in the pattern tells the sides apart";
    std::vector<std::string> ids;
    for (const int point : use.telling) ids.push_back(survey.points[std::size_t(point)].id);
    std::string text = "used mirrored " + std::to_string(use.fits) + " of " +
                       std::to_string(survey.points.size()) + " holes would still bolt up " + clearance +
                       "; ";
    if (ids.size() == 1) return text + ids[0] + " alone tells the sides apart";
    return text + ids[0] + " tells the sides apart best";
}

}  // namespace

PatternKind pattern_kind(const std::vector<plan::Point>& points_mm, const std::vector<double>& covariance_mm2,
                         const std::optional<ExpectedCircle>& expected,
                         const std::optional<BoltsTo>& bolts_to) {
    PatternKind kind;
    kind.spacings = expected ? expected->count.value_or(int(points_mm.size())) : int(points_mm.size());
    kind.circle = fit_circle(points_mm, covariance_mm2);
    kind.spacing = fit_equal_spacing(points_mm, covariance_mm2, kind.spacings);
    if (kind.circle) kind.housing = nearest_housing(*kind.circle, kind.spacings);
    kind.symmetries = symmetries(points_mm, covariance_mm2);
    kind.slack_is_default = !bolts_to || bolts_to->hole_mm <= bolts_to->fastener_mm;
    const double slack_mm =
        kind.slack_is_default ? usual_slack_mm : (bolts_to->hole_mm - bolts_to->fastener_mm) / 2.0;
    kind.mirrored = mirrored_use(points_mm, slack_mm);
    return kind;
}

KindInWords in_words(const PatternKind& kind, const Survey& survey) {
    return {circle_words(kind, survey), spacing_words(kind, survey), housing_words(kind, survey),
            symmetry_words(kind), mirrored_words(kind, survey)};
}

}  // namespace fitup::calculations
