#include "calculations/concentricity.hpp"

#include <algorithm>
#include <cmath>

#include "calculations/concentricity_findings.hpp"

namespace fitup::calculations {

namespace {

/// A contribution's greatest offset is taken as three standard deviations in X and in Y.
constexpr double sigmas = 3.0;
constexpr double equal_mm = 1e-9;

/// Two normal offsets of equal spread: the distance has Rayleigh's distribution.
double share_beyond(double limit_mm, double rss_mm) {
    if (rss_mm <= 0.0) return limit_mm < -equal_mm ? 1.0 : 0.0;
    const double in_sigmas = limit_mm * sigmas / rss_mm;
    return std::exp(-in_sigmas * in_sigmas / 2.0);
}

std::optional<double> alone_to(const Contribution& one, double excess_mm) {
    const double left_mm = one.offset_mm() - excess_mm;
    if (one.fixed || excess_mm <= equal_mm || left_mm < 0.0) return std::nullopt;
    return one.measure == Measure::offset ? left_mm : 2.0 * left_mm;
}

void add_up(ConcentricityResult& result) {
    double squares = 0.0;
    for (const Contribution& one : result.asked.contributions) {
        result.worst_offset_mm += one.offset_mm();
        squares += one.offset_mm() * one.offset_mm();
        if (one.fixed) result.fixed_offset_mm += one.offset_mm();
    }
    result.rss_offset_mm = std::sqrt(squares);
    result.share_over = share_beyond(result.limit_offset_mm, result.rss_offset_mm);
    const double excess_mm = result.worst_offset_mm - result.limit_offset_mm;
    for (const Contribution& one : result.asked.contributions) {
        const double offset_mm = one.offset_mm();
        result.contributions.push_back(
            {offset_mm, result.worst_offset_mm > 0.0 ? offset_mm / result.worst_offset_mm : 0.0,
             squares > 0.0 ? offset_mm * offset_mm / squares : 0.0, alone_to(one, excess_mm)});
    }
    const double ours_mm = result.worst_offset_mm - result.fixed_offset_mm;
    const double left_mm = result.limit_offset_mm - result.fixed_offset_mm;
    if (excess_mm > equal_mm && left_mm >= 0.0 && ours_mm > 0.0) result.all_to = left_mm / ours_mm;
}

}  // namespace

const char* to_text(Measure measure) {
    switch (measure) {
        case Measure::clearance:
            return "clearance";
        case Measure::position:
            return "position";
        case Measure::reading:
            return "reading";
        case Measure::offset:
            break;
    }
    return "offset";
}

ConcentricityResult work_out(const Concentricity& asked) {
    ConcentricityResult result;
    result.asked = asked;
    result.limit_offset_mm = asked.limit_reading_mm / 2.0;
    add_up(result);
    if (asked.bore) result.bore = dial_in(*asked.bore);
    if (asked.face) result.face = dial_in(*asked.face);
    result.findings = concentricity_findings(result);
    result.holds = std::none_of(result.findings.begin(), result.findings.end(),
                                [](const auto& finding) { return finding.severity == plan::Severity::stop; });
    return result;
}

}  // namespace fitup::calculations
