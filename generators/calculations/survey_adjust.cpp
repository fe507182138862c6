// Adjustment of a survey: arrangement, least squares, covariance, what the residuals say, the datum.
#include <algorithm>
#include <cmath>

#include "calculations/survey.hpp"
#include "calculations/survey_arrangement.hpp"
#include "calculations/survey_blunders.hpp"
#include "calculations/survey_evidence.hpp"
#include "calculations/survey_flatness.hpp"
#include "calculations/survey_proposals.hpp"
#include "calculations/survey_residuals.hpp"
#include "calculations/survey_structure.hpp"
#include "calculations/survey_suspects.hpp"
#include "calculations/survey_turned_angles.hpp"
#include "calculations/survey_words.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using plan::Point;

/// A point whose place is doubtful by more than this share of the survey's size isn't held by its readings.
constexpr double loose_share = 0.05;
/// Below this share of the survey's size two holes are one.
constexpr double one_place_share = 1e-6;
constexpr double doubted_sigmas = 3.0;

void append(std::vector<SurveyTrouble>& all, std::vector<SurveyTrouble> more) {
    for (SurveyTrouble& trouble : more) all.push_back(std::move(trouble));
}

std::vector<SurveyTrouble> loose_point(const Survey& survey, const SurveyFit& fit, double size_mm) {
    std::size_t loosest = 0;
    double most = 0.0;
    for (std::size_t i = 0; i < fit.points_mm.size(); ++i) {
        const double major = error_ellipse(fit, i).major_mm;
        if (major > most) loosest = i, most = major;
    }
    // One point alone has no size to compare with, and coordinates of its own.
    if (fit.points_mm.size() < 2 || most < loose_share * size_mm) return {};
    return {
        trouble_at_point(survey, int(loosest),
                         "point " + id_of(survey, int(loosest)) +
                             " held in one direction only: its readings lead to places on one line with it",
                         "a reading of it across that line")};
}

double variance_between(const SurveyFit& fit, std::size_t a, std::size_t b) {
    const std::size_t size = 2 * fit.points_mm.size();
    double most = 0.0;
    for (std::size_t k = 0; k < 2; ++k) {
        const std::size_t i = 2 * a + k, j = 2 * b + k;
        most = std::max(most, fit.covariance_mm2[i * size + i] + fit.covariance_mm2[j * size + j] -
                                  2.0 * fit.covariance_mm2[i * size + j]);
    }
    return most;
}

std::vector<SurveyTrouble> points_at_one_place(const Survey& survey, const SurveyFit& fit, double size_mm) {
    std::vector<SurveyTrouble> troubles;
    for (std::size_t a = 0; a < fit.points_mm.size(); ++a) {
        for (std::size_t b = a + 1; b < fit.points_mm.size(); ++b) {
            const double apart = plan::distance_mm(fit.points_mm[a], fit.points_mm[b]);
            const double doubt = doubted_sigmas * std::sqrt(std::max(0.0, variance_between(fit, a, b)));
            if (apart > std::max(doubt, one_place_share * size_mm)) continue;
            troubles.push_back(trouble_at_point(survey, int(b),
                                                "points " + id_of(survey, int(a)) + " and " +
                                                    id_of(survey, int(b)) + " at one place, " +
                                                    length_text(survey, apart) + " apart",
                                                "each hole once, and readings that belong to it"));
        }
    }
    return troubles;
}

/// Where the result's axes lie, from the datum asked for and what coordinates hold.
class DatumChoice {
  public:
    DatumChoice(const Survey& survey, const Network& network)
        : datum_(survey.datum.value_or(Datum{})), network_(network), free_(free_motions(network)) {}

    SurveyFit applied(SurveyFit fit) const {
        fit = moved_to(std::move(fit), own_axes(fit));
        Axes axes = axes_at_mean(fit, datum_.on_circle ? std::vector<int>{} : datum_.origin);
        axes.x_axis = datum_.x_axis;
        if (axes.origin_rates.empty() && axes.x_axis[0] < 0) return fit;
        return moved_to(std::move(fit), axes);
    }

  private:
    /// What coordinates leave free is set by the first two points.
    Axes own_axes(const SurveyFit& fit) const {
        if (free_ == 0 || fit.points_mm.size() < 2) return {};
        if (free_ == 1 && !turn_is_free()) return level_with_first(fit);
        Axes axes;
        axes.x_axis = {0, 1};
        if (free_ > 1) {
            const auto x_axis = axes.x_axis;
            axes = axes_at_mean(fit, {0});
            axes.x_axis = x_axis;
        } else {
            axes.origin_mm = axes.origin_becomes_mm = fit.points_mm[known_point()];
        }
        return axes;
    }

    std::size_t known_point() const {
        const auto seen = std::ranges::find(network_.seen, Quantity::x, &Observation::quantity);
        return std::size_t(seen->a);
    }

    bool turn_is_free() const {
        const auto has = [&](Quantity quantity) {
            return std::ranges::find(network_.seen, quantity, &Observation::quantity) != network_.seen.end();
        };
        return has(Quantity::x) && has(Quantity::y);
    }

    /// Only x's, or only y's: the first point gets 0 for the other.
    Axes level_with_first(const SurveyFit& fit) const {
        Axes axes = axes_at_mean(fit, {0});
        const bool x_known =
            std::ranges::find(network_.seen, Quantity::x, &Observation::quantity) != network_.seen.end();
        const std::size_t size = 2 * fit.points_mm.size(), row = x_known ? 0 : size;
        std::fill_n(axes.origin_rates.begin() + std::ptrdiff_t(row), size, 0.0);
        (x_known ? axes.origin_mm.x_mm : axes.origin_mm.y_mm) = 0.0;
        return axes;
    }

    Datum datum_;
    const Network& network_;
    int free_;
};

SurveyFit fit_of(const Network& network, const Settled& settled) {
    SurveyFit fit;
    fit.points_mm = settled.at_mm;
    fit.iterations = settled.iterations;
    fit.sum_of_squares = settled.sum_of_squares;
    fit.redundancy = redundancy_of(network);
    if (fit.redundancy > 0) fit.sigma_scale = std::sqrt(fit.sum_of_squares / fit.redundancy);
    return fit;
}

/// How much the readings disagree once suspects are left out.
double rest_scale(const SurveyFit& fit, double rest_squares) {
    const int redundancy = fit.redundancy - int(fit.suspects.size());
    return redundancy > 0 ? std::sqrt(rest_squares / redundancy) : 1.0;
}

Network rest_of(Network network, const std::vector<Suspect>& suspects) {
    std::erase_if(network.seen, [&](const Observation& seen) {
        return std::ranges::find(suspects, seen.reading, &Suspect::reading) != suspects.end();
    });
    return network;
}

/// Whether the readings left are enough to tell that it is the suspects that are wrong, and not the
/// arrangement of a net of spans alone.
bool is_arranged(const Network& network, const SurveyFit& fit, bool rest_agrees) {
    if (!is_spans_alone(network) || agrees(fit.sum_of_squares, fit.redundancy)) return true;
    const std::size_t readings = network.seen.size();
    if (network.points >= great_from &&
        (!rest_agrees || fit.suspects.size() > std::max<std::size_t>(3, readings / 30)))
        return false;
    const Evidence rest = evidence_of(rest_of(network, fit.suspects));
    if (has_many_folds(rest) && !tells_plainly(rest)) return false;
    return tells_one(rest, fit.suspects.size(), readings);
}

/// Everything that can be told before any adjustment.
std::vector<SurveyTrouble> troubles_at_sight(const Survey& survey, const Network& network) {
    std::vector<SurveyTrouble> troubles = hanging_points(survey, network);
    append(troubles, broken_triangles(survey, network));
    return troubles;
}

Adjusted adjust_all(const Survey& survey, const AdjustWork& work);

/// A suspect, where the others show that it was read in inches.
std::optional<Suspect> read_in_inches(const Survey& survey, const SurveyFit& rest, std::size_t reading) {
    const Residual& residual = rest.residuals[reading];
    if (residual.normalised == 0.0) return std::nullopt;
    const Expected expected{residual.fitted, residual.residual / residual.normalised, nullptr};
    const Blunder blunder = blunder_of(survey, reading, expected);
    if (!blunder.text.starts_with("read in inches")) return std::nullopt;
    return Suspect{int(reading), residual.residual, blunder.text, blunder.corrected, {}};
}

/// Numbers that can't be lengths over their pins stay out; they are told as suspects where the others show
/// what they are, and else as what is wrong.
Adjusted adjust_without(const Survey& survey, const std::vector<std::size_t>& impossible,
                        const AdjustWork& work) {
    Survey rest = survey;
    for (const std::size_t i : impossible) rest.readings[i].left_out = true;
    Adjusted result = adjust_all(rest, work);
    std::vector<SurveyTrouble> troubles;
    for (const std::size_t i : impossible) {
        const auto suspect = result.fit ? read_in_inches(survey, *result.fit, i) : std::nullopt;
        if (suspect)
            result.fit->suspects.push_back(*suspect);
        else
            troubles.push_back(no_length_trouble(survey, i));
    }
    // What else is wrong may be so only because these are out.
    if (result.fit && troubles.empty()) return result;
    return {std::nullopt, std::move(troubles)};
}

Adjusted adjust_all(const Survey& survey, const AdjustWork& work) {
    Adjusted result;
    result.troubles = unusable_readings(survey);
    if (!result.troubles.empty() || survey.points.empty()) return result;
    const Network network = network_of(survey);
    result.troubles = missing_side(survey, network);
    if (redundancy_of(network) < 0 || !result.troubles.empty()) {
        append(result.troubles, troubles_at_sight(survey, network));
        return result;
    }
    const Evidence evidence = is_spans_alone(network) ? evidence_of(network) : Evidence{};
    if (has_many_folds(evidence) && !tells_one(evidence, 0, network.seen.size())) {
        result.troubles = troubles_at_sight(survey, network);
        if (result.troubles.empty()) result.troubles = {trouble_with(evidence, survey, network)};
        return result;
    }
    Arrangement arrangement = arrange(survey, network, evidence);
    const auto turned = angle_to_turn(survey, network, arrangement);
    // Without a reading to spare everything fits, and nothing but the crowd speaks against the angle.
    if (turned && !agrees(arrangement.settled.sum_of_squares, redundancy_of(network)))
        arrangement = turned->arrangement;
    SurveyFit fit = fit_of(network, arrangement.settled);
    const auto covariance = covariance_of(network, fit.points_mm);
    const double size_mm = extent_mm(network);
    if (covariance) fit.covariance_mm2 = *covariance;
    if (!covariance || !loose_point(survey, fit, size_mm).empty()) {
        result.troubles = troubles_at_sight(survey, network);
        if (!result.troubles.empty()) return result;
        fit.covariance_mm2 = loose_covariance_of(network, fit.points_mm);
        result.troubles = loose_point(survey, fit, size_mm);
        return result;
    }
    result.troubles = too_flat(survey, network, fit.points_mm, fit.covariance_mm2);
    if (!result.troubles.empty()) return result;
    fit.critical = critical_value(network.seen.size());
    Suspicion suspicion;
    if (work.suspects) suspicion = suspects_of(survey, network, fit.critical, arrangement.starts);
    // A triangle that doesn't close is told by its three spans, unless the others show which one is wrong.
    const bool shown = !suspicion.suspects.empty() && suspicion.rest_agrees;
    if (!agrees(fit.sum_of_squares, fit.redundancy) && !shown)
        append(result.troubles, broken_triangles(survey, network));
    fit.suspects = std::move(suspicion.suspects);
    fit.rest_scale = fit.suspects.empty() ? fit.sigma_scale : rest_scale(fit, suspicion.rest_squares);
    fit.is_arranged = !work.suspects || is_arranged(network, fit, suspicion.rest_agrees);
    if (!fit.is_arranged) fit.suspects.clear();
    append(result.troubles, std::move(arrangement.troubles));
    std::vector<SurveyTrouble> crowd;
    if (fit.is_arranged) crowd = points_at_one_place(survey, fit, size_mm);
    for (SurveyTrouble& trouble : crowd)
        if (turned)
            trouble.wanted += "; with the other sign the " +
                              survey.readings[std::size_t(turned->reading)].name + " would put them apart";
    append(result.troubles, std::move(crowd));
    if (!result.troubles.empty()) return result;
    fit.residuals = residuals_of(survey, fit);
    if (work.proposals) fit.proposals = proposals_of(survey, network, fit);
    result.fit = DatumChoice(survey, network).applied(std::move(fit));
    return result;
}

}  // namespace

Adjusted adjust(const Survey& survey, const AdjustWork& work) {
    const std::vector<std::size_t> impossible = perhaps_in_inches(survey);
    return impossible.empty() ? adjust_all(survey, work) : adjust_without(survey, impossible, work);
}

}  // namespace fitup::calculations
