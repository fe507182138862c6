#pragma once

#include <cmath>
#include <vector>

#include "parts/kinds.hpp"
#include "plan/metal.hpp"
#include "sheets/view.hpp"

/// Questions to a view, for tests: answered from its plain data alone.
namespace fitup::sheets::testing {

inline std::vector<ViewArc> arcs(const View& view, LineKind kind) {
    std::vector<ViewArc> found;
    for (const auto& item : view.items) {
        const auto* arc = std::get_if<ViewArc>(&item);
        if (arc != nullptr && arc->kind == kind) found.push_back(*arc);
    }
    return found;
}

inline std::vector<ViewLine> lines(const View& view, LineKind kind) {
    std::vector<ViewLine> found;
    for (const auto& item : view.items) {
        const auto* line = std::get_if<ViewLine>(&item);
        if (line != nullptr && line->kind == kind) found.push_back(*line);
    }
    return found;
}

inline std::vector<plan::Area> areas(const View& view) {
    std::vector<plan::Area> found;
    for (const auto& item : view.items) {
        if (const auto* area = std::get_if<ViewArea>(&item)) found.push_back(area->area);
    }
    return found;
}

inline const ViewMark* mark(const View& view, const std::string& id) {
    for (const ViewMark& one : view.marks) {
        if (one.id == id) return &one;
    }
    return nullptr;
}

/// A place on what is drawn, and the unit normal of the curve there.
struct Spot {
    plan::Point at, normal;
};

/// The middles of equal parts of every line and arc of a kind.
inline std::vector<Spot> spots(const View& view, LineKind kind, int parts) {
    std::vector<Spot> found;
    for (const ViewArc& arc : arcs(view, kind)) {
        for (int k = 0; k < parts; ++k) {
            const double turn = arc.from_rad + arc.sweep_rad * (k + 0.5) / parts;
            const plan::Point out{std::cos(turn), std::sin(turn)};
            found.push_back(
                {{arc.centre.x_mm + arc.radius_mm * out.x_mm, arc.centre.y_mm + arc.radius_mm * out.y_mm},
                 out});
        }
    }
    for (const ViewLine& line : lines(view, kind)) {
        const std::size_t count = line.points.size();
        for (std::size_t i = 0; i + (line.closed ? 0 : 1) < count; ++i) {
            const plan::Point a = line.points[i], b = line.points[(i + 1) % count];
            const double x = b.x_mm - a.x_mm, y = b.y_mm - a.y_mm, size = std::hypot(x, y);
            for (int k = 0; k < parts; ++k) {
                const double share = (k + 0.5) / parts;
                found.push_back({{a.x_mm + x * share, a.y_mm + y * share}, {-y / size, x / size}});
            }
        }
    }
    return found;
}

/// Least distance from a place to what is drawn in a kind.
inline double distance_mm(const View& view, LineKind kind, plan::Point at) {
    double least = 1e9;
    for (const ViewArc& arc : arcs(view, kind)) {
        const double x = at.x_mm - arc.centre.x_mm, y = at.y_mm - arc.centre.y_mm;
        double turn = std::atan2(y, x) - arc.from_rad;
        turn -= 2 * 3.14159265358979323846 * std::floor(turn / (2 * 3.14159265358979323846));
        if (turn <= arc.sweep_rad) least = std::min(least, std::abs(std::hypot(x, y) - arc.radius_mm));
        for (const double end : {arc.from_rad, arc.from_rad + arc.sweep_rad})
            least = std::min(
                least, std::hypot(x - arc.radius_mm * std::cos(end), y - arc.radius_mm * std::sin(end)));
    }
    for (const ViewLine& line : lines(view, kind)) {
        const std::size_t count = line.points.size();
        for (std::size_t i = 0; i + (line.closed ? 0 : 1) < count; ++i) {
            const plan::Point a = line.points[i], b = line.points[(i + 1) % count];
            const double x = b.x_mm - a.x_mm, y = b.y_mm - a.y_mm, square = x * x + y * y;
            double share = square > 0 ? ((at.x_mm - a.x_mm) * x + (at.y_mm - a.y_mm) * y) / square : 0.0;
            share = std::min(1.0, std::max(0.0, share));
            least = std::min(least, std::hypot(at.x_mm - a.x_mm - share * x, at.y_mm - a.y_mm - share * y));
        }
    }
    return least;
}

}  // namespace fitup::sheets::testing
