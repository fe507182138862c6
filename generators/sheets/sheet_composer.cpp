#include "sheets/sheet_composer.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "sheets/sheet_scale.hpp"
#include "sheets/table_flow.hpp"

namespace fitup::sheets {

namespace {

/// Off the frame, between views, for a caption, and for words beside a view's outline.
constexpr double edge_mm = 6.0, between_mm = 9.0, caption_room_mm = 7.0, beside_mm = 5.0;
constexpr double overshoot_mm = 2.5;
/// Scales below the largest that fits.
constexpr int most_tried = 3;
constexpr Pen thin{narrow_mm, Dash::solid, 0.0};

/// A view at a scale: its room on the page from its zero.
struct Sized {
    const SheetView* view = nullptr;
    DimensionRows rows;
    double left = 0.0, up = 0.0, right = 0.0, down = 0.0;
    double width_mm() const { return left + right; }
    double height_mm() const { return up + down; }
};

Sized sized(const SheetView& view, double scale, double text_mm) {
    Sized one{&view, DimensionRows(view.box, scale, text_mm, view.signs_room_mm, view.dimensions)};
    const auto& room = one.rows.room_mm();
    const double least_mm = std::max(beside_mm, view.signs_room_mm);
    const double caption_mm = std::max(0.0, text_width_mm(view.caption, text_mm * 1.1) -
                                                scale * (view.box.most.x_mm - view.box.least.x_mm)) /
                              2.0;
    const auto side = [&](double by_mm) { return std::max({by_mm, least_mm, 0.0}); };
    one.left = -scale * view.box.least.x_mm + std::max(side(room[0]), caption_mm);
    one.right = scale * view.box.most.x_mm + std::max(side(room[2]), caption_mm);
    one.up = scale * view.box.most.y_mm + side(room[1]) + caption_room_mm;
    one.down = -scale * view.box.least.y_mm + side(room[3]);
    return one;
}

/// Views in a row with their zeros level, or in a column with their zeros in line.
struct Block {
    std::vector<Sized> views;
    double width_mm = 0.0, height_mm = 0.0, up_mm = 0.0, left_mm = 0.0;
};

Block block_of(const SheetContent& content, const std::vector<std::size_t>& which, double scale,
               double text_mm) {
    Block block;
    double down_mm = 0.0, right_mm = 0.0;
    for (const std::size_t v : which) {
        block.views.push_back(sized(content.views[v], scale, text_mm));
        const Sized& one = block.views.back();
        block.up_mm = std::max(block.up_mm, one.up);
        block.left_mm = std::max(block.left_mm, one.left);
        down_mm = std::max(down_mm, one.down);
        right_mm = std::max(right_mm, one.right);
        block.width_mm += one.width_mm() + between_mm;
        block.height_mm += one.height_mm() + between_mm;
    }
    if (content.is_column)
        block.width_mm = block.left_mm + right_mm, block.height_mm -= between_mm;
    else
        block.height_mm = block.up_mm + down_mm, block.width_mm -= between_mm;
    return block;
}

/// One way to lay everything out.
struct Layout {
    Scale scale;
    std::vector<Block> blocks;   ///< of each sheet that has views
    std::vector<PageBox> areas;  ///< where each goes
    Flow flow;
    double cost = 0.0;
};

class Composer {
  public:
    Composer(const SheetContent& content, const plan::DrawingSheet& sheet)
        : content_(content), layout_(sheet_layout(sheet.size)) {}

    /// How bad the best layout is; nothing where nothing fits.
    std::optional<double> choose() {
        for (const auto& split : splits()) {
            int tried = 0;
            for (const Scale& scale : scales(content_.units)) {
                if (consider(split, scale) && ++tried == most_tried) break;
            }
        }
        if (!best_) return std::nullopt;
        return best_->cost + content_.cost;
    }

    std::vector<Drawing> draw() { return draw(*best_); }

  private:
    using Split = std::vector<std::vector<std::size_t>>;

    /// All views on one sheet, or each group on its own.
    std::vector<Split> splits() const {
        Split together(1), apart;
        int last = content_.views.empty() ? 0 : content_.views.front().group - 1;
        for (std::size_t v = 0; v < content_.views.size(); ++v) {
            together[0].push_back(v);
            if (content_.views[v].group != last) apart.emplace_back();
            last = content_.views[v].group;
            apart.back().push_back(v);
        }
        if (apart.size() < 2) return {together};
        return {together, apart};
    }

    PageBox above_title() const {
        return {layout_.inner[0] + edge_mm, layout_.inner[1] + edge_mm, layout_.inner[2] - edge_mm,
                layout_.title[1] - edge_mm};
    }
    PageBox beside_title() const {
        return {layout_.inner[0] + edge_mm, layout_.inner[1] + edge_mm, layout_.title[0] - edge_mm,
                layout_.inner[3] - edge_mm};
    }

    static bool fits(const Block& block, const PageBox& box) {
        return block.width_mm <= box[2] - box[0] && block.height_mm <= box[3] - box[1];
    }

    /// @returns whether the views go onto their sheets at this scale
    bool consider(const Split& split, const Scale& scale) {
        Layout layout;
        layout.scale = scale;
        std::vector<std::vector<PageBox>> room;
        for (const auto& which : split) {
            layout.blocks.push_back(block_of(content_, which, scale.factor, layout_.text_mm));
            const Block& block = layout.blocks.back();
            const bool is_above = fits(block, above_title());
            if (!is_above && !fits(block, beside_title())) return false;
            layout.areas.push_back(is_above ? above_title() : beside_title());
            room.push_back(room_left(block, is_above));
        }
        const std::vector<PageBox> empty{{layout_.title[0], layout_.inner[1] + edge_mm,
                                          layout_.inner[2] - edge_mm, layout_.title[1] - edge_mm},
                                         beside_title()};
        layout.flow =
            flow_tables(content_.tables, std::move(room), {empty[1], empty[0]}, layout_.table_text_mm);
        layout.cost = cost_of(layout);
        if (!best_ || layout.cost < best_->cost) best_ = std::move(layout);
        return true;
    }

    /// To the right of the views, and under them.
    std::vector<PageBox> room_left(const Block& block, bool is_above) const {
        const PageBox area = is_above ? above_title() : beside_title();
        const double right = area[0] + block.width_mm + between_mm,
                     bottom = area[1] + block.height_mm + edge_mm;
        const PageBox below{area[0], bottom, layout_.title[0] - edge_mm, layout_.inner[3] - edge_mm};
        const PageBox aside{is_above ? right : std::max(right, layout_.title[0]), area[1],
                            layout_.inner[2] - edge_mm, layout_.title[1] - edge_mm};
        const PageBox corner{layout_.title[0], bottom, std::min(right - between_mm, aside[2]), aside[3]};
        return {aside, below, corner};
    }

    /// More sheets, and views too small to read, are worse.
    double cost_of(const Layout& layout) const {
        double part_mm = 0.0, room_mm = layout_.inner[3] - layout_.inner[1];
        for (const SheetView& view : content_.views)
            part_mm = std::max({part_mm, view.box.most.x_mm - view.box.least.x_mm,
                                view.box.most.y_mm - view.box.least.y_mm});
        const double share = part_mm * layout.scale.factor / room_mm;
        return double(layout.flow.sheets) + 4.5 * std::pow(std::max(0.0, 0.62 - share) / 0.62, 2.0);
    }

    std::vector<Drawing> draw(const Layout& layout) {
        TitleBlock block = content_.block;
        block.scale = layout.scale.text;
        std::vector<Drawing> drawings;
        for (std::size_t s = 0; s < layout.flow.sheets; ++s) {
            drawings.push_back(empty_sheet(layout_, block, int(s) + 1, int(layout.flow.sheets)));
            placed_.clear();
            const double shift_mm = s < layout.blocks.size() ? draw_views(drawings.back(), layout, s) : 0.0;
            draw_tables(drawings.back(), layout, s, shift_mm);
            add_words(drawings.back());
        }
        return drawings;
    }

    /// What stands to the right of the views goes along with them, twice as far.
    void draw_tables(Drawing& drawing, const Layout& layout, std::size_t s, double shift_mm) const {
        for (const PlacedTable& one : layout.flow.placed) {
            if (one.sheet != s) continue;
            const bool is_aside =
                s < layout.blocks.size() && one.at[0] > layout.areas[s][0] + layout.blocks[s].width_mm;
            add_table(drawing, folded(content_.tables[one.table], one.parts), one.from, one.to,
                      {one.at[0] + (is_aside ? shift_mm * 2.0 : 0.0), one.at[1]}, one.text_mm);
        }
    }

    /// Views are moved into the middle of what tables leave. @returns how far to the right
    double draw_views(Drawing& drawing, const Layout& layout, std::size_t s) {
        const Block& block = layout.blocks[s];
        const PageBox& area = layout.areas[s];
        double right = area[2], bottom = area[3];
        bool has_aside = false;
        for (const PlacedTable& one : layout.flow.placed) {
            if (one.sheet != s) continue;
            const double table_right =
                one.at[0] + width_mm(folded(content_.tables[one.table], one.parts), one.text_mm);
            if (one.at[0] > area[0] + block.width_mm) {
                right = has_aside ? std::min(right, area[0] + block.width_mm + area[2] - table_right)
                                  : area[0] + block.width_mm + area[2] - table_right;
                has_aside = true;
            } else {
                bottom = std::min(bottom, one.at[1] - edge_mm);
            }
        }
        const double spare_x = std::max(0.0, right - area[0] - block.width_mm),
                     spare_y = std::max(0.0, bottom - area[1] - block.height_mm);
        const double shift_x = has_aside ? spare_x / 3.0 : spare_x / 2.0;
        draw_block(drawing, layout, block, {area[0] + shift_x, area[1] + std::min(spare_y / 2.0, 30.0)});
        return has_aside ? shift_x : 0.0;
    }

    /// A view on its sheet: words are added when everything else stands there.
    struct Placed {
        const SheetView* view = nullptr;
        std::vector<ViewMark> marks;
        Placing placing;
    };

    void draw_block(Drawing& drawing, const Layout& layout, const Block& block, Place corner) {
        double x = corner[0], y = corner[1];
        for (const Sized& one : block.views) {
            const Place zero = content_.is_column ? Place{corner[0] + block.left_mm, y + one.up}
                                                  : Place{x + one.left, corner[1] + block.up_mm};
            draw_view(drawing, one, {zero, layout.scale.factor});
            x += one.width_mm() + between_mm;
            y += one.height_mm() + between_mm;
        }
    }

    void draw_view(Drawing& drawing, const Sized& one, const Placing& placing) {
        View view = one.view->view(overshoot_mm / placing.scale);
        add_view(drawing, view, placing);
        placed_.push_back({one.view, std::move(view.marks), placing});
        one.rows.draw(drawing, placing);
        if (one.view->signs) one.view->signs(drawing, placing);
        const double middle =
            placing.zero[0] + placing.scale * (one.view->box.least.x_mm + one.view->box.most.x_mm) / 2.0;
        drawing.items.emplace_back(Text{{middle, placing.zero[1] - one.up + layout_.text_mm * 1.1},
                                        one.view->caption,
                                        layout_.text_mm * 1.1,
                                        Anchor::middle,
                                        0.0});
    }

    /// Marks beside holes, then words with leaders, where there is room within the frame.
    void add_words(Drawing& drawing) const {
        PageRoom room(drawing.width_mm, drawing.height_mm);
        room.take(drawing);
        const auto [left, top, right, bottom] = layout_.inner;
        room.take({0.0, 0.0, left + 1.0, drawing.height_mm});
        room.take({right - 1.0, 0.0, drawing.width_mm, drawing.height_mm});
        room.take({0.0, 0.0, drawing.width_mm, top + 1.0});
        room.take({0.0, bottom - 1.0, drawing.width_mm, drawing.height_mm});
        for (const Placed& one : placed_) {
            for (const ViewMark& mark : one.marks) {
                const auto words = one.view->marks.find(mark.id);
                if (words != one.view->marks.end() && mark.is_open)
                    add_mark(drawing, room, one.placing(mark.at), mark.radius_mm * one.placing.scale,
                             words->second);
            }
            for (const Leader& leader : one.view->leaders)
                add_leader(drawing, room, one.placing(leader.at), leader);
        }
    }

    void add_mark(Drawing& drawing, PageRoom& room, Place centre, double radius_mm,
                  const std::string& words) const {
        constexpr double near_mm = 0.9, furthest_mm = 45.0, joined_mm = 4.0;
        const auto text = room.beside(centre, words, layout_.table_text_mm, radius_mm + near_mm,
                                      radius_mm + furthest_mm, -std::numbers::pi / 4.0);
        if (!text) return;
        room.take(*text);
        drawing.items.emplace_back(*text);
        if (distance_mm(*text, centre) > radius_mm + joined_mm)
            add_line_to(drawing, *text, centre, radius_mm);
    }

    static Place middle_of(const Text& text) { return {text.at[0], text.at[1] - text.size_mm / 2.0}; }

    /// Of a point to the nearest place of an upright text's box.
    static double distance_mm(const Text& text, Place from) {
        const Place end = nearest(text, from);
        return std::hypot(end[0] - from[0], end[1] - from[1]);
    }

    static Place nearest(const Text& text, Place to) {
        const double half_mm = text_width_mm(text.text, text.size_mm) / 2.0 + 0.5;
        return {std::clamp(to[0], text.at[0] - half_mm, text.at[0] + half_mm),
                std::clamp(to[1], text.at[1] - text.size_mm - 0.5, text.at[1] + 0.6)};
    }

    void add_line_to(Drawing& drawing, const Text& text, Place centre, double radius_mm) const {
        const Place from = nearest(text, centre);
        const double length_mm = std::hypot(from[0] - centre[0], from[1] - centre[1]);
        const double share = radius_mm / length_mm;
        drawing.items.emplace_back(Line{
            {from, {centre[0] + share * (from[0] - centre[0]), centre[1] + share * (from[1] - centre[1])}},
            false,
            thin,
            std::nullopt});
    }

    void add_leader(Drawing& drawing, PageRoom& room, Place tip, const Leader& leader) const {
        constexpr double near_mm = 9.0, furthest_mm = 60.0;
        const auto text =
            room.beside(tip, leader.text, layout_.text_mm, near_mm, furthest_mm, leader.turn_rad);
        if (!text) return;
        room.take(*text);
        drawing.items.emplace_back(*text);
        // From the side of the words, half way up.
        const double half_mm = text_width_mm(text->text, text->size_mm) / 2.0 + 0.8;
        const Place middle = middle_of(*text);
        const Place from{middle[0] + (tip[0] < middle[0] ? -half_mm : half_mm), middle[1]};
        drawing.items.emplace_back(Line{{from, tip}, false, thin, std::nullopt});
        add_arrow(drawing, tip, std::atan2(tip[1] - from[1], tip[0] - from[0]));
    }

    const SheetContent& content_;
    SheetLayout layout_;
    std::optional<Layout> best_;
    std::vector<Placed> placed_;  ///< on the sheet at hand
};

}  // namespace

std::vector<Drawing> compose(const std::vector<SheetContent>& ways, const plan::DrawingSheet& sheet) {
    std::optional<Composer> best;
    double least = 0.0;
    for (const SheetContent& content : ways) {
        Composer composer(content, sheet);
        const auto cost = composer.choose();
        if (!cost || (best && *cost >= least)) continue;
        least = *cost;
        best.emplace(std::move(composer));
    }
    return best ? best->draw() : std::vector<Drawing>{};
}

}  // namespace fitup::sheets
