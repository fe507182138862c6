#include <nlohmann/json.hpp>

#include "cli/calculation.hpp"
#include "cli/comparison.hpp"
#include "cli/part_result.hpp"
#include "cli/trial.hpp"

namespace fitup::cli {

namespace {

using Json = nlohmann::ordered_json;

template <typename Value>
Json or_null(const std::optional<Value>& value) {
    return value ? Json(*value) : Json(nullptr);
}

Json box_json(const plan::Box& box) { return {box.least, box.most}; }

Json recess_json(const plan::Recess& recess) {
    return {{"side", plan::to_text(recess.side)},
            {"diameter_mm", recess.diameter_mm},
            {"depth_mm", recess.depth_mm}};
}

/// A tapped hole's depth is its thread's; a through hole's the full-diameter wall that is left.
double depth_mm(const plan::Hole& hole, double wall_left_mm) {
    if (hole.through) return wall_left_mm;
    return hole.thread ? hole.thread->depth_mm : hole.depth_mm;
}

void add_what_the_hole_has(Json& json, const plan::Hole& hole) {
    if (hole.thread) {
        json["thread"] = hole.thread->designation;
        json["thread_depth_mm"] = hole.thread->depth_mm;
        json["drill_depth_mm"] = hole.depth_mm;
    }
    if (hole.fit)
        json["fit"] = {{"class", hole.fit->tolerance_class},
                       {"lower_um", hole.fit->lower_um},
                       {"upper_um", hole.fit->upper_um}};
    if (hole.finish_diameter_mm) json["finish_diameter_mm"] = *hole.finish_diameter_mm;
    if (hole.position_sigma_mm) json["position_sigma_mm"] = *hole.position_sigma_mm;
    if (hole.slot_length_mm)
        json["slot"] = {{"length_mm", *hole.slot_length_mm},
                        {"direction_deg", hole.slot_direction.degrees()}};
    if (hole.recess) json["recess"] = recess_json(*hole.recess);
    if (hole.countersink)
        json["countersink"] = {{"side", plan::to_text(hole.countersink->side)},
                               {"diameter_mm", hole.countersink->diameter_mm},
                               {"angle_deg", hole.countersink->angle.degrees()}};
}

Json hole_json(const plan::Plan& plan, const plan::Hole& hole, double wall_left_mm) {
    const bool from_a = hole.from == plan::Side::A;
    const double face_mm = plan::level_mm(plan, hole.at_mm) + (from_a ? 0.0 : plan.body.thickness_mm);
    Json json = {{"id", hole.id},
                 {"kind", plan::to_text(hole.kind)},
                 {"at_mm", {hole.at_mm.x_mm, hole.at_mm.y_mm, face_mm}},
                 {"direction", {0, 0, from_a ? 1 : -1}},
                 {"diameter_mm", hole.diameter_mm},
                 {"depth_mm", depth_mm(hole, wall_left_mm)},
                 {"through", hole.through}};
    add_what_the_hole_has(json, hole);
    return json;
}

Json cross_hole_json(const plan::CrossHole& hole) {
    Json json = {{"id", hole.id},
                 {"kind", plan::to_text(hole.kind)},
                 {"at_mm", hole.at_mm},
                 {"direction", hole.direction},
                 {"diameter_mm", hole.diameter_mm},
                 {"depth_mm", hole.depth_mm},
                 {"through", false}};
    if (hole.thread) json["thread"] = hole.thread->designation;
    return json;
}

Json work_json(const plan::Work& work);

Json work_value_json(const plan::Work& group) { return work_json(group); }
Json work_value_json(const std::vector<plan::Work>& rows) {
    Json json = Json::array();
    for (const plan::Work& row : rows) json.push_back(work_json(row));
    return json;
}
template <typename Plain>
Json work_value_json(const Plain& value) {
    return Json(value);
}

Json work_json(const plan::Work& work) {
    Json json = Json::object();
    for (const plan::WorkItem& item : work)
        json[item.key] = std::visit([](const auto& value) { return work_value_json(value); }, item.value);
    return json;
}

Json finding_json(const plan::Finding& finding) {
    Json json = {{"rule", finding.rule},
                 {"severity", plan::to_text(finding.severity)},
                 {"where", finding.where},
                 {"value", or_null(finding.value)},
                 {"limit", or_null(finding.limit)},
                 {"unit", finding.unit},
                 {"message", finding.message},
                 {"source", finding.source}};
    if (finding.at_mm) json["at_mm"] = *finding.at_mm;
    return json;
}

Json findings_json(const plan::Findings& findings) {
    Json json = Json::array();
    for (const plan::Finding& finding : findings) json.push_back(finding_json(finding));
    return json;
}

Json files_json(const std::vector<exchange::MadeFile>& files) {
    Json json = Json::array();
    for (const exchange::MadeFile& file : files)
        json.push_back({{"kind", file.kind}, {"path", file.path.string()}, {"verified", file.verified}});
    return json;
}

Json failure_json(const std::string& file, const std::string& message) {
    return {{"file", file}, {"line", nullptr}, {"column", nullptr}, {"key", ""},
            {"found", ""},  {"wanted", ""},    {"message", message}};
}

Json part_json(const PartResult& result) {
    const auto figure = [&result](auto member) {
        return result.figures ? Json((*result.figures).*member) : Json(nullptr);
    };
    Json json = {{"name", result.plan.name},
                 {"part", result.plan.part},
                 {"file", result.file},
                 {"volume_mm3", figure(&exchange::Figures::volume_mm3)},
                 {"area_mm2", figure(&exchange::Figures::area_mm2)},
                 {"mass_kg", figure(&exchange::Figures::mass_kg)},
                 {"bounding_box_mm", result.figures ? box_json(result.figures->box) : Json(nullptr)}};
    if (!result.plan.revision.empty()) json["revision"] = result.plan.revision;
    json["holes"] = Json::array();
    for (std::size_t i = 0; i < result.plan.holes.size(); ++i) {
        const double wall_mm = i < result.walls_left_mm.size() ? result.walls_left_mm[i] : 0.0;
        json["holes"].push_back(hole_json(result.plan, result.plan.holes[i], wall_mm));
    }
    for (const plan::CrossHole& hole : result.plan.cross_holes)
        json["holes"].push_back(cross_hole_json(hole));
    json["findings"] = findings_json(result.findings);
    json["files"] = files_json(result.files);
    json["work"] = work_json(result.work);
    return json;
}

Json cylinder_json(const exchange::Cylinder& cylinder) {
    return {{"at_mm", cylinder.axis_point},
            {"direction", cylinder.axis},
            {"diameter_mm", 2.0 * cylinder.radius_mm},
            {"length_mm", cylinder.high_mm - cylinder.low_mm},
            {"hole", cylinder.is_hole},
            {"sweep_deg", cylinder.sweep_deg}};
}

Json inspection_json(const Inspected& inspected) {
    const exchange::Measurement& found = inspected.found;
    Json json = {{"file", inspected.file},     {"volume_mm3", found.volume_mm3},
                 {"area_mm2", found.area_mm2}, {"bounding_box_mm", box_json(found.box)},
                 {"bodies", found.bodies},     {"closed", found.closed},
                 {"unit", found.unit},         {"round_walls", Json::array()}};
    for (const exchange::Cylinder& cylinder : found.cylinders)
        json["round_walls"].push_back(cylinder_json(cylinder));
    if (!inspected.comparison) return json;
    json["agrees"] = inspected.comparison->agrees();
    if (inspected.as_printed) json["as_printed"] = printed_words;
    json["rows"] = Json::array();
    for (const exchange::Row& row : inspected.comparison->rows)
        json["rows"].push_back({{"what", row.what},
                                {"verdict", exchange::to_text(row.verdict)},
                                {"expected", row.expected},
                                {"found", row.found},
                                {"difference_mm", row.difference_mm}});
    return json;
}

/// A number that no JSON can hold (a chain that never closes has no worst margin) is null there.
Json calculation_object(const CalculationResult& result) {
    Json json = {{"calculation", result.calculation}, {"name", result.name}, {"file", result.file}};
    if (!result.revision.empty()) json["revision"] = result.revision;
    const Json figures = work_json(result.figures);
    for (const auto& [key, value] : figures.items()) json[key] = value;
    json["holds"] = result.holds;
    json["findings"] = findings_json(result.findings);
    return json;
}

/// Bytes that are no UTF-8 (a file's name may hold any) become replacement characters: the output is JSON
/// whatever comes in.
std::string text_of(const Json& json) {
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace

std::string parts_json(const std::vector<PartResult>& results) {
    Json json = {{"parts", Json::array()}};
    for (const PartResult& result : results) {
        json["parts"].push_back(part_json(result));
        if (!result.failure.empty()) json["errors"].push_back(failure_json(result.file, result.failure));
    }
    return text_of(json);
}

std::string calculation_json(const CalculationResult& result) { return text_of(calculation_object(result)); }

std::string calculations_json(const std::vector<CalculationResult>& results) {
    Json json = {{"calculations", Json::array()}};
    for (const CalculationResult& result : results) {
        json["calculations"].push_back(calculation_object(result));
        json["calculations"].back()["files"] = files_json(result.files);
        if (!result.failure.empty()) json["errors"].push_back(failure_json(result.file, result.failure));
    }
    return text_of(json);
}

std::string errors_json(const parameters::Faults& faults) {
    Json json = {{"errors", Json::array()}};
    for (const parameters::Fault& fault : faults)
        json["errors"].push_back({{"file", fault.file},
                                  {"line", fault.line > 0 ? Json(fault.line) : Json(nullptr)},
                                  {"column", fault.column > 0 ? Json(fault.column) : Json(nullptr)},
                                  {"key", fault.key},
                                  {"found", fault.found},
                                  {"wanted", fault.wanted},
                                  {"message", fault.message}});
    return text_of(json);
}

std::string listing_json(const std::string& table, const trade::Listing& listing) {
    return text_of({{"lookup",
                     {{"table", table},
                      {"title", listing.title},
                      {"columns", listing.columns},
                      {"rows", listing.rows}}}});
}

std::string inspections_json(const std::vector<Inspected>& inspections) {
    Json json = {{"inspections", Json::array()}};
    for (const Inspected& inspected : inspections) json["inspections"].push_back(inspection_json(inspected));
    return text_of(json);
}

namespace {

Json candidate_json(const Trial& trial, const Candidate& candidate) {
    Json json = {{"values", Json::object()},
                 {"passes", candidate.row.passes},
                 {"result", candidate.row.result},
                 {"figures", Json::object()},
                 {"findings", findings_json(candidate.findings)}};
    for (std::size_t i = 0; i < candidate.row.values.size(); ++i)
        json["values"][trial.ladders[i].key] = candidate.row.values[i];
    for (const auto& [name, value] : candidate.row.figures) json["figures"][name] = value;
    return json;
}

}  // namespace

std::string trial_json(const Trial& trial) {
    Json json = {{"file", trial.file}, {"name", trial.name}, {"vary", Json::array()}};
    for (std::size_t i = 0; i < trial.ladders.size(); ++i) {
        const calculations::Ladder& ladder = trial.ladders[i];
        json["vary"].push_back({{"key", ladder.key},
                                {"from", ladder.values.front()},
                                {"to", ladder.values.back()},
                                {"step", ladder.step},
                                {"own", trial.own[i]}});
    }
    json["as_it_stands"] = candidate_json(trial, trial.as_it_stands);
    json["candidates"] = Json::array();
    for (const Candidate& candidate : trial.candidates)
        json["candidates"].push_back(candidate_json(trial, candidate));
    json["best"] = trial.best ? candidate_json(trial, trial.candidates[*trial.best]) : Json(nullptr);
    json["files"] = files_json(trial.files);
    return text_of({{"try", json}});
}

namespace {

Json changes_json(const std::vector<FigureChange>& changes) {
    Json json = Json::array();
    for (const FigureChange& one : changes) {
        json.push_back({{"key", one.key}, {"before", one.before}, {"after", one.after}});
        if (one.difference) json.back()["difference"] = *one.difference;
    }
    return json;
}

}  // namespace

std::string comparison_json(const ResultComparison& found) {
    Json json = {{"before", found.before}, {"after", found.after}, {"values", changes_json(found.values)}};
    json["holes"] = Json::array();
    for (const HoleChange& one : found.holes)
        json["holes"].push_back({{"id", one.id},
                                 {"change", one.change},
                                 {"before", one.before},
                                 {"after", one.after},
                                 {"moved_mm", one.moved_mm}});
    json["findings"] = Json::array();
    for (const FindingChange& one : found.findings)
        json["findings"].push_back({{"change", one.change}, {"finding", one.what}, {"message", one.message}});
    json["figures"] = changes_json(found.figures);
    return text_of({{"compare", json}});
}

std::string text_json(const std::string& key, const std::string& text) { return text_of({{key, text}}); }

}  // namespace fitup::cli
