#include "sheets/plate_drawing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "plan/seen_from.hpp"
#include "plan/stroke.hpp"
#include "plan/vector.hpp"
#include "sheets/contour_words.hpp"
#include "sheets/cut_signs.hpp"
#include "sheets/feature_table.hpp"
#include "sheets/hole_table.hpp"
#include "sheets/plan_view.hpp"
#include "sheets/section_view.hpp"
#include "sheets/signs.hpp"
#include "sheets/title_facts.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;
using plan::Side;

/// None of the sides', the datums' or the holes'.
constexpr const char* section_letter = "S";
/// Of laying a section where it is not seen from.
constexpr double unlike_cut_cost = 0.4;

class PlateContent {
  public:
    PlateContent(const plan::Plan& plan, const plan::DrawingSheet& sheet, const DrawingFacts& facts)
        : plan_(plan),
          sheet_(sheet),
          facts_(facts),
          sizes_(plan.units, sheet.both_units),
          groups_(hole_groups(plan, facts.findings, sizes_)),
          box_(plan.body.outline.box()),
          cut_(chosen_cut(plan)) {}

    SheetContent content(bool is_column) {
        SheetContent content;
        content.units = plan_.units;
        content.is_column = is_column;
        content.block = title_block(plan_, sheet_, facts_);
        content.views.push_back(side(Side::B));
        SheetView cut = section();
        if (!is_column) turn(cut);
        // Third angle: seen from below (or from the right) it lies there; first angle: on the other side.
        const bool is_third = sheet_.projection == plan::Projection::third;
        content.views.insert(is_third ? content.views.end() : content.views.begin(), std::move(cut));
        if (needs_side_a()) content.views.push_back(side(Side::A));
        add_tables(content);
        if (is_column != runs_across()) content.cost = unlike_cut_cost;
        return content;
    }

  private:
    /// Whether side A shows more than the holes that come through.
    bool needs_side_a() const {
        return std::any_of(
                   plan_.raised.begin(), plan_.raised.end(),
                   [](const plan::Raised& ring) { return ring.side == Side::A && !is_turned(ring); }) ||
               std::any_of(
                   plan_.pockets.begin(), plan_.pockets.end(),
                   [](const plan::Pocket& pocket) { return pocket.side == Side::A && !is_turned(pocket); }) ||
               std::any_of(plan_.holes.begin(), plan_.holes.end(), [](const plan::Hole& hole) {
                   return (hole.from == Side::A && !hole.through) ||
                          (hole.recess && hole.recess->side == Side::A) ||
                          (hole.countersink && hole.countersink->side == Side::A);
               });
    }

    /// Round about the bore's axis: the section says all of it.
    static bool is_turned(const plan::Contour& contour) {
        return contour.circle() != nullptr && is_central(contour.circle()->centre);
    }
    static bool is_turned(const plan::Raised& ring) {
        return is_turned(ring.outer) && std::all_of(ring.inner.begin(), ring.inner.end(),
                                                    [](const plan::Contour& one) { return is_turned(one); });
    }
    static bool is_turned(const plan::Pocket& pocket) {
        return pocket.areas.size() == 1 && pocket.areas[0].islands.empty() &&
               is_turned(pocket.areas[0].outer);
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
        add_pocket_names(view, side);
        if (side == Side::B) {
            add_over_all(view);
            add_circles(view);
            add_cut(view);
        }
        return view;
    }

    /// Which is which of the table of faces: what is not round about the axis has its name beside it.
    void add_pocket_names(SheetView& view, Side side) const {
        for (const plan::Pocket& pocket : plan_.pockets) {
            if (pocket.side != side || pocket.kind == plan::PocketKind::mark || is_turned(pocket) ||
                pocket.areas.empty())
                continue;
            const auto strokes = plan::strokes_of(pocket.areas[0].outer);
            const Point at = plan::point_at(strokes[0], 0.12);
            const Point seen = plan::seen_from(side, at);
            view.leaders.push_back({seen, std::atan2(-seen.y_mm, seen.x_mm), pocket.id});
        }
    }

    void add_cut(SheetView& view) const {
        const double text_mm = sheet_layout(sheet_.size).text_mm;
        view.signs = [cut = cut_, text_mm](Drawing& drawing, const Placing& placing) {
            add_cut_signs(drawing, cut, section_letter, placing, text_mm);
        };
        view.signs_room_mm = cut_signs_room_mm(text_mm);
    }

    /// Whether the cut runs rather along X.
    bool runs_across() const {
        const Point run = cut_.pieces.back().to - cut_.pieces.front().from;
        return std::abs(run.x_mm) >= std::abs(run.y_mm);
    }

    SheetView section() const {
        SheetView view;
        view.caption = std::string("SECTION ") + section_letter + "-" + section_letter;
        view.box.least = {cut_.pieces.front().from_mm, 0.0};
        view.box.most = {cut_.pieces.back().to_mm(), plan_.body.thickness_mm};
        for (const plan::Raised& ring : plan_.raised) {
            if (ring.side == Side::A)
                view.box.least.y_mm = std::min(view.box.least.y_mm, -ring.height_mm);
            else
                view.box.most.y_mm = std::max(view.box.most.y_mm, plan_.body.thickness_mm + ring.height_mm);
        }
        view.view = [&plan = plan_, cut = cut_](double overshoot_mm) {
            SectionOptions options;
            options.overshoot_mm = overshoot_mm;
            return section_view(plan, cut, options);
        };
        add_heights(view);
        add_diameters(view);
        return view;
    }

    void add_heights(SheetView& view) const {
        const double end_mm = view.box.most.x_mm, t_mm = plan_.body.thickness_mm;
        view.dimensions.push_back(
            {Beside::right, {end_mm, 0.0}, {end_mm, t_mm}, sizes_.text(t_mm), "", "", face_datum});
        for (const plan::Raised& ring : plan_.raised) {
            const plan::Box2 box = ring.outer.box();
            const double face_mm = ring.side == Side::A ? 0.0 : t_mm;
            const double top_mm = ring.side == Side::A ? -ring.height_mm : t_mm + ring.height_mm;
            const double at_mm = std::abs(box.least.x_mm + box.most.x_mm) < plan::same_point_mm
                                     ? std::min((box.most.x_mm - box.least.x_mm) / 2.0, end_mm)
                                     : end_mm;
            if (std::any_of(view.dimensions.begin(), view.dimensions.end(), [&](const Dimension& one) {
                    return std::abs(one.from.y_mm - top_mm) < plan::same_point_mm;
                }))
                continue;
            view.dimensions.push_back(
                {Beside::right, {at_mm, top_mm}, {end_mm, face_mm}, sizes_.text(ring.height_mm)});
        }
    }

    /// A diameter about the bore's axis, in the section; side B's above, side A's below.
    void add_diameter(SheetView& view, Side side, double diameter_mm, double level_mm,
                      Dimension words) const {
        words.beside = side == Side::B ? Beside::above : Beside::below;
        words.from = {-diameter_mm / 2.0, level_mm};
        words.to = {diameter_mm / 2.0, level_mm};
        view.dimensions.push_back(std::move(words));
    }

    std::string diameter_words(double diameter_mm, const std::optional<plan::Fit>& fit) const {
        return sign::diameter + sizes_.text(diameter_mm) + (fit ? " " + fit->tolerance_class : "");
    }

    void add_diameters(SheetView& view) const {
        const double t_mm = plan_.body.thickness_mm;
        for (const plan::Hole& hole : plan_.holes) {
            if (hole.kind != plan::HoleKind::bore || !is_central(hole.at_mm)) continue;
            Dimension words{{},
                            {},
                            {},
                            diameter_words(hole.diameter_mm, hole.fit),
                            hole.fit ? sizes_.limits(*hole.fit) : ""};
            words.axis_datum = bore_datum;
            add_diameter(view, Side::B, hole.diameter_mm, t_mm, words);
        }
        for (const plan::Register& reg : plan_.registers) add_register(view, reg);
        for (const plan::Raised& ring : plan_.raised) add_ring(view, ring);
        const auto shape = known_shape(plan_.body.outline);
        if (shape && shape->kind == KnownShape::Kind::circle && is_central(shape->centre))
            add_diameter(view, Side::A, shape->length_mm, 0.0,
                         {{}, {}, {}, diameter_words(shape->length_mm, std::nullopt)});
    }

    static bool is_central(Point at) { return std::hypot(at.x_mm, at.y_mm) < plan::same_point_mm; }

    void add_register(SheetView& view, const plan::Register& reg) const {
        const double t_mm = plan_.body.thickness_mm;
        Dimension words{
            {}, {}, {}, diameter_words(reg.diameter_mm, reg.fit), reg.fit ? sizes_.limits(*reg.fit) : ""};
        if (!reg.is_spigot) words.text += std::string(" ") + sign::depth + sizes_.text(reg.length_mm);
        const double out_mm = reg.is_spigot ? reg.length_mm : 0.0;
        add_diameter(view, reg.side, reg.diameter_mm, reg.side == Side::B ? t_mm + out_mm : -out_mm, words);
    }

    /// The round edges of a ring that no register has.
    void add_ring(SheetView& view, const plan::Raised& ring) const {
        const double level_mm =
            ring.side == Side::B ? plan_.body.thickness_mm + ring.height_mm : -ring.height_mm;
        std::vector<const plan::Contour*> edges;
        if (!ring.id.starts_with("register")) edges.push_back(&ring.outer);
        for (const plan::Contour& inner : ring.inner) edges.push_back(&inner);
        for (const plan::Contour* edge : edges) {
            const plan::Circle* circle = edge->circle();
            if (circle == nullptr || !is_central(circle->centre)) continue;
            const std::string text = diameter_words(2.0 * circle->radius_mm, std::nullopt);
            if (std::any_of(view.dimensions.begin(), view.dimensions.end(),
                            [&](const Dimension& one) { return one.text == text; }))
                continue;
            add_diameter(view, ring.side, 2.0 * circle->radius_mm, level_mm, {{}, {}, {}, text});
        }
    }

    /// What was to the right is then above; so are its dimensions.
    static void turn(SheetView& view) {
        const plan::Box2 box = view.box;
        view.box = {{-box.most.y_mm, box.least.x_mm}, {-box.least.y_mm, box.most.x_mm}};
        view.view = [lying = view.view](double overshoot_mm) { return quarter_turned(lying(overshoot_mm)); };
        for (Dimension& one : view.dimensions) {
            one.from = quarter_turned(one.from);
            one.to = quarter_turned(one.to);
            one.beside = one.beside == Beside::above   ? Beside::left
                         : one.beside == Beside::below ? Beside::right
                         : one.beside == Beside::left  ? Beside::below
                                                       : Beside::above;
        }
    }

    void add_over_all(SheetView& view) const {
        const Point least = box_.least, most = box_.most;
        const auto shape = known_shape(plan_.body.outline);
        if (shape && shape->kind == KnownShape::Kind::circle && is_central(shape->centre)) return;
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
        std::vector<plan::Circle> done;
        for (const plan::Pattern& pattern : plan_.patterns) {
            const auto circle = bolt_circle(plan_, pattern);
            if (!circle || std::any_of(done.begin(), done.end(),
                                       [&](const plan::Circle& one) { return is_one_circle(one, *circle); }))
                continue;
            done.push_back(*circle);
            const double turn = free_turn(*circle);
            const Point at{circle->centre.x_mm + circle->radius_mm * std::cos(turn),
                           circle->centre.y_mm + circle->radius_mm * std::sin(turn)};
            view.leaders.push_back({at, -turn, sign::diameter + sizes_.text(2.0 * circle->radius_mm)});
        }
    }

    static bool is_one_circle(const plan::Circle& a, const plan::Circle& b) {
        return plan::distance_mm(a.centre, b.centre) < plan::same_point_mm &&
               std::abs(a.radius_mm - b.radius_mm) < plan::same_point_mm;
    }

    /// Half way between two neighbours on the circle, near the upper right.
    double free_turn(const plan::Circle& circle) const {
        std::vector<double> turns;
        for (const plan::Hole& hole : plan_.holes) {
            const Point out = hole.at_mm - circle.centre;
            if (std::abs(plan::length(out) - circle.radius_mm) < hole.diameter_mm)
                turns.push_back(std::atan2(out.y_mm, out.x_mm));
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
        content.tables.push_back(hole_kinds_table(plan_, groups_, sizes_));
        if (auto table = crank_arms_table(plan_, sizes_)) content.tables.push_back(std::move(*table));
        if (auto table = feature_table(plan_, sizes_)) content.tables.push_back(std::move(*table));
        content.tables.push_back(
            notes_table(plan_, notes(), layout.table_text_mm * 32.0, layout.table_text_mm));
        if (auto table = outline_table(plan_, sizes_)) content.tables.push_back(std::move(*table));
        content.tables.push_back(hole_places_table(plan_, groups_, sizes_));
    }

    std::vector<std::string> notes() const {
        std::vector<std::string> notes;
        if (has_plain_threads())
            notes.push_back(
                "Threads are to be cut as called out; the STEP file has their holes at tap drill size.");
        notes.push_back("Datum A is face A, datum C the axis of the bore. All frames hold in one setting.");
        if (std::any_of(plan_.holes.begin(), plan_.holes.end(),
                        [](const plan::Hole& hole) { return hole.thread.has_value(); }))
            notes.push_back("The zones of tapped holes reach on through the part that is screwed on.");
        if (plan_.body.edge_break_mm && !plan_.body.edge_break_modelled)
            notes.push_back("Broken edges are not in the STEP file.");
        return notes;
    }

    bool has_plain_threads() const {
        return std::any_of(plan_.holes.begin(), plan_.holes.end(),
                           [](const plan::Hole& hole) { return hole.thread && !hole.thread->modelled; });
    }

    const plan::Plan& plan_;
    const plan::DrawingSheet& sheet_;
    const DrawingFacts& facts_;
    SheetSizes sizes_;
    std::vector<HoleGroup> groups_;
    plan::Box2 box_;
    CuttingLine cut_;
};

}  // namespace

std::vector<SheetContent> plate_content(const plan::Plan& plan, const plan::DrawingSheet& sheet,
                                        const DrawingFacts& facts) {
    PlateContent content(plan, sheet, facts);
    return {content.content(false), content.content(true)};
}

}  // namespace fitup::sheets
