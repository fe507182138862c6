#include "calculations/survey_figures.hpp"

#include <algorithm>

#include "base/units.hpp"
#include "calculations/survey_uncertainty.hpp"

namespace fitup::calculations {

namespace {

using plan::Work;
using Numbers = std::vector<double>;

Numbers pair(plan::Point point) { return {point.x_mm, point.y_mm}; }

std::string ids_text(const SurveyResult& result, const std::vector<int>& points) {
    std::string text;
    for (const int point : points)
        text += (text.empty() ? "" : ", ") + result.survey.points[std::size_t(point)].id;
    return text;
}

std::vector<Work> point_rows(const SurveyResult& result) {
    std::vector<Work> rows;
    for (std::size_t i = 0; i < result.survey.points.size(); ++i) {
        const ErrorEllipse ellipse = error_ellipse(result.fit, i);
        Work row{{"id", "", result.survey.points[i].id},
                 {"at_mm", "", pair(result.fit.points_mm[i])},
                 {"sigma_mm", "", ellipse.major_mm},
                 {"ellipse", "",
                  Work{{"major_mm", "", ellipse.major_mm},
                       {"minor_mm", "", ellipse.minor_mm},
                       {"direction_deg", "", ellipse.major_direction_rad * deg_per_rad}}}};
        if (!result.survey.points[i].kind.empty()) row.push_back({"kind", "", result.survey.points[i].kind});
        rows.push_back(std::move(row));
    }
    return rows;
}

Work circle_figures(const SurveyResult& result, const CircleFit& circle) {
    return {{"centre_mm", "", pair(circle.centre_mm)},
            {"diameter_mm", "", circle.diameter_mm},
            {"start_angle_deg", "", circle.start_angle_rad * deg_per_rad},
            {"worst_residual_mm", "", circle.worst_residual_mm},
            {"roundness_mm", "", circle.roundness_mm},
            {"centre_sigma_mm", "", pair(circle.centre_sigma_mm)},
            {"diameter_sigma_mm", "", circle.diameter_sigma_mm},
            {"start_angle_sigma_deg", "", circle.start_angle_sigma_rad * deg_per_rad},
            {"chance", "", circle.chance},
            {"words", "", result.words.circle}};
}

Work spacing_figures(const SurveyResult& result) {
    const PatternKind& kind = result.kind;
    Work figures{{"count", "", double(kind.spacings)},
                 {"explains_the_readings", "", kind.spacing && kind.spacing->chance >= doubtful_chance}};
    if (kind.spacing) {
        figures.push_back({"centre_mm", "", pair(kind.spacing->centre_mm)});
        figures.push_back({"diameter_mm", "", kind.spacing->diameter_mm});
        figures.push_back({"start_angle_deg", "", kind.spacing->start_angle_rad * deg_per_rad});
        figures.push_back({"worst_mm", "", kind.spacing->worst_mm});
        figures.push_back({"chance", "", kind.spacing->chance});
    }
    figures.push_back({"words", "", result.words.spacing});
    return figures;
}

Work housing_figures(const SurveyResult& result) {
    const NearestHousing& nearest = *result.kind.housing;
    return {{"name", "", "SAE " + nearest.housing->designation},
            {"circle_mm", "", nearest.housing->bolt_circle_mm},
            {"off_mm", "", nearest.off_mm},
            {"within_uncertainty", "", nearest.is_within},
            {"words", "", result.words.housing}};
}

Work symmetry_figures(const SurveyResult& result) {
    std::vector<Work> rows;
    for (const Symmetry& one : result.kind.symmetries)
        rows.push_back({{"mirror_image", "", one.is_mirror},
                        {"angle_deg", "", one.angle_rad * deg_per_rad},
                        {"worst_mm", "", one.worst_mm}});
    const MirroredUse& use = result.kind.mirrored;
    return {{"words", "", result.words.symmetry},
            {"onto_itself", "", std::move(rows)},
            {"mirrored", "",
             Work{{"fits", "", double(use.fits)},
                  {"room_mm", "", use.slack_mm},
                  {"telling", "", ids_text(result, use.telling)},
                  {"words", "", result.words.mirrored}}}};
}

const char* to_text(Taken taken) {
    switch (taken) {
        case Taken::at:
            return "at";
        case Taken::touch:
            return "touch";
        case Taken::over:
            return "over";
        case Taken::inside:
            return "inside";
        case Taken::centres:
            return "centres";
        case Taken::angle:
            return "angle";
    }
    return "";
}

/// The keys of a reading's figures end with its unit.
struct Unit {
    explicit Unit(const Reading& reading)
        : ending(reading.quantity == Quantity::angle ? "_deg" : "_mm"),
          factor(reading.quantity == Quantity::angle ? deg_per_rad : 1.0) {}
    std::string ending;
    double factor;
};

std::vector<Work> reading_rows(const SurveyResult& result) {
    std::vector<Work> rows;
    for (std::size_t i = 0; i < result.survey.readings.size(); ++i) {
        const Reading& reading = result.survey.readings[i];
        const Residual& residual = result.fit.residuals[i];
        const Unit unit(reading);
        Numbers written;
        for (const double one : reading.written) written.push_back(one * unit.factor);
        Work row{{"name", "", reading.name},
                 {"key", "", reading.key},
                 {"taken", "", std::string(to_text(reading.taken))},
                 {"written" + unit.ending, "", std::move(written)},
                 {"value" + unit.ending, "", reading.value * unit.factor},
                 {"sigma" + unit.ending, "", reading.sigma * unit.factor},
                 {"sigma_is_default", "", reading.sigma_is_default},
                 {"fitted" + unit.ending, "", residual.fitted * unit.factor},
                 {"residual" + unit.ending, "", residual.residual * unit.factor},
                 {"redundancy", "", residual.redundancy},
                 {"normalised", "", residual.normalised}};
        if (residual.detectable)
            row.push_back({"detectable" + unit.ending, "", *residual.detectable * unit.factor});
        row.push_back({"left_out", "", reading.left_out});
        rows.push_back(std::move(row));
    }
    return rows;
}

std::vector<Work> suspect_rows(const SurveyResult& result) {
    std::vector<Work> rows;
    for (const Suspect& suspect : result.fit.suspects) {
        const Reading& reading = result.survey.readings[std::size_t(suspect.reading)];
        const Unit unit(reading);
        std::string others;
        for (const int other : suspect.or_else)
            others += (others.empty() ? "" : ", ") + result.survey.readings[std::size_t(other)].name;
        Work row{{"reading", "", reading.name},
                 {"key", "", reading.key},
                 {"by" + unit.ending, "", suspect.by * unit.factor},
                 {"blunder", "", suspect.blunder}};
        if (suspect.corrected)
            row.push_back({"corrected" + unit.ending, "", *suspect.corrected * unit.factor});
        row.push_back({"or_else", "", std::move(others)});
        rows.push_back(std::move(row));
    }
    return rows;
}

std::vector<Work> proposal_rows(const SurveyResult& result) {
    std::vector<Work> rows;
    for (const Proposal& proposal : result.fit.proposals)
        rows.push_back(
            {{"measure", "", std::string(proposal.b < 0 ? "coordinates" : "span")},
             {"points", "",
              proposal.b < 0 ? ids_text(result, {proposal.a}) : ids_text(result, {proposal.a, proposal.b})},
             {"why", "", proposal.why}});
    return rows;
}

std::vector<Numbers> covariance_rows(const SurveyResult& result) {
    const std::size_t size = 2 * result.survey.points.size();
    std::vector<Numbers> rows;
    for (std::size_t i = 0; i < size; ++i) {
        const auto row = result.fit.covariance_mm2.begin() + std::ptrdiff_t(i * size);
        rows.emplace_back(row, row + std::ptrdiff_t(size));
    }
    return rows;
}

/// The table that defaults were taken from, so that whoever reads the result can judge them.
std::vector<Work> default_rows() {
    std::vector<Work> rows;
    for (const DefaultUncertainty& one : default_uncertainties())
        rows.push_back({{"what", "", std::string(one.what)},
                        {"sigma", "", one.sigma},
                        {"source", "", std::string(one.source)}});
    return rows;
}

bool takes_defaults(const SurveyResult& result) {
    return std::any_of(result.survey.readings.begin(), result.survey.readings.end(),
                       [](const Reading& one) { return one.sigma_is_default; });
}

std::vector<Work> trial_rows(const SurveyResult& result) {
    std::vector<Work> rows;
    for (const TrialMove& move : result.survey.trial)
        rows.push_back({{"id", "", result.survey.points[std::size_t(move.point)].id},
                        {"moved_mm", "", pair(move.moved_mm)}});
    return rows;
}

}  // namespace

Work survey_figures(const SurveyResult& result) {
    Work figures{{"measured_on", "", std::string(plan::to_text(result.survey.measured_on))},
                 {"datum", "", result.datum},
                 {"points", "", point_rows(result)}};
    if (result.kind.circle) figures.push_back({"circle", "", circle_figures(result, *result.kind.circle)});
    if (result.kind.circle) figures.push_back({"equal_spacing", "", spacing_figures(result)});
    if (result.kind.housing) figures.push_back({"housing", "", housing_figures(result)});
    if (result.bolting)
        figures.push_back({"bolts_up", "", bolts_up_figures(result.bolting->asked, result.bolting->worked)});
    figures.push_back({"symmetry", "", symmetry_figures(result)});
    figures.push_back({"readings", "", reading_rows(result)});
    figures.push_back({"suspects", "", suspect_rows(result)});
    figures.push_back({"proposals", "", proposal_rows(result)});
    if (!result.survey.trial.empty()) figures.push_back({"trial", "", trial_rows(result)});
    if (takes_defaults(result)) figures.push_back({"default_uncertainties", "", default_rows()});
    figures.push_back({"redundancy", "", double(result.fit.redundancy)});
    figures.push_back({"sum_of_squares", "", result.fit.sum_of_squares});
    figures.push_back({"sigma_scale", "", result.fit.sigma_scale});
    figures.push_back({"chance", "", result.chance});
    figures.push_back({"fits", "", result.fits});
    if (result.keeps_blunder) figures.push_back({"uncertainty", "", kept_words(result)});
    figures.push_back({"covariance_mm2", "", covariance_rows(result)});
    return figures;
}

}  // namespace fitup::calculations
