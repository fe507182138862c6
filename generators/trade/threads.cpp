#include "trade/threads.hpp"

#include <array>
#include <cmath>
#include <numbers>
#include <unordered_map>

#include "base/text.hpp"
#include "trade/names.hpp"
#include "trade/table.hpp"

namespace fitup::trade {

namespace {

/// Depth of the Whitworth form over its pitch, two thirds of the sharp triangle's height (BS 84): 0.640327.
const double whitworth_depth = 1.0 / (3.0 * std::tan(27.5 * std::numbers::pi / 180.0));
/// Depth of the BA form over its pitch (BS 93).
constexpr double ba_depth = 0.6;
/// Height of the sharp 60-degree triangle over its pitch (ISO 68-1, ASME B1.1).
constexpr double sharp_height_60 = std::numbers::sqrt3 / 2.0;

bool is_whitworth(const Thread& thread) { return thread.series == "BSW" || thread.series == "BSF"; }
bool is_ba(const Thread& thread) { return thread.series == "BA"; }

Thread read_thread(const Row& row) {
    Thread thread;
    thread.designation = row.text("designation");
    thread.series = row.text("series");
    thread.major_mm = row.number("major_diameter_mm");
    // The table rounds an inch pitch to a nanometre; threads per inch give it in full.
    thread.pitch_mm = thread.is_inch() ? mm_per_inch / row.number("tpi") : row.number("pitch_mm");
    thread.flank_angle_deg = row.number("flank_angle_deg");
    thread.tap_drill_mm = row.number("tap_drill_mm");
    thread.tap_drill_name = row.text("tap_drill_name");
    thread.source = row.source();
    return thread;
}

std::string per_inch_text(const Thread& thread) { return short_text(mm_per_inch / thread.pitch_mm, 3); }

std::vector<std::string> metric_aliases(const Thread& thread) {
    const std::string size = fastener_size(thread);
    const std::string pitch = short_text(thread.pitch_mm, 3);
    std::vector<std::string> names{size + "-" + pitch};
    if (thread.series == "ISO coarse") names.insert(names.begin(), size + "x" + pitch);
    return names;
}

std::vector<std::string> unified_aliases(const Thread& thread) {
    const std::string size = fastener_size(thread);
    const std::string pitched = size + "-" + per_inch_text(thread);
    std::vector<std::string> names{pitched, size + " " + thread.series};
    if (size.front() == '#') {
        names.push_back(pitched.substr(1));
        names.push_back(pitched.substr(1) + " " + thread.series);
        names.push_back(size.substr(1) + " " + thread.series);
    }
    return names;
}

std::vector<std::string> british_aliases(const Thread& thread) {
    const std::string size = fastener_size(thread);
    std::vector<std::string> names{size + "-" + per_inch_text(thread) + " " + thread.series};
    if (thread.series == "BSW") names.insert(names.end(), {size + " Whitworth", size + " Whit"});
    return names;
}

std::vector<std::string> ba_aliases(const Thread& thread) {
    const std::string number = thread.designation.substr(0, thread.designation.find(' '));
    return {"BA " + number, "#" + number + " BA"};
}

/// Takes a tolerance class off the end: "3/8-16unc-2b", "m10x1.5-6h", "m10-6g".
std::string without_class(std::string key) {
    static constexpr std::array<std::string_view, 12> classes{"-1a", "-2a", "-3a", "-1b", "-2b", "-3b",
                                                              "-6h", "-6g", "-5h", "-4h", "-7h", "-8g"};
    for (const std::string_view ending : classes) {
        if (key.ends_with(ending)) return key.substr(0, key.size() - ending.size());
    }
    return key;
}

using Index = std::unordered_map<std::string, const Thread*>;

/// Every name and alias, by key. The first thread to claim a key keeps it.
Index build_index() {
    Index index;
    for (const Thread& thread : threads()) index.emplace(name_key(thread.designation), &thread);
    for (const Thread& thread : threads()) {
        for (const std::string& alias : thread_aliases(thread)) index.emplace(name_key(alias), &thread);
    }
    return index;
}

}  // namespace

bool Thread::is_inch() const { return series == "UNC" || series == "UNF" || is_whitworth(*this); }

std::span<const Thread> threads() {
    static const std::vector<Thread> rows = read_rows("threads", read_thread);
    return rows;
}

std::vector<std::string> thread_aliases(const Thread& thread) {
    if (is_ba(thread)) return ba_aliases(thread);
    if (is_whitworth(thread)) return british_aliases(thread);
    return thread.is_inch() ? unified_aliases(thread) : metric_aliases(thread);
}

const Thread* find_thread(std::string_view name) {
    static const Index index = build_index();
    const auto found = index.find(without_class(name_key(name)));
    return found == index.end() ? nullptr : found->second;
}

std::vector<std::string> thread_names() {
    std::vector<std::string> names;
    for (const Thread& thread : threads()) names.push_back(thread.designation);
    return names;
}

double pitch_diameter_mm(const Thread& thread) {
    if (is_ba(thread)) return thread.major_mm - ba_depth * thread.pitch_mm;
    if (is_whitworth(thread)) return thread.major_mm - whitworth_depth * thread.pitch_mm;
    return thread.major_mm - 0.75 * sharp_height_60 * thread.pitch_mm;
}

double minor_diameter_mm(const Thread& thread) {
    if (is_ba(thread)) return thread.major_mm - 2.0 * ba_depth * thread.pitch_mm;
    if (is_whitworth(thread)) return thread.major_mm - 2.0 * whitworth_depth * thread.pitch_mm;
    return thread.major_mm - 1.25 * sharp_height_60 * thread.pitch_mm;
}

double thread_share(const Thread& thread, double hole_mm) {
    double full_mm = 1.5 * sharp_height_60 * thread.pitch_mm;
    if (is_ba(thread)) full_mm = 2.0 * ba_depth * thread.pitch_mm;
    if (is_whitworth(thread)) full_mm = 2.0 * whitworth_depth * thread.pitch_mm;
    return (thread.major_mm - hole_mm) / full_mm;
}

}  // namespace fitup::trade
