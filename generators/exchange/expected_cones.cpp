#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "exchange/expected.hpp"
#include "plan/vector.hpp"

namespace fitup::exchange {

namespace {

/// Directions from the axis in which a cone is looked at; all show the same unless something crosses it.
constexpr std::size_t directions = 8;

/// One cone of the plan and what stands near it.
class ConeFinder {
  public:
    ConeFinder(const Metal& metal, std::size_t edge)
        : metal_(metal),
          edge_(edge),
          cut_(*metal.items()[metal.edges()[edge].item].cut),
          centre_(cut_.area.outer.circle()->centre) {}

    /// Heights between which it is left.
    Spans left() {
        const std::vector<double> heights = divisions();
        Spans found;
        for (std::size_t i = 0; i + 1 < heights.size(); ++i) {
            if (heights[i + 1] - heights[i] < 2.0 * beside_mm) continue;
            if (is_there((heights[i] + heights[i + 1]) / 2.0)) add_span(found, {heights[i], heights[i + 1]});
        }
        return found;
    }

    double radius_at(double z_mm) const {
        const auto [low_mm, high_mm] = *cut_.cone;
        const double share = (z_mm - cut_.z_low_mm) / (cut_.z_high_mm - cut_.z_low_mm);
        return low_mm + share * (high_mm - low_mm);
    }

    bool is_crossed() const {
        return is_askew_ || std::any_of(metal_.near(edge_).begin(), metal_.near(edge_).end(),
                                        [this](std::size_t other) { return is_crossed_by(other); });
    }

  private:
    double height_at(double radius_mm) const {
        const auto [low_mm, high_mm] = *cut_.cone;
        return cut_.z_low_mm + (radius_mm - low_mm) / (high_mm - low_mm) * (cut_.z_high_mm - cut_.z_low_mm);
    }

    bool is_concentric(const Edge& edge) const {
        const plan::Circle* circle = edge.contour.circle();
        return circle && plan::distance_mm(circle->centre, centre_) < plan::same_point_mm;
    }

    /// Where what else is near may begin or end along the cone: its ends, its radius, where slopes meet.
    std::vector<double> divisions() const {
        std::vector<double> heights{cut_.z_low_mm, cut_.z_high_mm};
        for (const std::size_t number : metal_.near(edge_)) {
            const Edge& edge = metal_.edges()[number];
            const Item& item = metal_.items()[edge.item];
            heights.push_back(item.range.low_mm);
            heights.push_back(item.range.high_mm);
            if (!is_concentric(edge)) continue;
            heights.push_back(height_at(edge.contour.circle()->radius_mm));
            if (number != edge_ && item.cut && item.cut->cone) add_meeting(*item.cut, heights);
        }
        std::erase_if(heights,
                      [this](double z_mm) { return !(z_mm >= cut_.z_low_mm && z_mm <= cut_.z_high_mm); });
        std::sort(heights.begin(), heights.end());
        return heights;
    }

    /// Both ends of another cone about the same axis, and where its slope meets this one.
    void add_meeting(const plan::Cut& other, std::vector<double>& heights) const {
        heights.push_back(other.z_low_mm);
        heights.push_back(other.z_high_mm);
        heights.push_back(height_at(other.cone->radius_low_mm));
        heights.push_back(height_at(other.cone->radius_high_mm));
        const double slope =
            (other.cone->radius_high_mm - other.cone->radius_low_mm) / (other.z_high_mm - other.z_low_mm);
        const double own =
            (cut_.cone->radius_high_mm - cut_.cone->radius_low_mm) / (cut_.z_high_mm - cut_.z_low_mm);
        const double apart_mm = radius_at(other.z_low_mm) - other.cone->radius_low_mm;
        heights.push_back(other.z_low_mm + apart_mm / (slope - own));
    }

    /// Whether metal lies behind the cone's surface at a height, in any direction.
    bool is_there(double z_mm) {
        bool found = false;
        for (std::size_t k = 0; k < directions; ++k) {
            const double angle_rad = 2.0 * std::numbers::pi * (0.382 + static_cast<double>(k)) / directions;
            const plan::Point away = plan::turned({1.0, 0.0}, angle_rad);
            const plan::Point at = centre_ + away * radius_at(z_mm);
            const Column column = metal_.column(edge_, {at, at + away * beside_mm, centre_});
            is_askew_ = is_askew_ || !column.is_level;
            found = found || ends_at(column.metal, z_mm);
        }
        return found;
    }

    bool ends_at(const Spans& metal, double z_mm) const {
        const bool opens_down = cut_.cone->radius_low_mm > cut_.cone->radius_high_mm;
        return std::any_of(metal.begin(), metal.end(), [&](const Span& span) {
            return std::abs((opens_down ? span.low_mm : span.high_mm) - z_mm) < plan::same_point_mm;
        });
    }

    bool is_crossed_by(std::size_t number) const {
        const Edge& edge = metal_.edges()[number];
        const Span& range = metal_.items()[edge.item].range;
        if (is_concentric(edge) || range.low_mm >= cut_.z_high_mm || range.high_mm <= cut_.z_low_mm)
            return false;
        const plan::Relation relation = plan::relation(edge.contour, cut_.area.outer);
        return relation == plan::Relation::crossing || relation == plan::Relation::first_inside_second;
    }

    const Metal& metal_;
    std::size_t edge_;
    const plan::Cut& cut_;
    plan::Point centre_;
    bool is_askew_ = false;
};

}  // namespace

std::vector<ExpectedCone> expected_cones(const plan::Plan& plan, const Metal& metal) {
    std::vector<ExpectedCone> cones;
    for (std::size_t k = 0; k < metal.edges().size(); ++k) {
        const std::optional<plan::Cut>& cut = metal.items()[metal.edges()[k].item].cut;
        if (!cut || !cut->cone) continue;
        ConeFinder finder(metal, k);
        const plan::Point centre = cut->area.outer.circle()->centre;
        const double level_mm = plan::level_mm(plan, centre);
        for (const Span& span : finder.left()) {
            cones.push_back({cut->id, cut->role == plan::CutRole::point, centre, span.low_mm + level_mm,
                             span.high_mm + level_mm, finder.radius_at(span.low_mm),
                             finder.radius_at(span.high_mm), finder.is_crossed()});
        }
    }
    return cones;
}

}  // namespace fitup::exchange
