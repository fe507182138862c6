#include <algorithm>
#include <cstdlib>
#include <set>

#include "base/error.hpp"
#include "base/text.hpp"
#include "cli/commands.hpp"
#include "cli/outputs.hpp"
#include "cli/part_commands.hpp"
#include "cli/part_outputs.hpp"
#include "parameters/length.hpp"
#include "sheets/bend_table.hpp"
#include "sheets/hole_list.hpp"

namespace fitup::cli {

namespace {

struct Wishes {
    exchange::MakeOptions make;
    bool lists = false;                 ///< the hole list, which the screen shows too
    std::vector<const Output*> papers;  ///< and the rest that is no exchange file
    std::vector<std::string> complaints;
};

void read_outputs(const Call& call, Wishes& wishes) {
    std::vector<std::string> known, words = split_at_commas(call.only);
    for (const Output& output : part_outputs()) {
        known.emplace_back(output.word);
        if (call.only.empty() && output.by_default) words.emplace_back(output.word);
    }
    const auto is_wanted = [&words](std::string_view word) {
        return std::find(words.begin(), words.end(), word) != words.end();
    };
    wishes.make.step = is_wanted("step");
    wishes.make.stl = is_wanted("stl");
    wishes.make.threemf = is_wanted("3mf");
    wishes.lists = is_wanted("csv");
    for (const Output& output : part_outputs()) {
        if ((output.make != nullptr || output.add != nullptr) && is_wanted(output.word))
            wishes.papers.push_back(&output);
    }
    if (call.only.empty()) return;
    if (auto complaint = unknown_output(words, known)) wishes.complaints.push_back(std::move(*complaint));
}

/// A length of the command line; a bare number is in millimetres.
std::optional<double> option_length_mm(const std::string& text) {
    if (const auto number = parse_number(text)) return number;
    return parameters::length_mm(text);
}

void read_fineness(const Call& call, Wishes& wishes) {
    constexpr double least_chord_mm = 1e-4, least_angle_deg = 0.1;
    const auto chord_mm = option_length_mm(call.chord);
    if (!chord_mm || *chord_mm < least_chord_mm || *chord_mm > mesh::widest_chord_mm)
        wishes.complaints.push_back(
            "--chord: found \"" + call.chord +
            "\", wanted a length from 0.0001 to 100 mm (0.01, \"0.01 mm\", \"0.5 thou\")");
    else
        wishes.make.fineness.chord_mm = *chord_mm;
    const auto angle_deg = parse_number(call.angle);
    if (!angle_deg || *angle_deg < least_angle_deg || *angle_deg > mesh::widest_angle_deg)
        wishes.complaints.push_back("--angle: found \"" + call.angle + "\", wanted degrees from 0.1 to 90");
    else
        wishes.make.fineness.angle = Angle::from_degrees(*angle_deg);
}

void read_step_options(const Call& call, Wishes& wishes) {
    const std::string schema = lower_case(call.step_schema);
    if (schema == "ap242")
        wishes.make.step_options.schema = exchange::StepSchema::AP242;
    else if (schema != "ap214")
        wishes.complaints.push_back("--step-schema: found \"" + call.step_schema +
                                    "\", wanted AP214 or AP242");
    if (call.step_unit == "in")
        wishes.make.step_options.unit = plan::Units::in;
    else if (call.step_unit != "mm")
        wishes.complaints.push_back("--step-unit: found \"" + call.step_unit + "\", wanted mm or in");
    const char* epoch = std::getenv("SOURCE_DATE_EPOCH");
    if (epoch == nullptr || *epoch == '\0') return;
    constexpr double year_9999_s = 253402300799.0;
    const auto time_s = parse_number(epoch);
    if (!time_s || *time_s < 0 || *time_s > year_9999_s || *time_s != std::int64_t(*time_s))
        wishes.complaints.push_back("SOURCE_DATE_EPOCH: found \"" + std::string(epoch) +
                                    "\", wanted whole seconds since 1970");
    else
        wishes.make.step_options.time_s = std::int64_t(*time_s);
}

Wishes read_wishes(const Call& call) {
    Wishes wishes;
    wishes.make.folder = call.folder;
    read_outputs(call, wishes);
    read_fineness(call, wishes);
    read_step_options(call, wishes);
    return wishes;
}

/// Asked of every part before the first is made: a wrong call writes nothing.
std::vector<std::string> too_fine_parts(const Read& read, const Wishes& wishes, const Call& call) {
    std::vector<std::string> complaints;
    if (!wishes.make.stl && !wishes.make.threemf) return complaints;
    for (const PartResult& part : read.parts) {
        const plan::Plan& meshed = part.printed ? part.printed->plan : part.plan;
        if (auto complaint = too_fine(meshed, wishes.make.fineness, call))
            complaints.push_back(std::move(*complaint));
    }
    return complaints;
}

/// What the shop works by, on the screen.
std::string list_text(const plan::Plan& plan) {
    return plan.rod ? sheets::bend_table_text(plan) : sheets::hole_list_table(plan);
}

/// STL and 3MF of what is printed in place of the part; what keeps them from being made is told as such.
std::vector<exchange::MadeFile> make_printed(Printed& printed, const exchange::MakeOptions& options,
                                             FileSet& files, const exchange::Progress& progress,
                                             const std::function<void()>& meanwhile) {
    try {
        return exchange::make(printed.plan, printed.body, options, files, progress, meanwhile);
    } catch (const KernelError& error) {
        throw KernelError(printed.plan.name + " with " + printed_words + " can't be made (" + error.what() +
                          "): perhaps a hole of the thread's major diameter just touches another cut; move "
                          "one, or leave `print` out");
    }
}

/// The exchange files: of the part, or where it is printed otherwise, STEP of the part and meshes of that.
std::vector<exchange::MadeFile> make_exchange_files(PartResult& result, exchange::Body& body,
                                                    const exchange::MakeOptions& options, FileSet& files,
                                                    const exchange::Progress& progress,
                                                    const std::function<void()>& meanwhile) {
    if (!result.printed) return exchange::make(result.plan, body, options, files, progress, meanwhile);
    exchange::MakeOptions step = options, meshes = options;
    step.stl = step.threemf = meshes.step = false;
    std::vector<exchange::MadeFile> made = exchange::make(result.plan, body, step, files, progress);
    for (exchange::MadeFile& file : make_printed(*result.printed, meshes, files, progress, meanwhile)) {
        file.checked = std::string(printed_words) + "; " + file.checked;
        made.push_back(std::move(file));
    }
    return made;
}

/// One part from judging to published files; its status.
int make_part(PartResult& result, const Wishes& wishes, bool despite_rules, StageLine& stage) {
    exchange::Body body = judge(result, stage);
    if (is_stopped(result, despite_rules)) return stopped;
    FileSet files;
    Making making{result, body, wishes.make.folder, files};
    const auto entering = [&](std::string_view what) {
        stage.enter(result.plan.name + ": " + std::string(what));
    };
    result.files = make_exchange_files(result, body, wishes.make, files, entering,
                                       [&] { begin_outputs(making, wishes.papers); });
    finish_outputs(making, wishes.papers, entering);
    files.publish();
    return done;
}

int make_guarded(PartResult& result, const Wishes& wishes, bool despite_rules, StageLine& stage) {
    try {
        return make_part(result, wishes, despite_rules, stage);
    } catch (const FileError& error) {
        result.failure = error.what();
        result.files.clear();
        return file_failed;
    } catch (const Error& error) {
        result.failure = error.what();
        result.files.clear();
        return kernel_failed;
    }
}

}  // namespace

int make_command(const Call& call, Console& console) {
    const Wishes wishes = read_wishes(call);
    if (!wishes.complaints.empty()) return wrong_call(console, lines_of(wishes.complaints));
    Read read = read_parts(call.words);
    if (!read.faults.empty()) return wrong_files(console, read.faults);
    const auto complaints = too_fine_parts(read, wishes, call);
    if (!complaints.empty()) return wrong_call(console, lines_of(complaints));
    int status = done;
    for (PartResult& result : read.parts) {
        int own = done;
        {
            StageLine stage(!console.json() && !call.quiet);
            own = make_guarded(result, wishes, call.despite_rules, stage);
        }
        status = std::max(status, own);
        console.say(part_text(result, console));
        if (own == done && wishes.lists) console.say("\n" + list_text(result.plan) + "\n");
        if (own == stopped)
            console.complain("fitup: " + result.file + ": a shop rule stops the part; nothing is written\n");
        if (!result.failure.empty()) console.complain("fitup: " + result.failure + "; nothing is written\n");
    }
    if (console.json())
        console.result(parts_json(read.parts));
    else if (status == done)
        console.tell(caution);
    return status;
}

}  // namespace fitup::cli
