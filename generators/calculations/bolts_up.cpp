#include "calculations/bolts_up.hpp"

#include <algorithm>
#include <cmath>

#include "base/comma_list.hpp"
#include "base/length_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/units.hpp"

namespace fitup::calculations {

namespace {

using plan::Severity;
using plan::Work;

/// Under this chance it is worth a word.
constexpr double likely_enough = 0.99;
constexpr std::size_t most_named = 8;

LengthText lengths(const BoltingCase& one) { return LengthText(one.units == plan::Units::in); }

std::string named(const BoltingCase& one, const std::vector<std::size_t>& which) {
    std::string text;
    for (std::size_t k = 0; k < std::min(most_named, which.size()); ++k)
        text += (k == 0 ? "" : k + 1 == which.size() ? " and " : ", ") + one.ids[which[k]];
    if (which.size() > most_named) text += " and " + std::to_string(which.size() - most_named) + " more";
    return text;
}

std::vector<std::string> ids_of(const BoltingCase& one, const std::vector<std::size_t>& which) {
    std::vector<std::string> ids;
    for (const std::size_t i : which) ids.push_back(one.ids[i]);
    return ids;
}

bool has_doubt(const Doubt& doubt) { return !doubt.covariance_mm2.empty() || doubt.made_within_mm > 0.0; }

void seek_other_readings(const BoltingCase& one, const std::vector<double>& slacks_mm, BoltsUp& worked) {
    if (!worked.fit.possible()) {
        const auto order = find_pairing(one.first_mm, one.second_mm, slacks_mm, false);
        if (order && order->fit.possible()) worked.other_order = order->second_of;
    }
    const auto mirrored = find_pairing(one.first_mm, one.second_mm, slacks_mm, true);
    worked.fits_mirrored = mirrored && mirrored->fit.possible();
}

std::vector<Work> clearance_rows(const BoltingCase& one, const BoltsUp& worked) {
    std::vector<Work> rows;
    for (std::size_t i = 0; i < one.ids.size(); ++i) {
        const plan::Point there = laid(worked.fit, one.second_mm[i]);
        rows.push_back(
            {{"id", "", one.ids[i]},
             {"clearance_mm", "", worked.fit.clearances_mm[i]},
             {"off_mm", "",
              std::vector<double>{one.first_mm[i].x_mm - there.x_mm, one.first_mm[i].y_mm - there.y_mm}}});
    }
    return rows;
}

std::vector<Work> binding_rows(const BoltingCase& one, const BoltsUp& worked) {
    std::vector<Work> rows;
    for (const std::size_t i : worked.fit.deciding)
        rows.push_back({{"id", "", one.ids[i]}, {"clearance_mm", "", worked.fit.clearances_mm[i]}});
    return rows;
}

Work opening_figures(const BoltingCase& one, const BoltsUp& worked) {
    const Openings& open = worked.openings;
    std::vector<Work> some;
    for (const std::size_t i : open.some)
        some.push_back({{"id", "", one.ids[i]}, {"hole_mm", "", one.holes_mm[i] + open.some_mm}});
    Work figures{{"all_by_mm", "", open.all_alike_mm}, {"only", "", std::move(some)}};
    if (open.one)
        figures.push_back(
            {"one", "",
             Work{{"id", "", one.ids[*open.one]}, {"hole_mm", "", one.holes_mm[*open.one] + open.one_mm}}});
    return figures;
}

/// Rounded up to what a shop can be told.
std::string opened_text(const BoltingCase& one, double hole_mm) {
    const double step_mm = one.units == plan::Units::in ? 0.001 * mm_per_inch : 0.01;
    return lengths(one).with_unit(std::ceil(hole_mm / step_mm - 1e-6) * step_mm);
}

/// A hole that grows by more than half is no cure: the places are wrong (common practice, no source).
bool is_sensible(double more_mm, double hole_mm) { return more_mm <= 0.5 * hole_mm; }

std::string remedies_text(const BoltingCase& one, const BoltsUp& worked) {
    const Openings& open = worked.openings;
    const double least_hole_mm = *std::min_element(one.holes_mm.begin(), one.holes_mm.end());
    std::vector<std::string> ways;
    if (open.one && is_sensible(open.one_mm, one.holes_mm[*open.one]))
        ways.push_back("open " + one.ids[*open.one] + " alone to " +
                       opened_text(one, one.holes_mm[*open.one] + open.one_mm));
    if (open.some.size() < one.ids.size() && is_sensible(open.some_mm, least_hole_mm))
        ways.push_back("open " + named(one, open.some) + " by " + opened_text(one, open.some_mm));
    if (is_sensible(open.all_alike_mm, least_hole_mm))
        ways.push_back(worked.hole_that_would_do_mm
                           ? "make all holes " + opened_text(one, *worked.hole_that_would_do_mm)
                           : "open all holes by " + opened_text(one, open.all_alike_mm));
    if (ways.empty())
        return "no hole of a sensible size would do: look at the places and readings themselves";
    std::string text;
    for (const std::string& way : ways) text += (text.empty() ? "" : ", or ") + way;
    return text;
}

/// Of each part's holes, however the fasteners are held.
std::string tolerance_text(const BoltingCase& one, const BoltsUp& worked) {
    const auto& fixed = formula_of(Fastening::fixed);
    const auto& floating = formula_of(Fastening::floating);
    const double room_mm = worked.position_tolerance_mm / formula_of(one.fastening).share;
    return "on drawings of parts still to be made (ASME Y14.5): position tolerance of diameter " +
           lengths(one).with_unit(fixed.share * room_mm) + " where one part holds the fasteners, " +
           std::string(fixed.formula) + "; " + lengths(one).with_unit(floating.share * room_mm) +
           " where both have clearance holes, " + std::string(floating.formula);
}

std::string order_text(const BoltingCase& one, const std::vector<std::size_t>& order) {
    std::string text;
    for (std::size_t i = 0; i < std::min(most_named, order.size()); ++i)
        text += (i == 0 ? "" : ", ") + one.ids[i] + " with " + std::to_string(order[i] + 1);
    return text + (order.size() > most_named ? " .." : "");
}

}  // namespace

BoltsUp bolt_up(const BoltingCase& one) {
    std::vector<double> slacks_mm;
    for (std::size_t i = 0; i < one.ids.size(); ++i)
        slacks_mm.push_back((one.holes_mm[i] - one.fasteners_mm[i]) / 2.0);
    const std::vector<FastenerPair> pairs = paired(one.first_mm, one.second_mm, slacks_mm);
    BoltsUp worked;
    worked.fit = best_fit(pairs);
    worked.openings = openings(pairs, worked.fit);
    if (has_doubt(one.doubt)) worked.odds = odds_of(pairs, one.doubt);
    seek_other_readings(one, slacks_mm, worked);
    const auto [least, most] = std::minmax_element(one.holes_mm.begin(), one.holes_mm.end());
    if (*least == *most) worked.hole_that_would_do_mm = *least - 2.0 * worked.fit.least_clearance_mm;
    const double least_slack_mm = *std::min_element(slacks_mm.begin(), slacks_mm.end());
    worked.position_tolerance_mm = formula_of(one.fastening).share * 2.0 * least_slack_mm;
    return worked;
}

Work bolts_up_figures(const BoltingCase& one, const BoltsUp& worked) {
    const BoltFit& fit = worked.fit;
    Work figures{{"possible", "", fit.possible()},
                 {"least_clearance_mm", "", fit.least_clearance_mm},
                 {"shift_mm", "", std::vector<double>{fit.shift_mm.x_mm, fit.shift_mm.y_mm}},
                 {"turn_deg", "", fit.turn_rad * deg_per_rad},
                 {"clearances", "", clearance_rows(one, worked)},
                 {"binding", "", binding_rows(one, worked)}};
    if (worked.hole_that_would_do_mm)
        figures.push_back({"hole_that_would_do_mm", "", *worked.hole_that_would_do_mm});
    if (!fit.possible()) figures.push_back({"open", "", opening_figures(one, worked)});
    if (worked.odds) {
        figures.push_back({"probability", "", worked.odds->probability});
        figures.push_back({"probability_error", "", worked.odds->standard_error});
    }
    figures.push_back({"position_tolerance_mm", "", worked.position_tolerance_mm});
    if (worked.other_order) {
        std::vector<double> order;
        for (const std::size_t i : *worked.other_order) order.push_back(double(i + 1));
        figures.push_back({"bolts_up_in_order", "", std::move(order)});
    }
    figures.push_back({"fits_mirrored", "", worked.fits_mirrored});
    return figures;
}

plan::Findings bolts_up_findings(const BoltingCase& one, const BoltsUp& worked, const std::string& what) {
    plan::Findings findings;
    const double least_mm = worked.fit.least_clearance_mm;
    const std::string where = comma_list(ids_of(one, worked.fit.deciding));
    if (!worked.fit.possible()) {
        std::string message = "does not bolt up to " + what + ": at " + named(one, worked.fit.deciding) +
                              " " + lengths(one).with_unit(-least_mm) + " is missing";
        if (worked.other_order)
            message += "; it bolts up in another order: " + order_text(one, *worked.other_order);
        else if (worked.fits_mirrored)
            message += "; it fits only as its mirror image: was it measured from the other side?";
        else
            message += "; " + remedies_text(one, worked);
        findings.push_back(plan::finding_of("bolts-up", Severity::stop, where, std::move(message)));
    } else if (worked.odds && worked.odds->probability < likely_enough) {
        findings.push_back(plan::finding_of(
            "bolts-up", Severity::warn, where,
            "bolts up to " + what +
                " as measured, but with what is not known of the places only with a chance of " +
                short_text(100.0 * worked.odds->probability, 1) +
                " %: measure better, or make the holes larger"));
    }
    if (findings.empty()) return findings;
    findings.back().value = least_mm;
    findings.back().limit = 0.0;
    findings.back().unit = "mm";
    return findings;
}

std::string bolts_up_text(const BoltingCase& one, const BoltsUp& worked, const std::string& what) {
    const BoltFit& fit = worked.fit;
    std::string text =
        fit.possible()
            ? "bolts up to " + what + ": least clearance " + lengths(one).with_unit(fit.least_clearance_mm) +
                  " (radial) at " + named(one, fit.deciding)
            : "does not bolt up to " + what + ": " + lengths(one).with_unit(-fit.least_clearance_mm) +
                  " is missing at " + named(one, fit.deciding);
    text += ", with " + what + " turned by " + short_text(fit.turn_rad * deg_per_rad, 4) +
            " degrees and shifted by " + lengths(one).number(fit.shift_mm.x_mm) + ", " +
            lengths(one).with_unit(fit.shift_mm.y_mm);
    text = "  " + wrapped(text, "    ") + "\n";
    if (!fit.possible()) text += "    " + wrapped(remedies_text(one, worked), "    ") + "\n";
    if (worked.odds) text += "    chance that it bolts up: " + chance_text(*worked.odds) + "\n";
    text += "    " + wrapped(tolerance_text(one, worked), "    ") + "\n";
    return text;
}

}  // namespace fitup::calculations
