#include "calculations/chance.hpp"
#include "calculations/survey_bolting.hpp"
#include "calculations/survey_findings.hpp"
#include "calculations/survey_result.hpp"
#include "parameters/replace.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

/// With the centre of the fitted circle as the origin. Points that make no circle keep their axes.
void move_to_circle(SurveyResult& result) {
    const auto circle = fit_circle(result.fit.points_mm, result.fit.covariance_mm2);
    if (!circle) {
        result.datum += " (there is none: as measured)";
        return;
    }
    Axes axes;
    axes.origin_mm = circle->centre_mm;
    axes.origin_rates = circle->centre_rates;
    result.fit = moved_to(std::move(result.fit), axes);
}

std::string datum_words(const Survey& survey) {
    if (survey.datum) return survey.datum->words;
    for (const Reading& reading : survey.readings) {
        const bool is_coordinate = reading.quantity == Quantity::x || reading.quantity == Quantity::y;
        if (is_coordinate && !reading.left_out) return "origin and axes as measured";
    }
    return "origin at " + survey.points[0].id + ", +X from " + survey.points[0].id + " to " +
           survey.points[1].id;
}

/// A trial sets a place anew: it is known as the trial knows it, apart from all others.
void apply_trial(const Survey& survey, SurveyFit& fit) {
    const std::size_t size = 2 * fit.points_mm.size();
    for (const TrialMove& move : survey.trial) {
        const auto point = std::size_t(move.point);
        fit.points_mm[point] = fit.points_mm[point] + move.moved_mm;
        for (const std::size_t row : {2 * point, 2 * point + 1}) {
            for (std::size_t k = 0; k < size; ++k)
                fit.covariance_mm2[row * size + k] = fit.covariance_mm2[k * size + row] = 0.0;
            fit.covariance_mm2[row * size + row] = move.sigma_mm * move.sigma_mm;
        }
    }
}

/// Readings that are off by this many times their uncertainty, all of them, are of another arrangement or
/// another unit; a few that are wrong are suspects.
constexpr double hopeless_scale = 10.0;
/// Readings that disagree by this many times their uncertainties make places worse than these say.
constexpr double blunder_scale = 2.0;

}  // namespace

SurveyResult work_out(const Survey& survey, const SurveyFit& fit) {
    SurveyResult result{survey, fit, datum_words(survey), 1.0, {}, {}, {}, {}, true, false, true};
    if (survey.datum && survey.datum->on_circle) move_to_circle(result);
    apply_trial(survey, result.fit);
    result.chance = chi_square_tail(fit.sum_of_squares, fit.redundancy);
    result.kind =
        pattern_kind(result.fit.points_mm, result.fit.covariance_mm2, survey.expect_circle, survey.bolts_to);
    result.words = in_words(result.kind, survey);
    if (auto asked = bolting_case(survey, result.fit, result.kind.spacing)) {
        BoltsUp worked = bolt_up(*asked);
        result.holds = worked.fit.possible();
        result.bolting = {std::move(*asked), std::move(worked),
                          other_pattern_words(survey, result.kind.spacing)};
    }
    const double unexplained = fit.suspects.empty() ? fit.sigma_scale : fit.rest_scale;
    result.fits = fit.is_arranged && unexplained <= hopeless_scale;
    result.keeps_blunder = fit.sigma_scale > blunder_scale;
    result.holds = result.holds && result.fits;
    result.findings = survey_findings(result);
    return result;
}

std::string kept_words(const SurveyResult& result) {
    if (!result.keeps_blunder) return "";
    return std::string(result.fit.suspects.size() == 1 ? "a reading that disagrees is"
                                                       : "readings that disagree are") +
           " kept: true uncertainty is greater";
}

parameters::Faults faults_of(const std::vector<SurveyTrouble>& troubles,
                             const parameters::Document& document) {
    parameters::Faults faults;
    for (const SurveyTrouble& trouble : troubles) {
        const parameters::Node* node = parameters::find_key(*document.root, trouble.key).node;
        const parameters::Node& place = node != nullptr ? *node : *document.root;
        faults.push_back(parameters::fault_of(
            {.file = document.file, .line = place.line, .column = place.column, .key = trouble.key},
            trouble.found, trouble.wanted));
    }
    return faults;
}

}  // namespace fitup::calculations
