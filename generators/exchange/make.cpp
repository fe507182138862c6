#include "exchange/make.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "base/error.hpp"
#include "base/text.hpp"
#include "exchange/paint.hpp"
#include "exchange/print_file.hpp"
#include "exchange/printing.hpp"
#include "mesh/rod_mesh.hpp"
#include "plan/joggle.hpp"
#include "plan/rod_path.hpp"
#include "plan/thread_form.hpp"

namespace fitup::exchange {

namespace {

/// Positions and sizes of a re-read STEP file are held to this.
constexpr double step_within_mm = 1e-6;
/// A mesh's vertices are single-precision numbers: half a unit in the last place at 2 m is 6e-5 mm.
constexpr double mesh_within_mm = 1e-3;

void need_solid(const plan::Plan& plan, Body& body, const Progress& progress) {
    if (body.solid || !body.findings.empty()) return;
    progress("building the solid");
    solid::Built built = kernel().build(plan, body.skin);
    body.solid = built.solid;
    body.findings = std::move(built.findings);
}

void insist(const Comparison& comparison, const std::string& what) {
    if (comparison.agrees()) return;
    const auto wrong = std::find_if(comparison.rows.begin(), comparison.rows.end(), [](const Row& row) {
        return row.verdict != Verdict::same && row.verdict != Verdict::unmeasured;
    });
    throw KernelError(what + " was read back and differs from the plan: " + wrong->what + " " +
                      to_text(wrong->verdict) + ", expected " + wrong->expected + ", found " + wrong->found);
}

std::string checked_text(const Comparison& comparison, const Expectation& expected,
                         const Measurement& found) {
    double worst_mm = 0.0;
    for (const Row& row : comparison.rows) worst_mm = std::max(worst_mm, std::abs(row.difference_mm));
    const double relative = std::abs(found.volume_mm3 - expected.volume_mm3) / expected.volume_mm3;
    const std::string read = "read back: " + std::to_string(comparison.rows.size()) + " comparisons, worst " +
                             shortest_text(std::round(worst_mm * 1e9) / 1e9) + " mm, volume within ";
    if (expected.chord_mm == 0.0) return read + fixed_text(relative * 1e9, 3) + "e-9";
    return read + fixed_text(100.0 * relative, 4) + " %, where the chord allows " +
           fixed_text(100.0 * expected.volume_tolerance_relative, 2) + " %";
}

/// What a file that was read back is held to.
MadeFile verified(const plan::Plan& plan, const std::string& kind, const std::filesystem::path& path,
                  std::size_t bytes, const Expectation& expected, double within_mm,
                  const Measurement& found) {
    const Comparison comparison = compare(plan, expected, found, within_mm);
    insist(comparison, path.filename().string());
    return {kind, path, bytes, true, checked_text(comparison, expected, found)};
}

/// What the skin alone shows to be no sound body.
plan::Findings unsound(const plan::SkinResult& skin) {
    plan::Findings findings;
    if (skin.edge_break_left_out)
        findings.push_back(
            plan::final_stop("edge-break", "outline",
                             "The outline's edges can't be modelled broken: a corner of the outline "
                             "is rounder than the break is wide, or the plate is "
                             "too thin for it. Make the corner radius larger than the edge break, "
                             "or let it be noted only (\"modelled\": false)."));
    if (skin.skin.touches_itself)
        findings.push_back(
            plan::final_stop("part-in-pieces", "",
                             "Two bodies of metal would touch along an edge only. Move or resize "
                             "one of the cuts or rings that end on the same circle."));
    return findings;
}

/// A rod has no skin; its figures are closed forms of their own, but for how far a modelled thread reaches.
Body examine_rod(const plan::Plan& plan, const Progress& progress) {
    plan::RodFigures figures = plan::rod_figures(*plan.rod, plan::rod_path(*plan.rod));
    Body body;
    body.volume_within = plan::volume_within(*plan.rod);
    if (plan::has_modelled_thread(*plan.rod)) {
        need_solid(plan, body, progress);
        figures.area_mm2 = body.solid->area_mm2();
        figures.box = body.solid->box();
    }
    body.figures = {figures.volume_mm3, figures.area_mm2,
                    figures.volume_mm3 * 1e-9 * plan.material.density_kg_m3, figures.box};
    return body;
}

/// Whether the skin is the whole part.
bool is_all_skin(const plan::Plan& plan, const plan::SkinResult& skin) {
    return plan::is_prism(plan) && skin.overlapping.empty() && skin.overlapping_raised.empty() &&
           !plan::has_modelled_threads(plan);
}

/// Neither the plan nor the skin says where the triangles are.
bool is_meshed_from_solid(const plan::Plan& plan, const Body& body) {
    return plan.rod ? plan::has_modelled_thread(*plan.rod) : !is_all_skin(plan, body.skin);
}

}  // namespace

Body examine(const plan::Plan& plan, const Progress& progress) {
    if (plan.rod) return examine_rod(plan, progress);
    Body body{.skin = plan::skin(plan), .solid = nullptr, .figures = {}, .findings = {}};
    body.findings = unsound(body.skin);
    if (!body.findings.empty()) return body;
    if (is_all_skin(plan, body.skin)) {
        body.figures.volume_mm3 = body.skin.skin.volume_mm3;
        body.figures.area_mm2 = body.skin.skin.area_mm2;
        body.figures.box = body.skin.skin.box;
    } else {
        need_solid(plan, body, progress);
        if (!body.solid) return body;
        const auto known_mm3 = plan::is_prism(plan) ? body.skin.volume_mm3 : plan::slab_volume_mm3(plan);
        // Neither knows threads; the solid was held to both when it was built.
        const bool is_known = known_mm3 && !plan::has_modelled_threads(plan);
        body.figures.volume_mm3 = is_known ? *known_mm3 : body.solid->volume_mm3();
        body.figures.area_mm2 = body.solid->area_mm2();
        body.figures.box = body.solid->box();
    }
    body.figures.mass_kg = body.figures.volume_mm3 * 1e-9 * plan.material.density_kg_m3;
    return body;
}

Glance glance(const plan::Plan& plan) {
    if (plan.rod) return {plan::rod_figures(*plan.rod, plan::rod_path(*plan.rod)).volume_mm3, {}};
    const plan::SkinResult skin = plan::skin(plan);
    Glance result{std::nullopt, unsound(skin)};
    if (!result.findings.empty()) return result;
    if (is_all_skin(plan, skin))
        result.volume_mm3 = skin.skin.volume_mm3;
    else if (!plan::has_modelled_threads(plan))
        result.volume_mm3 = plan::is_prism(plan) ? skin.volume_mm3 : plan::slab_volume_mm3(plan);
    return result;
}

mesh::Mesh part_mesh(const plan::Plan& plan, Body& body, const mesh::Fineness& fineness,
                     const Progress& progress) {
    if (!is_meshed_from_solid(plan, body))
        return plan.rod ? mesh::rod_mesh(*plan.rod, fineness) : mesh::mesh_of(body.skin.skin, fineness);
    need_solid(plan, body, progress);
    return kernel().mesh(*body.solid, fineness);
}

Expectation expectation(const Body& body, double chord_mm) {
    Expectation expected;
    expected.volume_mm3 = body.figures.volume_mm3;
    expected.box = body.figures.box;
    expected.chord_mm = chord_mm;
    expected.volume_tolerance_relative = body.volume_within;
    // A facet lies at most one chord from the surface it stands for, on every square millimetre of the part.
    if (chord_mm > 0.0)
        expected.volume_tolerance_relative = body.figures.area_mm2 * chord_mm / body.figures.volume_mm3;
    return expected;
}

namespace {

/// A STEP file on the disk that is being read back.
struct Written {
    std::filesystem::path path;
    std::size_t bytes = 0;
    std::unique_ptr<Measuring> measuring;
};

Written write_step(const plan::Plan& plan, Body& body, const MakeOptions& options,
                   const std::filesystem::path& path, FileSet& files, const Progress& progress) {
    need_solid(plan, body, progress);
    progress("writing STEP");
    const std::string text = kernel().step_text(*body.solid, plan, options.step_options);
    const std::filesystem::path written = files.add(path, text);
    return {path, text.size(), kernel().start_measuring(read_file(written), path.string())};
}

mesh::Mesh closed_mesh(const plan::Plan& plan, Body& body, const MakeOptions& options,
                       std::unique_ptr<Meshing> meshing, const Progress& progress) {
    progress("meshing");
    mesh::Mesh mesh = meshing ? meshing->finish() : part_mesh(plan, body, options.fineness, progress);
    if (!mesh::is_watertight(mesh)) throw KernelError("the mesh of " + plan.name + " is not closed");
    return mesh;
}

MadeFile make_stl(const plan::Plan& plan, const Body& body, const MakeOptions& options,
                  const mesh::Mesh& mesh, const std::filesystem::path& path, FileSet& files,
                  const Progress& progress) {
    const std::string bytes = mesh::stl_bytes(mesh, plan::file_stem(plan) + ", millimetres");
    const std::filesystem::path written = files.add(path, bytes);
    progress("reading STL back");
    return verified(plan, "stl", path, bytes.size(), expectation(body, options.fineness.chord_mm),
                    mesh_within_mm, measure_bytes(read_file(written), path.string()));
}

/// Begun as soon as there is a mesh.
std::unique_ptr<Printing> begin_3mf(const plan::Plan& plan, const MakeOptions& options,
                                    const mesh::Mesh& mesh) {
    if (!options.threemf) return nullptr;
    const std::string name = plan::file_stem(plan);
    return std::make_unique<Printing>(
        PrintBody{name, plan.material.name, paint_of(plan.material.family), mesh}, name);
}

MadeFile make_3mf(const plan::Plan& plan, const Body& body, const MakeOptions& options, Printing& printing,
                  const std::filesystem::path& path, FileSet& files, const Progress& progress) {
    progress("writing 3MF");
    const std::string bytes = printing.finish();
    const std::filesystem::path written = files.add(path, bytes);
    progress("reading 3MF back");
    const std::vector<PrintBody> found = print_files().read(read_file(written), path.string());
    if (found.size() != 1 || found.front().name != plan::file_stem(plan))
        throw KernelError(path.filename().string() +
                          " was read back and holds another body than was written");
    return verified(plan, "3mf", path, bytes.size(), expectation(body, options.fineness.chord_mm),
                    mesh_within_mm, measure(found.front().mesh));
}

/// Where both files come from the solid, the mesh is begun before the STEP file is written.
std::unique_ptr<Meshing> begin_meshing(const plan::Plan& plan, Body& body, const MakeOptions& options,
                                       const Progress& progress) {
    if (!options.step || !(options.stl || options.threemf) || !is_meshed_from_solid(plan, body))
        return nullptr;
    need_solid(plan, body, progress);
    return kernel().start_mesh(*body.solid, options.fineness);
}

}  // namespace

std::vector<MadeFile> make(const plan::Plan& plan, Body& body, const MakeOptions& options, FileSet& files,
                           const Progress& progress, const std::function<void()>& meanwhile) {
    const std::filesystem::path stem = options.folder / plan::file_stem(plan);
    const auto path_of = [&stem](const char* ending) {
        return std::filesystem::path(stem.string() + ending);
    };
    // What takes long goes on in processes of its own: meshing a solid and writing 3MF while STEP is written,
    // then reading STEP back while the meshes are.
    std::unique_ptr<Meshing> meshing = begin_meshing(plan, body, options, progress);
    const bool needs_mesh = options.stl || options.threemf;
    std::optional<mesh::Mesh> mesh;
    std::unique_ptr<Printing> printing;
    const auto mesh_and_print = [&] {
        mesh = closed_mesh(plan, body, options, std::move(meshing), progress);
        printing = begin_3mf(plan, options, *mesh);
    };
    // Without 3MF the mesh is made while STEP is read back.
    if (options.threemf && !meshing) mesh_and_print();
    std::optional<Written> step;
    if (options.step) step = write_step(plan, body, options, path_of(".step"), files, progress);
    if (needs_mesh && !mesh) mesh_and_print();
    meanwhile();
    std::vector<MadeFile> meshes;
    if (options.stl) meshes.push_back(make_stl(plan, body, options, *mesh, path_of(".stl"), files, progress));
    mesh.reset();
    if (printing)
        meshes.push_back(make_3mf(plan, body, options, *printing, path_of(".3mf"), files, progress));
    std::vector<MadeFile> made;
    if (step) {
        progress("reading STEP back");
        made.push_back(verified(plan, "step", step->path, step->bytes, expectation(body, 0.0), step_within_mm,
                                step->measuring->finish()));
    }
    std::move(meshes.begin(), meshes.end(), std::back_inserter(made));
    return made;
}

Measurement measure_file(const std::filesystem::path& path) {
    return measure_bytes(read_file(path), path.string());
}

Measurement measure_bytes(std::string_view bytes, const std::string& name) {
    // A Part 21 file starts with this key word (ISO 10303-21, clause 5), maybe after blanks.
    const std::size_t start = bytes.find_first_not_of(" \t\r\n\xEF\xBB\xBF");
    const bool is_step = start != std::string_view::npos && bytes.compare(start, 13, "ISO-10303-21;") == 0;
    return is_step ? kernel().measure_step(bytes, name) : measure(mesh::read_stl(bytes, name));
}

}  // namespace fitup::exchange
