#include <algorithm>

#include "base/error.hpp"
#include "base/text.hpp"
#include "cli/commands.hpp"
#include "cli/part_commands.hpp"
#include "parameters/length.hpp"

namespace fitup::cli {

namespace {

/// Chord that a foreign mesh is taken to have, when comparing its volume: what its own facets show.
exchange::Expectation expected_of(const exchange::Body& body, const exchange::Measurement& found,
                                  double within_mm) {
    exchange::Expectation expected = exchange::expectation(body, found.doubt_mm);
    // A surface moved by `within_mm` everywhere changes the volume by area times that.
    expected.volume_tolerance_relative += within_mm * body.figures.area_mm2 / body.figures.volume_mm3;
    return expected;
}

/// A mesh is held against what is printed, where that differs from the part.
void compare_with(const PartResult& part, const exchange::Body& body, double within_mm,
                  Inspected& inspected) {
    inspected.as_printed = inspected.found.is_mesh && part.printed;
    const plan::Plan& plan = inspected.as_printed ? part.printed->plan : part.plan;
    const exchange::Body& wanted = inspected.as_printed ? part.printed->body : body;
    inspected.comparison =
        exchange::compare(plan, expected_of(wanted, inspected.found, within_mm), inspected.found, within_mm);
}

}  // namespace

int inspect_command(const Call& call, Console& console) {
    const auto number = parse_number(call.within);
    const auto within_mm = number ? number : parameters::length_mm(call.within);
    if (!within_mm || *within_mm <= 0.0 || *within_mm > 100.0)
        return wrong_call(
            console, "--within: found \"" + call.within + "\", wanted a length over 0 and at most 100 mm");
    Read read;
    exchange::Body body;
    StageLine stage(!console.json() && !call.quiet);
    if (!call.against.empty()) {
        read = read_parts({call.against});
        if (!read.faults.empty()) return wrong_files(console, read.faults);
        body = judge(read.parts.front(), stage);
        if (!read.parts.front().figures) {
            console.complain("fitup: " + call.against +
                             ": the part cannot be made, so nothing can be compared with it\n");
            console.say(part_text(read.parts.front(), console));
            return stopped;
        }
    }
    std::vector<Inspected> inspections;
    int status = done;
    for (const std::string& file : call.words) {
        stage.enter(file + ": measuring");
        Inspected inspected{file, exchange::measure_file(file), {}};
        if (!read.parts.empty()) {
            compare_with(read.parts.front(), body, *within_mm, inspected);
            if (!inspected.comparison->agrees()) status = stopped;
        }
        inspections.push_back(std::move(inspected));
    }
    for (const Inspected& inspected : inspections) {
        console.say(measurement_text(inspected.file, inspected.found));
        console.say(comparison_text(inspected));
    }
    if (console.json()) console.result(inspections_json(inspections));
    return status;
}

}  // namespace fitup::cli
