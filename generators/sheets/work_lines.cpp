#include "sheets/work_lines.hpp"

#include <array>
#include <string_view>

#include "base/text.hpp"
#include "base/units.hpp"

namespace fitup::sheets {

namespace {

/// How a key's ending stands on the screen.
struct Unit {
    std::string_view ending;
    std::string_view text;
    int decimals;
};
constexpr std::array units{Unit{"_kg_mm2", " kg mm2", 3}, Unit{"_mm4", " mm4", 1}, Unit{"_mm3", " mm3", 1},
                           Unit{"_mm2", " mm2", 1},       Unit{"_mm", " mm", 3},   Unit{"_deg", " deg", 3},
                           Unit{"_mpa", " MPa", 1},       Unit{"_n", " N", 0},     Unit{"", "", 3}};

const Unit& unit_of(std::string_view key) {
    for (const Unit& unit : units) {
        if (key.ends_with(unit.ending)) return unit;
    }
    return units.back();
}

std::string figure(const Unit& unit, double value) {
    const std::string text = short_text(value, unit.decimals) + std::string(unit.text);
    return unit.ending == "_mm" ? text + " (" + short_text(value / mm_per_inch, 4) + " in)" : text;
}

/// The items of a group have the group's unit where their own keys name none ("pin_to_pin_mm": "set", ..).
std::string in_one_line(const plan::Work& row, const Unit& group);

class InOneLine {
  public:
    explicit InOneLine(const Unit& unit) : unit_(unit) {}
    std::string operator()(double value) const { return figure(unit_, value); }
    std::string operator()(const std::string& words) const { return words; }
    std::string operator()(bool is_so) const { return is_so ? "yes" : "no"; }
    std::string operator()(const std::vector<double>& values) const {
        std::string text;
        for (const double value : values) text += (text.empty() ? "" : ", ") + figure(unit_, value);
        return text;
    }
    std::string operator()(const std::vector<std::vector<double>>& points) const {
        std::string text;
        for (const std::vector<double>& point : points) {
            text += text.empty() ? "[" : " and [";
            for (std::size_t i = 0; i < point.size(); ++i)
                text += (i > 0 ? ", " : "") + short_text(point[i], unit_.decimals);
            text += "]" + std::string(unit_.text);
        }
        return text;
    }
    std::string operator()(const plan::Work& group) const { return in_one_line(group, unit_); }
    std::string operator()(const std::vector<plan::Work>& rows) const {
        std::string text;
        for (const plan::Work& row : rows) text += (text.empty() ? "" : "; ") + in_one_line(row, unit_);
        return text;
    }

  private:
    const Unit& unit_;
};

std::string in_one_line(const plan::Work& row, const Unit& group) {
    std::string text;
    for (const plan::WorkItem& item : row) {
        const Unit& own = unit_of(item.key);
        const Unit& unit = own.ending.empty() ? group : own;
        text += (text.empty() ? "" : ", ") + item.label + " " + std::visit(InOneLine(unit), item.value);
    }
    return text;
}

void add(const plan::WorkItem& item, std::vector<WorkLine>& lines) {
    // A group that has rows is told by them.
    if (const auto* group = std::get_if<plan::Work>(&item.value)) {
        for (const plan::WorkItem& inner : *group) {
            if (std::holds_alternative<std::vector<plan::Work>>(inner.value))
                return add({item.key, item.label, inner.value}, lines);
        }
    }
    const Unit& unit = unit_of(item.key);
    const auto* rows = std::get_if<std::vector<plan::Work>>(&item.value);
    if (rows == nullptr) {
        lines.push_back({item.label, std::visit(InOneLine(unit), item.value)});
        return;
    }
    if (!rows->empty()) lines.push_back({item.label, ""});
    for (const plan::Work& row : *rows) lines.push_back({"", in_one_line(row, unit)});
}

}  // namespace

std::vector<WorkLine> work_lines(const plan::Work& work) {
    std::vector<WorkLine> lines;
    for (const plan::WorkItem& item : work) add(item, lines);
    return lines;
}

}  // namespace fitup::sheets
