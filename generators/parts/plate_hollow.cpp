#include <algorithm>
#include <cmath>
#include <limits>

#include "base/error.hpp"
#include "parts/hole_shape.hpp"
#include "parts/plate_shape.hpp"
#include "parts/recess.hpp"

namespace fitup::parts {

namespace {

using plan::Area;
using plan::Circle;
using plan::Contour;
using plan::Hole;
using plan::Point;

/// A piece of what a hole removes: a frustum between two depths below the hollow's face (depth 0), radii in
/// mm.
struct Frustum {
    double near_mm = 0.0;
    double far_mm = 0.0;
    double near_radius_mm = 0.0;
    double far_radius_mm = 0.0;
};

/// Pieces are worked out from the face that each is made from, and turned round where the hollow is milled
/// from the other.
Frustum seen_from_face(Frustum piece, plan::Side made_from, const HollowParameters& hollow,
                       double thickness_mm) {
    if (made_from == hollow.side) return piece;
    return {thickness_mm - piece.far_mm, thickness_mm - piece.near_mm, piece.far_radius_mm,
            piece.near_radius_mm};
}

double shaft_radius_mm(const Hole& hole) {
    return std::max(
               {hole.diameter_mm, hole.finish_diameter_mm.value_or(0.0), hole.slot_length_mm.value_or(0.0)}) /
           2.0;
}

std::vector<Frustum> pieces_of(const Hole& hole, const HollowParameters& hollow, double thickness_mm) {
    const double radius_mm = shaft_radius_mm(hole);
    std::vector<Frustum> pieces;
    const auto add = [&](Frustum piece, plan::Side side) {
        pieces.push_back(seen_from_face(piece, side, hollow, thickness_mm));
    };
    add({0.0, hole.depth_mm, radius_mm, radius_mm}, hole.from);
    if (hole.point_angle) {
        const double tip_mm = hole.depth_mm + point_height_mm(hole.diameter_mm, *hole.point_angle);
        add({hole.depth_mm, tip_mm, hole.diameter_mm / 2.0, 0.0}, hole.from);
    }
    if (hole.recess) {
        const double recess_radius_mm = hole.recess->diameter_mm / 2.0;
        add({0.0, hole.recess->depth_mm, recess_radius_mm, recess_radius_mm}, hole.recess->side);
    }
    if (hole.countersink) {
        const double sunk_mm = depth_mm(*hole.countersink, hole.diameter_mm);
        add({0.0, sunk_mm, hole.countersink->diameter_mm / 2.0, hole.diameter_mm / 2.0},
            hole.countersink->side);
    }
    return pieces;
}

double distance_to_area_mm(const std::vector<Area>& areas, Point point) {
    double least_mm = std::numeric_limits<double>::infinity();
    for (const Area& area : areas) {
        bool is_inside = area.outer.contains(point);
        least_mm = std::min(least_mm, area.outer.distance_to_mm(point));
        for (const Contour& island : area.islands) {
            is_inside = is_inside && !island.contains(point);
            least_mm = std::min(least_mm, island.distance_to_mm(point));
        }
        if (is_inside) return 0.0;
    }
    return least_mm;
}

/// Distance in space between a frustum and the pocket, whose nearest wall is `wall_mm` from the hole's axis.
/// Along the frustum's side its square is convex and made of parabolas, so that it is least at an end, where
/// the side passes wall or floor, or nearest to the edge between the two.
double distance_to_pocket_mm(const Frustum& piece, double wall_mm, double floor_mm) {
    const double length_mm = piece.far_mm - piece.near_mm;
    const double widening_mm = piece.far_radius_mm - piece.near_radius_mm;
    const auto distance_at = [&](double share) {
        const double t = std::clamp(share, 0.0, 1.0);
        return std::hypot(std::max(0.0, wall_mm - piece.near_radius_mm - t * widening_mm),
                          std::max(0.0, piece.near_mm + t * length_mm - floor_mm));
    };
    const double to_wall_mm = wall_mm - piece.near_radius_mm;
    const double to_floor_mm = floor_mm - piece.near_mm;
    double least_mm = std::min(distance_at(0.0), distance_at(1.0));
    if (length_mm > 0.0) least_mm = std::min(least_mm, distance_at(to_floor_mm / length_mm));
    if (widening_mm != 0.0) least_mm = std::min(least_mm, distance_at(to_wall_mm / widening_mm));
    const double square = length_mm * length_mm + widening_mm * widening_mm;
    if (square > 0.0) {
        least_mm =
            std::min(least_mm, distance_at((to_floor_mm * length_mm + to_wall_mm * widening_mm) / square));
    }
    return least_mm;
}

/// The largest radius of the pieces within `reach_mm` of the hollow's face.
double largest_radius_mm(const std::vector<Frustum>& pieces, double reach_mm) {
    double largest_mm = 0.0;
    for (const Frustum& piece : pieces) {
        if (piece.near_mm > reach_mm) continue;
        const double length_mm = piece.far_mm - piece.near_mm;
        const double share = length_mm > 0.0 ? std::min(1.0, (reach_mm - piece.near_mm) / length_mm) : 0.0;
        const double end_mm = piece.near_radius_mm + share * (piece.far_radius_mm - piece.near_radius_mm);
        largest_mm = std::max({largest_mm, piece.near_radius_mm, end_mm});
    }
    return largest_mm;
}

/// The boss that a hole keeps, where its metal removal comes too near to the pocket.
std::optional<Circle> boss_of(const Hole& hole, const HollowParameters& hollow,
                              const std::vector<Area>& pocket, double thickness_mm) {
    const std::vector<Frustum> pieces = pieces_of(hole, hollow, thickness_mm);
    const double wall_mm = distance_to_area_mm(pocket, hole.at_mm);
    const bool is_near = std::any_of(pieces.begin(), pieces.end(), [&](const Frustum& piece) {
        return distance_to_pocket_mm(piece, wall_mm, hollow.depth_mm) < hollow.around_holes_mm;
    });
    if (!is_near) return {};
    const double radius_mm = largest_radius_mm(pieces, hollow.depth_mm + hollow.around_holes_mm);
    return Circle{hole.at_mm, radius_mm + hollow.around_holes_mm};
}

std::vector<Area> cut_areas(const std::vector<Contour>& inside, const std::vector<Circle>& keep_out,
                            double cutter_radius_mm) {
    std::vector<Area> areas;
    for (const Contour& contour : inside) {
        const std::vector<Area> part = plan::reachable(contour, keep_out, cutter_radius_mm);
        areas.insert(areas.end(), part.begin(), part.end());
    }
    return areas;
}

std::vector<Area> hollow_areas(const HollowParameters& hollow, const AdapterPlate& plate,
                               const plan::Plan& plan) {
    const std::vector<Contour> inside = plan::inset(plan.body.outline, hollow.rim_mm);
    std::vector<Circle> keep_out;
    if (plate.bore && hollow.around_bore_mm > 0.0) {
        keep_out.push_back({plan::Point{}, plate.bore->diameter_mm / 2.0 + hollow.around_bore_mm});
    }
    const std::vector<Area> without_bosses = cut_areas(inside, keep_out, hollow.corner_radius_mm);
    for (const Hole& hole : plan.holes) {
        if (hole.kind == plan::HoleKind::bore) continue;
        if (const auto boss = boss_of(hole, hollow, without_bosses, plate.thickness_mm))
            keep_out.push_back(*boss);
    }
    return cut_areas(inside, keep_out, hollow.corner_radius_mm);
}

}  // namespace

void add_hollow(Reader& reader, const AdapterPlate& plate, plan::Plan& plan) {
    if (!plate.hollow) return;
    const HollowParameters& hollow = *plate.hollow;
    if (hollow.depth_mm >= plate.thickness_mm) {
        reader.wrong(hollow.field["depth"],
                     "less than the thickness, " + reader.length_text(plate.thickness_mm));
        return;
    }
    std::vector<Area> areas;
    try {
        areas = hollow_areas(hollow, plate, plan);
    } catch (const KernelError& error) {
        // Where bosses and rim all but touch, the region's outline can't be told: the file's figures are at
        // fault.
        reader.wrong_in_words(hollow.field, error.what());
        return;
    }
    if (areas.empty()) {
        reader.wrong_in_words(hollow.field,
                              "nothing is left to hollow out inside the rim and round the holes; make rim, "
                              "around_holes or corner_radius smaller");
        return;
    }
    plan.pockets.push_back({.id = "hollow",
                            .kind = plan::PocketKind::hollow,
                            .side = hollow.side,
                            .areas = std::move(areas),
                            .depth_mm = hollow.depth_mm,
                            .through = false,
                            .corner_radius_mm = hollow.corner_radius_mm});
    plan.hollow = plan::Plan::HollowFigures{hollow.rim_mm, hollow.around_holes_mm};
}

}  // namespace fitup::parts
