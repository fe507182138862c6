#include "solid/bevel_match.hpp"

#include <cmath>

namespace fitup::solid {
namespace {

/// Offsets are worked out from coordinates of a few hundred mm; what differs by more than this is another
/// curve.
constexpr double same_curve_mm = 1e-6;

bool near(plan::Point a, plan::Point b) { return plan::distance_mm(a, b) < same_curve_mm; }

/// How far the line `inner` lies to the left of the line `outer`; nothing when they don't run the same way.
std::optional<double> shift_between(const Track& outer, const Track& inner) {
    const auto& d = outer.direction;
    const auto& e = inner.direction;
    if (d.x_mm * e.x_mm + d.y_mm * e.y_mm < 0.0) return std::nullopt;
    if (std::abs(d.x_mm * e.y_mm - d.y_mm * e.x_mm) * inner.extent > same_curve_mm) return std::nullopt;
    return d.x_mm * (inner.origin.y_mm - outer.origin.y_mm) -
           d.y_mm * (inner.origin.x_mm - outer.origin.x_mm);
}

bool is_offset(const Track& outer, const Track& inner, double by_mm) {
    if (outer.is_arc != inner.is_arc) return false;
    if (!outer.is_arc) {
        const auto shift = shift_between(outer, inner);
        return shift && std::abs(*shift - by_mm) < same_curve_mm;
    }
    const double shrunk_mm = outer.along ? outer.radius_mm - by_mm : outer.radius_mm + by_mm;
    return outer.along == inner.along && near(outer.origin, inner.origin) &&
           std::abs(inner.radius_mm - shrunk_mm) < same_curve_mm;
}

/// A walk along both paths at once; each step takes an edge of one or of both.
class Walk {
  public:
    Walk(const Rims& rims, std::size_t outer, std::size_t inner, double by_mm)
        : outer_(rims.tracks(outer)),
          inner_(rims.tracks(inner)),
          outer_corners_(rims.corners(outer)),
          inner_corners_(rims.corners(inner)),
          by_mm_(by_mm) {}

    std::vector<BevelPiece> from(std::size_t outer_start, std::size_t inner_start) const {
        std::vector<BevelPiece> pieces;
        std::size_t o = 0;
        std::size_t i = 0;
        while (o < outer_.size() || i < inner_.size()) {
            const auto piece = step((outer_start + o) % outer_.size(), (inner_start + i) % inner_.size());
            if (!piece) return {};
            o += piece->outer_track ? 1 : 0;
            i += piece->inner_track ? 1 : 0;
            if (o > outer_.size() || i > inner_.size()) return {};
            pieces.push_back(*piece);
        }
        return pieces;
    }

  private:
    std::optional<BevelPiece> step(std::size_t o, std::size_t i) const {
        if (is_offset(outer_[o], inner_[i], by_mm_)) return BevelPiece{o, i, o, i};
        const bool rounds_corner = inner_[i].is_arc && near(inner_[i].origin, outer_corners_[o]);
        if (rounds_corner) return BevelPiece{std::nullopt, i, o, i};
        const bool shrinks_away = outer_[o].is_arc && near(outer_[o].origin, inner_corners_[i]);
        if (shrinks_away) return BevelPiece{o, std::nullopt, o, i};
        return std::nullopt;
    }

    std::span<const Track> outer_;
    std::span<const Track> inner_;
    std::span<const plan::Point> outer_corners_;
    std::span<const plan::Point> inner_corners_;
    double by_mm_;
};

}  // namespace

std::vector<BevelPiece> match_bevel(const Rims& rims, std::size_t outer, std::size_t inner) {
    const auto outer_tracks = rims.tracks(outer);
    const auto inner_tracks = rims.tracks(inner);
    for (std::size_t o = 0; o < outer_tracks.size(); ++o) {
        if (outer_tracks[o].is_arc) continue;
        for (std::size_t i = 0; i < inner_tracks.size(); ++i) {
            if (inner_tracks[i].is_arc) continue;
            const auto by_mm = shift_between(outer_tracks[o], inner_tracks[i]);
            if (!by_mm || *by_mm <= plan::same_point_mm) continue;
            auto pieces = Walk(rims, outer, inner, *by_mm).from(o, i);
            if (!pieces.empty()) return pieces;
        }
    }
    return {};
}

}  // namespace fitup::solid
