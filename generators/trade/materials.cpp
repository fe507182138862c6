#include "base/text.hpp"
#include "trade/names.hpp"
#include "trade/table.hpp"

namespace fitup::trade {

namespace {

std::vector<std::string> split(const std::string& text, char by) {
    std::vector<std::string> parts;
    for (std::size_t start = 0; start < text.size();) {
        const std::size_t end = std::min(text.size(), text.find(by, start));
        parts.push_back(text.substr(start, end - start));
        start = end + 1;
    }
    return parts;
}

MaterialRow read_material(const Row& row) {
    MaterialRow material;
    material.name = row.text("material");
    material.aliases = split(row.text("aliases"), '|');
    material.family = row.text("family");
    material.density_kg_m3 = row.number("density_kg_m3");
    material.youngs_modulus_gpa = row.number("youngs_modulus_gpa");
    material.yield_mpa = row.optional_number("yield_mpa");
    material.expansion_per_k = row.number("expansion_um_per_m_k") * 1e-6;
    material.source = row.source();
    material.expansion_source = row.source("expansion_source");
    return material;
}

void respell(std::string& key, std::string_view from, std::string_view to) {
    if (const auto at = key.find(from); at != std::string::npos) key.replace(at, from.size(), to);
}

/// Both spellings of aluminium and grey; hyphens, commas and brackets carry no meaning in a material's name.
std::string material_key(std::string_view name) {
    std::string key;
    for (const char c : name_key(name)) {
        if (c != '-' && c != ',' && c != '(' && c != ')' && c != '_') key += c;
    }
    respell(key, "aluminum", "aluminium");
    respell(key, "gray", "grey");
    return key;
}

bool is_named(const MaterialRow& material, const std::string& key) {
    if (material_key(material.name) == key) return true;
    for (const std::string& alias : material.aliases) {
        if (material_key(alias) == key) return true;
    }
    return false;
}

}  // namespace

std::span<const MaterialRow> materials() {
    static const std::vector<MaterialRow> rows = read_rows("materials", read_material);
    return rows;
}

const MaterialRow* find_material(std::string_view name) {
    const std::string key = material_key(name);
    for (const MaterialRow& material : materials()) {
        if (is_named(material, key)) return &material;
    }
    return nullptr;
}

std::vector<std::string> material_names() {
    std::vector<std::string> names;
    for (const MaterialRow& material : materials()) names.push_back(material.name);
    return names;
}

}  // namespace fitup::trade
