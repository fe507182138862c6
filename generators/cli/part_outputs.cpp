#include "cli/part_outputs.hpp"

#include <array>
#include <cstdlib>
#include <ctime>

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

void add_file(const Making& making, const std::string& kind, const std::string& ending,
              const std::string& bytes) {
    making.result.files.push_back(add_output(kind, path_of(making, ending), bytes, making.files));
}

/// Read back, its page boxes against the pages it was made of.
void add_pdf(Making& making, const std::string& ending, const std::vector<sheets::Drawing>& pages) {
    const std::string pdf = sheets::renderer().pdf(pages);
    add_file(making, "pdf", ending, pdf);
    if (const std::string wrong = sheets::wrong_pdf_pages(pdf, pages); !wrong.empty())
        throw KernelError(path_of(making, ending).string() + ": " + wrong);
    making.result.files.back().checked = "read back: " + std::to_string(pages.size()) +
                                         (pages.size() == 1 ? " page" : " pages") + " of the right size";
}

void add_list(Making& making) {
    const plan::Plan& plan = making.result.plan;
    if (plan.rod) return add_file(making, "csv", "-bends.csv", sheets::bend_table_csv(plan));
    add_file(making, "csv", "-holes.csv", sheets::hole_list_csv(plan));
}

void add_profiles(Making& making) {
    const plan::Plan& plan = making.result.plan;
    for (const plan::Profile& profile : sheets::profiles(plan))
        making.result.files.push_back(
            exchange::make_dxf(profile, plan.units, path_of(making, profile.suffix + ".dxf"), making.files));
}

void add_templates(Making& making) {
    const auto templates = sheets::paper_templates(making.result.plan, making.result.papers.paper);
    for (const sheets::PaperTemplate& one : templates) {
        add_pdf(making, one.suffix + ".pdf", one.pages);
        making.result.files.push_back(exchange::make_dxf(one.profile, making.result.plan.units,
                                                         path_of(making, one.suffix + ".dxf"), making.files));
    }
}

void add_sheets(Making& making) {
    const PartResult& result = making.result;
    for (const sheets::HoleSheet& one :
         sheets::hole_sheets(result.plan, result.papers.paper.size, result.fasteners))
        add_pdf(making, one.suffix + ".pdf", one.pages);
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

/// One PDF of all sheets, and each sheet as a picture that scales.
void add_drawing(Making& making) {
    const auto drawings = drawings_of(making.result);
    if (drawings.empty()) return;
    add_pdf(making, "-drawing.pdf", drawings);
    for (std::size_t i = 0; i < drawings.size(); ++i) {
        const std::string number = i == 0 ? "" : "-" + std::to_string(i + 1);
        making.drawn.push_back({drawings[i].title, sheets::renderer().svg(drawings[i])});
        add_file(making, "svg", "-drawing" + number + ".svg", making.drawn.back().svg);
    }
}

void add_fasteners(Making& making) {
    const auto rows = sheets::fastener_rows(making.result.plan, making.result.fasteners);
    if (!rows.empty()) add_file(making, "csv", "-fasteners.csv", sheets::fastener_csv(rows));
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
    // Lives as long as `making`: its destruction waits.
    making.view = std::async(std::launch::async, [&making] { return view_of(making); }).share();
}

/// Nothing else may touch the body, or make processes, while the view is made.
void wait_for_view(const Making& making) {
    if (making.view.valid()) making.view.wait();
}

void add_picture(Making& making) {
    wait_for_view(making);
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

/// A piece that can't be made is told, and keeps nothing from the part itself.
void add_mockup(Making& making) {
    wait_for_view(making);
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
}

/// Sheets as pictures, as many from the first on as keep the page small; the others by name.
std::vector<sheets::ReportDrawing> report_drawings(const Making& making) {
    constexpr std::size_t most_bytes = 600'000;
    std::vector<sheets::ReportDrawing> all = making.drawn;
    if (all.empty()) {
        for (const sheets::Drawing& drawing : drawings_of(making.result))
            all.push_back({drawing.title, sheets::renderer().svg(drawing)});
    }
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
    {{"step", ""},
     {"stl", ""},
     {"3mf", ""},
     {"csv", "hole list or bend table", true, add_list},
     {"dxf", "profiles", true, add_profiles},
     {"template", "on paper at true scale", true, add_templates},
     {"sheets", "to drill by", true, add_sheets},
     {"drawing", "with dimensions, as PDF and SVG", true, add_drawing},
     {"order", "text", true, add_order},
     {"fasteners", "studs, nuts, dowels ..", true, add_fasteners},
     {"png", "a picture", false, add_picture},
     {"mockup", "to print and try the fit with", true, add_mockup},
     {"report", "a page to look the part over", true, add_report, begin_report}}};

}  // namespace

std::span<const Output> part_outputs() { return outputs; }

}  // namespace fitup::cli
