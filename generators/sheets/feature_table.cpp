#include "sheets/feature_table.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "plan/stroke.hpp"
#include "sheets/contour_words.hpp"
#include "sheets/signs.hpp"

namespace fitup::sheets {

namespace {

class FeatureRows {
  public:
    FeatureRows(const plan::Plan& plan, const SheetSizes& sizes) : plan_(plan), sizes_(sizes) {}

    std::vector<std::vector<TableCell>> rows() {
        for (const plan::Raised& ring : plan_.raised) add_ring(ring);
        for (const plan::Pocket& pocket : plan_.pockets) add_pocket(pocket);
        return std::move(rows_);
    }

  private:
    void add(const std::string& id, plan::Side side, std::vector<std::string> shape,
             const std::string& depth) {
        rows_.push_back({{{id}}, {{plan::to_text(side)}}, {std::move(shape)}, {{depth}}});
    }

    /// Nothing at zero, where most shapes are.
    std::string at_words(plan::Point at) const {
        if (std::hypot(at.x_mm, at.y_mm) < plan::same_point_mm) return "";
        return " about X " + sizes_.place(at.x_mm) + ", Y " + sizes_.place(at.y_mm);
    }

    std::vector<std::string> shape_lines(const plan::Contour& contour) const {
        std::vector<std::string> lines{shape_words(contour, sizes_)};
        if (const std::string at = at_words(shape_centre(contour)); !at.empty())
            lines.push_back(at.substr(1));
        return lines;
    }

    const plan::Register* register_of(plan::Side side, const std::string& id) const {
        if (!id.starts_with("register")) return nullptr;
        const auto found = std::find_if(plan_.registers.begin(), plan_.registers.end(),
                                        [side](const plan::Register& r) { return r.side == side; });
        return found == plan_.registers.end() ? nullptr : &*found;
    }

    void add_fit(std::vector<std::string>& lines, const plan::Register* reg) const {
        if (reg != nullptr && reg->fit)
            lines.push_back(reg->fit->tolerance_class + ": " + sizes_.limits(*reg->fit));
        if (reg != nullptr && reg->mates_with_mm)
            lines.push_back(std::string("mates with ") + sign::diameter + sizes_.text(*reg->mates_with_mm));
    }

    void add_ring(const plan::Raised& ring) {
        std::vector<std::string> lines = shape_lines(ring.outer);
        for (const plan::Contour& inner : ring.inner)
            lines.push_back("round " + shape_words(inner, sizes_) + at_words(shape_centre(inner)));
        add_fit(lines, register_of(ring.side, ring.id));
        add(ring.id, ring.side, std::move(lines), sizes_.text(ring.height_mm) + " high");
    }

    void add_pocket(const plan::Pocket& pocket) {
        std::vector<std::string> lines;
        if (pocket.kind == plan::PocketKind::mark) {
            lines = {"engraving"};
        } else if (pocket.kind == plan::PocketKind::hollow && plan_.hollow) {
            lines = {"hollow, rim " + sizes_.text(plan_.hollow->rim_mm),
                     sizes_.text(plan_.hollow->around_holes_mm) + " round holes"};
        } else {
            for (const plan::Area& area : pocket.areas) {
                for (std::string& line : shape_lines(area.outer)) lines.push_back(std::move(line));
            }
        }
        if (pocket.corner_radius_mm && pocket.kind != plan::PocketKind::mark && !says_corner(pocket))
            lines.push_back("inside corners R" + sizes_.text(*pocket.corner_radius_mm) + " or more");
        add_fit(lines, register_of(pocket.side, pocket.id));
        add(pocket.id, pocket.side, std::move(lines),
            pocket.through ? "THRU" : sign::depth + sizes_.text(pocket.depth_mm));
    }

    /// Whether the shape's own words have the corner already.
    static bool says_corner(const plan::Pocket& pocket) {
        return pocket.kind != plan::PocketKind::hollow && pocket.areas.size() == 1 &&
               pocket.areas[0].islands.empty() && known_shape(pocket.areas[0].outer).has_value();
    }

    const plan::Plan& plan_;
    const SheetSizes& sizes_;
    std::vector<std::vector<TableCell>> rows_;
};

}  // namespace

std::optional<DrawnTable> feature_table(const plan::Plan& plan, const SheetSizes& sizes) {
    DrawnTable table;
    table.title = "FACES: MILLED AND RAISED";
    table.columns = {{"what"}, {"side", Anchor::middle}, {"shape and place"}, {"depth"}};
    table.rows = FeatureRows(plan, sizes).rows();
    if (table.rows.empty()) return std::nullopt;
    return table;
}

std::optional<DrawnTable> crank_arms_table(const plan::Plan& plan, const SheetSizes& sizes) {
    if (!plan.crank) return std::nullopt;
    DrawnTable table;
    table.title = "ARMS";
    table.columns = {{"arm"}, {"length", Anchor::right}, {"angle", Anchor::right}, {"eye"}};
    for (const plan::CrankArm& arm : plan.crank->arms) {
        table.rows.push_back({{{arm.name}},
                              {{sizes.text(arm.length_mm)}},
                              {{short_text(arm.angle.degrees(), 3) + sign::degree}},
                              {{sign::diameter + sizes.text(arm.eye_diameter_mm) + ", " +
                                sizes.text(arm.eye_height_mm) + " high"}}});
    }
    table.foot = {"From the bore's axis; angle from +X, anticlockwise on side B."};
    return table;
}

std::optional<DrawnTable> outline_table(const plan::Plan& plan, const SheetSizes& sizes) {
    if (known_shape(plan.body.outline)) return std::nullopt;
    DrawnTable table;
    table.title = "OUTLINE";
    table.columns = {{"corner", Anchor::middle}, {"X", Anchor::right}, {"Y", Anchor::right}, {"R"}};
    const auto strokes = plan.body.outline.strokes();
    const auto add = [&](plan::Point at, const std::string& radius) {
        table.rows.push_back({{{std::to_string(table.rows.size() + 1)}},
                              {{sizes.place(at.x_mm)}},
                              {{sizes.place(at.y_mm)}},
                              {{radius}}});
    };
    for (std::size_t i = 0; i < strokes.size(); ++i) {
        const plan::Stroke& stroke = strokes[i];
        const plan::Stroke& before = strokes[(i + strokes.size() - 1) % strokes.size()];
        const plan::Point ahead = plan::direction_at(stroke, 0.0), behind = plan::direction_at(before, 1.0);
        const bool is_smooth = std::abs(ahead.x_mm * behind.y_mm - ahead.y_mm * behind.x_mm) < 1e-7;
        if (!is_smooth) add(stroke.from, "sharp");
        if (!stroke.is_line())
            add(stroke.centre, sizes.text(stroke.radius_mm) + (stroke.sweep_rad < 0.0 ? " hollow" : ""));
    }
    table.foot = {"Centres of the arcs, anticlockwise on side B;",
                  "straight between them, tangent where round."};
    return table;
}

}  // namespace fitup::sheets
