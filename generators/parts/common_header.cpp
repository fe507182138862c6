#include "parts/common_header.hpp"

#include <algorithm>

#include "base/text.hpp"
namespace fitup::parts {

namespace {

plan::Material material_of(const trade::MaterialRow& row) {
    plan::Material material;
    material.name = row.name;
    material.density_kg_m3 = row.density_kg_m3;
    material.youngs_modulus_gpa = row.youngs_modulus_gpa;
    material.yield_mpa = row.yield_mpa;
    material.expansion_per_k = row.expansion_per_k;
    material.family = row.family;
    material.source = source_text(row.source);
    return material;
}

/// A material of the file's own; where the table knows its name, the shop rules take its family from there.
plan::Material material_of(const Reader& reader, const Field& field) {
    plan::Material material;
    material.name = reader.text_or(field["name"], "");
    material.density_kg_m3 = reader.number(field["density"]).value_or(0.0);
    material.youngs_modulus_gpa = reader.number(field["youngs_modulus"]);
    material.yield_mpa = reader.number(field["yield"]);
    material.expansion_per_k = reader.number(field["expansion"]);
    if (const trade::MaterialRow* row = trade::find_material(material.name)) material.family = row->family;
    material.source = "the parameter file";
    return material;
}

plan::ThreadProfile profile_of(const trade::Thread& row) {
    if (row.series == "BSW" || row.series == "BSF") return plan::ThreadProfile::whitworth;
    if (row.series == "BA") return plan::ThreadProfile::british_association;
    return plan::ThreadProfile::iso_and_unified;
}

plan::Thread thread_of(const trade::Thread& row) {
    plan::Thread thread;
    thread.designation = row.designation;
    thread.profile = profile_of(row);
    thread.major_mm = row.major_mm;
    thread.pitch_mm = row.pitch_mm;
    thread.minor_mm = trade::minor_diameter_mm(row);
    thread.tap_drill_mm = row.tap_drill_mm;
    thread.tap_drill_name = row.tap_drill_name;
    thread.source = source_text(row.source);
    return thread;
}

std::vector<std::string> names_with_aliases() {
    std::vector<std::string> names = trade::material_names();
    for (const trade::MaterialRow& row : trade::materials()) {
        names.insert(names.end(), row.aliases.begin(), row.aliases.end());
    }
    return names;
}

void read_rules(const Reader& reader, plan::Plan& plan) {
    const Field rules = reader.root()["rules"];
    if (!rules) return;
    for (const auto& member : rules.node->members) {
        const Field rule = rules[member.key];
        plan.rule_overrides.push_back(
            {member.key, reader.number(rule["warn"]), reader.number(rule["stop"]), member.line});
    }
}

bool is_hole_class(std::string_view tolerance_class) {
    return !tolerance_class.empty() && tolerance_class.front() >= 'A' && tolerance_class.front() <= 'Z';
}

std::vector<std::string> classes_of(FitOf of) {
    std::vector<std::string> classes = trade::tolerance_classes();
    std::erase_if(classes,
                  [&](const std::string& name) { return is_hole_class(name) != (of == FitOf::hole); });
    return classes;
}

}  // namespace

void read_common_header(Reader& reader, plan::Plan& plan) {
    const Field root = reader.root();
    plan.part = reader.text_or(root["part"], "");
    plan.name = reader.text_or(root["name"], "");
    plan.revision = reader.text_or(root["revision"], "");
    plan.note = reader.text_or(root["note"], "");
    plan.quantity = static_cast<int>(reader.number(root["quantity"]).value_or(1.0));
    plan.units = reader.units();
    plan.material = read_material(reader, root["material"]).value_or(plan::Material{});
    read_rules(reader, plan);
}

std::optional<plan::Material> read_material(Reader& reader, const Field& field) {
    if (!field) return {};
    if (field.node->type == parameters::Node::Type::object) return material_of(reader, field);
    const auto name = reader.text(field);
    if (!name) return {};
    if (const trade::MaterialRow* row = trade::find_material(*name)) return material_of(*row);
    reader.unknown_name(field, "a material of the table (`fitup lookup materials`) or its figures",
                        names_with_aliases());
    return {};
}

std::optional<plan::Fit> read_fit(Reader& reader, const Field& field, double nominal_mm, FitOf of) {
    const auto name = reader.text(field);
    if (!name) return {};
    const std::vector<std::string> classes = classes_of(of);
    if (std::find(classes.begin(), classes.end(), *name) == classes.end()) {
        reader.wrong(field, std::string(of == FitOf::hole ? "a hole's" : "a shaft's") +
                                " tolerance class: " + or_list(classes));
        return {};
    }
    if (const trade::FitLimits* limits = trade::find_fit(*name, nominal_mm)) {
        return plan::Fit{*name, nominal_mm, limits->lower_um, limits->upper_um, source_text(limits->source)};
    }
    reader.wrong(field, "a tolerance class whose table reaches " + reader.length_text(nominal_mm));
    return {};
}

std::optional<plan::Thread> read_thread(Reader& reader, const Field& name, const Field& hand) {
    const auto wanted = reader.text(name);
    if (!wanted) return {};
    const trade::Thread* row = trade::find_thread(*wanted);
    if (row == nullptr) {
        reader.unknown_name(name, "a thread of the table (`fitup lookup threads`)",
                            trade::names_in("threads"));
        return {};
    }
    plan::Thread thread = thread_of(*row);
    if (reader.text_or(hand, "right") == "left") thread.hand = plan::Hand::left;
    return thread;
}

double modelled_diameter_mm(const Reader& reader, const Field& model_as, plan::Thread& thread) {
    const std::string choice = reader.text_or(model_as, "tap drill");
    thread.modelled = choice == "thread";
    if (choice == "minor" || thread.modelled) return thread.minor_mm;
    return choice == "major" ? thread.major_mm : thread.tap_drill_mm;
}

std::string source_text(const trade::Source& source) {
    const bool is_said = source.text.find("unverified") != std::string::npos;
    return source.unverified && !is_said ? source.text + ", unverified" : source.text;
}

}  // namespace fitup::parts
