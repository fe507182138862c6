#include <algorithm>
#include <array>

#include "base/text.hpp"
#include "trade/housings.hpp"
#include "trade/listing.hpp"
#include "trade/names.hpp"

namespace fitup::trade {

namespace {

std::vector<std::string> drill_names() {
    std::vector<std::string> names;
    for (const Drill& drill : drills()) names.push_back(drill.name);
    return names;
}

std::vector<std::string> flywheel_names() {
    std::vector<std::string> names;
    for (const Flywheel& flywheel : flywheels()) names.push_back(flywheel.designation);
    return names;
}

/// Designations of one fastener table, each once.
template <class T>
std::vector<std::string> sizes_of(std::span<const T> rows) {
    std::vector<std::string> names;
    for (const T& row : rows) {
        if (std::find(names.begin(), names.end(), row.designation) == names.end())
            names.push_back(row.designation);
    }
    return names;
}

std::vector<std::string> clearance_names() { return sizes_of(clearance_holes()); }
std::vector<std::string> nut_names() { return sizes_of(nuts()); }
std::vector<std::string> head_names() { return sizes_of(heads()); }
std::vector<std::string> washer_names() { return sizes_of(washers()); }
std::vector<std::string> tool_names() { return {"hand socket", "ring spanner"}; }

struct View {
    std::string_view table;
    Listing (*list)(std::string_view name);
    std::vector<std::string> (*names)();
};

constexpr std::array<View, 11> views{{{"threads", list_threads, thread_names},
                                      {"drills", list_drills, drill_names},
                                      {"clearance-holes", list_clearance_holes, clearance_names},
                                      {"nuts", list_nuts, nut_names},
                                      {"heads", list_heads, head_names},
                                      {"washers", list_washers, washer_names},
                                      {"tool-room", list_tool_room, tool_names},
                                      {"housings", list_housings, housing_names},
                                      {"flywheels", list_flywheels, flywheel_names},
                                      {"materials", list_materials, material_names},
                                      {"fits", list_fits, tolerance_classes}}};

/// "Clearance holes" and "clearance_holes" are "clearance-holes".
const View* find_view(std::string_view table) {
    std::string wanted = lower_case(table);
    std::replace_if(
        wanted.begin(), wanted.end(), [](char c) { return c == ' ' || c == '_'; }, '-');
    const auto found =
        std::find_if(views.begin(), views.end(), [&](const View& view) { return view.table == wanted; });
    return found == views.end() ? nullptr : &*found;
}

}  // namespace

std::string mm_text(double value_mm) { return short_text(value_mm, 4); }
std::string inch_text(double value_mm) { return fixed_text(value_mm / mm_per_inch, 4); }

std::string source_text(const Source& source) {
    if (!source.unverified || source.text.find("unverified") != std::string::npos) return source.text;
    return source.text + " (unverified)";
}

std::optional<Listing> lookup(std::string_view table, std::string_view name) {
    const View* view = find_view(table);
    if (!view) return {};
    return view->list(name);
}

std::vector<std::string> table_names() {
    std::vector<std::string> names;
    for (const View& view : views) names.emplace_back(view.table);
    return names;
}

std::vector<std::string> names_in(std::string_view table) {
    const View* view = find_view(table);
    return view ? view->names() : std::vector<std::string>{};
}

}  // namespace fitup::trade
