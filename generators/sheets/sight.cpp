#include "sheets/sight.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <optional>

#include "plan/vector.hpp"
#include "sheets/sight_body.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;
using plan::same_point_mm;
using plan::Stroke;

/// Beside a place where the picture may change: what is seen is looked at this near to it.
constexpr double beside_mm = 1e-6;
/// Walls that stand less far behind one another are one: more than a round wall recedes over twice
/// `beside_mm` from its silhouette on, up to a radius of 300 mm (square root of 2 x radius x 2 x
/// `beside_mm`).
constexpr double jump_mm = 0.05;
constexpr double same_height_mm = 1e-6;

/// Stretch of heights in which the same thing is seen.
struct Seen {
    double low_mm = 0.0, high_mm = 0.0;
    double away_mm = 0.0;
    double slant_rad = 0.0;  ///< of the wall there, from the plane
    bool is_cut = false;
    std::optional<std::size_t> cone;
};

using Heights = std::vector<std::pair<double, double>>;

Heights without(const Heights& heights, double low_mm, double high_mm) {
    Heights rest;
    for (const auto& [low, high] : heights) {
        if (high_mm <= low + same_height_mm || low_mm >= high - same_height_mm) {
            rest.push_back({low, high});
            continue;
        }
        if (low < low_mm - same_height_mm) rest.push_back({low, low_mm});
        if (high_mm < high - same_height_mm) rest.push_back({high_mm, high});
    }
    return rest;
}

class Sight {
  public:
    Sight(const MetalMap& metal, const CutPiece& plane)
        : plane_(plane), way_(plan::unit(plane.to - plane.from)), body_(metal, plane) {}

    std::vector<std::array<Point, 2>> edges() {
        for (std::size_t k = 0; k + 1 < body_.changes().size(); ++k) {
            const double from_mm = body_.changes()[k], to_mm = body_.changes()[k + 1];
            if (to_mm - from_mm < 4.0 * beside_mm) continue;
            add_level(from_mm, to_mm, look((from_mm + to_mm) / 2.0));
        }
        for (const double along_mm : places()) add_upright(along_mm);
        std::vector<std::array<Point, 2>> edges = std::move(upright_);
        for (const auto& [height_mm, runs] : level_) {
            for (const auto& [from_mm, to_mm] : runs)
                edges.push_back(
                    {{{plane_.from_mm + from_mm, height_mm}, {plane_.from_mm + to_mm, height_mm}}});
        }
        return edges;
    }

  private:
    /// Each place at which something may change, once.
    std::vector<double> places() const {
        std::vector<double> places;
        for (const double along_mm : body_.changes()) {
            if (places.empty() || along_mm > places.back() + 4.0 * beside_mm) places.push_back(along_mm);
        }
        return places;
    }

    /// Where the line of sight at a place meets a wall.
    struct Hit {
        double away_mm = 0.0;
        std::size_t contour = 0;
        double slant_rad = 0.0;
    };
    static void add_hits(std::vector<Hit>& hits, const Wall& wall, double along_mm) {
        if (along_mm < wall.box.least.x_mm || along_mm > wall.box.most.x_mm || wall.box.most.y_mm < 0.0)
            return;
        const Stroke& stroke = wall.stroke;
        if (stroke.is_line()) {
            const Point way = stroke.to - stroke.from;
            if (way.x_mm == 0.0) return;
            const double away_mm = stroke.from.y_mm + (along_mm - stroke.from.x_mm) / way.x_mm * way.y_mm;
            if (away_mm > 0.0) hits.push_back({away_mm, wall.contour, std::atan(way.y_mm / way.x_mm)});
            return;
        }
        const double off_mm = along_mm - stroke.centre.x_mm;
        const double square = stroke.radius_mm * stroke.radius_mm - off_mm * off_mm;
        if (square <= 0.0) return;
        for (const double up_mm : {std::sqrt(square), -std::sqrt(square)}) {
            if (plan::spans(stroke, {off_mm, up_mm}) && stroke.centre.y_mm + up_mm > 0.0)
                hits.push_back({stroke.centre.y_mm + up_mm, wall.contour, std::atan(-off_mm / up_mm)});
        }
    }

    /// Metal where the line of sight is within these contours.
    Heights metal_in(const std::vector<bool>& within) const {
        Heights metal;
        std::size_t contour = 0;
        std::vector<std::size_t> taking;
        for (std::size_t k = 0; k < body_.prisms().size(); ++k) {
            const std::size_t outer = contour;
            contour += body_.prisms()[k].contours.size();
            const bool is_in_island = std::any_of(within.begin() + std::ptrdiff_t(outer) + 1,
                                                  within.begin() + std::ptrdiff_t(contour),
                                                  [](bool is_within) { return is_within; });
            if (!within[outer] || is_in_island) continue;
            if (body_.prisms()[k].feature->takes)
                taking.push_back(k);
            else
                metal.push_back({body_.prisms()[k].low_mm, body_.prisms()[k].high_mm});
        }
        for (const std::size_t k : taking)
            metal = without(metal, body_.prisms()[k].low_mm, body_.prisms()[k].high_mm);
        return metal;
    }

    /// What is seen at a place, from the lowest up.
    std::vector<Seen> look(double along_mm) const {
        std::vector<bool> within(body_.prism_of().size());
        const Point start = plane_.from + way_ * along_mm;
        for (std::size_t k = 0, contour = 0; k < body_.prisms().size(); ++k) {
            for (const plan::Contour& one : body_.prisms()[k].contours)
                within[contour++] = one.contains(start);
        }
        std::vector<Hit> hits;
        for (const Wall& wall : body_.walls()) add_hits(hits, wall, along_mm);
        std::sort(hits.begin(), hits.end(), [](const Hit& a, const Hit& b) { return a.away_mm < b.away_mm; });
        std::vector<Seen> seen;
        for (const auto& [low, high] : metal_in(within))
            seen.push_back({low, high, 0.0, 0.0, true, std::nullopt});
        for (std::size_t k = 0; k < hits.size(); ++k) {
            within[hits[k].contour] = !within[hits[k].contour];
            if (k + 1 < hits.size() && hits[k + 1].away_mm - hits[k].away_mm < same_point_mm) continue;
            see(seen, metal_in(within), hits[k]);
        }
        std::sort(seen.begin(), seen.end(), [](const Seen& a, const Seen& b) { return a.low_mm < b.low_mm; });
        return seen;
    }

    void see(std::vector<Seen>& seen, Heights metal, const Hit& hit) const {
        for (const Seen& there : seen) metal = without(metal, there.low_mm, there.high_mm);
        const auto cone = body_.prisms()[body_.prism_of()[hit.contour]].cone;
        for (const auto& [low, high] : metal)
            seen.push_back({low, high, hit.away_mm, hit.slant_rad, false, cone});
    }

    /// Whether two things seen above one another have an edge between them.
    static bool has_edge(const Seen* below, const Seen* above) {
        if (below == nullptr || above == nullptr) return !(below ? below : above)->is_cut;
        if (below->is_cut || above->is_cut) return false;
        if (below->cone && below->cone == above->cone) return false;
        return std::abs(below->away_mm - above->away_mm) > same_height_mm;
    }

    void add_level(double from_mm, double to_mm, const std::vector<Seen>& seen) {
        const auto add = [&](double height_mm) {
            auto& runs = level_[std::round(height_mm / same_height_mm) * same_height_mm];
            if (!runs.empty() && from_mm - runs.back().second < 8.0 * beside_mm)
                runs.back().second = to_mm;
            else
                runs.push_back({from_mm, to_mm});
        };
        for (std::size_t k = 0; k < seen.size(); ++k) {
            const Seen* below =
                k > 0 && seen[k].low_mm - seen[k - 1].high_mm < same_height_mm ? &seen[k - 1] : nullptr;
            const bool is_joined =
                k + 1 < seen.size() && seen[k + 1].low_mm - seen[k].high_mm < same_height_mm;
            if (has_edge(below, &seen[k])) add(seen[k].low_mm);
            if (!is_joined && has_edge(&seen[k], nullptr)) add(seen[k].high_mm);
        }
    }

    static const Seen* at_height(const std::vector<Seen>& seen, double height_mm) {
        const auto found = std::find_if(seen.begin(), seen.end(), [height_mm](const Seen& one) {
            return one.low_mm < height_mm && height_mm < one.high_mm;
        });
        return found == seen.end() ? nullptr : &*found;
    }

    /// Two walls meet there at an angle.
    static bool is_corner(const Seen& left, const Seen& right) {
        constexpr double least_rad = 0.05;
        return std::abs(std::remainder(left.slant_rad - right.slant_rad, std::numbers::pi)) > least_rad;
    }

    static bool has_upright(const Seen* left, const Seen* right) {
        if (left == nullptr && right == nullptr) return false;
        if ((left && (left->is_cut || left->cone)) || (right && (right->is_cut || right->cone))) return false;
        if (left == nullptr || right == nullptr) return true;
        return std::abs(left->away_mm - right->away_mm) > jump_mm || is_corner(*left, *right);
    }

    void add_upright(double along_mm) {
        const auto left = look(along_mm - 2.0 * beside_mm), right = look(along_mm + 2.0 * beside_mm);
        std::vector<double> heights;
        for (const auto* side : {&left, &right}) {
            for (const Seen& one : *side) heights.insert(heights.end(), {one.low_mm, one.high_mm});
        }
        std::sort(heights.begin(), heights.end());
        std::vector<std::array<double, 2>> runs;
        for (std::size_t k = 0; k + 1 < heights.size(); ++k) {
            const double from_mm = heights[k], to_mm = heights[k + 1], middle_mm = (from_mm + to_mm) / 2.0;
            if (to_mm - from_mm < same_height_mm) continue;
            if (!has_upright(at_height(left, middle_mm), at_height(right, middle_mm))) continue;
            if (!runs.empty() && from_mm - runs.back()[1] < same_height_mm)
                runs.back()[1] = to_mm;
            else
                runs.push_back({from_mm, to_mm});
        }
        const double x_mm = plane_.from_mm + along_mm;
        for (const auto& [from_mm, to_mm] : runs) upright_.push_back({{{x_mm, from_mm}, {x_mm, to_mm}}});
    }

    CutPiece plane_;
    Point way_;
    SightBody body_;
    std::map<double, std::vector<std::pair<double, double>>> level_;
    std::vector<std::array<Point, 2>> upright_;
};

}  // namespace

std::vector<std::array<Point, 2>> edges_behind(const MetalMap& metal, const CutPiece& plane) {
    return Sight(metal, plane).edges();
}

}  // namespace fitup::sheets
