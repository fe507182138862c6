#include "sheets/page_room.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fitup::sheets {

namespace {

constexpr double square_mm = 0.5;
/// Words keep this far from other words.
constexpr double pad_mm = 0.5;
/// Going round: more directions than a page has corners, few enough to be quick.
constexpr int directions = 16;
constexpr double step_mm = 1.0;

/// Along the axes, round a text that may be turned.
std::array<double, 4> edges_of(const Text& text, double by_mm) {
    std::array<double, 4> box{1e300, 1e300, -1e300, -1e300};
    for (const Place& corner : box_of(text)) {
        box = {std::min(box[0], corner[0] - by_mm), std::min(box[1], corner[1] - by_mm),
               std::max(box[2], corner[0] + by_mm), std::max(box[3], corner[1] + by_mm)};
    }
    return box;
}

}  // namespace

PageRoom::PageRoom(double width_mm, double height_mm)
    : columns_(int(std::ceil(width_mm / square_mm)) + 1),
      rows_(int(std::ceil(height_mm / square_mm)) + 1),
      squares_(std::size_t(columns_) * std::size_t(rows_)) {}

PageRoom::Squares PageRoom::squares_of(const std::array<double, 4>& box) const {
    const auto column = [this](double x_mm) {
        return std::clamp(int(std::floor(x_mm / square_mm)), 0, columns_ - 1);
    };
    const auto row = [this](double y_mm) {
        return std::clamp(int(std::floor(y_mm / square_mm)), 0, rows_ - 1);
    };
    return {column(box[0]), row(box[1]), column(box[2]), row(box[3])};
}

void PageRoom::mark(double x_mm, double y_mm, Use use) {
    const int column = int(std::floor(x_mm / square_mm)), row = int(std::floor(y_mm / square_mm));
    if (column < 0 || row < 0 || column >= columns_ || row >= rows_) return;
    squares_[std::size_t(row) * std::size_t(columns_) + std::size_t(column)] |= use;
}

void PageRoom::mark_line(Place from, Place to) {
    const double length_mm = std::hypot(to[0] - from[0], to[1] - from[1]);
    const int steps = std::max(1, int(std::ceil(length_mm / square_mm)));
    for (int i = 0; i <= steps; ++i) {
        const double share = double(i) / steps;
        mark(from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1]), line);
    }
}

void PageRoom::mark_box(const std::array<double, 4>& box, Use use) {
    const Squares s = squares_of(box);
    for (int row = s.top; row <= s.bottom; ++row) {
        for (int column = s.left; column <= s.right; ++column)
            squares_[std::size_t(row) * std::size_t(columns_) + std::size_t(column)] |= use;
    }
}

void PageRoom::take(const std::array<double, 4>& box) { mark_box(box, taken); }

void PageRoom::take(const Text& text) { take(edges_of(text, pad_mm)); }

void PageRoom::add(const Line& one) {
    const std::size_t count = one.points.size();
    if (one.fill_grey && *one.fill_grey < 1.0 && count > 0) {
        std::array<double, 4> box{1e300, 1e300, -1e300, -1e300};
        for (const Place& p : one.points)
            box = {std::min(box[0], p[0]), std::min(box[1], p[1]), std::max(box[2], p[0]),
                   std::max(box[3], p[1])};
        return take(box);
    }
    for (std::size_t i = 0; i + 1 < count; ++i) mark_line(one.points[i], one.points[i + 1]);
    if (one.closed && count > 2) mark_line(one.points.back(), one.points.front());
}

void PageRoom::add(const RoundLine& round) {
    const int steps = std::max(8, int(std::ceil(round.radius_mm * std::abs(round.sweep_rad) / square_mm)));
    for (int i = 0; i <= steps; ++i) {
        const double turn = round.from_rad + round.sweep_rad * i / steps;
        mark(round.centre[0] + round.radius_mm * std::cos(turn),
             round.centre[1] + round.radius_mm * std::sin(turn), line);
    }
}

void PageRoom::take(const Drawing& drawing) {
    for (const auto& item : drawing.items) std::visit([this](const auto& one) { add(one); }, item);
}

bool PageRoom::is_free(const Text& text) const {
    const auto box = edges_of(text, 0.0);
    if (box[0] < 0.0 || box[1] < 0.0 || box[2] > (columns_ - 1) * square_mm ||
        box[3] > (rows_ - 1) * square_mm)
        return false;
    const Squares s = squares_of(box);
    for (int row = s.top; row <= s.bottom; ++row) {
        const auto* first = &squares_[std::size_t(row) * std::size_t(columns_)];
        if (std::any_of(first + s.left, first + s.right + 1, [](std::uint8_t u) { return (u & taken) != 0; }))
            return false;
    }
    return true;
}

int PageRoom::lines_under(const Text& text) const {
    const Squares s = squares_of(edges_of(text, 0.2));
    int count = 0;
    for (int row = s.top; row <= s.bottom; ++row) {
        const auto* first = &squares_[std::size_t(row) * std::size_t(columns_)];
        count += int(std::count_if(first + s.left, first + s.right + 1,
                                   [](std::uint8_t u) { return (u & line) != 0; }));
    }
    return count;
}

std::optional<Text> PageRoom::beside(Place centre, const std::string& text, double size_mm, double near_mm,
                                     double furthest_mm, double turn_rad) const {
    const double half_mm = text_width_mm(text, size_mm) / 2.0;
    std::optional<Text> best;
    double least = 1e300;
    for (double distance_mm = near_mm; distance_mm < furthest_mm && distance_mm - near_mm < least;
         distance_mm += step_mm) {
        for (int k = 0; k < directions; ++k) {
            // From the wanted direction to both sides in turn.
            const double off =
                (k % 2 == 0 ? 1.0 : -1.0) * ((k + 1) / 2) * 2.0 * std::numbers::pi / directions;
            const double cosine = std::cos(turn_rad + off), sine = std::sin(turn_rad + off);
            const Text one{{centre[0] + distance_mm * cosine + half_mm * cosine,
                            centre[1] + (distance_mm + size_mm / 2.0) * sine + size_mm / 2.0},
                           text,
                           size_mm,
                           Anchor::middle,
                           0.0};
            if (!is_free(one)) continue;
            // A line under words is as bad as being some millimetres further off.
            const double cost = (distance_mm - near_mm) + std::abs(off) * 0.6 + lines_under(one) * 1.2;
            if (cost < least) {
                least = cost;
                best = one;
            }
        }
    }
    return best;
}

}  // namespace fitup::sheets
