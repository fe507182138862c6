#include "plan/columns.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace fitup::plan {

namespace {

constexpr double endless_mm = std::numeric_limits<double>::infinity();

bool level(double a_mm, double b_mm) { return std::abs(a_mm - b_mm) < same_point_mm; }

/// Works out one region at a time, with the features that cover it.
class Builder {
  public:
    Builder(const Plan& plan, const std::vector<Cut>& all, const ContourTree& tree)
        : plan_(plan), all_(all), tree_(tree), group_of_(all.size(), 0) {
        for (std::size_t g = 0; g < tree.groups.size(); ++g) {
            for (const std::size_t c : tree.groups[g].cuts) group_of_[c] = g;
        }
    }

    std::vector<Column> region(std::size_t contour) {
        gather(contour);
        if (!in_outline_ && raised_.empty()) return {};
        std::vector<Column> columns = metal();
        for (const std::size_t c : prisms_) take_prism(columns, all_[c]);
        for (const std::size_t c : cones_) take_cone(columns, c, contour);
        if (in_outline_ && tree_.contours[contour].is_outline) break_edges(columns, contour);
        return columns;
    }

    std::vector<std::size_t> unfit;

  private:
    /// What covers the region: everything bounded by this contour or one around it, islands excepted.
    void gather(std::size_t contour) {
        std::vector<std::size_t> around;
        for (std::optional<std::size_t> at = contour; at; at = tree_.contours[*at].parent)
            around.push_back(*at);
        std::vector<std::size_t> spared, spared_rings;
        in_outline_ = false;
        prisms_.clear();
        cones_.clear();
        raised_.clear();
        for (const std::size_t a : around) {
            const PoolContour& pool = tree_.contours[a];
            in_outline_ = in_outline_ || pool.is_outline;
            spared.insert(spared.end(), pool.island_of.begin(), pool.island_of.end());
            spared_rings.insert(spared_rings.end(), pool.raised_inner.begin(), pool.raised_inner.end());
        }
        const auto has = [](const std::vector<std::size_t>& list, std::size_t item) {
            return std::find(list.begin(), list.end(), item) != list.end();
        };
        for (const std::size_t a : around) {
            for (const std::size_t c : tree_.contours[a].outer_of) {
                if (!has(spared, c)) (all_[c].cone ? cones_ : prisms_).push_back(c);
            }
            for (const std::size_t r : tree_.contours[a].raised_outer) {
                if (!has(spared_rings, r)) raised_.push_back(r);
            }
        }
    }

    std::vector<Column> metal() const {
        std::vector<Column> columns;
        const double t = plan_.body.thickness_mm;
        if (in_outline_) columns.push_back({{0.0, "face A", false, 0.0, {}}, {t, "face B", false, 0.0, {}}});
        for (const std::size_t r : raised_) {
            const Raised& ring = plan_.raised[r];
            const bool below = ring.side == Side::A;
            if (columns.empty()) {
                columns.push_back({{below ? -ring.height_mm : t, ring.id, false, 0.0, {}},
                                   {below ? 0.0 : t + ring.height_mm, ring.id, false, 0.0, {}}});
            } else if (below) {
                if (-ring.height_mm < columns.front().bottom.z_mm)
                    columns.front().bottom = {-ring.height_mm, ring.id, false, 0.0, {}};
            } else if (t + ring.height_mm > columns.back().top.z_mm) {
                columns.back().top = {t + ring.height_mm, ring.id, false, 0.0, {}};
            }
        }
        return columns;
    }

    static void take_prism(std::vector<Column>& columns, const Cut& cut) {
        const double low_mm = cut.opens_a ? -endless_mm : cut.z_low_mm;
        const double high_mm = cut.opens_b ? endless_mm : cut.z_high_mm;
        std::vector<Column> left;
        for (const Column& column : columns) {
            if (high_mm <= column.bottom.z_mm + same_point_mm || low_mm >= column.top.z_mm - same_point_mm) {
                left.push_back(column);
                continue;
            }
            if (low_mm > column.bottom.z_mm + same_point_mm)
                left.push_back({column.bottom, {low_mm, cut.id, false, 0.0, {}}});
            if (high_mm < column.top.z_mm - same_point_mm)
                left.push_back({{high_mm, cut.id, false, 0.0, {}}, column.top});
        }
        columns = std::move(left);
    }

    /// The same hole's shaft (or another prism) already took all that the cone would.
    bool is_taken(const std::vector<Column>& columns, const Cut& cone) const {
        return std::none_of(columns.begin(), columns.end(), [&cone](const Column& column) {
            return column.bottom.z_mm < cone.z_high_mm - same_point_mm &&
                   column.top.z_mm > cone.z_low_mm + same_point_mm;
        });
    }

    void take_cone(std::vector<Column>& columns, std::size_t c, std::size_t contour) {
        const Cut& cone = all_[c];
        if (is_taken(columns, cone)) return;
        const auto inner = narrow_contour(c, contour);
        const bool widens_down = cone.cone->radius_low_mm > cone.cone->radius_high_mm;
        const double wide_z = widens_down ? cone.z_low_mm : cone.z_high_mm;
        const double narrow_z = widens_down ? cone.z_high_mm : cone.z_low_mm;
        if (!is_bounded_by(c, contour) || !inner) return misfit(c);
        for (Column& column : columns) {
            ColumnEnd& end = widens_down ? column.bottom : column.top;
            const ColumnEnd& far = widens_down ? column.top : column.bottom;
            if (!level(end.z_mm, wide_z) || end.sloped) continue;
            const double room_mm =
                widens_down ? std::min(far.z_mm, far.sloped ? far.z_inner_mm : far.z_mm) - narrow_z
                            : narrow_z - std::max(far.z_mm, far.sloped ? far.z_inner_mm : far.z_mm);
            if (room_mm < same_point_mm) return misfit(c);
            end = {wide_z, cone.id, true, narrow_z, *inner};
            return;
        }
        misfit(c);
    }

    bool is_bounded_by(std::size_t c, std::size_t contour) const {
        const auto& list = tree_.contours[contour].outer_of;
        return std::find(list.begin(), list.end(), c) != list.end();
    }

    /// The contour at the cone's narrow end: none at a tip, the shaft's circle at a countersink. No value
    /// when the region holds anything else.
    std::optional<std::optional<std::size_t>> narrow_contour(std::size_t c, std::size_t contour) const {
        const Cut& cone = all_[c];
        const double narrow_mm = std::min(cone.cone->radius_low_mm, cone.cone->radius_high_mm);
        const auto& children = tree_.contours[contour].children;
        using Found = std::optional<std::size_t>;
        if (narrow_mm == 0.0) return children.empty() ? std::optional<Found>(Found()) : std::nullopt;
        if (children.size() != 1) return {};
        const Circle* circle = tree_.contours[children.front()].contour.circle();
        const Circle* wide = cone.area.outer.circle();
        const bool fits = circle != nullptr && distance_mm(circle->centre, wide->centre) < same_point_mm &&
                          level(circle->radius_mm, narrow_mm);
        return fits ? std::optional<Found>(Found(children.front())) : std::nullopt;
    }

    void misfit(std::size_t c) { unfit.push_back(group_of_[c]); }

    void break_edges(std::vector<Column>& columns, std::size_t contour) {
        const auto& children = tree_.contours[contour].children;
        const auto inner = std::find_if(children.begin(), children.end(),
                                        [this](std::size_t i) { return tree_.contours[i].is_break; });
        if (inner == children.end()) return;
        const double size_mm = *plan_.body.edge_break_mm;
        for (Column& column : columns) {
            if (level(column.bottom.z_mm, 0.0)) column.bottom = {size_mm, "edge break A", true, 0.0, *inner};
            const double t = plan_.body.thickness_mm;
            if (level(column.top.z_mm, t)) column.top = {t - size_mm, "edge break B", true, t, *inner};
        }
    }

    const Plan& plan_;
    const std::vector<Cut>& all_;
    const ContourTree& tree_;
    std::vector<std::size_t> group_of_;
    bool in_outline_ = false;
    std::vector<std::size_t> prisms_;
    std::vector<std::size_t> cones_;
    std::vector<std::size_t> raised_;
};

}  // namespace

Columns columns_of(const Plan& plan, const std::vector<Cut>& all, const ContourTree& tree) {
    Columns columns;
    Builder builder(plan, all, tree);
    for (std::size_t i = 0; i < tree.contours.size(); ++i) columns.of_region.push_back(builder.region(i));
    columns.unfit = std::move(builder.unfit);
    return columns;
}

}  // namespace fitup::plan
