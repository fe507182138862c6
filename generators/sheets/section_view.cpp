#include "sheets/section_view.hpp"

#include <algorithm>
#include <cmath>

#include "plan/vector.hpp"
#include "sheets/cut_metal.hpp"
#include "sheets/sight.hpp"
#include "sheets/view_lines.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;

class SectionView {
  public:
    SectionView(const plan::Plan& plan, const CuttingLine& line, const SectionOptions& options)
        : plan_(plan), line_(line), options_(options), metal_(plan) {}

    View draw() {
        view_.name = options_.name;
        for (plan::Area& area : cut_metal(metal_, line_)) view_.items.push_back(ViewArea{std::move(area)});
        if (options_.with_behind) add_behind();
        add_outlines();
        std::vector<std::pair<double, plan::Side>> axes;
        for (const plan::Hole& hole : plan_.holes) {
            const auto place = place_on(line_, hole.at_mm);
            if (!place) continue;
            if (hole.thread) add_thread(hole, *place);
            add_mark(hole, *place);
            const bool is_known = std::any_of(axes.begin(), axes.end(), [&](const auto& one) {
                return std::abs(one.first - *place) < plan::same_point_mm && one.second == hole.from;
            });
            if (!is_known) add_axis(hole, *place);
            axes.push_back({*place, hole.from});
        }
        return std::move(view_);
    }

  private:
    void add_outlines() {
        const std::size_t count = view_.items.size();
        for (std::size_t k = 0; k < count; ++k) {
            const auto* area = std::get_if<ViewArea>(&view_.items[k]);
            if (area == nullptr) continue;
            const plan::Area own = area->area;
            add_contour(view_, LineKind::visible, own.outer);
            for (const plan::Contour& island : own.islands) add_contour(view_, LineKind::visible, island);
        }
    }

    /// Edges of neighbouring planes that go on straight are one.
    void add_behind() {
        std::vector<std::array<Point, 2>> all;
        for (const CutPiece& piece : line_.pieces) {
            for (const auto& edge : edges_behind(metal_, piece)) {
                const auto before = std::find_if(all.begin(), all.end(), [&](const auto& one) {
                    return one[0].y_mm == one[1].y_mm && one[1].y_mm == edge[0].y_mm &&
                           edge[0].y_mm == edge[1].y_mm &&
                           std::abs(one[1].x_mm - edge[0].x_mm) < plan::same_point_mm;
                });
                if (before == all.end())
                    all.push_back(edge);
                else
                    (*before)[1] = edge[1];
            }
        }
        for (const auto& [from, to] : all) add_line(view_, LineKind::visible, from, to);
    }

    /// From the face that it's cut from, or that it comes out of, to the end of its full form.
    std::array<double, 2> heights_of_thread(const plan::Hole& hole) const {
        const double thickness_mm = plan_.body.thickness_mm, depth_mm = hole.thread->depth_mm;
        // What stands on the face is drilled and tapped through, and so is what stands on the far one.
        double above_mm = 0.0, below_mm = 0.0;
        for (const plan::Raised& ring : plan_.raised)
            (ring.side == plan::Side::B ? above_mm : below_mm) =
                std::max(ring.side == plan::Side::B ? above_mm : below_mm, ring.height_mm);
        const bool is_whole = depth_mm >= thickness_mm - plan::same_point_mm;
        if (hole.from == plan::Side::B)
            return {is_whole ? -below_mm : thickness_mm - depth_mm, thickness_mm + above_mm};
        return {-below_mm, is_whole ? thickness_mm + above_mm : depth_mm};
    }

    void add_thread(const plan::Hole& hole, double place_mm) {
        const auto [low_mm, high_mm] = heights_of_thread(hole);
        const double radius_mm = hole.thread->major_mm / 2.0;
        const Point way = way_at(hole.at_mm);
        for (const double side : {-1.0, 1.0}) {
            for (const Stretch& metal : metal_.at(hole.at_mm + way * (side * radius_mm))) {
                const double from_mm = std::max(low_mm, metal.low.from_mm);
                const double to_mm = std::min(high_mm, metal.high.from_mm);
                const double x_mm = place_mm + side * radius_mm;
                if (to_mm - from_mm > plan::same_point_mm)
                    add_line(view_, LineKind::thread, {x_mm, from_mm}, {x_mm, to_mm});
            }
        }
        if (hole.thread->depth_mm >= plan_.body.thickness_mm - plan::same_point_mm) return;
        const double end_mm = hole.from == plan::Side::B ? low_mm : high_mm;
        add_line(view_, LineKind::visible, {place_mm - radius_mm, end_mm}, {place_mm + radius_mm, end_mm});
    }

    /// The direction of the plane that a place lies on.
    Point way_at(Point at) const {
        for (const CutPiece& piece : line_.pieces) {
            if (place_on({{piece}}, at)) return plan::unit(piece.to - piece.from);
        }
        return {1.0, 0.0};
    }

    /// Over the hole's own depth where it is blind, else through the whole part.
    void add_axis(const plan::Hole& hole, double place_mm) {
        double low_mm = 0.0, high_mm = plan_.body.thickness_mm;
        for (const plan::Raised& ring : plan_.raised) {
            const bool is_here = ring.outer.contains(hole.at_mm);
            if (is_here && ring.side == plan::Side::A) low_mm = std::min(low_mm, -ring.height_mm);
            if (is_here && ring.side == plan::Side::B)
                high_mm = std::max(high_mm, plan_.body.thickness_mm + ring.height_mm);
        }
        const double over_mm = options_.overshoot_mm;
        if (!hole.through && hole.from == plan::Side::B) low_mm = bottom_mm(hole) - over_mm / 2.0;
        if (!hole.through && hole.from == plan::Side::A) high_mm = bottom_mm(hole) + over_mm / 2.0;
        add_line(view_, LineKind::centre, {place_mm, low_mm - over_mm}, {place_mm, high_mm + over_mm});
    }

    /// Height of the drill's tip.
    double bottom_mm(const plan::Hole& hole) const {
        double bottom_mm = hole.from == plan::Side::B ? plan_.body.thickness_mm : 0.0;
        for (const Feature& feature : metal_.features()) {
            if (feature.id != hole.id) continue;
            if (hole.from == plan::Side::B && std::isfinite(feature.low_mm))
                bottom_mm = std::min(bottom_mm, feature.low_mm);
            if (hole.from == plan::Side::A && std::isfinite(feature.high_mm))
                bottom_mm = std::max(bottom_mm, feature.high_mm);
        }
        return bottom_mm;
    }

    void add_mark(const plan::Hole& hole, double place_mm) {
        const double height_mm = hole.from == plan::Side::B ? plan_.body.thickness_mm : 0.0;
        view_.marks.push_back({{place_mm, height_mm}, hole.id, hole.diameter_mm / 2.0, true});
    }

    const plan::Plan& plan_;
    const CuttingLine& line_;
    SectionOptions options_;
    MetalMap metal_;
    View view_;
};

}  // namespace

View section_view(const plan::Plan& plan, const CuttingLine& line, const SectionOptions& options) {
    return SectionView(plan, line, options).draw();
}

}  // namespace fitup::sheets
