#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/union_find.hpp"
#include "plan/skin_faces.hpp"

namespace fitup::plan {
namespace {

/// A sloped face between two contours: its area, and the mean over its height of the area inside its level
/// lines.
struct SlopeFigures {
    double area_mm2 = 0.0;
    double mean_enclosed_mm2 = 0.0;
};

SlopeFigures cone_figures(double outer, double inner, double height) {
    using std::numbers::pi;
    return {pi * (outer + inner) * std::hypot(outer - inner, height),
            pi / 3 * (outer * outer + outer * inner + inner * inner)};
}

/// An edge break of 45 degrees. Corners keep their angles and arcs their centres, so the perimeter P changes
/// linearly with the distance s from the outline: area A(s) = A(0) - integral of P. Mean of that over s in
/// [0, e]: A(0) - e (2 P(0) + P(e)) / 6. The face is inclined by 45 degrees everywhere: area in plan times
/// sqrt 2.
SlopeFigures edge_break_figures(const Contour& outer, const Contour& inner, double size) {
    const double area = outer.area_mm2();
    return {std::numbers::sqrt2 * (area - inner.area_mm2()),
            area - size * (2 * outer.perimeter_mm() + inner.perimeter_mm()) / 6};
}

SlopeFigures figures(const Skin& skin, const Slope& slope, double edge_break_mm) {
    const Contour& outer = skin.contours[slope.outer];
    if (slope.inner && !skin.contours[*slope.inner].circle()) {
        return edge_break_figures(outer, skin.contours[*slope.inner], edge_break_mm);
    }
    const double inner_radius = slope.inner ? skin.contours[*slope.inner].circle()->radius_mm : 0.0;
    return cone_figures(outer.circle()->radius_mm, inner_radius, slope.z_outer_mm - slope.z_inner_mm);
}

double metal_at(const Region& region, bool at_outer) {
    double height = 0.0;
    for (const Column& column : region.columns) {
        height +=
            at_outer ? column.high.z_outer - column.low.z_outer : column.high.z_inner - column.low.z_inner;
    }
    return height;
}

/// Volume as a sum over contours of enclosed area times the step in metal height across it, so that no areas
/// of regions (differences of great numbers) are needed. A slope adds its rise times the mean area inside its
/// level lines.
double flat_part_mm3(const Layout& layout, const Regions& regions) {
    double volume = 0.0;
    for (const Region& region : regions) {
        const double outside = region.parent ? metal_at(regions[*region.parent], false) : 0.0;
        volume += layout.loops[region.loop].area_mm2 * (metal_at(region, true) - outside);
    }
    return volume;
}

void add_area_and_slopes(Skin& skin, double edge_break_mm) {
    std::vector<double> areas;
    for (const Contour& contour : skin.contours) areas.push_back(contour.area_mm2());
    for (const Wall& wall : skin.walls) {
        skin.area_mm2 += skin.contours[wall.contour].perimeter_mm() * (wall.z_high_mm - wall.z_low_mm);
    }
    for (const Floor& floor : skin.floors) {
        skin.area_mm2 += areas[floor.outer];
        for (const std::size_t inner : floor.inner) skin.area_mm2 -= areas[inner];
    }
    for (const Slope& slope : skin.slopes) {
        const SlopeFigures found = figures(skin, slope, edge_break_mm);
        const double rise = slope.z_inner_mm - slope.z_outer_mm;
        skin.area_mm2 += found.area_mm2;
        skin.volume_mm3 += (slope.faces_up ? rise : -rise) * found.mean_enclosed_mm2;
    }
}

class BoxMaker {
  public:
    void add(const Contour& contour, double z_mm) {
        const Box2 flat = contour.box();
        add({flat.least.x_mm, flat.least.y_mm, z_mm});
        add({flat.most.x_mm, flat.most.y_mm, z_mm});
    }
    Box box() const { return box_; }

  private:
    void add(const Point3& point) {
        for (std::size_t k = 0; k < 3; ++k) {
            box_.least[k] = empty_ ? point[k] : std::min(box_.least[k], point[k]);
            box_.most[k] = empty_ ? point[k] : std::max(box_.most[k], point[k]);
        }
        empty_ = false;
    }
    Box box_;
    bool empty_ = true;
};

Box box_of(const Skin& skin) {
    BoxMaker maker;
    for (const Floor& floor : skin.floors) maker.add(skin.contours[floor.outer], floor.z_mm);
    for (const Slope& slope : skin.slopes) {
        maker.add(skin.contours[slope.outer], slope.z_outer_mm);
        if (slope.inner) maker.add(skin.contours[*slope.inner], slope.z_inner_mm);
    }
    return maker.box();
}

/// Columns of neighbouring regions are one piece where they touch over more than a line.
int count_pieces(const Regions& regions) {
    std::vector<std::size_t> first;
    std::size_t count = 0;
    for (const Region& region : regions) {
        first.push_back(count);
        count += region.columns.size();
    }
    UnionFind sets(count);
    std::size_t joined = 0;
    for (std::size_t k = 0; k < regions.size(); ++k) {
        if (!regions[k].parent) continue;
        const std::vector<Column>& outside = regions[*regions[k].parent].columns;
        for (std::size_t a = 0; a < regions[k].columns.size(); ++a) {
            for (std::size_t b = 0; b < outside.size(); ++b) {
                const Column& in = regions[k].columns[a];
                const Column& out = outside[b];
                const double low = std::max(in.low.z_outer, out.low.z_inner);
                const double high = std::min(in.high.z_outer, out.high.z_inner);
                const std::size_t one = first[k] + a;
                const std::size_t other = first[*regions[k].parent] + b;
                if (low >= high || sets.find(one) == sets.find(other)) continue;
                sets.join(one, other);
                ++joined;
            }
        }
    }
    return static_cast<int>(count - joined);
}

}  // namespace

void measure(Skin& skin, const Layout& layout, const Stock& stock, const Regions& regions) {
    skin.volume_mm3 = flat_part_mm3(layout, regions);
    add_area_and_slopes(skin, stock.edge_break_mm);
    skin.box = box_of(skin);
    skin.pieces = count_pieces(regions);
}

}  // namespace fitup::plan
