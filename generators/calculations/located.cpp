#include "calculations/located.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/comma_list.hpp"
#include "base/length_text.hpp"
#include "base/text_table.hpp"
#include "base/units.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using plan::Work;

/// A growth of holes is found to so much.
constexpr double near_mm = 1e-6;

std::vector<FastenerPair> pairs_of(const BoltingCase& all) {
    std::vector<FastenerPair> pairs;
    for (std::size_t i = 0; i < all.ids.size(); ++i)
        pairs.push_back({all.first_mm[i], all.second_mm[i], (all.holes_mm[i] - all.fasteners_mm[i]) / 2.0});
    return pairs;
}

using Which = std::vector<std::size_t>;

bool goes_together(std::vector<FastenerPair> pairs, const Which& opened, double by_mm) {
    for (const std::size_t i : opened) pairs[i].slack_mm += by_mm / 2.0;
    return bolts_up(pairs);
}

/// The least growth of these holes at which all goes together. REQUIRES: at `most_mm` it does.
double least_growth_mm(const std::vector<FastenerPair>& pairs, const Which& opened, double most_mm) {
    double least_mm = 0.0;
    while (most_mm - least_mm > near_mm) {
        const double middle_mm = (least_mm + most_mm) / 2.0;
        (goes_together(pairs, opened, middle_mm) ? most_mm : least_mm) = middle_mm;
    }
    return most_mm;
}

/// How far the worst bolt would have to give way if only the locators decided; more than enough to open by.
double enough_mm(const std::vector<FastenerPair>& pairs, std::size_t bolts, const BoltFit& locators) {
    double missing_mm = 0.0;
    for (std::size_t i = 0; i < bolts; ++i) {
        const double apart_mm = plan::length(pairs[i].first_mm - laid(locators, pairs[i].second_mm));
        missing_mm = std::max(missing_mm, apart_mm - pairs[i].slack_mm);
    }
    return 2.0 * missing_mm + near_mm;
}

void seek_openings(const std::vector<FastenerPair>& pairs, std::size_t bolts, LocatedFit& worked) {
    const BoltFit locators = best_fit(std::span(pairs).subspan(bolts));
    if (!locators.possible()) {
        worked.locators_missing_mm = -locators.least_clearance_mm;
        return;
    }
    const double most_mm = enough_mm(pairs, bolts, locators);
    Which every(bolts);
    std::iota(every.begin(), every.end(), 0U);
    worked.open_all_mm = least_growth_mm(pairs, every, most_mm);
    for (std::size_t i = 0; i < bolts; ++i) {
        // Another way to lay the parts may ask more of the one hole than the locators' own.
        if (!goes_together(pairs, {i}, 4.0 * most_mm)) continue;
        const double own_mm = least_growth_mm(pairs, {i}, 4.0 * most_mm);
        if (worked.one && worked.one_mm <= own_mm) continue;
        worked.one = i;
        worked.one_mm = own_mm;
    }
}

std::string listed(const BoltingCase& all, std::size_t from, std::size_t to) {
    constexpr std::size_t most_named = 8;
    std::string text;
    for (std::size_t i = from; i < std::min(to, from + most_named); ++i)
        text += (text.empty() ? "" : ", ") + all.ids[i];
    return text + (to > from + most_named ? " .." : "");
}

LengthText lengths(const BoltingCase& all) { return LengthText(all.units == plan::Units::in); }

std::string remedy(const BoltingCase& all, const LocatedFit& worked) {
    const LengthText length = lengths(all);
    if (!worked.open_all_mm)
        return "these alone miss each other by " + length.with_unit(worked.locators_missing_mm) +
               ": no bolt hole cures that; look at the readings, or ream the dowels with the parts together";
    std::string text = "open every bolt hole by " + length.with_unit(*worked.open_all_mm);
    if (worked.one)
        text += ", or " + all.ids[*worked.one] + " alone to " +
                length.with_unit(all.holes_mm[*worked.one] + worked.one_mm);
    return text;
}

std::vector<std::string> deciding(const BoltingCase& all, const LocatedFit& worked) {
    std::vector<std::string> ids;
    for (const std::size_t i : worked.fit.deciding) ids.push_back(all.ids[i]);
    return ids;
}

std::string verdict(const BoltingCase& all, std::size_t bolts, const LocatedFit& worked) {
    const std::string held = "with " + listed(all, bolts, all.ids.size()) + " in place ";
    const double least_mm = worked.fit.least_clearance_mm;
    if (worked.fit.possible())
        return held + "all bolts go in too: least clearance " + lengths(all).with_unit(least_mm) +
               " (radial) at " + comma_list(deciding(all, worked));
    return held + "the bolts don't go in: " + lengths(all).with_unit(-least_mm) + " is missing at " +
           comma_list(deciding(all, worked)) + "; " + remedy(all, worked);
}

}  // namespace

LocatedFit located_fit(const BoltingCase& all, std::size_t bolts) {
    const std::vector<FastenerPair> pairs = pairs_of(all);
    LocatedFit worked;
    worked.fit = best_fit(pairs);
    if (!all.doubt.covariance_mm2.empty()) worked.odds = odds_of(pairs, all.doubt);
    if (!worked.fit.possible()) seek_openings(pairs, bolts, worked);
    return worked;
}

plan::Findings located_findings(const BoltingCase& all, std::size_t bolts, const LocatedFit& worked,
                                const std::string& what) {
    if (worked.fit.possible()) return {};
    plan::Finding finding =
        plan::finding_of("bolts-up", plan::Severity::stop, comma_list(deciding(all, worked)),
                         what + ": " + verdict(all, bolts, worked));
    return {with_value(std::move(finding), worked.fit.least_clearance_mm, 0.0, "mm")};
}

Work located_figures(const BoltingCase& all, std::size_t bolts, const LocatedFit& worked) {
    std::vector<Work> rows;
    for (std::size_t i = 0; i < all.ids.size(); ++i)
        rows.push_back({{"id", "", all.ids[i]},
                        {"locates", "", i >= bolts},
                        {"clearance_mm", "", worked.fit.clearances_mm[i]}});
    Work figures{{"possible", "", worked.fit.possible()},
                 {"least_clearance_mm", "", worked.fit.least_clearance_mm},
                 {"shift_mm", "", std::vector<double>{worked.fit.shift_mm.x_mm, worked.fit.shift_mm.y_mm}},
                 {"turn_deg", "", worked.fit.turn_rad * deg_per_rad},
                 {"clearances", "", std::move(rows)}};
    if (worked.open_all_mm) figures.push_back({"open_all_by_mm", "", *worked.open_all_mm});
    if (worked.one)
        figures.push_back({"open_one", "",
                           Work{{"id", "", all.ids[*worked.one]},
                                {"hole_mm", "", all.holes_mm[*worked.one] + worked.one_mm}}});
    if (worked.odds) figures.push_back({"probability", "", worked.odds->probability});
    return figures;
}

std::string located_text(const BoltingCase& all, std::size_t bolts, const LocatedFit& worked,
                         const std::string& what) {
    std::string text = "  " + wrapped(what + ": " + verdict(all, bolts, worked), "    ") + "\n";
    if (worked.odds) text += "    chance that all go in at once: " + chance_text(*worked.odds) + "\n";
    return text;
}

}  // namespace fitup::calculations
