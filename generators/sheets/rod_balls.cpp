#include "sheets/rod_balls.hpp"

#include <algorithm>
#include <cmath>

#include "plan/vector.hpp"
#include "sheets/rod_ends.hpp"

namespace fitup::sheets {

namespace {

/// Balls stand this near to one another, as a share of the rod's radius.
constexpr double stride_share = 0.125;
/// What comes nearer to a ball's own silhouette, or hardly before it, does not hide it.
constexpr double edge_share = 1e-3, before_share = 0.01;

}  // namespace

RodBalls::RodBalls(const plan::Rod& rod, const plan::RodPath& path, const ViewFrame& frame) : frame_(frame) {
    const double shank_mm = rod.diameter_mm / 2.0;
    const RodEndShape first = end_shape(rod, 0), last = end_shape(rod, 1);
    const double from_mm = std::max(first.reach_mm, shank_mm),
                 to_mm = path.length_mm - std::max(last.reach_mm, shank_mm);
    const int count = std::max(1, int(std::ceil((to_mm - from_mm) / (stride_share * shank_mm))));
    for (int k = 0; k <= count && to_mm > from_mm; ++k) {
        const Vector at = path.place_at(from_mm + (to_mm - from_mm) * k / count).at;
        balls_.push_back({frame.of(at), dot(at, frame.towards), shank_mm});
    }
}

bool RodBalls::hide(const Vector& on_surface) const {
    const plan::Point at = frame_.of(on_surface);
    const double depth_mm = dot(on_surface, frame_.towards);
    return std::any_of(balls_.begin(), balls_.end(), [&](const Ball& ball) {
        const double away_mm = plan::distance_mm(ball.at, at);
        if (away_mm >= ball.radius_mm * (1.0 - edge_share)) return false;
        const double front_mm =
            ball.depth_mm + std::sqrt(ball.radius_mm * ball.radius_mm - away_mm * away_mm);
        return front_mm > depth_mm + before_share * ball.radius_mm;
    });
}

}  // namespace fitup::sheets
