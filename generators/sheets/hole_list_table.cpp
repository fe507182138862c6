#include <algorithm>
#include <cmath>
#include <span>

#include "base/text.hpp"
#include "base/units.hpp"
#include "sheets/edge_lines.hpp"
#include "sheets/hole_list.hpp"
#include "sheets/hole_rounds.hpp"
#include "sheets/size_text.hpp"

namespace fitup::sheets {

namespace {

constexpr std::size_t number_width = 8;

std::string padded(const std::string& text, std::size_t width) {
    return text + std::string(width - std::min(width, text.size()), ' ');
}

std::string right(const std::string& text) {
    return std::string(1 + number_width - std::min(number_width, text.size()), ' ') + text;
}

class TableWriter {
  public:
    TableWriter(const plan::Plan& plan, const std::vector<HoleLine>& lines) : plan_(plan) {
        for (const HoleLine& line : lines) id_width_ = std::max(id_width_, line.id.size());
    }

    std::string side(std::span<const HoleLine> lines) {
        std::string text = lines.front().edge.empty() ? title(lines.front().side) : edge_title(lines.front());
        for (const Round& round : rounds_of(lines)) text += "\n" + tool(round);
        return text;
    }

  private:
    std::string title(plan::Side side) const {
        const std::string& name = plan_.side_names[side == plan::Side::A ? 0 : 1];
        std::string text = std::string("Side ") + plan::to_text(side) + " up";
        if (!name.empty()) text += " (the side of the " + name + ")";
        text +=
            side == plan::Side::B ? ", as drawn" : ", turned over about the Y axis: X has changed its sign";
        return text +
               ".\nX to the right, Y up, looking down at it; zero is the bore's centre. Depths from face " +
               plan::to_text(side) + ".\n";
    }

    static std::string edge_title(const HoleLine& line) {
        return "Edge " + line.edge +
               " up.\nX along the part; Y is the height above its underside at the bore. Zero is the bore's "
               "axis "
               "on that underside.\n";
    }

    std::string tool(Round lines) const {
        const HoleLine& first = lines.front();
        std::string text = first.tool + " (" + short_text(first.diameter_mm, 3) + " mm, " +
                           readout_in(first.diameter_mm) + " in): " + operations_text(lines) + ", " +
                           std::to_string(lines.size()) + (lines.size() == 1 ? " hole\n" : " holes\n");
        for (const std::string& note : notes(lines)) text += "  " + note + "\n";
        text += heading();
        for (const HoleLine& line : lines) text += row(line);
        return text + back_to_zero(lines.back());
    }

    /// A note that all holes share is said once; one of its own goes with the hole's id.
    static std::vector<std::string> notes(Round lines) {
        const std::string shared = shared_note(lines);
        if (!shared.empty()) return {shared};
        std::vector<std::string> words;
        for (const HoleLine& line : lines) {
            if (!line.note.empty()) words.push_back(line.id + ": " + line.note);
        }
        return words;
    }

    bool is_inch() const { return plan_.units == plan::Units::in; }

    std::string heading() const {
        std::string text = "  " + padded("id", id_width_);
        for (const char* name :
             {"X mm", "Y mm", "X in", "Y in", "depth mm", "tip mm", "depth in", "tip in"}) {
            text += right(name);
        }
        return text + right(is_inch() ? "last in" : "last mm") + "\n";
    }

    std::string last(double length_mm) const {
        return right(is_inch() ? readout_in(length_mm) : readout_mm(length_mm));
    }

    std::string row(const HoleLine& line) const {
        std::string text = "  " + padded(line.id, id_width_) + right(readout_mm(line.x_mm)) +
                           right(readout_mm(line.y_mm)) + right(readout_in(line.x_mm)) +
                           right(readout_in(line.y_mm));
        text += right(line.through ? "through" : readout_mm(line.depth_mm)) +
                right(readout_mm(line.depth_with_point_mm)) +
                right(line.through ? "through" : readout_in(line.depth_mm)) +
                right(readout_in(line.depth_with_point_mm));
        return text + last(line.from_last_mm) + "\n";
    }

    std::string back_to_zero(const HoleLine& from) const {
        const std::string text = "  " + padded("back to zero, read 0, 0", id_width_ + 8 * (number_width + 1));
        return text + last(std::hypot(from.x_mm, from.y_mm)) + "\n";
    }

    const plan::Plan& plan_;
    std::size_t id_width_ = 2;
};

}  // namespace

std::string hole_list_table(const plan::Plan& plan) {
    const std::vector<HoleLine> lines = hole_lines(plan);
    if (lines.empty()) return "No holes.\n";
    const std::vector<HoleLine> edges = edge_lines(plan);
    std::vector<HoleLine> all = lines;
    all.insert(all.end(), edges.begin(), edges.end());
    TableWriter writer(plan, all);
    const auto middle = std::find_if(lines.begin(), lines.end(),
                                     [&](const HoleLine& line) { return line.side != lines.front().side; });
    std::string text = writer.side({lines.begin(), middle});
    if (middle != lines.end()) text += "\n" + writer.side({middle, lines.end()});
    if (!edges.empty()) text += "\n" + writer.side(edges);
    return text +
           "\nSpot each hole before its drill. \"last\" is the distance from the hole before, the first from "
           "zero.\n";
}

}  // namespace fitup::sheets
