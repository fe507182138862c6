#include <algorithm>
#include <cstdlib>
#include <set>

#include "base/error.hpp"
#include "base/text.hpp"
#include "cli/commands.hpp"
#include "cli/outputs.hpp"
#include "cli/part_commands.hpp"
#include "mesh/picture.hpp"
#include "parameters/length.hpp"
#include "sheets/bend_table.hpp"
#include "sheets/hole_list.hpp"
#include "sheets/order_text.hpp"
#include "sheets/paper_template.hpp"
#include "sheets/profile.hpp"
#include "sheets/render.hpp"

namespace fitup::cli {

namespace {

struct Wishes {
    exchange::MakeOptions make;
    bool csv = true;
    bool dxf = true;
    bool pdf = true;
    bool txt = true;
    bool png = false;  ///< a picture; only when asked for
    std::vector<std::string> complaints;
};

void read_outputs(const Call& call, Wishes& wishes) {
    if (call.only.empty()) return;
    const std::vector<std::string> known{"step", "stl", "3mf", "csv", "dxf", "pdf", "txt", "png"};
    const std::vector<std::string> words = split_at_commas(call.only);
    const auto has = [&words](const char* name) {
        return std::find(words.begin(), words.end(), name) != words.end();
    };
    wishes.make.step = has("step");
    wishes.make.stl = has("stl");
    wishes.make.threemf = has("3mf");
    wishes.csv = has("csv");
    wishes.dxf = has("dxf");
    wishes.pdf = has("pdf");
    wishes.txt = has("txt");
    wishes.png = has("png");
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
        if (auto complaint = too_fine(part.plan, wishes.make.fineness, call))
            complaints.push_back(std::move(*complaint));
    }
    return complaints;
}

/// What the shop works by, on the screen.
std::string list_text(const plan::Plan& plan) {
    return plan.rod ? sheets::bend_table_text(plan) : sheets::hole_list_table(plan);
}

exchange::MadeFile add_list(const plan::Plan& plan, const Wishes& wishes, FileSet& files) {
    const std::string ending = plan.rod ? "-bends.csv" : "-holes.csv";
    const std::filesystem::path path = wishes.make.folder / (plan::file_stem(plan) + ending);
    const std::string csv = plan.rod ? sheets::bend_table_csv(plan) : sheets::hole_list_csv(plan);
    return add_output("csv", path, csv, files);
}

exchange::MadeFile add_picture(const plan::Plan& plan, exchange::Body& body, const Wishes& wishes,
                               FileSet& files) {
    const std::filesystem::path path = wishes.make.folder / (plan::file_stem(plan) + ".png");
    const mesh::Mesh mesh = exchange::part_mesh(plan, body, {.chord_mm = 0.05}, [](std::string_view) {});
    const std::string png = mesh::picture_png(mesh, {});
    files.add(path, png);
    return {"png", path, png.size(), false, ""};
}

void add_profiles(PartResult& result, const Wishes& wishes, FileSet& files) {
    for (const plan::Profile& profile : sheets::profiles(result.plan)) {
        const std::string name = plan::file_stem(result.plan) + profile.suffix + ".dxf";
        result.files.push_back(
            exchange::make_dxf(profile, result.plan.units, wishes.make.folder / name, files));
    }
}

void add_templates(PartResult& result, const Wishes& wishes, FileSet& files) {
    for (const sheets::PaperTemplate& one : sheets::paper_templates(result.plan, result.paper)) {
        const std::string name = plan::file_stem(result.plan) + one.suffix + ".pdf";
        result.files.push_back(
            add_output("pdf", wishes.make.folder / name, sheets::renderer().pdf(one.pages), files));
    }
}

/// What is sent to a shop with the files that this call makes.
void add_order(PartResult& result, const Wishes& wishes, FileSet& files) {
    if (!result.figures) return;
    std::vector<sheets::OrderedFile> with;
    for (const exchange::MadeFile& file : result.files)
        with.push_back({file.kind, file.path.filename().string()});
    const sheets::OrderedSize size{result.figures->volume_mm3, result.figures->mass_kg, result.figures->box};
    const std::filesystem::path path = wishes.make.folder / (plan::file_stem(result.plan) + "-order.txt");
    result.files.push_back(
        add_output("txt", path, sheets::order_text(result.plan, size, result.findings, with), files));
}

/// One part from judging to published files; its status.
int make_part(PartResult& result, const Wishes& wishes, bool despite_rules, StageLine& stage) {
    exchange::Body body = judge(result, stage);
    if (is_stopped(result, despite_rules)) return stopped;
    FileSet files;
    result.files = exchange::make(result.plan, body, wishes.make, files, [&](std::string_view what) {
        stage.enter(result.plan.name + ": " + std::string(what));
    });
    if (wishes.csv) result.files.push_back(add_list(result.plan, wishes, files));
    if (wishes.dxf) add_profiles(result, wishes, files);
    if (wishes.pdf) add_templates(result, wishes, files);
    if (wishes.txt) add_order(result, wishes, files);
    if (wishes.png) result.files.push_back(add_picture(result.plan, body, wishes, files));
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
        if (own == done && wishes.csv) console.say("\n" + list_text(result.plan) + "\n");
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
