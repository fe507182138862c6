#include "sheets/chart.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "sheets/label_room.hpp"

namespace fitup::sheets {

namespace {

constexpr double left_mm = 20.0, least_right_mm = 30.0, top_mm = 14.0, bottom_mm = 20.0;
constexpr double text_mm = 2.5, title_mm = 3.5, note_mm = 2.2;
/// From one label at the right edge to the next, and from the edge to the label.
constexpr double marker_mm = 1.3;
constexpr double label_step_mm = 1.32 * text_mm, label_gap_mm = 1.5;

/// What stands at the right edge.
std::vector<std::string> labels_of(const Chart& chart) {
    std::vector<std::string> labels;
    const auto add = [&labels](const std::string& label) {
        if (!label.empty()) labels.push_back(label);
    };
    for (const Band& band : chart.bands) {
        if (!band.along_x) add(band.label);
    }
    for (const Curve& curve : chart.curves) add(curve.label);
    for (const Rule& rule : chart.rules) {
        if (!rule.at_x) add(rule.label);
    }
    return labels;
}

class Plot {
  public:
    Plot(const Chart& chart, double width_mm, double height_mm) : chart_(chart) {
        drawing_.title = chart.title;
        make_room(width_mm, height_mm);
    }

    Drawing draw() {
        for (const Band& band : chart_.bands) draw_band(band);
        draw_grid();
        for (const Curve& curve : chart_.curves) draw_width(curve);
        for (const Rule& rule : chart_.rules) draw_rule(rule);
        for (const Curve& curve : chart_.curves) draw_curve(curve);
        for (const Marker& marker : chart_.markers) draw_marker(marker);
        place_labels();
        draw_frame();
        place_marker_labels();
        return std::move(drawing_);
    }

  private:
    /// The page grows to the right and downwards for what would not go on it.
    void make_room(double width_mm, double height_mm) {
        const std::vector<std::string> labels = labels_of(chart_);
        for (const std::string& label : labels)
            right_mm_ = std::max(right_mm_, text_width_mm(label, text_mm) + 2.0 * label_gap_mm);
        const double words_mm =
            std::max({text_width_mm(chart_.title, title_mm), text_width_mm(chart_.note, note_mm),
                      text_width_mm(chart_.x.label, text_mm)});
        drawing_.width_mm =
            std::max(width_mm - least_right_mm + right_mm_, left_mm + words_mm + label_gap_mm);
        drawing_.height_mm = std::max({height_mm, double(labels.size() + 1) * label_step_mm + 2.0,
                                       top_mm + bottom_mm + text_width_mm(chart_.y.label, text_mm)});
    }

    double right_edge() const { return drawing_.width_mm - right_mm_; }
    double lower_edge() const { return drawing_.height_mm - bottom_mm; }
    double x_mm(double x) const {
        return left_mm + (right_edge() - left_mm) * (x - chart_.x.least) / (chart_.x.most - chart_.x.least);
    }
    double y_mm(double y) const {
        return lower_edge() -
               (lower_edge() - top_mm) * (y - chart_.y.least) / (chart_.y.most - chart_.y.least);
    }
    Place place(const Place& at) const { return {x_mm(at[0]), y_mm(at[1])}; }
    double clamped_x(double x) const { return std::clamp(x_mm(x), left_mm, right_edge()); }
    double clamped_y(double y) const { return std::clamp(y_mm(y), top_mm, lower_edge()); }

    void add_line(std::vector<Place> points, const Pen& pen) {
        drawing_.items.emplace_back(Line{std::move(points), false, pen, std::nullopt});
    }
    void add_text(Place at, const std::string& text, Anchor anchor, double size = text_mm,
                  double turn = 0.0) {
        drawing_.items.emplace_back(Text{at, text, size, anchor, turn});
    }
    void add_area(std::vector<Place> points, double grey) {
        drawing_.items.emplace_back(Line{std::move(points), true, std::nullopt, grey});
    }

    void draw_band(const Band& band) {
        const double low = band.along_x ? clamped_x(band.least) : clamped_y(band.least);
        const double high = band.along_x ? clamped_x(band.most) : clamped_y(band.most);
        if (band.along_x)
            add_area({{low, top_mm}, {high, top_mm}, {high, lower_edge()}, {low, lower_edge()}}, band.grey);
        else
            add_area({{left_mm, low}, {right_edge(), low}, {right_edge(), high}, {left_mm, high}}, band.grey);
        if (!band.label.empty() && !band.along_x)
            labels_.push_back({(low + high) / 2.0 + text_mm / 2.0, band.label});
    }

    void draw_grid() {
        const Pen faint{0.13, Dash::solid, 0.75};
        for (const double x : ticks(chart_.x.least, chart_.x.most, 8)) {
            add_line({{x_mm(x), top_mm}, {x_mm(x), lower_edge()}}, faint);
            add_text({x_mm(x), lower_edge() + 4.5}, short_text(x, 6), Anchor::middle);
        }
        for (const double y : ticks(chart_.y.least, chart_.y.most, 8)) {
            add_line({{left_mm, y_mm(y)}, {right_edge(), y_mm(y)}}, faint);
            add_text({left_mm - 1.5, y_mm(y) + text_mm / 2.0}, short_text(y, 6), Anchor::right);
        }
    }

    void draw_width(const Curve& curve) {
        if (curve.width.size() != curve.points.size() || curve.points.empty()) return;
        std::vector<Place> outline;
        for (std::size_t i = 0; i < curve.points.size(); ++i)
            outline.push_back(place({curve.points[i][0], curve.points[i][1] + curve.width[i] / 2.0}));
        for (std::size_t i = curve.points.size(); i-- > 0;)
            outline.push_back(place({curve.points[i][0], curve.points[i][1] - curve.width[i] / 2.0}));
        add_area(std::move(outline), 0.6);
    }

    void draw_curve(const Curve& curve) {
        std::vector<Place> points;
        for (const Place& point : curve.points) points.push_back(place(point));
        if (points.size() > 1) add_line(points, {wide_mm, curve.dash, 0.0});
        if (!curve.label.empty() && !points.empty())
            labels_.push_back({points.back()[1] + text_mm / 2.0, curve.label});
    }

    void draw_rule(const Rule& rule) {
        const Pen pen{narrow_mm, Dash::chain, 0.0};
        if (rule.at_x) {
            if (rule.at < chart_.x.least || rule.at > chart_.x.most) return;
            add_line({{x_mm(rule.at), top_mm}, {x_mm(rule.at), lower_edge()}}, pen);
            return;
        }
        if (rule.at < chart_.y.least || rule.at > chart_.y.most) return;
        add_line({{left_mm, y_mm(rule.at)}, {right_edge(), y_mm(rule.at)}}, pen);
        if (!rule.label.empty()) labels_.push_back({y_mm(rule.at) + text_mm / 2.0, rule.label});
    }

    void draw_marker(const Marker& marker) {
        const Place at = place(marker.at);
        const double r = marker_mm;
        if (marker.is_good) {
            drawing_.items.emplace_back(
                RoundLine{at, r, 0.0, 6.283185307179586, Pen{0.35, Dash::solid, 0.0}, 1.0});
        } else {
            add_line({{at[0] - r, at[1] - r}, {at[0] + r, at[1] + r}}, {0.5, Dash::solid, 0.0});
            add_line({{at[0] - r, at[1] + r}, {at[0] + r, at[1] - r}}, {0.5, Dash::solid, 0.0});
        }
    }

    /// Off the markers, their curves' ends and one another.
    void place_marker_labels() {
        LabelRoom room(drawing_.width_mm);
        for (const auto& item : drawing_.items) {
            if (const Text* text = std::get_if<Text>(&item)) room.take(*text);
        }
        for (const Curve& curve : chart_.curves) {
            for (const Place& point : curve.points) room.keep_off(box_round(place(point)));
        }
        for (const Marker& marker : chart_.markers) room.keep_off(box_round(place(marker.at)));
        for (const Marker& marker : chart_.markers) {
            if (marker.label.empty()) continue;
            const Text text = room.beside(place(marker.at), marker.label, 2.2, 2.2, 0.0);
            drawing_.items.emplace_back(text);
            room.take(text);
        }
    }

    static std::array<double, 4> box_round(Place at) {
        return {at[0] - marker_mm, at[1] - marker_mm, at[0] + marker_mm, at[1] + marker_mm};
    }

    /// Labels stand at the right edge, pushed apart where they would overlap.
    void place_labels() {
        std::stable_sort(labels_.begin(), labels_.end(),
                         [](const auto& a, const auto& b) { return a.y_mm < b.y_mm; });
        double lowest = -1e9;
        for (Label& label : labels_) {
            label.y_mm = std::max(label.y_mm, lowest + label_step_mm);
            lowest = label.y_mm;
        }
        const double over = lowest - (drawing_.height_mm - 2.0);
        for (Label& label : labels_)
            add_text({right_edge() + label_gap_mm, label.y_mm - std::max(0.0, over)}, label.text,
                     Anchor::left);
    }

    void draw_frame() {
        drawing_.items.emplace_back(Line{{{left_mm, top_mm},
                                          {right_edge(), top_mm},
                                          {right_edge(), lower_edge()},
                                          {left_mm, lower_edge()}},
                                         true,
                                         Pen{},
                                         std::nullopt});
        add_text({left_mm, top_mm - 5.0}, chart_.title, Anchor::left, title_mm);
        add_text({(left_mm + right_edge()) / 2.0, lower_edge() + 10.0}, chart_.x.label, Anchor::middle);
        add_text({5.0, (top_mm + lower_edge()) / 2.0}, chart_.y.label, Anchor::middle, text_mm,
                 -1.5707963267948966);
        if (!chart_.note.empty())
            add_text({left_mm, drawing_.height_mm - 3.0}, chart_.note, Anchor::left, note_mm);
    }

    struct Label {
        double y_mm = 0.0;
        std::string text;
    };
    const Chart& chart_;
    Drawing drawing_;
    double right_mm_ = least_right_mm;
    std::vector<Label> labels_;
};

}  // namespace

std::vector<double> ticks(double least, double most, int count) {
    std::vector<double> values;
    if (!(most > least) || !std::isfinite(most - least)) return values;
    const double rough = (most - least) / count;
    const double decade = std::pow(10.0, std::floor(std::log10(rough)));
    double step = 10.0 * decade;
    for (const double factor : {1.0, 2.0, 5.0}) {
        if (factor * decade >= rough) {
            step = factor * decade;
            break;
        }
    }
    for (double k = std::ceil(least / step - 1e-9); k * step <= most + 1e-9 * step; ++k)
        values.push_back(k == 0.0 ? 0.0 : k * step);
    return values;
}

Axis axis_over(std::string label, const std::vector<double>& values) {
    Axis axis{std::move(label), 0.0, 1.0};
    bool first = true;
    for (const double value : values) {
        if (!std::isfinite(value)) continue;
        axis.least = first ? value : std::min(axis.least, value);
        axis.most = first ? value : std::max(axis.most, value);
        first = false;
    }
    const double size = axis.most - axis.least;
    const double room = size > 0.0 ? 0.05 * size : std::max(1.0, std::abs(axis.least)) * 0.1;
    axis.least -= room;
    axis.most += room;
    return axis;
}

Drawing chart_drawing(const Chart& chart, double width_mm, double height_mm) {
    return Plot(chart, width_mm, height_mm).draw();
}

}  // namespace fitup::sheets
