#include <algorithm>

#include "base/error.hpp"
#include "cli/calculation.hpp"
#include "cli/commands.hpp"
#include "cli/outputs.hpp"

namespace fitup::cli {

namespace {

struct Wishes {
    CalculationWishes work;
    bool json = true, svg = true, png = true;
    std::optional<std::string> complaint;
};

Wishes read_wishes(const Call& call) {
    Wishes wishes;
    if (call.only.empty()) return wishes;
    const std::vector<std::string> words = split_at_commas(call.only);
    wishes.complaint = unknown_output(words, {"json", "svg", "png"});
    const auto has = [&words](const char* name) {
        return std::find(words.begin(), words.end(), name) != words.end();
    };
    wishes.json = has("json");
    wishes.svg = has("svg");
    wishes.png = has("png");
    wishes.work.pictures = wishes.svg || wishes.png;
    return wishes;
}

/// A calculation of the call, read.
struct Ready {
    std::string file;
    ReadCalculation calculation;
};

/// The result beside its pictures, all of them or none.
void write(CalculationResult& result, const Wishes& wishes, const std::filesystem::path& folder) {
    FileSet files;
    std::vector<exchange::MadeFile> made;
    const std::string stem = plan::file_stem(result.name, result.revision);
    if (wishes.json)
        made.push_back(add_output("json", folder / (stem + ".result.json"), calculation_json(result), files));
    for (const Picture& picture : result.pictures) {
        const std::string name = stem + picture.suffix;
        if (wishes.svg) made.push_back(add_output("svg", folder / (name + ".svg"), picture.svg, files));
        if (wishes.png) made.push_back(add_output("png", folder / (name + ".png"), picture.png, files));
    }
    files.publish();
    result.files = std::move(made);
}

int work_out(const Ready& ready, const Wishes& wishes, const Call& call, CalculationResult& result) {
    StageLine stage(!call.json && !call.quiet);
    result = ready.calculation.work(wishes.work, [&](std::string_view what) { stage.enter(what); });
    result.file = ready.file;
    try {
        write(result, wishes, call.folder);
    } catch (const FileError& error) {
        result.failure = error.what();
        return file_failed;
    }
    return result.holds ? done : stopped;
}

/// Two files that would overwrite one another's results.
void add_doubled_names(const std::vector<Ready>& ready, parameters::Faults& faults) {
    for (std::size_t i = 0; i < ready.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            const std::string& stem = ready[i].calculation.stem;
            if (stem.empty() || stem != ready[j].calculation.stem) continue;
            faults.push_back(same_outputs(ready[j].file, ready[i].file, stem));
        }
    }
}

}  // namespace

int calculate_command(const Call& call, Console& console) {
    const Wishes wishes = read_wishes(call);
    if (wishes.complaint) return wrong_call(console, *wishes.complaint);
    std::vector<Ready> ready;
    parameters::Faults faults;
    for (const std::string& file : call.words) {
        ready.push_back({file, read_calculation(read_file(file), file)});
        const parameters::Faults& own = ready.back().calculation.faults;
        faults.insert(faults.end(), own.begin(), own.end());
    }
    add_doubled_names(ready, faults);
    if (!faults.empty()) return wrong_files(console, faults);
    std::vector<CalculationResult> results;
    int status = done;
    for (const Ready& one : ready) {
        CalculationResult result;
        status = std::max(status, work_out(one, wishes, call, result));
        console.say(calculation_text(result, console));
        if (!result.failure.empty()) console.complain("fitup: " + result.failure + "; nothing is written\n");
        results.push_back(std::move(result));
    }
    if (console.json())
        console.result(calculations_json(results));
    else if (status == done)
        console.tell(caution);
    return status;
}

}  // namespace fitup::cli
