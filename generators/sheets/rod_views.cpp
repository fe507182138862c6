#include "sheets/rod_views.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/vector3.hpp"
#include "plan/rod_path.hpp"
#include "plan/vector.hpp"
#include "sheets/rod_bar.hpp"
#include "sheets/rod_ends.hpp"
#include "sheets/rod_frame.hpp"
#include "sheets/rod_outline.hpp"
#include "sheets/view_lines.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;

constexpr Point along_x{1.0, 0.0}, along_y{0.0, 1.0};
/// A straight rod is drawn whole up to so many diameters, else this short.
constexpr double whole_share = 25.0, short_share = 16.0;

std::string numbered(const char* name, std::size_t index) { return name + (" " + std::to_string(index + 1)); }

/// What is worked on the ends of a bar that lies along X.
void add_bar_ends(ViewKeys& keys, const plan::Rod& rod, const RodBar& bar) {
    for (const std::size_t end : {std::size_t{0}, std::size_t{1}}) {
        const plan::RodEnd& made = rod.ends[end];
        if (made.length_mm <= 0.0) continue;
        const double face_mm = end == 0 ? 0.0 : bar.shown_mm, inward = end == 0 ? 1.0 : -1.0;
        keys.lengths.push_back({numbered(made.thread ? "thread" : "turned", end),
                                {face_mm, 0.0},
                                {face_mm + inward * made.length_mm, 0.0},
                                along_x,
                                made.length_mm});
        if (!made.thread)
            add_diameter(keys, numbered("turned diameter", end),
                         {face_mm + inward * made.length_mm / 2.0, 0.0}, along_y, made.diameter_mm);
    }
}

KeyedView straight_view(const plan::Rod& rod, double length_mm, const RodViewOptions& options) {
    double most_mm = options.most_mm;
    if (most_mm <= 0.0)
        most_mm = length_mm > whole_share * rod.diameter_mm ? short_share * rod.diameter_mm : length_mm;
    const RodBar bar = bar_of(rod, length_mm, most_mm);
    KeyedView keyed;
    keyed.view.name = "rod";
    add_bar(keyed.view, rod, bar, options.overshoot_mm);
    keyed.keys.lengths.push_back({"length", {}, {bar.shown_mm, 0.0}, along_x, length_mm});
    // Off the middle, where a break may be.
    add_diameter(keyed.keys, "diameter", {bar.shown_mm * 0.4, 0.0}, along_y, rod.diameter_mm);
    add_bar_ends(keyed.keys, rod, bar);
    return keyed;
}

KeyedView stock_view(const plan::Rod& rod, const plan::RodPath& path, double overshoot_mm) {
    KeyedView keyed;
    keyed.view.name = "straight stock";
    const RodBar bar{path.length_mm, path.length_mm};
    add_bar(keyed.view, rod, bar, overshoot_mm);
    keyed.keys.lengths.push_back({"cut length", {}, {path.length_mm, 0.0}, along_x, path.length_mm});
    const double half_mm = rod.diameter_mm / 2.0;
    const auto add_from_end = [&](std::string name, double at_mm) {
        keyed.keys.lengths.push_back({std::move(name), {}, {at_mm, 0.0}, along_x, at_mm});
    };
    for (std::size_t k = 0; k < path.bends.size(); ++k) {
        const plan::RodBend& bend = path.bends[k];
        for (const double x_mm : {bend.mark_mm, bend.mark_mm + bend.length_mm()})
            add_line(keyed.view, LineKind::bend, {x_mm, -half_mm}, {x_mm, half_mm});
        keyed.view.marks.push_back({{bend.middle_mm, 0.0}, numbered("bend", k), half_mm, true});
        add_from_end(numbered("mark", k), bend.mark_mm);
        add_from_end(numbered("middle", k), bend.middle_mm);
    }
    add_bar_ends(keyed.keys, rod, bar);
    return keyed;
}

/// The keys of a bent rod, each in the first view that shows it true.
class BentKeys {
  public:
    BentKeys(const plan::Rod& rod, const plan::RodPath& path, const std::vector<ViewFrame>& frames,
             std::vector<KeyedView>& views)
        : rod_(rod), path_(path), frames_(frames), views_(views) {}

    void add() {
        for (std::size_t k = 0; k < path_.straights.size(); ++k) {
            const plan::RodStraight& straight = path_.straights[k];
            if (straight.length_mm > 0.0) add_length(numbered("straight", k), straight.from, straight.to);
        }
        for (std::size_t k = 0; k + 1 < rod_.corners.size(); ++k)
            add_length(numbered("leg", k), rod_.corners[k], rod_.corners[k + 1]);
        for (std::size_t k = 0; k < path_.bends.size(); ++k) add_bend(k);
        for (const std::size_t end : {std::size_t{0}, std::size_t{1}}) add_end(end);
        add_diameter_key();
    }

  private:
    /// The first view for which it holds.
    template <typename Test>
    std::optional<std::size_t> view_that(const Test& test) const {
        for (std::size_t k = 0; k < frames_.size(); ++k) {
            if (test(frames_[k])) return k;
        }
        return std::nullopt;
    }

    void add_length(std::string name, const Vector& from, const Vector& to) {
        const Vector along = unit(to - from);
        const auto shown = view_that([&](const ViewFrame& frame) { return frame.shows_true(along); });
        if (!shown) name += " (true)";
        const std::size_t k = shown.value_or(0);
        const Point a = frames_[k].of(from), b = frames_[k].of(to);
        if (plan::distance_mm(a, b) < plan::same_point_mm) return;
        views_[k].keys.lengths.push_back({std::move(name), a, b, plan::unit(b - a), length(to - from)});
    }

    void add_bend(std::size_t k) {
        const plan::RodBend& bend = path_.bends[k];
        const auto shown =
            view_that([&](const ViewFrame& frame) { return frame.shows_true_bend(bend.axis); });
        if (!shown) return;
        const ViewFrame& frame = frames_[*shown];
        ViewKeys& keys = views_[*shown].keys;
        const Vector ahead = cross(bend.axis, bend.outward);
        const double half_rad = bend.angle.radians() / 2.0;
        const Vector middle =
            bend.centre + (bend.outward * std::cos(half_rad) + ahead * std::sin(half_rad)) * bend.radius_mm;
        keys.radii.push_back(
            {numbered("bend radius", k), frame.of(bend.centre), frame.of(middle), bend.radius_mm});
        const Point in = frame.of(ahead);
        const bool is_left = dot(bend.axis, frame.towards) > 0.0;
        const double in_rad = std::atan2(in.y_mm, in.x_mm);
        keys.angles.push_back({numbered("bend", k), frame.of(rod_.corners[k + 1]),
                               is_left ? in_rad : in_rad - bend.angle.radians(), bend.angle.radians(),
                               bend.angle});
    }

    void add_end(std::size_t end) {
        const plan::RodEnd& made = rod_.ends[end];
        if (made.length_mm <= 0.0) return;
        const plan::RodStraight& straight = end == 0 ? path_.straights.front() : path_.straights.back();
        const Vector face = end == 0 ? straight.from : straight.to;
        const Vector inward = straight.along * (end == 0 ? 1.0 : -1.0);
        add_length(numbered(made.thread ? "thread" : "turned", end), face, face + inward * made.length_mm);
    }

    /// Across the longest straight of the first view that shows one true.
    void add_diameter_key() {
        const ViewFrame& frame = frames_.front();
        const plan::RodStraight* longest = &path_.straights.front();
        for (const plan::RodStraight& straight : path_.straights) {
            if (length(cross(straight.along, frame.towards)) * straight.length_mm >
                length(cross(longest->along, frame.towards)) * longest->length_mm)
                longest = &straight;
        }
        const Point a = frame.of(longest->from), b = frame.of(longest->to);
        if (plan::distance_mm(a, b) < plan::same_point_mm) return;
        const Point across = plan::left_of(plan::unit(b - a)), middle = (a + b) * 0.5;
        const Point half = across * (rod_.diameter_mm / 2.0);
        views_.front().keys.lengths.push_back(
            {"diameter", middle - half, middle + half, across, rod_.diameter_mm, true});
    }

    const plan::Rod& rod_;
    const plan::RodPath& path_;
    const std::vector<ViewFrame>& frames_;
    std::vector<KeyedView>& views_;
};

}  // namespace

RodViews rod_views(const plan::Plan& plan, const RodViewOptions& options) {
    const plan::Rod& rod = *plan.rod;
    const plan::RodPath path = plan::rod_path(rod);
    RodViews views;
    if (path.bends.empty()) {
        views.views.push_back(straight_view(rod, path.length_mm, options));
        return views;
    }
    const std::vector<ViewFrame> frames = frames_of(path);
    for (std::size_t k = 0; k < frames.size(); ++k) {
        KeyedView keyed;
        keyed.view.name = frames.size() == 1 ? "plane of the bends" : k == 0 ? "front" : "top";
        add_rod(keyed.view, rod, path, frames[k], options.overshoot_mm);
        views.views.push_back(std::move(keyed));
    }
    BentKeys(rod, path, frames, views.views).add();
    views.stock = stock_view(rod, path, options.overshoot_mm);
    return views;
}

}  // namespace fitup::sheets
