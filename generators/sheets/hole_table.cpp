#include "sheets/hole_table.hpp"

#include <algorithm>

#include "sheets/callout.hpp"
#include "sheets/signs.hpp"

namespace fitup::sheets {

namespace {

/// Without those that are sides or datums, are taken for digits (I, O, Q), or mean a size (M, R, X, Y, Z).
std::string letter_of(std::size_t index) {
    static const std::string letters = "DEFGHJKLNPTUVW";
    return std::string(1 + index / letters.size(), letters[index % letters.size()]);
}

const plan::Pattern* pattern_of(const plan::Plan& plan, const std::string& name) {
    const auto found = std::find_if(plan.patterns.begin(), plan.patterns.end(),
                                    [&](const plan::Pattern& pattern) { return pattern.name == name; });
    return found == plan.patterns.end() ? nullptr : &*found;
}

bool has_round_datum(const plan::Plan& plan) {
    return !plan.registers.empty() ||
           std::any_of(plan.holes.begin(), plan.holes.end(),
                       [](const plan::Hole& hole) { return hole.kind == plan::HoleKind::bore; });
}

std::optional<ToleranceFrame> frame_of(const plan::Plan& plan, const plan::Findings& findings,
                                       const std::string& pattern, const SheetSizes& sizes) {
    for (const plan::Finding& finding : findings) {
        if (finding.rule != "position-tolerance" || finding.where != pattern || !finding.value ||
            *finding.value <= 0.0)
            continue;
        ToleranceFrame frame{sign::diameter + sizes.zone(*finding.value), {face_datum}};
        if (has_round_datum(plan)) frame.datums.emplace_back(bore_datum);
        return frame;
    }
    return std::nullopt;
}

std::string short_size(const plan::Hole& hole, const SheetSizes& sizes) {
    if (hole.thread) return hole.thread->designation;
    if (hole.slot_length_mm)
        return sizes.text(hole.diameter_mm) + " " + sign::times + " " + sizes.text(*hole.slot_length_mm);
    return sign::diameter + sizes.text(hole.finish_diameter_mm.value_or(hole.diameter_mm));
}

/// "housing-1 to housing-12".
std::string ids_text(const plan::Plan& plan, const HoleGroup& group) {
    const std::string &first = plan.holes[group.holes.front()].id, &last = plan.holes[group.holes.back()].id;
    return group.holes.size() == 1 ? first : first + " to " + last;
}

std::string made_from(const plan::Hole& hole) {
    std::string text = std::string("from side ") + plan::to_text(hole.from);
    if (hole.recess && hole.recess->holds)
        return text + ", sinks " + hole.recess->holds->what + " " + hole.recess->holds->designation;
    if (hole.fastener) return text + ", for " + hole.fastener->designation;
    return text;
}

}  // namespace

std::vector<HoleGroup> hole_groups(const plan::Plan& plan, const plan::Findings& findings,
                                   const SheetSizes& sizes) {
    std::vector<HoleGroup> groups;
    std::size_t lettered = 0;
    for (std::size_t h = 0; h < plan.holes.size(); ++h) {
        const plan::Hole& hole = plan.holes[h];
        auto lines = callout(plan, hole, sizes);
        const auto alike = std::find_if(groups.begin(), groups.end(), [&](const HoleGroup& group) {
            const plan::Hole& one = plan.holes[group.holes.front()];
            return !group.is_datum && one.pattern == hole.pattern && one.from == hole.from &&
                   one.kind == hole.kind && group.callout == lines;
        });
        if (alike != groups.end()) {
            alike->holes.push_back(h);
            continue;
        }
        const bool is_bore = hole.kind == plan::HoleKind::bore;
        groups.push_back({is_bore ? bore_datum : letter_of(lettered),
                          {h},
                          std::move(lines),
                          frame_of(plan, findings, hole.pattern, sizes),
                          is_bore});
        if (!is_bore) ++lettered;
    }
    return groups;
}

std::string hole_mark(const HoleGroup& group, std::size_t number) {
    return group.holes.size() == 1 ? group.letter : group.letter + std::to_string(number + 1);
}

DrawnTable hole_kinds_table(const plan::Plan& plan, const std::vector<HoleGroup>& groups,
                            const SheetSizes& sizes) {
    DrawnTable table;
    table.title = "HOLES BY KIND";
    table.columns = {{"mark", Anchor::middle}, {"callout"}, {"holes"}};
    bool lacks_tolerance = false;
    for (const HoleGroup& group : groups) {
        const plan::Hole& hole = plan.holes[group.holes.front()];
        std::vector<std::string> lines = group.callout;
        if (group.holes.size() > 1)
            lines.front() = std::to_string(group.holes.size()) + sign::times + " " + lines.front();
        std::vector<std::string> which{group.is_datum ? "bore, datum C" : ids_text(plan, group),
                                       made_from(hole)};
        if (const plan::Pattern* pattern = pattern_of(plan, hole.pattern);
            pattern && !pattern->survey.empty())
            which.push_back("measured: see its survey");
        lacks_tolerance = lacks_tolerance || (!group.frame && !group.is_datum && !hole.finish_diameter_mm);
        table.rows.push_back({{{group.letter}}, {std::move(lines), group.frame}, {std::move(which)}});
    }
    for (const plan::CrossHole& hole : plan.cross_holes) {
        const std::string size =
            hole.thread ? thread_callout(*hole.thread) : sign::diameter + sizes.text(hole.diameter_mm);
        table.rows.push_back({{{"-"}},
                              {{size + " " + sign::depth + sizes.text(hole.depth_mm)}, std::nullopt},
                              {{hole.id, "into the part's edge"}}});
    }
    if (lacks_tolerance)
        table.foot = {"A kind without a frame: agree its position tolerance before cutting."};
    return table;
}

DrawnTable hole_places_table(const plan::Plan& plan, const std::vector<HoleGroup>& groups,
                             const SheetSizes& sizes) {
    DrawnTable table;
    table.title = "HOLES BY PLACE";
    table.most_parts = 4;
    table.columns = {
        {"hole", Anchor::middle}, {"X", Anchor::right}, {"Y", Anchor::right}, {"size", Anchor::left}};
    for (const HoleGroup& group : groups) {
        for (std::size_t i = 0; i < group.holes.size(); ++i) {
            const plan::Hole& hole = plan.holes[group.holes[i]];
            table.rows.push_back({{{hole_mark(group, i)}},
                                  {{sizes.place(hole.at_mm.x_mm)}},
                                  {{sizes.place(hole.at_mm.y_mm)}},
                                  {{short_size(hole, sizes)}}});
        }
    }
    table.foot = {"X and Y from zero (axis of C) as seen on side B;", "on side A X changes its sign."};
    return table;
}

}  // namespace fitup::sheets
