#include "sheets/label_room.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fitup::sheets {

namespace {

constexpr double edge_mm = 2.0, furthest_mm = 60.0, step_mm = 1.5;
constexpr int directions = 12;

/// Left, top, right, bottom of an upright text.
std::array<double, 4> edges_of(const Text& text) {
    const auto corners = box_of(text);
    return {corners[0][0], corners[0][1], corners[2][0], corners[2][1]};
}

}  // namespace

void LabelRoom::take(const Text& text) { boxes_.push_back(edges_of(text)); }

bool LabelRoom::is_free(const Text& text) const {
    const auto box = edges_of(text);
    if (box[0] < edge_mm || box[2] > page_mm_ - edge_mm) return false;
    return std::none_of(boxes_.begin(), boxes_.end(), [&](const std::array<double, 4>& other) {
        return box[0] < other[2] && other[0] < box[2] && box[1] < other[3] && other[1] < box[3];
    });
}

namespace {

/// The middle of a box whose nearest corner or side lies `distance_mm` off, in that direction on the page.
Place beside_circle(Place centre, std::array<double, 2> half_mm, double distance_mm, double turn_rad) {
    const double c = std::cos(turn_rad), s = std::sin(turn_rad);
    const double longer = std::max(std::abs(c), std::abs(s));
    return {centre[0] + distance_mm * c + half_mm[0] * c / longer,
            centre[1] + distance_mm * s + half_mm[1] * s / longer};
}

}  // namespace

Text LabelRoom::beside(Place centre, const std::string& text, double size_mm, double near_mm,
                       double turn_rad) const {
    const double half_mm = text_width_mm(text, size_mm) / 2.0;
    Text one;
    for (double distance_mm = near_mm; distance_mm < furthest_mm; distance_mm += step_mm) {
        for (int k = 0; k < directions; ++k) {
            // From the wanted direction to both sides in turn.
            const double off =
                (k % 2 == 0 ? 1.0 : -1.0) * ((k + 1) / 2) * 2.0 * std::numbers::pi / directions;
            const Place middle = beside_circle(centre, {half_mm, size_mm / 2.0}, distance_mm, turn_rad + off);
            one = Text{{middle[0], middle[1] + size_mm / 2.0}, text, size_mm, Anchor::middle, 0.0};
            if (is_free(one)) return one;
        }
    }
    return one;
}

}  // namespace fitup::sheets
