#include "parts/layout.hpp"

#include <algorithm>

namespace fitup::parts {

namespace {

using plan::Point;

Point on_circle(double diameter_mm, Angle angle) {
    return {diameter_mm / 2.0 * angle.cos(), diameter_mm / 2.0 * angle.sin()};
}

Point turned(Point point, Angle by) {
    return {point.x_mm * by.cos() - point.y_mm * by.sin(), point.x_mm * by.sin() + point.y_mm * by.cos()};
}

std::vector<bool> skipped(const std::vector<int>& ordinals, std::size_t count) {
    std::vector<bool> is_skipped(count, false);
    for (const int ordinal : ordinals) {
        const auto index = static_cast<std::size_t>(ordinal - 1);
        if (ordinal >= 1 && index < count) is_skipped[index] = true;
    }
    return is_skipped;
}

/// The turn is added to each angle rather than to the places, so that holes turned onto an axis lie on it
/// exactly.
std::vector<NumberedPlace> turned_places(const CircleLayout& circle, Angle rotate) {
    const std::vector<bool> is_skipped = skipped(circle.skip, static_cast<std::size_t>(circle.count));
    std::vector<NumberedPlace> places;
    for (int i = 0; i < circle.count; ++i) {
        if (is_skipped[static_cast<std::size_t>(i)]) continue;
        const Angle spacing = Angle::from_degrees(360.0 * i / circle.count);
        places.push_back({i + 1, on_circle(circle.diameter_mm, circle.start_angle + rotate + spacing)});
    }
    return places;
}

/// Hour 12 is +Y and hours run clockwise, 30 degrees each.
std::vector<NumberedPlace> turned_places(const ClockLayout& clock, Angle rotate) {
    std::vector<NumberedPlace> places;
    for (const double hour : clock.hours) {
        const Angle angle = Angle::from_degrees(90.0 - 30.0 * hour) + rotate;
        places.push_back({static_cast<int>(places.size()) + 1, on_circle(clock.diameter_mm, angle)});
    }
    return places;
}

std::vector<NumberedPlace> turned_places(const PointsLayout& layout, Angle rotate) {
    const std::vector<bool> is_skipped = skipped(layout.skip, layout.points.size());
    std::vector<NumberedPlace> places;
    for (std::size_t i = 0; i < layout.points.size(); ++i) {
        if (!is_skipped[i]) places.push_back({static_cast<int>(i) + 1, turned(layout.points[i], rotate)});
    }
    return places;
}

std::size_t count_of(const CircleLayout& circle) {
    return static_cast<std::size_t>(std::max(circle.count, 0));
}
std::size_t count_of(const ClockLayout& clock) { return clock.hours.size(); }
std::size_t count_of(const PointsLayout& layout) { return layout.points.size(); }

}  // namespace

std::vector<NumberedPlace> places(const Layout& layout, plan::Side seen_from) {
    auto result =
        std::visit([&](const auto& kind) { return turned_places(kind, layout.rotate); }, layout.places);
    for (NumberedPlace& place : result) {
        place.at_mm.x_mm += layout.shift.x_mm;
        place.at_mm.y_mm += layout.shift.y_mm;
        // Subtracted from zero, so that 0 stays 0 and does not become -0.
        if (seen_from == plan::Side::A) place.at_mm.x_mm = 0.0 - place.at_mm.x_mm;
    }
    return result;
}

std::size_t place_count(const Layout& layout) {
    return std::visit([](const auto& kind) { return count_of(kind); }, layout.places);
}

Angle direction_in_plate(Angle as_seen, const Layout& layout, plan::Side seen_from) {
    const Angle turned = as_seen + layout.rotate;
    return seen_from == plan::Side::A ? Angle::from_degrees(180.0) - turned : turned;
}

}  // namespace fitup::parts
