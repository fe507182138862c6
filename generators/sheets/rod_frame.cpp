#include "sheets/rod_frame.hpp"

#include <algorithm>
#include <cmath>

namespace fitup::sheets {

namespace {

/// Sine of an angle that shows nothing: over a metre it is a micrometre short.
constexpr double true_within = 1e-6;
/// Millimetres by which one choice must show more to be the better one.
constexpr double better_by_mm = 1e-3;

/// The front view's own top view: looked down on.
ViewFrame top_of(const ViewFrame& front) { return {front.right, front.towards * -1.0, front.up}; }

ViewFrame frame_of(const Vector& towards, const Vector& near_right) {
    const Vector right = unit(near_right - towards * dot(near_right, towards));
    return {right, cross(towards, right), towards};
}

/// Looked at from above, the front or the right rather than from the other side.
Vector facing(Vector axis) {
    for (const Vector& preferred : {Vector{0, 0, 1}, Vector{0, -1, 0}, Vector{1, 0, 0}}) {
        const double share = dot(axis, preferred);
        if (std::abs(share) > true_within) return share > 0.0 ? axis : axis * -1.0;
    }
    return axis;
}

bool is_own_axis(const Vector& axis) {
    return std::any_of(axis.begin(), axis.end(),
                       [](double share) { return std::abs(share) > 1.0 - true_within * true_within; });
}

/// The longest straight that shows true lies level, running to the right; the part's own axes stay as they
/// are.
ViewFrame frame_facing(const plan::RodPath& path, const Vector& axis) {
    const Vector towards = facing(axis);
    if (is_own_axis(towards))
        return frame_of(towards, std::abs(towards[0]) > 0.5 ? Vector{0, 1, 0} : Vector{1, 0, 0});
    const plan::RodStraight* longest = nullptr;
    for (const plan::RodStraight& straight : path.straights) {
        const bool is_true = std::abs(dot(straight.along, towards)) < true_within;
        if (is_true && (longest == nullptr || straight.length_mm > longest->length_mm + better_by_mm))
            longest = &straight;
    }
    if (longest == nullptr)
        return frame_of(towards, std::abs(towards[0]) > 0.9 ? Vector{0, 1, 0} : Vector{1, 0, 0});
    const auto first = std::find_if(longest->along.begin(), longest->along.end(),
                                    [](double share) { return std::abs(share) > true_within; });
    return frame_of(towards, longest->along * (*first > 0.0 ? 1.0 : -1.0));
}

double true_length_mm(const plan::RodPath& path, const ViewFrame& front, const ViewFrame& top) {
    double sum_mm = 0.0;
    for (const plan::RodStraight& straight : path.straights) {
        if (front.shows_true(straight.along) || top.shows_true(straight.along)) sum_mm += straight.length_mm;
    }
    for (const plan::RodBend& bend : path.bends) {
        if (front.shows_true_bend(bend.axis) || top.shows_true_bend(bend.axis)) sum_mm += bend.length_mm();
    }
    return sum_mm;
}

bool is_flat(const plan::RodPath& path) {
    return std::all_of(path.bends.begin(), path.bends.end(), [&](const plan::RodBend& bend) {
        return length(cross(bend.axis, path.bends.front().axis)) < true_within;
    });
}

}  // namespace

bool ViewFrame::shows_true(const Vector& along) const { return std::abs(dot(along, towards)) < true_within; }

bool ViewFrame::shows_true_bend(const Vector& axis) const {
    return length(cross(axis, towards)) < true_within;
}

std::vector<ViewFrame> frames_of(const plan::RodPath& path) {
    if (path.bends.empty()) {
        const Vector along = path.straights.front().along;
        const Vector beside = std::abs(along[2]) > 0.9 ? Vector{0, -1, 0} : Vector{0, 0, 1};
        return {frame_of(unit(beside - along * dot(beside, along)), along)};
    }
    if (is_flat(path)) return {frame_facing(path, path.bends.front().axis)};
    std::vector<Vector> axes{{0, 0, 1}, {0, 1, 0}, {1, 0, 0}};
    for (const plan::RodBend& bend : path.bends) axes.push_back(bend.axis);
    ViewFrame best;
    double most_mm = -1.0;
    for (const Vector& axis : axes) {
        const ViewFrame front = frame_facing(path, axis);
        const double shown_mm = true_length_mm(path, front, top_of(front));
        if (shown_mm <= most_mm + better_by_mm) continue;
        most_mm = shown_mm;
        best = front;
    }
    return {best, top_of(best)};
}

}  // namespace fitup::sheets
