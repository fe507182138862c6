#include "calculations/convex.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace fitup::calculations {

namespace {

/// A corner of the simplex: its places on both bodies and their difference.
struct Corner {
    Vector on_fixed, on_turned, difference;
};

/// Up to four corners with the weights of the point nearest the origin.
struct Simplex {
    std::array<Corner, 4> corners;
    std::array<double, 4> weights{};
    int size = 0;
};

struct Nearest {
    double distance_sq = 0.0;
    std::array<double, 4> weights{};
    bool inside = false;  ///< the origin lies within a tetrahedron
};

double squared(const Vector& v) { return dot(v, v); }

Vector weighted(const Simplex& simplex, const Nearest& nearest) {
    Vector sum{};
    for (std::size_t i = 0; i < std::size_t(simplex.size); ++i)
        sum = sum + simplex.corners[i].difference * nearest.weights[i];
    return sum;
}

void keep_least(const Simplex& simplex, Nearest candidate, Nearest& best) {
    candidate.distance_sq = squared(weighted(simplex, candidate));
    if (candidate.distance_sq < best.distance_sq) best = candidate;
}

/// The point of segment ij nearest the origin.
Nearest on_segment(const Simplex& simplex, std::size_t i, std::size_t j) {
    const Vector &a = simplex.corners[i].difference, &b = simplex.corners[j].difference;
    const Vector along = b - a;
    const double size_sq = squared(along);
    const double share = size_sq > 0.0 ? std::clamp(-dot(a, along) / size_sq, 0.0, 1.0) : 0.0;
    Nearest nearest;
    nearest.weights[i] = 1.0 - share;
    nearest.weights[j] = share;
    return nearest;
}

/// The foot of the origin on the plane of ijk where it lies in the triangle.
bool in_triangle(const Simplex& simplex, std::size_t i, std::size_t j, std::size_t k, Nearest& nearest) {
    const Vector &a = simplex.corners[i].difference, &b = simplex.corners[j].difference,
                 &c = simplex.corners[k].difference;
    const Vector normal = cross(b - a, c - a);
    const double size_sq = squared(normal);
    if (!(size_sq > 0.0)) return false;
    const double wa = dot(cross(b, c), normal) / size_sq, wb = dot(cross(c, a), normal) / size_sq,
                 wc = dot(cross(a, b), normal) / size_sq;
    if (wa < 0.0 || wb < 0.0 || wc < 0.0) return false;
    nearest = Nearest{};
    const double sum = wa + wb + wc;
    nearest.weights[i] = wa / sum;
    nearest.weights[j] = wb / sum;
    nearest.weights[k] = wc / sum;
    return true;
}

/// Origin on the inner side of each face of the tetrahedron.
bool holds_origin(const Simplex& simplex) {
    for (std::size_t i = 0; i < 4; ++i) {
        const Vector &a = simplex.corners[(i + 1) % 4].difference,
                     &b = simplex.corners[(i + 2) % 4].difference,
                     &c = simplex.corners[(i + 3) % 4].difference, &opposite = simplex.corners[i].difference;
        const Vector normal = cross(b - a, c - a);
        const double of_opposite = dot(normal, opposite - a), of_origin = -dot(normal, a);
        if (of_opposite == 0.0 || of_opposite * of_origin < 0.0) return false;
    }
    return true;
}

/// The simplex's point nearest the origin: the least over its corners, edges and faces. Slower than walking
/// by regions and safe against flat simplexes.
Nearest nearest_of(const Simplex& simplex) {
    Nearest best;
    best.distance_sq = 1e300;
    const std::size_t n = std::size_t(simplex.size);
    if (n == 1) {
        best.weights[0] = 1.0;
        best.distance_sq = squared(simplex.corners[0].difference);
        return best;
    }
    if (n == 4 && holds_origin(simplex)) {
        best.inside = true;
        best.distance_sq = 0.0;
        return best;
    }
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = i + 1; j < n; ++j) {
            keep_least(simplex, on_segment(simplex, i, j), best);
            for (std::size_t k = j + 1; k < n; ++k) {
                Nearest foot;
                if (in_triangle(simplex, i, j, k, foot)) keep_least(simplex, foot, best);
            }
        }
    }
    return best;
}

/// Corners without weight go.
void reduce(Simplex& simplex, const Nearest& nearest) {
    int kept = 0;
    for (std::size_t i = 0; i < std::size_t(simplex.size); ++i) {
        if (nearest.weights[i] <= 0.0) continue;
        simplex.corners[std::size_t(kept)] = simplex.corners[i];
        simplex.weights[std::size_t(kept)] = nearest.weights[i];
        ++kept;
    }
    simplex.size = kept;
}

Corner corner_towards(const Convex& fixed, const Convex& turned, const TurnZ& turn, const Vector& direction) {
    Corner corner;
    corner.on_fixed = farthest(fixed, direction);
    corner.on_turned = turn.apply(farthest(turned, turn.undo(direction * -1.0)));
    corner.difference = corner.on_fixed - corner.on_turned;
    return corner;
}

void take_points(const Simplex& simplex, Separation& result) {
    result.on_fixed = result.on_turned = {};
    for (std::size_t i = 0; i < std::size_t(simplex.size); ++i) {
        result.on_fixed = result.on_fixed + simplex.corners[i].on_fixed * simplex.weights[i];
        result.on_turned = result.on_turned + simplex.corners[i].on_turned * simplex.weights[i];
    }
}

}  // namespace

void enclose(Convex& body) {
    Vector low{1e300, 1e300, 1e300}, high{-1e300, -1e300, -1e300};
    for (std::size_t axis = 0; axis < 3; ++axis) {
        Vector direction{};
        direction[axis] = 1.0;
        high[axis] = farthest(body, direction)[axis];
        low[axis] = farthest(body, direction * -1.0)[axis];
    }
    body.middle = (low + high) * 0.5;
    body.reach_mm = 0.0;
    for (const Vector& point : body.points)
        body.reach_mm = std::max(body.reach_mm, length(point - body.middle));
    for (const Round& round : body.rounds)
        body.reach_mm = std::max(body.reach_mm, length(round.centre - body.middle) + round.radius_mm);
}

namespace {

/// Sine of an angle below which a direction counts as along an axis: a support falls short by a radius times
/// this at most, a millionth of a micrometre.
constexpr double along_axis = 1e-12;

/// What of a vector is square to the axis. Twice, as an axis is a unit only to its last digit and the first
/// remainder of a nearly parallel vector has a share along the axis of its own size.
Vector square_part(const Vector& vector, const Vector& axis) {
    const Vector once = vector - axis * dot(vector, axis);
    return once - axis * dot(once, axis);
}

}  // namespace

Vector farthest(const Convex& body, const Vector& direction) {
    Vector best{};
    double most = -1e300;
    for (const Vector& point : body.points) {
        const double along = dot(point, direction);
        if (along > most) {
            most = along;
            best = point;
        }
    }
    for (const Round& round : body.rounds) {
        const Vector flat = square_part(direction, round.axis);
        const double size = length(flat);
        // Along the axis all of the round is as far; what is left square to it is rounding alone.
        const bool is_along = size <= along_axis * length(direction);
        const bool is_whole = round.cos_half <= -1.0;
        if (!is_along && !is_whole && dot(flat, round.middle) < round.cos_half * size) continue;
        const Vector point =
            round.centre + (is_along ? round.middle * round.radius_mm : flat * (round.radius_mm / size));
        const double along = dot(point, direction);
        if (along > most) {
            most = along;
            best = point;
        }
    }
    return best;
}

double apart_along(const Convex& fixed, const Convex& turned, const TurnZ& turn, const Vector& across) {
    return dot(turn.apply(farthest(turned, turn.undo(across * -1.0))), across) -
           dot(farthest(fixed, across), across);
}

Separation separation(const Convex& fixed, const Convex& turned, const TurnZ& turn, double within_mm) {
    constexpr int most_rounds = 200;
    constexpr double touching_mm = 1e-12;
    Separation result;
    Simplex simplex;
    Vector nearest = fixed.middle - turn.apply(turned.middle);
    if (squared(nearest) == 0.0) nearest = {1, 0, 0};
    result.upper_mm = 1e300;
    for (int round = 0; round < most_rounds; ++round) {
        const Corner corner = corner_towards(fixed, turned, turn, nearest * -1.0);
        const double size = length(nearest);
        const double plane_mm = dot(corner.difference, nearest) / size;
        if (plane_mm > result.lower_mm || round == 0) {
            result.lower_mm = std::max(0.0, plane_mm);
            result.across = nearest * (-1.0 / size);
        }
        if (result.upper_mm - result.lower_mm <= within_mm) return result;
        for (std::size_t i = 0; i < std::size_t(simplex.size); ++i) {
            if (simplex.corners[i].difference == corner.difference) return result;
        }
        simplex.corners[std::size_t(simplex.size++)] = corner;
        const Nearest found = nearest_of(simplex);
        if (found.inside || found.distance_sq <= touching_mm * touching_mm) {
            // The bodies share this place; any corner's is within their overlap's size.
            if (!found.inside) reduce(simplex, found);
            if (!found.inside) take_points(simplex, result);
            if (found.inside) result.on_fixed = result.on_turned = corner.on_fixed;
            result.lower_mm = result.upper_mm = 0.0;
            return result;
        }
        const double distance = std::sqrt(found.distance_sq);
        if (distance >= result.upper_mm) return result;  // rounding's end: no nearer point comes
        nearest = weighted(simplex, found);
        reduce(simplex, found);
        take_points(simplex, result);
        result.upper_mm = distance;
    }
    return result;
}

}  // namespace fitup::calculations
