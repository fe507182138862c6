#include "cli/part_outputs.hpp"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <ctime>

#include "base/comma_list.hpp"
#include "base/error.hpp"
#include "base/text.hpp"
#include "cli/outputs.hpp"
#include "exchange/paint.hpp"
#include "mesh/picture.hpp"
#include "parts/mockup.hpp"
#include "sheets/bend_table.hpp"
#include "sheets/fastener_list.hpp"
#include "sheets/hole_list.hpp"
#include "sheets/hole_sheet.hpp"
#include "sheets/order_text.hpp"
#include "sheets/paper_template.hpp"
#include "sheets/part_drawing.hpp"
#include "sheets/pdf_pages.hpp"
#include "sheets/profile.hpp"
#include "sheets/render.hpp"
#include "sheets/report_check.hpp"
#include "sheets/report_page.hpp"

namespace fitup::cli {

namespace {

std::filesystem::path path_of(const Making& making, const std::string& ending) {
    return making.folder / (plan::file_stem(making.result.plan) + ending);
}

exchange::MadeFile file_of(const Making& making, const std::string& kind, const std::string& ending,
                           const std::string& bytes) {
    return add_output(kind, path_of(making, ending), bytes, making.files);
}

/// Read back, its page boxes against the pages it was made of.
exchange::MadeFile pdf_of(const Making& making, const std::string& ending,
                          const std::vector<sheets::Drawing>& pages) {
    const std::string pdf = sheets::renderer().pdf(pages);
    exchange::MadeFile file = file_of(making, "pdf", ending, pdf);
    if (const std::string wrong = sheets::wrong_pdf_pages(pdf, pages); !wrong.empty())
        throw KernelError(file.path.string() + ": " + wrong);
    file.checked = "read back: " + std::to_string(pages.size()) + (pages.size() == 1 ? " page" : " pages") +
                   " of the right size";
    return file;
}

MadeFiles list_files(const Making& making) {
    const plan::Plan& plan = making.result.plan;
    if (plan.rod) return {file_of(making, "csv", "-bends.csv", sheets::bend_table_csv(plan))};
    return {file_of(making, "csv", "-holes.csv", sheets::hole_list_csv(plan))};
}

exchange::MadeFile dxf_of(const Making& making, const std::string& ending, const plan::Profile& profile) {
    return exchange::make_dxf(profile, making.result.plan.units, path_of(making, ending), making.files);
}

MadeFiles profile_files(const Making& making) {
    MadeFiles files;
    for (const plan::Profile& profile : sheets::profiles(making.result.plan))
        files.push_back(dxf_of(making, profile.suffix + ".dxf", profile));
    return files;
}

MadeFiles template_files(const Making& making) {
    MadeFiles files;
    const auto templates = sheets::paper_templates(making.result.plan, making.result.papers.paper);
    for (const sheets::PaperTemplate& one : templates) {
        files.push_back(pdf_of(making, one.suffix + ".pdf", one.pages));
        files.push_back(dxf_of(making, one.suffix + ".dxf", one.profile));
    }
    return files;
}

MadeFiles hole_sheet_files(const Making& making) {
    const PartResult& result = making.result;
    MadeFiles files;
    const auto all = sheets::hole_sheets(result.plan, result.papers.paper.size, result.fasteners);
    for (const sheets::HoleSheet& one : all) files.push_back(pdf_of(making, one.suffix + ".pdf", one.pages));
    return files;
}

/// Of SOURCE_DATE_EPOCH, which make's call is checked for; else nothing, so that the same file gives the same
/// bytes on any day.
std::string drawing_date() {
    const char* epoch = std::getenv("SOURCE_DATE_EPOCH");
    const auto seconds = epoch != nullptr ? parse_number(epoch) : std::nullopt;
    if (!seconds) return "";
    const std::time_t time = std::time_t(*seconds);
    std::tm utc{};
    gmtime_r(&time, &utc);
    char text[32];
    std::strftime(text, sizeof text, "%Y-%m-%d", &utc);
    return text;
}

/// None where the part has no drawing, or nothing to say of its body.
std::vector<sheets::Drawing> drawings_of(const PartResult& result) {
    if (!result.figures) return {};
    const sheets::DrawingFacts facts{result.findings, result.figures->volume_mm3, result.figures->mass_kg,
                                     result.figures->box, drawing_date()};
    return sheets::part_drawing(result.plan, result.papers.drawing, facts);
}

std::vector<sheets::ReportDrawing> drawn_as_svg(const std::vector<sheets::Drawing>& drawings) {
    std::vector<sheets::ReportDrawing> drawn;
    for (const sheets::Drawing& drawing : drawings)
        drawn.push_back({drawing.title, sheets::renderer().svg(drawing)});
    return drawn;
}

void begin_drawing(Making& making) {
    if (making.drawn.valid()) return;
    making.drawings = std::async(std::launch::deferred, drawings_of, std::cref(making.result)).share();
    making.drawn = std::async(std::launch::async, [sheets = making.drawings] {
                       return drawn_as_svg(sheets.get());
                   }).share();
}

/// One PDF of all sheets, and each sheet as a picture that scales.
MadeFiles drawing_files(const Making& making) {
    const std::vector<sheets::Drawing>& drawings = making.drawings.get();
    if (drawings.empty()) return {};
    MadeFiles files{pdf_of(making, "-drawing.pdf", drawings)};
    for (const sheets::ReportDrawing& sheet : making.drawn.get()) {
        const std::string number = files.size() == 1 ? "" : "-" + std::to_string(files.size());
        files.push_back(file_of(making, "svg", "-drawing" + number + ".svg", sheet.svg));
    }
    return files;
}

MadeFiles fastener_files(const Making& making) {
    const auto rows = sheets::fastener_rows(making.result.plan, making.result.fasteners);
    if (rows.empty()) return {};
    return {file_of(making, "csv", "-fasteners.csv", sheets::fastener_csv(rows))};
}

void add_file(const Making& making, const std::string& kind, const std::string& ending,
              const std::string& bytes) {
    making.result.files.push_back(file_of(making, kind, ending, bytes));
}

std::string remark_on(const exchange::MadeFile& file, const PartResult& result) {
    const bool is_mesh = file.kind == "stl" || file.kind == "3mf";
    return is_mesh && result.printed ? std::string(printed_words) + ", not to be machined from" : "";
}

/// What is sent to a shop with the files that this call makes.
void add_order(Making& making) {
    const PartResult& result = making.result;
    if (!result.figures) return;
    std::vector<sheets::OrderedFile> with;
    for (const exchange::MadeFile& file : result.files)
        with.push_back({file.kind, file.path.filename().string(), remark_on(file, result)});
    const sheets::OrderedSize size{result.figures->volume_mm3, result.figures->mass_kg, result.figures->box};
    add_file(making, "txt", "-order.txt", sheets::order_text(result.plan, size, result.findings, with));
}

sheets::ReportView view_of(const Making& making) {
    const plan::Plan& plan = making.result.plan;
    const auto mesh_at = [&](const mesh::Fineness& fineness) {
        return exchange::part_mesh(plan, making.body, fineness, [](std::string_view) {});
    };
    sheets::ReportView view = sheets::report_view(mesh_at, plan.rod.has_value());
    view.metal_srgb = exchange::paint_of(plan.material.family);
    return view;
}

void begin_report(Making& making) {
    if (!making.result.figures) return;
    begin_drawing(making);
    // Lives as long as `making`: its destruction waits.
    making.view = std::async(std::launch::async, [&making] { return view_of(making); }).share();
}

/// Nothing else may touch the body, or make processes, while the view is made, nor the findings while the
/// drawing is.
void wait_for_begun(const Making& making) {
    if (making.view.valid()) making.view.wait();
    if (making.drawn.valid()) making.drawn.wait();
}

void add_picture(Making& making) {
    wait_for_begun(making);
    const mesh::Mesh mesh =
        exchange::part_mesh(making.result.plan, making.body, {.chord_mm = 0.05}, [](std::string_view) {});
    add_file(making, "png", ".png", mesh::picture_png(mesh, {}));
}

/// Triangles as fine as a nozzle can follow; the corners of letters need no more of them.
constexpr mesh::Fineness printed_fineness() { return {.chord_mm = 0.01, .angle = Angle::from_degrees(30.0)}; }

/// Nothing of it is left to publish where it fails half made.
void add_piece(Making& making, const parts::MockupPiece& piece) {
    const exchange::Progress silent = [](std::string_view) {};
    exchange::MakeOptions options;
    options.step = false;
    options.folder = making.folder;
    options.fineness = printed_fineness();
    exchange::Body body = exchange::examine(piece.plan, silent);
    FileSet files;
    auto made = exchange::make(piece.plan, body, options, files, silent);
    making.files.take(files);
    for (exchange::MadeFile& file : made) {
        file.kind = "mockup";
        making.result.files.push_back(std::move(file));
    }
}

/// "" or "-2" or "-bar": what follows "-mockup" in the names of its files.
bool is_piece_suffix(const std::string& suffix) {
    if (suffix.empty() || suffix == "-bar") return true;
    return suffix.size() > 1 && suffix[0] == '-' &&
           suffix.find_first_not_of("0123456789", 1) == std::string::npos;
}

/// Pieces of an earlier mock-up of this part that this one does not replace: they are named, since one would
/// print them, but nobody's file is deleted unasked.
void tell_of_older_pieces(Making& making) {
    const std::string stem = plan::file_stem(making.result.plan) + "-mockup";
    std::vector<std::string> older;
    std::error_code error;
    for (const auto& entry : std::filesystem::directory_iterator(making.folder, error)) {
        const std::filesystem::path& path = entry.path();
        const std::string name = path.filename().string(), own = path.stem().string();
        if (path.extension() != ".stl" && path.extension() != ".3mf") continue;
        if (!own.starts_with(stem) || !is_piece_suffix(own.substr(stem.size()))) continue;
        const auto& files = making.result.files;
        const bool is_made = std::any_of(files.begin(), files.end(),
                                         [&](const auto& file) { return file.path.filename() == name; });
        if (!is_made) older.push_back(name);
    }
    if (older.empty()) return;
    std::sort(older.begin(), older.end(), [](const std::string& a, const std::string& b) {
        return a.size() != b.size() ? a.size() < b.size() : a < b;
    });
    making.result.findings.push_back(plan::finding_of(
        "mock-up", plan::Severity::warn, "",
        "From an earlier make " + comma_list(older) + (older.size() == 1 ? " lies" : " lie") + " in " +
            making.folder.string() + " and " + (older.size() == 1 ? "is" : "are") +
            " not of this mock-up: delete before you print."));
}

/// A piece that can't be made is told, and keeps nothing from the part itself.
void add_mockup(Making& making) {
    wait_for_begun(making);
    const parts::MadeMockup made = parts::mockup(making.result.plan, making.result.papers.mockup);
    plan::append(making.result.findings, made.findings);
    for (const parts::MockupPiece& piece : made.pieces) {
        try {
            add_piece(making, piece);
        } catch (const FileError&) {
            throw;
        } catch (const Error& error) {
            if (making.result.files.empty()) throw;
            making.result.findings.push_back(
                plan::finding_of("mock-up", plan::Severity::warn, "",
                                 "a piece of the mock-up is not made (" + std::string(error.what()) +
                                     "): another hole_allowance, pilot or bed may do; the part's own files "
                                     "are not touched by it."));
        }
    }
    tell_of_older_pieces(making);
}

/// Sheets as pictures, as many from the first on as keep the page small; the others by name.
std::vector<sheets::ReportDrawing> report_drawings(const Making& making) {
    constexpr std::size_t most_bytes = 600'000;
    std::vector<sheets::ReportDrawing> all = making.drawn.get();
    std::size_t bytes = 0;
    for (sheets::ReportDrawing& drawing : all) {
        bytes += drawing.svg.size();
        if (bytes > most_bytes) drawing.svg.clear();
    }
    return all;
}

/// What stands in the report of the files made so far; it comes last.
void add_report(Making& making) {
    const PartResult& result = making.result;
    if (!result.figures) return;
    sheets::ReportInput input{
        .plan = result.plan,
        .size = {result.figures->volume_mm3, result.figures->mass_kg, result.figures->box},
        .work = result.work,
        .findings = result.findings,
        .files = {},
        .parameter_file = std::filesystem::path(result.file).filename().string(),
        .parameter_bytes = result.parameters,
        .view = making.view.get(),
        .drawings = report_drawings(making),
        .fasteners = sheets::fastener_rows(result.plan, result.fasteners)};
    for (const exchange::MadeFile& file : result.files)
        input.files.push_back(
            {file.kind, file.path.filename().string(), file.bytes, file.verified, file.checked});
    const std::string page = sheets::report_page(input);
    add_file(making, "html", ".html", page);
    // What was read back is what was written: either is read.
    making.result.files.back().checked = sheets::check_report(page, input, result.figures->area_mm2);
}

constexpr std::array<Output, 13> outputs{
    {{.word = "step"},
     {.word = "stl"},
     {.word = "3mf"},
     {.word = "csv", .what = "hole list or bend table", .make = list_files},
     {.word = "dxf", .what = "profiles", .make = profile_files},
     {.word = "template", .what = "on paper at true scale", .make = template_files},
     {.word = "sheets", .what = "to drill by", .make = hole_sheet_files},
     {.word = "drawing",
      .what = "with dimensions, as PDF and SVG",
      .begin = begin_drawing,
      .make = drawing_files},
     {.word = "order", .what = "text", .add = add_order},
     {.word = "fasteners", .what = "studs, nuts, dowels ..", .make = fastener_files},
     {.word = "png", .what = "a picture", .by_default = false, .add = add_picture},
     {.word = "mockup", .what = "to print and try the fit with", .add = add_mockup},
     {.word = "report", .what = "a page to look the part over", .begin = begin_report, .add = add_report}}};

}  // namespace

std::span<const Output> part_outputs() { return outputs; }

void begin_outputs(Making& making, std::span<const Output* const> wanted) {
    for (const Output* output : wanted) {
        if (output->begin != nullptr) output->begin(making);
    }
    making.beside.resize(wanted.size());
    for (std::size_t i = 0; i < wanted.size(); ++i) {
        if (wanted[i]->make != nullptr)
            making.beside[i] = std::async(std::launch::async, wanted[i]->make, std::cref(making));
    }
}

void finish_outputs(Making& making, std::span<const Output* const> wanted,
                    const std::function<void(std::string_view word)>& entering) {
    for (std::size_t i = 0; i < wanted.size(); ++i) {
        entering(wanted[i]->word);
        if (wanted[i]->make != nullptr) {
            for (exchange::MadeFile& file : making.beside.at(i).get())
                making.result.files.push_back(std::move(file));
        } else {
            wanted[i]->add(making);
        }
    }
}

}  // namespace fitup::cli
