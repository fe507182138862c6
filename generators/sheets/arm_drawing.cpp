#include "sheets/arm_drawing.hpp"

#include "base/text.hpp"
#include "plan/joggle.hpp"
#include "sheets/arm_views.hpp"
#include "sheets/feature_table.hpp"
#include "sheets/hole_table.hpp"
#include "sheets/keyed_sheet.hpp"
#include "sheets/signs.hpp"
#include "sheets/title_facts.hpp"

namespace fitup::sheets {

namespace {

class ArmContent {
  public:
    ArmContent(const plan::Plan& plan, const plan::DrawingSheet& sheet, const DrawingFacts& facts)
        : plan_(plan),
          sheet_(sheet),
          sizes_(plan.units, sheet.both_units),
          groups_(hole_groups(plan, facts.findings, sizes_)) {
        content_.units = plan.units;
        content_.is_column = true;
        content_.block = title_block(plan, sheet, facts);
    }

    SheetContent content() {
        add_views();
        const SheetLayout layout = sheet_layout(sheet_.size);
        content_.tables.push_back(hole_kinds_table(plan_, groups_, sizes_));
        if (plan_.body.joggle) content_.tables.push_back(bends_table(*plan_.body.joggle));
        content_.tables.push_back(
            notes_table(plan_, notes(), layout.table_text_mm * 32.0, layout.table_text_mm));
        content_.tables.push_back(hole_places_table(plan_, groups_, sizes_));
        if (auto table = feature_table(plan_, sizes_)) content_.tables.push_back(std::move(*table));
        return std::move(content_);
    }

  private:
    /// Seen along +Y, the side lies under the view from above in third angle, over it in first.
    void add_views() {
        SheetView top =
            view("FROM ABOVE", [&plan = plan_](double out_mm) { return arm_views(plan, out_mm).top; });
        for (const HoleGroup& group : groups_) {
            for (std::size_t i = 0; i < group.holes.size(); ++i)
                top.marks[plan_.holes[group.holes[i]].id] = hole_mark(group, i);
        }
        SheetView side =
            view("FROM THE SIDE", [&plan = plan_](double out_mm) { return arm_views(plan, out_mm).side; });
        const bool is_third = sheet_.projection == plan::Projection::third;
        content_.views.push_back(is_third ? std::move(top) : std::move(side));
        content_.views.push_back(is_third ? std::move(side) : std::move(top));
        if (!plan_.body.joggle || !arm_views(plan_).flat) return;
        content_.views.push_back(
            view("FLAT BLANK", [&plan = plan_](double out_mm) { return *arm_views(plan, out_mm).flat; }));
        content_.views.back().group = 1;
    }

    SheetView view(const std::string& caption, std::function<KeyedView(double)> make) const {
        return keyed_sheet_view(caption, std::move(make), sizes_, sheet_layout(sheet_.size).text_mm,
                                [this](const KeyLength& key) { return words(key); });
    }

    /// Places of marks and the bore's own size are in the tables.
    std::string words(const KeyLength& key) const {
        if (key.name.starts_with("allowance") || key.name == "mark from axis" || key.name == "pinch bolt")
            return "";
        return key_text(key, sizes_);
    }

    DrawnTable bends_table(const plan::Joggle& joggle) const {
        DrawnTable table;
        table.title = "BENDS";
        table.columns = {{"what"}, {"size", Anchor::right}};
        const auto add = [&](const std::string& what, const std::string& size) {
            table.rows.push_back({{{what}}, {{size}}});
        };
        add("rise", sizes_.text(joggle.rise_mm));
        add("inside radius, both bends", sizes_.text(joggle.inside_radius_mm));
        if (const auto shape = plan::joggle_shape(joggle, plan_.body.thickness_mm)) {
            add("angle of each, opposite ways", short_text(shape->bend.degrees(), 2) + sign::degree);
            add("bend allowance of each", sizes_.text(shape->allowance_mm));
            add("straight between them", sizes_.text(shape->straight_mm));
        }
        add("K factor", short_text(joggle.k_factor, 3));
        table.foot = {"The blank is right for this K factor alone: bend a strip of the stock first."};
        return table;
    }

    std::vector<std::string> notes() const {
        std::vector<std::string> notes{"Datum C is the axis of the pivot's bore."};
        if (plan_.body.joggle) notes.push_back("Bend across the rolling direction where it can be chosen.");
        if (plan_.arm->boss_diameter_mm > 0.0)
            notes.push_back("The boss is one piece with the strip; if it is welded on, bore it afterwards.");
        if (plan_.arm->clamp) notes.push_back("Cut the slit after boring and tapping.");
        return notes;
    }

    const plan::Plan& plan_;
    const plan::DrawingSheet& sheet_;
    SheetSizes sizes_;
    std::vector<HoleGroup> groups_;
    SheetContent content_;
};

}  // namespace

std::vector<SheetContent> arm_content(const plan::Plan& plan, const plan::DrawingSheet& sheet,
                                      const DrawingFacts& facts) {
    return {ArmContent(plan, sheet, facts).content()};
}

}  // namespace fitup::sheets
