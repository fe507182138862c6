#include "base/text.hpp"
#include "plan/rod_path.hpp"
#include "sheets/arm_drawing.hpp"
#include "sheets/callout.hpp"
#include "sheets/keyed_sheet.hpp"
#include "sheets/rod_views.hpp"
#include "sheets/signs.hpp"
#include "sheets/title_facts.hpp"

namespace fitup::sheets {

namespace {

class RodContent {
  public:
    RodContent(const plan::Plan& plan, const plan::DrawingSheet& sheet, const DrawingFacts& facts)
        : plan_(plan), sheet_(sheet), sizes_(plan.units, sheet.both_units), path_(plan::rod_path(*plan.rod)) {
        content_.units = plan.units;
        content_.is_column = true;
        content_.block = title_block(plan, sheet, facts);
    }

    SheetContent content() {
        add_views();
        const SheetLayout layout = sheet_layout(sheet_.size);
        content_.tables.push_back(ends_table());
        if (!path_.bends.empty()) content_.tables.push_back(bends_table());
        content_.tables.push_back(
            notes_table(plan_, notes(), layout.table_text_mm * 32.0, layout.table_text_mm));
        return std::move(content_);
    }

  private:
    static RodViews views_of(const plan::Plan& plan, double overshoot_mm) {
        RodViewOptions options;
        options.overshoot_mm = overshoot_mm;
        return rod_views(plan, options);
    }

    /// In third angle the view from above lies over the front, in first angle under it.
    void add_views() {
        const RodViews all = views_of(plan_, 0.0);
        for (std::size_t v = 0; v < all.views.size(); ++v) {
            const std::string name = all.views[v].view.name;
            SheetView one = view(upper_case(name), [&plan = plan_, v](double out_mm) {
                return views_of(plan, out_mm).views[v];
            });
            const bool goes_first = name == "top" && sheet_.projection == plan::Projection::third;
            content_.views.insert(goes_first ? content_.views.begin() : content_.views.end(), std::move(one));
        }
        if (!all.stock) return;
        content_.views.push_back(view("STRAIGHT BAR BEFORE BENDING", [&plan = plan_](double out_mm) {
            return *views_of(plan, out_mm).stock;
        }));
        content_.views.back().group = 1;
        for (const ViewMark& mark : all.stock->view.marks) content_.views.back().marks[mark.id] = mark.id;
    }

    static std::string upper_case(std::string words) {
        for (char& c : words) c = c >= 'a' && c <= 'z' ? char(c - 'a' + 'A') : c;
        return words;
    }

    SheetView view(const std::string& caption, std::function<KeyedView(double)> make) const {
        return keyed_sheet_view(caption, std::move(make), sizes_, sheet_layout(sheet_.size).text_mm,
                                [this](const KeyLength& key) { return words(key); });
    }

    /// What shows true; the rest is in the tables.
    std::string words(const KeyLength& key) const {
        const bool is_in_table = key.name.starts_with("middle") || key.name.starts_with("straight") ||
                                 key.name.find("(true)") != std::string::npos;
        return is_in_table ? "" : key_text(key, sizes_);
    }

    DrawnTable ends_table() const {
        DrawnTable table;
        table.title = "ENDS";
        table.columns = {{"end", Anchor::middle}, {"what"}, {"length", Anchor::right}};
        for (std::size_t e = 0; e < 2; ++e) {
            const plan::RodEnd& end = plan_.rod->ends[e];
            std::vector<std::string> what{end.thread
                                              ? external_thread_callout(*end.thread)
                                              : std::string(sign::diameter) + sizes_.text(end.diameter_mm)};
            if (end.chamfer_mm > 0.0)
                what.push_back("chamfer " + sizes_.text(end.chamfer_mm) + " " + sign::times + " 45" +
                               sign::degree);
            if (const auto& fitting = plan_.rod->fittings[e]) what.push_back("takes " + fitting->name);
            table.rows.push_back({{{std::to_string(e + 1)}},
                                  {std::move(what)},
                                  {{end.length_mm > 0.0 ? sizes_.text(end.length_mm) : "-"}}});
        }
        table.foot = {std::string("Bar ") + sign::diameter + sizes_.text(plan_.rod->diameter_mm) +
                      ", cut to " + sizes_.place(path_.length_mm) + "; lengths of thread are full form."};
        return table;
    }

    DrawnTable bends_table() const {
        DrawnTable table;
        table.title = "BENDS";
        table.columns = {{"bend", Anchor::middle},          {"mark", Anchor::right},
                         {"middle", Anchor::right},         {"angle", Anchor::right},
                         {"turned", Anchor::right},         {"radius", Anchor::right},
                         {"straight before", Anchor::right}};
        for (std::size_t b = 0; b < path_.bends.size(); ++b) {
            const plan::RodBend& bend = path_.bends[b];
            table.rows.push_back({{{std::to_string(b + 1)}},
                                  {{sizes_.place(bend.mark_mm)}},
                                  {{sizes_.place(bend.middle_mm)}},
                                  {{fixed_text(bend.angle.degrees(), 2) + sign::degree}},
                                  {{fixed_text(bend.turn.degrees(), 2) + sign::degree}},
                                  {{sizes_.text(bend.radius_mm)}},
                                  {{sizes_.place(path_.straights[b].length_mm)}}});
        }
        table.foot = {"Marks from the first end of the straight bar: where a bend's arc starts.",
                      "Radius to the centreline; turned about the bar since the bend before."};
        return table;
    }

    std::vector<std::string> notes() const {
        std::vector<std::string> notes;
        if (!path_.bends.empty()) notes.push_back("Bends spring back: try one on a piece of the same bar.");
        notes.push_back("Bent after threading or before as the shop prefers.");
        return notes;
    }

    const plan::Plan& plan_;
    const plan::DrawingSheet& sheet_;
    SheetSizes sizes_;
    plan::RodPath path_;
    SheetContent content_;
};

}  // namespace

std::vector<SheetContent> rod_content(const plan::Plan& plan, const plan::DrawingSheet& sheet,
                                      const DrawingFacts& facts) {
    return {RodContent(plan, sheet, facts).content()};
}

}  // namespace fitup::sheets
