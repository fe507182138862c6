#include <algorithm>

#include "base/comma_list.hpp"
#include "base/text.hpp"
#include "trade/housings.hpp"
#include "trade/listing.hpp"
#include "trade/names.hpp"
#include "trade/threads.hpp"

namespace fitup::trade {

namespace {

std::string joined(const std::vector<std::string>& words) {
    const std::string text = comma_list(words);
    return text.empty() ? "-" : text;
}

std::vector<std::string> row_of(const Thread& thread) {
    return {thread.designation,
            joined(thread_aliases(thread)),
            thread.series,
            mm_text(thread.major_mm),
            inch_text(thread.major_mm),
            mm_text(thread.pitch_mm),
            short_text(mm_per_inch / thread.pitch_mm, 1),
            short_text(thread.flank_angle_deg, 1),
            thread.tap_drill_name,
            mm_text(thread.tap_drill_mm),
            fixed_text(100.0 * thread_share(thread, thread.tap_drill_mm), 0),
            mm_text(pitch_diameter_mm(thread)),
            mm_text(minor_diameter_mm(thread)),
            source_text(thread.source)};
}

/// A thread's name asks for that thread; a bare size or a series for all that have it.
bool asks_for_thread(std::string_view name, const Thread& thread) {
    if (const Thread* exact = find_thread(name)) return exact == &thread;
    return asks_for(name, fastener_size(thread), thread.series);
}

std::vector<std::string> row_of(const Housing& housing) {
    return {"SAE " + housing.designation,
            mm_text(housing.pilot_least_mm) + " to " + mm_text(housing.pilot_most_mm),
            inch_text(housing.pilot_least_mm) + " to " + inch_text(housing.pilot_most_mm),
            mm_text(housing.bolt_circle_mm),
            inch_text(housing.bolt_circle_mm),
            std::to_string(housing.hole_count),
            housing.thread_inch,
            housing.thread_metric,
            mm_text(housing.flange_outside_mm),
            mm_text(housing.first_hole_from_vertical_deg),
            mm_text(housing.face_depth_mm),
            source_text(housing.source)};
}

std::vector<std::string> row_of(const Flywheel& flywheel) {
    return {flywheel.designation,
            mm_text(flywheel.pilot_mm),
            inch_text(flywheel.pilot_mm),
            mm_text(flywheel.bolt_circle_mm),
            inch_text(flywheel.bolt_circle_mm),
            std::to_string(flywheel.hole_count),
            flywheel.thread,
            mm_text(flywheel.recess_depth_mm),
            mm_text(flywheel.pilot_bearing_mm),
            source_text(flywheel.source)};
}

std::vector<std::string> row_of(const MaterialRow& material) {
    return {material.name,
            joined(material.aliases),
            material.family,
            short_text(material.density_kg_m3, 0),
            short_text(material.youngs_modulus_gpa, 1),
            material.yield_mpa ? short_text(*material.yield_mpa, 0) : "none",
            short_text(material.expansion_per_k * 1e6, 1),
            source_text(material.source) + "; expansion: " + source_text(material.expansion_source)};
}

/// "H7", "150", "H7 150" or "150 H7", in any order.
struct FitQuestion {
    std::string tolerance_class;
    std::optional<double> nominal_mm;
};

FitQuestion read_fit_question(std::string_view name) {
    FitQuestion question;
    for (std::size_t start = 0; start < name.size();) {
        const std::size_t end = std::min(name.size(), name.find(' ', start));
        const std::string_view word = name.substr(start, end - start);
        if (const auto number = parse_number(word)) {
            question.nominal_mm = number;
        } else if (!word.empty() && word != "mm") {
            question.tolerance_class = word;
        }
        start = end + 1;
    }
    return question;
}

bool asks_for_fit(const FitQuestion& question, const FitLimits& fit) {
    const auto size = question.nominal_mm;
    if (size && (*size <= fit.over_mm || *size > fit.to_mm)) return false;
    return question.tolerance_class.empty() || question.tolerance_class == fit.tolerance_class;
}

std::vector<std::string> row_of(const FitLimits& fit) {
    return {fit.tolerance_class,
            mm_text(fit.over_mm),
            mm_text(fit.to_mm),
            short_text(fit.lower_um, 1),
            short_text(fit.upper_um, 1),
            inch_text(fit.lower_um / 1000.0),
            inch_text(fit.upper_um / 1000.0),
            source_text(fit.source)};
}

}  // namespace

Listing list_threads(std::string_view name) {
    Listing listing{
        "Threads; pitch and minor diameter of the basic profile, share of full thread with that drill",
        {"thread", "also", "series", "major mm", "major in", "pitch mm", "per inch", "flanks deg",
         "tap drill", "tap drill mm", "thread %", "pitch dia mm", "minor mm", "source"},
        {}};
    for (const Thread& thread : threads()) {
        if (asks_for_thread(name, thread)) listing.rows.push_back(row_of(thread));
    }
    return listing;
}

Listing list_drills(std::string_view name) {
    Listing listing{"Twist drills (ASME B94.11M, BS 328)", {"drill", "mm", "in", "source"}, {}};
    const Drill* exact = find_drill(name);
    for (const Drill& drill : drills()) {
        if (!name.empty() && &drill != exact) continue;
        listing.rows.push_back({drill.name, mm_text(drill.diameter_mm), inch_text(drill.diameter_mm),
                                source_text(drill.source)});
    }
    return listing;
}

Listing list_housings(std::string_view name) {
    Listing listing{
        "Flywheel housings (SAE J617); holes equally spaced, first hole half a spacing from the vertical",
        {"housing", "pilot mm", "pilot in", "circle mm", "circle in", "holes", "inch thread", "metric thread",
         "flange mm", "first hole deg", "face depth mm", "source"},
        {}};
    for (const Housing& housing : housings()) {
        if (name.empty() || &housing == find_housing(name)) listing.rows.push_back(row_of(housing));
    }
    return listing;
}

Listing list_flywheels(std::string_view name) {
    Listing listing{"Engine flywheels for driving-ring clutches (SAE J620)",
                    {"size in", "pilot mm", "pilot in", "circle mm", "circle in", "holes", "thread",
                     "recess mm", "pilot bearing mm", "source"},
                    {}};
    const std::string key = name_key(name);
    for (const Flywheel& flywheel : flywheels()) {
        if (key.empty() || name_key(flywheel.designation) == key) listing.rows.push_back(row_of(flywheel));
    }
    return listing;
}

Listing list_materials(std::string_view name) {
    Listing listing{"Materials, typical values at room temperature",
                    {"material", "also", "family", "kg/m3", "E GPa", "yield MPa", "um/(m K)", "source"},
                    {}};
    const MaterialRow* exact = find_material(name);
    for (const MaterialRow& material : materials()) {
        const bool is_of_family = !exact && name_key(material.family) == name_key(name);
        if (name.empty() || &material == exact || is_of_family) listing.rows.push_back(row_of(material));
    }
    return listing;
}

Listing list_fits(std::string_view name) {
    Listing listing{
        "Limits of holes and shafts (ISO 286-2): over, up to and including; deviations from the nominal size",
        {"class", "over mm", "to mm", "lower um", "upper um", "lower in", "upper in", "source"},
        {}};
    const FitQuestion question = read_fit_question(name);
    for (const FitLimits& fit : fits()) {
        if (asks_for_fit(question, fit)) listing.rows.push_back(row_of(fit));
    }
    return listing;
}

}  // namespace fitup::trade
