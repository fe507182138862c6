#include "sheets/plate_drawing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "plan/stroke.hpp"
#include "sheets/contour_words.hpp"
#include "sheets/feature_table.hpp"
#include "sheets/hole_table.hpp"
#include "sheets/plan_view.hpp"
#include "sheets/signs.hpp"
#include "sheets/title_facts.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;
using plan::Side;

class PlateContent {
  public:
    PlateContent(const plan::Plan& plan, const plan::DrawingSheet& sheet, const DrawingFacts& facts)
        : plan_(plan),
          sheet_(sheet),
          facts_(facts),
          sizes_(plan.units, sheet.both_units),
          groups_(hole_groups(plan, facts.findings, sizes_)),
          box_(plan.body.outline.box()) {}

    SheetContent content() {
        SheetContent content;
        content.units = plan_.units;
        content.block = title_block(plan_, sheet_, facts_);
        content.views.push_back(side(Side::B));
        if (needs_side_a()) content.views.push_back(side(Side::A));
        add_tables(content);
        return content;
    }

  private:
    /// Whether side A shows more than the holes that come through.
    bool needs_side_a() const {
        const auto on_a = [](const auto& feature) { return feature.side == Side::A; };
        return std::any_of(plan_.raised.begin(), plan_.raised.end(), on_a) ||
               std::any_of(plan_.pockets.begin(), plan_.pockets.end(), on_a) ||
               std::any_of(plan_.holes.begin(), plan_.holes.end(), [](const plan::Hole& hole) {
                   return (hole.from == Side::A && !hole.through) ||
                          (hole.recess && hole.recess->side == Side::A) ||
                          (hole.countersink && hole.countersink->side == Side::A);
               });
    }

    std::string caption(Side side) const {
        const std::string& name = plan_.side_names[side == Side::A ? 0 : 1];
        return std::string("SIDE ") + plan::to_text(side) + (name.empty() ? "" : " (" + name + ")");
    }

    SheetView side(Side side) {
        SheetView view;
        view.caption = caption(side);
        view.box = box_;
        if (side == Side::A)
            view.box = {{-box_.most.x_mm, box_.least.y_mm}, {-box_.least.x_mm, box_.most.y_mm}};
        view.view = [&plan = plan_, side](double overshoot_mm) {
            PlanViewOptions options;
            options.overshoot_mm = overshoot_mm;
            options.with_hidden = false;
            return plan_view(plan, side, options);
        };
        for (const HoleGroup& group : groups_) {
            for (std::size_t i = 0; i < group.holes.size(); ++i)
                view.marks[plan_.holes[group.holes[i]].id] = hole_mark(group, i);
        }
        view.group = side == Side::A ? 1 : 0;
        if (side == Side::B) {
            add_over_all(view);
            add_circles(view);
        }
        return view;
    }

    void add_over_all(SheetView& view) const {
        const Point least = box_.least, most = box_.most;
        const auto shape = known_shape(plan_.body.outline);
        if (shape && shape->kind == KnownShape::Kind::circle) {
            const double r = shape->length_mm / 2.0;
            view.dimensions.push_back({Beside::below,
                                       {shape->centre.x_mm - r, shape->centre.y_mm},
                                       {shape->centre.x_mm + r, shape->centre.y_mm},
                                       sign::diameter + sizes_.text(shape->length_mm)});
            return;
        }
        view.dimensions.push_back(
            {Beside::below, least, {most.x_mm, least.y_mm}, sizes_.text(most.x_mm - least.x_mm)});
        view.dimensions.push_back(
            {Beside::left, least, {least.x_mm, most.y_mm}, sizes_.text(most.y_mm - least.y_mm)});
        add_corner(view, shape);
        add_off_centre(view);
    }

    void add_corner(SheetView& view, const std::optional<KnownShape>& shape) const {
        if (!shape || shape->corner_mm == 0.0) return;
        const auto strokes = plan_.body.outline.strokes();
        const auto arc = std::find_if(strokes.begin(), strokes.end(), [](const plan::Stroke& s) {
            return !s.is_line() && s.centre.x_mm > 0.0 && s.centre.y_mm > 0.0;
        });
        if (arc == strokes.end()) return;
        view.leaders.push_back({plan::point_at(*arc, 0.5), -std::numbers::pi / 4.0,
                                std::string("4") + sign::times + " R" + sizes_.text(shape->corner_mm)});
    }

    /// Where zero does not lie in the middle.
    void add_off_centre(SheetView& view) const {
        const Point least = box_.least, most = box_.most;
        if (std::abs(least.x_mm + most.x_mm) > plan::same_point_mm && least.x_mm < 0.0 && most.x_mm > 0.0)
            view.dimensions.push_back(
                {Beside::below, {least.x_mm, least.y_mm}, {0.0, least.y_mm}, sizes_.text(-least.x_mm)});
        if (std::abs(least.y_mm + most.y_mm) > plan::same_point_mm && least.y_mm < 0.0 && most.y_mm > 0.0)
            view.dimensions.push_back(
                {Beside::left, {least.x_mm, least.y_mm}, {least.x_mm, 0.0}, sizes_.text(-least.y_mm)});
    }

    void add_circles(SheetView& view) const {
        for (const plan::Pattern& pattern : plan_.patterns) {
            const auto circle = bolt_circle(plan_, pattern);
            if (!circle) continue;
            const double turn = free_turn(pattern, *circle);
            const Point at{circle->centre.x_mm + circle->radius_mm * std::cos(turn),
                           circle->centre.y_mm + circle->radius_mm * std::sin(turn)};
            view.leaders.push_back({at, -turn, sign::diameter + sizes_.text(2.0 * circle->radius_mm)});
        }
    }

    /// Half way between two neighbours on the circle, near the upper right.
    double free_turn(const plan::Pattern& pattern, const plan::Circle& circle) const {
        std::vector<double> turns;
        for (const std::size_t h : pattern.holes) {
            const Point at = plan_.holes[h].at_mm;
            turns.push_back(std::atan2(at.y_mm - circle.centre.y_mm, at.x_mm - circle.centre.x_mm));
        }
        std::sort(turns.begin(), turns.end());
        double best = 1.0, least = 1e300;
        for (std::size_t i = 0; i < turns.size(); ++i) {
            const double next = i + 1 < turns.size() ? turns[i + 1] : turns[0] + 2.0 * std::numbers::pi;
            const double middle = (turns[i] + next) / 2.0;
            const double off = std::abs(std::remainder(middle - 0.9, 2.0 * std::numbers::pi));
            if (off < least) {
                least = off;
                best = middle;
            }
        }
        return best;
    }

    void add_tables(SheetContent& content) const {
        const SheetLayout layout = sheet_layout(sheet_.size);
        content.tables.push_back(hole_kinds_table(plan_, groups_));
        if (auto table = feature_table(plan_, sizes_)) content.tables.push_back(std::move(*table));
        content.tables.push_back(
            notes_table(plan_, notes(), layout.table_text_mm * 32.0, layout.table_text_mm));
        if (auto table = outline_table(plan_, sizes_)) content.tables.push_back(std::move(*table));
        content.tables.push_back(hole_places_table(plan_, groups_, sizes_));
    }

    std::vector<std::string> notes() const {
        std::vector<std::string> notes{
            "Threads 6H or 2B are not modelled: the STEP file has them at tap drill size.",
            "Datum A is face A, datum C the axis of the bore. All frames hold in one setting."};
        if (plan_.body.edge_break_mm && !plan_.body.edge_break_modelled)
            notes.push_back("Broken edges are not in the STEP file.");
        return notes;
    }

    const plan::Plan& plan_;
    const plan::DrawingSheet& sheet_;
    const DrawingFacts& facts_;
    SheetSizes sizes_;
    std::vector<HoleGroup> groups_;
    plan::Box2 box_;
};

}  // namespace

SheetContent plate_content(const plan::Plan& plan, const plan::DrawingSheet& sheet,
                           const DrawingFacts& facts) {
    return PlateContent(plan, sheet, facts).content();
}

}  // namespace fitup::sheets
