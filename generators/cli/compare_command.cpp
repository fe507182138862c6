#include <algorithm>
#include <cmath>
#include <map>

#include "base/error.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "cli/calculation.hpp"
#include "cli/commands.hpp"
#include "cli/comparison.hpp"
#include "cli/part_commands.hpp"
#include "parameters/differences.hpp"
#include "parameters/replace.hpp"
#include "parts/reading.hpp"

namespace fitup::cli {

namespace {

using parameters::Document;
using parameters::Node;

/// A figure that differs by less than this share is the same.
constexpr double same_share = 1e-9;

/// One side of the comparison: the file itself, and what it comes to.
struct Side {
    std::string file;
    Document document;
    bool is_result = false;         ///< printed or written by this program
    Document result;                ///< the whole result object
    const Node* outcome = nullptr;  ///< in it: the part's or calculation's own object
    parameters::Faults faults;
};

const Node* outcome_of(const Node& result) {
    for (const char* list : {"parts", "calculations"}) {
        const Node* items = result.find(list);
        if (items != nullptr && !items->items.empty()) return &items->items.front();
    }
    return result.has("holds") || result.has("bounding_box_mm") ? &result : nullptr;
}

std::string part_result(const std::string& file, Side& side, StageLine& stage) {
    Read read = read_parts({file});
    side.faults = read.faults;
    if (!side.faults.empty()) return "";
    judge(read.parts.front(), stage);
    return parts_json(read.parts);
}

std::string calculated_result(const std::string& bytes, const std::string& file, Side& side,
                              StageLine& stage) {
    const ReadCalculation read = read_calculation(bytes, file);
    side.faults = read.faults;
    if (!read.work) return "";
    return calculations_json(
        {read.work({.pictures = false}, [&](std::string_view what) { stage.enter(what); })});
}

void read_side(const std::string& file, StageLine& stage, Side& side) {
    side.file = file;
    const std::string bytes = read_file(file);
    side.document = parameters::read_json(bytes, file);
    if (!side.document.root) {
        side.faults = side.document.faults;
        return;
    }
    const Node& root = *side.document.root;
    side.is_result = !root.has("format") && outcome_of(root) != nullptr;
    if (side.is_result) {
        side.outcome = outcome_of(root);
        return;
    }
    const std::string text = root.has("calculation") ? calculated_result(bytes, file, side, stage)
                                                     : part_result(file, side, stage);
    if (!side.faults.empty()) return;
    side.result = parameters::read_json(text, file);
    side.outcome = side.result.root ? outcome_of(*side.result.root) : nullptr;
}

double number_in(const Node& object, const char* key) {
    const Node* value = object.find(key);
    return value != nullptr && value->type == Node::Type::number ? value->number : 0.0;
}

std::array<double, 3> place_in(const Node& hole) {
    std::array<double, 3> place{};
    const Node* at = hole.find("at_mm");
    for (std::size_t i = 0; at != nullptr && i < std::min<std::size_t>(3, at->items.size()); ++i)
        place[i] = at->items[i].number;
    return place;
}

std::string hole_text(const Node& hole) {
    const auto at = place_in(hole);
    return short_text(number_in(hole, "diameter_mm"), 4) + " at " + short_text(at[0], 4) + ", " +
           short_text(at[1], 4) + ", " + short_text(at[2], 4) + ", deep " +
           short_text(number_in(hole, "depth_mm"), 4);
}

std::string text_in(const Node& object, const char* key) {
    const Node* value = object.find(key);
    return value != nullptr ? value->text : "";
}

std::string id_of(const Node& hole) { return text_in(hole, "id"); }

const Node* with_id(const Node* list, const std::string& id) {
    return list != nullptr ? parameters::item_called(*list, id) : nullptr;
}

/// How a hole of both changed; nothing where it did not.
std::optional<HoleChange> hole_change(const Node& before, const Node& after) {
    const auto a = place_in(before), b = place_in(after);
    HoleChange change{id_of(before), "", hole_text(before), hole_text(after),
                      std::hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2])};
    const bool moved = change.moved_mm > 1e-9;
    bool resized = false;
    for (const char* key : {"diameter_mm", "depth_mm", "finish_diameter_mm", "drill_depth_mm"})
        resized = resized || std::abs(number_in(before, key) - number_in(after, key)) > 1e-9;
    const bool otherwise = !moved && !resized && !parameters::same_value(before, after);
    if (!moved && !resized && !otherwise) return {};
    change.change = moved && resized ? "moved and resized"
                    : moved          ? "moved"
                    : resized        ? "resized"
                                     : "changed";
    return change;
}

void compare_holes(const Node& before, const Node& after, ResultComparison& found) {
    const Node *old_holes = before.find("holes"), *new_holes = after.find("holes");
    if (old_holes != nullptr) {
        for (const Node& hole : old_holes->items) {
            const Node* other = with_id(new_holes, id_of(hole));
            if (other == nullptr)
                found.holes.push_back({id_of(hole), "gone", hole_text(hole), "", 0.0});
            else if (auto change = hole_change(hole, *other))
                found.holes.push_back(std::move(*change));
        }
    }
    if (new_holes == nullptr) return;
    for (const Node& hole : new_holes->items) {
        if (with_id(old_holes, id_of(hole)) == nullptr)
            found.holes.push_back({id_of(hole), "new", "", hole_text(hole), 0.0});
    }
}

std::map<std::string, const Node*> findings_of(const Node& outcome) {
    std::map<std::string, const Node*> all;
    if (const Node* findings = outcome.find("findings")) {
        for (const Node& finding : findings->items)
            all[text_in(finding, "severity") + "  " + text_in(finding, "rule") + "  " +
                text_in(finding, "where")] = &finding;
    }
    return all;
}

void compare_findings(const Node& before, const Node& after, ResultComparison& found) {
    const auto old_findings = findings_of(before), new_findings = findings_of(after);
    for (const auto& [what, finding] : new_findings) {
        if (!old_findings.contains(what))
            found.findings.push_back({"came", what, text_in(*finding, "message")});
    }
    for (const auto& [what, finding] : old_findings) {
        if (!new_findings.contains(what))
            found.findings.push_back({"went", what, text_in(*finding, "message")});
    }
}

std::string figure_text(const Node* value) {
    if (value == nullptr) return "";
    return value->type == Node::Type::number ? short_text(value->number, 6) : parameters::shown(*value);
}

/// Numbers that differ, but for those that holes and findings tell.
void compare_figures(const Node& before, const Node& after, ResultComparison& found) {
    const auto mm = parameters::Units::mm;
    for (const parameters::Difference& one : parameters::differences(before, mm, after, mm)) {
        const bool told = one.key.starts_with("holes") || one.key.starts_with("findings") ||
                          one.key.starts_with("files") || one.key == "file" ||
                          one.key.find("points_mm") != std::string::npos;
        if (told) continue;
        FigureChange change{one.key, figure_text(one.before), figure_text(one.after), std::nullopt};
        const bool numbers = one.before != nullptr && one.after != nullptr &&
                             one.before->type == Node::Type::number && one.after->type == Node::Type::number;
        if (numbers) {
            change.difference = one.after->number - one.before->number;
            const double size = std::max(std::abs(one.after->number), std::abs(one.before->number));
            if (std::abs(*change.difference) <= same_share * std::max(size, 1.0)) continue;
        }
        found.figures.push_back(std::move(change));
    }
}

void compare_values(const Side& before, const Side& after, ResultComparison& found) {
    if (before.is_result || after.is_result) return;
    for (const parameters::Difference& one :
         parameters::differences(*before.document.root, parts::units_of(before.document),
                                 *after.document.root, parts::units_of(after.document)))
        found.values.push_back({one.key, one.before != nullptr ? parameters::shown(*one.before) : "",
                                one.after != nullptr ? parameters::shown(*one.after) : "", std::nullopt});
}

std::string kind_of(const Side& side) {
    const Node& root = side.outcome != nullptr ? *side.outcome : *side.document.root;
    const std::string part = text_in(root, "part");
    return part.empty() ? text_in(root, "calculation") : part;
}

}  // namespace

int compare_command(const Call& call, Console& console) {
    if (call.words.size() != 2) return wrong_call(console, "compare takes two files, the earlier one first");
    Side before, after;
    {
        StageLine stage(!console.json() && !call.quiet);
        read_side(call.words[0], stage, before);
        read_side(call.words[1], stage, after);
    }
    parameters::Faults faults = before.faults;
    faults.insert(faults.end(), after.faults.begin(), after.faults.end());
    if (!faults.empty()) return wrong_files(console, faults);
    if (before.outcome == nullptr || after.outcome == nullptr)
        return wrong_call(console, "compare takes parameter files, or results as `--json` prints them");
    if (kind_of(before) != kind_of(after))
        return wrong_call(console, before.file + " is of the kind " + kind_of(before) + ", " + after.file +
                                       " of the kind " + kind_of(after) + "; wanted two of one kind");
    ResultComparison found{before.file, after.file, {}, {}, {}, {}};
    compare_values(before, after, found);
    compare_holes(*before.outcome, *after.outcome, found);
    compare_findings(*before.outcome, *after.outcome, found);
    compare_figures(*before.outcome, *after.outcome, found);
    console.say(comparison_text(found));
    if (console.json()) console.result(comparison_json(found));
    return done;
}

std::string comparison_text(const ResultComparison& found) {
    std::string text;
    const auto table = [&text](const std::string& title, const std::vector<TableRow>& rows) {
        if (rows.size() > 1) text += title + "\n" + aligned(rows);
    };
    std::vector<TableRow> values{{"  key", "before", "after"}},
        holes{{"  hole", "what", "before", "after", "moved mm"}}, findings{{"  what", "finding"}},
        figures{{"  figure", "before", "after", "difference"}};
    for (const FigureChange& one : found.values) values.push_back({"  " + one.key, one.before, one.after});
    for (const HoleChange& one : found.holes)
        holes.push_back({"  " + one.id, one.change, one.before, one.after,
                         one.moved_mm > 0.0 ? short_text(one.moved_mm, 4) : ""});
    for (const FindingChange& one : found.findings) findings.push_back({"  " + one.change, one.what});
    for (const FigureChange& one : found.figures)
        figures.push_back(
            {"  " + one.key, one.before, one.after, one.difference ? short_text(*one.difference, 6) : ""});
    table("values that differ", values);
    table("holes", holes);
    table("findings", findings);
    table("figures", figures);
    return text.empty() ? "no difference\n" : text;
}

}  // namespace fitup::cli
