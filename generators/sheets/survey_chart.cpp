#include "sheets/survey_chart.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/text.hpp"
#include "base/units.hpp"
#include "plan/vector.hpp"
#include "sheets/chart.hpp"
#include "sheets/label_room.hpp"

namespace fitup::sheets {

namespace {

using namespace calculations;
using plan::Point;

constexpr double page_mm = 210.0, margin_mm = 12.0, text_mm = 2.5, hole_mm = 1.6, room_mm = 16.0;
constexpr double head_mm = 22.0, least_side_mm = 60.0, most_side_mm = 186.0;
constexpr double largest_ellipse_mm = 6.0, longest_bar_mm = 12.0;
/// A circle larger than this against the points would leave the page; one that they are off by more than a
/// share of says nothing of them.
constexpr double circle_over_spread = 1.5, circle_roundness = 0.1;
constexpr std::size_t most_id_letters = 16;

/// The largest of 1, 2, 5 x 10^k that keeps `value` times it within `most`.
double round_factor(double value, double most) {
    if (!(value > 0.0)) return 1.0;
    const double decade = std::pow(10.0, std::floor(std::log10(most / value)));
    for (const double digit : {5.0, 2.0}) {
        if (value * digit * decade <= most) return digit * decade;
    }
    return decade;
}

class SurveyChart {
  public:
    explicit SurveyChart(const SurveyResult& result)
        : result_(result), survey_(result.survey), at_(result.fit.points_mm) {
        measure();
        choose_factors();
    }

    Drawing draw() {
        drawing_.title = survey_.name;
        drawing_.width_mm = page_mm;
        if (result_.kind.circle) draw_circle(*result_.kind.circle);
        for (std::size_t i = 0; i < survey_.readings.size(); ++i) draw_reading_line(i);
        draw_axes();
        for (std::size_t i = 0; i < survey_.readings.size(); ++i) draw_residual(i);
        for (std::size_t i = 0; i < at_.size(); ++i) draw_point(i);
        place_marks();
        place_ids();
        draw_words();
        return std::move(drawing_);
    }

  private:
    // To the page ----------------------------------------------------------------------------------------

    void measure() {
        low_ = high_ = at_.front();
        for (const Point& point : at_) grow(point);
        const double spread = std::max({high_.x_mm - low_.x_mm, high_.y_mm - low_.y_mm, 1e-3});
        has_circle_ =
            result_.kind.circle && result_.kind.circle->diameter_mm <= circle_over_spread * spread &&
            result_.kind.circle->roundness_mm <= circle_roundness * result_.kind.circle->diameter_mm;
        if (has_circle_) {
            const CircleFit& circle = *result_.kind.circle;
            const Point half{circle.diameter_mm / 2.0, circle.diameter_mm / 2.0};
            grow(circle.centre_mm - half);
            grow(circle.centre_mm + half);
        }
        const double width = high_.x_mm - low_.x_mm, height = high_.y_mm - low_.y_mm;
        scale_ = (most_side_mm - 2.0 * room_mm) / std::max({width, height, 1e-3});
        bottom_ = head_mm + 2.0 * room_mm + std::max(scale_ * height, least_side_mm / 2.0);
        left_ = (page_mm - scale_ * width) / 2.0;
    }
    void grow(Point point) {
        low_ = {std::min(low_.x_mm, point.x_mm), std::min(low_.y_mm, point.y_mm)};
        high_ = {std::max(high_.x_mm, point.x_mm), std::max(high_.y_mm, point.y_mm)};
    }
    Place place(Point point) const {
        return {left_ + scale_ * (point.x_mm - low_.x_mm),
                bottom_ - room_mm - scale_ * (point.y_mm - low_.y_mm)};
    }
    const Point& at(int point) const { return at_[std::size_t(point)]; }

    bool is_suspect(std::size_t reading) const {
        return std::any_of(result_.fit.suspects.begin(), result_.fit.suspects.end(),
                           [&](const Suspect& one) { return one.reading == int(reading); });
    }

    /// So that the largest ellipse and the longest bar are seen well; what a suspect is off by is not
    /// counted.
    void choose_factors() {
        double major = 0.0, residual = 0.0, any = 0.0;
        for (std::size_t i = 0; i < at_.size(); ++i)
            major = std::max(major, error_ellipse(result_.fit, i).major_mm);
        for (std::size_t i = 0; i < survey_.readings.size(); ++i) {
            if (survey_.readings[i].quantity == Quantity::angle || survey_.readings[i].left_out) continue;
            const double off_mm = std::abs(result_.fit.residuals[i].residual);
            any = std::max(any, off_mm);
            if (!is_suspect(i)) residual = std::max(residual, off_mm);
        }
        if (residual == 0.0) residual = any;
        ellipse_factor_ = std::max(1.0, round_factor(major * scale_, largest_ellipse_mm));
        residual_factor_ = std::max(1.0, round_factor(residual * scale_, longest_bar_mm / 2.0));
        has_residuals_ = residual * scale_ * residual_factor_ > 0.1;
    }

    // Pieces ---------------------------------------------------------------------------------------------

    void add_line(Place from, Place to, const Pen& pen) {
        drawing_.items.emplace_back(Line{{from, to}, false, pen, std::nullopt});
    }
    void add_round(Place at, double radius_mm, const Pen& pen, std::optional<double> fill = std::nullopt) {
        drawing_.items.emplace_back(RoundLine{at, radius_mm, 0.0, 2.0 * std::numbers::pi, pen, fill});
    }
    Text text_at(Place at, const std::string& text, Anchor anchor, double size = text_mm) const {
        return Text{at, text, size, anchor, 0.0};
    }
    void add_text(const Text& text) {
        drawing_.items.emplace_back(text);
        labels_.take(text);
    }

    void draw_circle(const CircleFit& circle) {
        if (!has_circle_) return;
        add_round(place(circle.centre_mm), scale_ * circle.diameter_mm / 2.0, {0.25, Dash::chain, 0.0});
        const Place centre = place(circle.centre_mm);
        add_line({centre[0] - 2.5, centre[1]}, {centre[0] + 2.5, centre[1]}, {0.18, Dash::solid, 0.0});
        add_line({centre[0], centre[1] - 2.5}, {centre[0], centre[1] + 2.5}, {0.18, Dash::solid, 0.0});
    }

    void draw_reading_line(std::size_t index) {
        const Reading& reading = survey_.readings[index];
        const bool wrong = is_suspect(index);
        const Pen pen{wrong ? 0.5 : 0.13, reading.left_out ? Dash::dashed : Dash::solid, wrong ? 0.0 : 0.45};
        if (reading.quantity == Quantity::span) {
            add_line(place(at(reading.a)), place(at(reading.b)), pen);
            if (wrong) marks_.push_back(along_span(reading));
        } else if (reading.quantity == Quantity::angle) {
            draw_angle(reading, pen);
            if (wrong) marks_.push_back({beside_hole(reading, -6.0)});
        } else if (wrong) {
            marks_.push_back({beside_hole(reading, 6.0)});
        }
    }

    std::vector<Place> along_span(const Reading& reading) const {
        std::vector<Place> places;
        for (const double share : {0.7, 0.3, 0.85, 0.15})
            places.push_back(place(at(reading.a) * (1.0 - share) + at(reading.b) * share));
        return places;
    }
    Place beside_hole(const Reading& reading, double by_mm) const {
        const Place centre = place(at(reading.a));
        // Both coordinates of a hole may be suspect: their marks stand one above the other.
        return {centre[0] + by_mm, centre[1] + (reading.quantity == Quantity::y ? 4.0 : -4.0)};
    }

    /// Where a span's bar lies: off its middle, where the diagonals of a pattern cross.
    Point on_span(const Reading& reading) const { return at(reading.a) * 0.58 + at(reading.b) * 0.42; }

    void draw_angle(const Reading& reading, const Pen& pen) {
        const Point from = at(reading.b) - at(reading.a), to = at(reading.c) - at(reading.a);
        const double start = std::atan2(from.y_mm, from.x_mm), sweep = plan::angle_between_rad(from, to);
        // On the page angles grow clockwise.
        drawing_.items.emplace_back(RoundLine{place(at(reading.a)), 9.0, -start, -sweep, pen, std::nullopt});
        for (const Point& leg : {from, to}) {
            const Place vertex = place(at(reading.a));
            const Point out = plan::unit(leg) * 11.0;
            add_line(vertex, {vertex[0] + out.x_mm, vertex[1] - out.y_mm}, pen);
        }
    }

    /// A bar along what was measured: filled where the reading is longer than the fit, open where shorter. A
    /// coordinate's stands beside the point, on the side where the reading puts it.
    void draw_residual(std::size_t index) {
        const Reading& reading = survey_.readings[index];
        if (!has_residuals_ || reading.quantity == Quantity::angle || reading.left_out) return;
        const double off_mm = result_.fit.residuals[index].residual;
        const double bar = std::min(std::abs(off_mm) * scale_ * residual_factor_, longest_bar_mm);
        if (bar < 0.1) return;
        if (reading.quantity == Quantity::span) {
            const Place middle = place(on_span(reading));
            const Point along = plan::unit(at(reading.b) - at(reading.a));
            draw_bar(middle, {along.x_mm, -along.y_mm}, -bar / 2.0, bar / 2.0, off_mm > 0.0);
            return;
        }
        const Place centre = place(at(reading.a));
        const double way = off_mm > 0.0 ? 1.0 : -1.0;
        const Place direction = axis_on_page(reading.quantity);
        draw_bar(centre, {way * direction[0], way * direction[1]}, hole_mm, hole_mm + bar, true);
    }

    /// Where the survey's own X or Y points on the page: the datum may have turned it.
    Place axis_on_page(Quantity quantity) const {
        const double turn = axes_turn_rad();
        const Point along = plan::turned(quantity == Quantity::x ? Point{1, 0} : Point{0, 1}, turn);
        return {along.x_mm, -along.y_mm};
    }

    /// How far the axes of the readings lie anticlockwise of the result's: from two points' coordinates as
    /// read.
    double axes_turn_rad() const {
        std::vector<std::pair<Point, Point>> both;
        for (std::size_t i = 0; i < at_.size(); ++i) {
            Point read;
            int found = 0;
            for (std::size_t k = 0; k < survey_.readings.size(); ++k) {
                const Reading& one = survey_.readings[k];
                if (one.a != int(i) || one.quantity > Quantity::y || one.left_out) continue;
                (one.quantity == Quantity::x ? read.x_mm : read.y_mm) = result_.fit.residuals[k].fitted;
                found |= one.quantity == Quantity::x ? 1 : 2;
            }
            if (found == 3) both.push_back({read, at_[i]});
        }
        if (both.size() < 2) return 0.0;
        return plan::angle_between_rad(both.back().first - both.front().first,
                                       both.back().second - both.front().second);
    }

    void draw_bar(Place from, Place along, double start, double end, bool filled) {
        constexpr double half = 0.45;
        const Place across{-along[1], along[0]};
        const auto corner = [&](double s, double t) {
            return Place{from[0] + s * along[0] + t * across[0], from[1] + s * along[1] + t * across[1]};
        };
        const Place a = corner(start, 0.0), b = corner(end, 0.0);
        labels_.keep_off({std::min(a[0], b[0]) - half, std::min(a[1], b[1]) - half,
                          std::max(a[0], b[0]) + half, std::max(a[1], b[1]) + half});
        drawing_.items.emplace_back(
            Line{{corner(start, -half), corner(end, -half), corner(end, half), corner(start, half)},
                 true,
                 Pen{0.18, Dash::solid, 0.0},
                 filled ? 0.0 : 1.0});
    }

    void draw_point(std::size_t i) {
        const Place centre = place(at_[i]);
        add_round(centre, hole_mm, {0.35, Dash::solid, 0.0}, 1.0);
        add_line({centre[0] - hole_mm, centre[1]}, {centre[0] + hole_mm, centre[1]},
                 {0.13, Dash::solid, 0.0});
        add_line({centre[0], centre[1] - hole_mm}, {centre[0], centre[1] + hole_mm},
                 {0.13, Dash::solid, 0.0});
        draw_ellipse(i, centre);
    }

    void draw_ellipse(std::size_t i, Place centre) {
        const ErrorEllipse ellipse = error_ellipse(result_.fit, i);
        const double factor = scale_ * ellipse_factor_;
        if (ellipse.major_mm * factor < 0.05) return;
        Line line{{}, true, Pen{0.25, Dash::dashed, 0.0}, std::nullopt};
        constexpr int corners = 60;
        for (int k = 0; k < corners; ++k) {
            const double turn = 2.0 * std::numbers::pi * k / corners;
            const Point out = plan::turned(
                {factor * ellipse.major_mm * std::cos(turn), factor * ellipse.minor_mm * std::sin(turn)},
                ellipse.major_direction_rad);
            line.points.push_back({centre[0] + out.x_mm, centre[1] - out.y_mm});
        }
        drawing_.items.emplace_back(std::move(line));
    }

    /// The result's axes: at their origin where that is on the picture, else in its lower left corner.
    void draw_axes() {
        const bool is_inside = low_.x_mm <= 0.0 && high_.x_mm >= 0.0 && low_.y_mm <= 0.0 && high_.y_mm >= 0.0;
        const Place origin = is_inside ? place({0.0, 0.0}) : Place{margin_mm + 4.0, bottom_ - 4.0};
        const double length = 14.0;
        draw_arrow(origin, {origin[0] + length, origin[1]});
        draw_arrow(origin, {origin[0], origin[1] - length});
        add_text(text_at({origin[0] + length + 1.0, origin[1] + 1.2}, "X", Anchor::left));
        add_text(text_at({origin[0], origin[1] - length - 1.0}, "Y", Anchor::middle));
        if (is_inside) add_round(origin, 0.9, {0.25, Dash::solid, 0.0}, 0.0);
    }
    void draw_arrow(Place from, Place to) {
        add_line(from, to, {0.35, Dash::solid, 0.0});
        const double length = std::hypot(to[0] - from[0], to[1] - from[1]);
        const Place along{(to[0] - from[0]) / length, (to[1] - from[1]) / length};
        const auto corner = [&](double across) {
            return Place{to[0] - 2.2 * along[0] - across * along[1],
                         to[1] - 2.2 * along[1] + across * along[0]};
        };
        drawing_.items.emplace_back(Line{{to, corner(0.7), corner(-0.7)}, true, std::nullopt, 0.0});
    }

    // Words ----------------------------------------------------------------------------------------------

    /// A question mark in a circle, over everything else.
    void place_marks() {
        for (const std::vector<Place>& places : marks_) {
            for (const Place& at : places) {
                const Text text = text_at({at[0], at[1] + 1.6}, "?", Anchor::middle, 3.2);
                if (!labels_.is_free(text)) continue;
                add_round(at, 2.8, {0.35, Dash::solid, 0.0}, 1.0);
                add_text(text);
                break;
            }
        }
    }

    void place_ids() {
        Point middle;
        for (const Point& point : at_) middle = middle + point * (1.0 / double(at_.size()));
        for (std::size_t i = 0; i < at_.size(); ++i) {
            const Point out = at_[i] - middle;
            const double reach =
                std::max(hole_mm, scale_ * ellipse_factor_ * error_ellipse(result_.fit, i).major_mm);
            add_text(labels_.beside(place(at_[i]), shortened(survey_.points[i].id, most_id_letters), 3.5,
                                    reach + 2.5, std::atan2(-out.y_mm, out.x_mm)));
        }
    }

    std::string length_text(double length_mm, int decimals) const {
        if (survey_.units == plan::Units::in)
            return short_text(length_mm / mm_per_inch, decimals + 1) + " in";
        return short_text(length_mm, decimals) + " mm";
    }

    void add_words(double& y, const std::string& words, double size = text_mm) {
        for (const std::string& line : broken_lines(words, page_mm - 2.0 * margin_mm, size)) {
            add_text(text_at({margin_mm, y}, line, Anchor::left, size));
            y += size * 1.8;
        }
    }

    void draw_words() {
        double y = margin_mm;
        add_words(y,
                  survey_.name + ": seen looking at the casting on " + plan::to_text(survey_.measured_on) +
                      ", X to the right, Y up",
                  3.5);
        y = draw_scale(bottom_ + 4.0) + 6.0;
        add_words(y, result_.datum);
        add_words(y, "dashed ellipses: one standard deviation, drawn " + short_text(ellipse_factor_, 0) +
                         " times" + (result_.keeps_blunder ? "; " + kept_words(result_) : ""));
        if (has_residuals_)
            add_words(y,
                      "bars: what readings are off by, drawn " + short_text(residual_factor_, 0) +
                          " times; on a span filled: read too long, open: too short; beside a hole: on the "
                          "side where the reading puts it");
        if (has_circle_)
            add_words(y, "chain line: best circle, diameter " +
                             length_text(result_.kind.circle->diameter_mm, 3) + "; the worst hole lies " +
                             length_text(result_.kind.circle->worst_residual_mm, 3) + " off it");
        for (const Suspect& suspect : result_.fit.suspects) {
            const Reading& reading = survey_.readings[std::size_t(suspect.reading)];
            const bool is_angle = reading.quantity == Quantity::angle;
            add_words(y, "? " + reading.name + ": " +
                             (is_angle ? fixed_text(std::abs(suspect.by) * deg_per_rad, 2) + " degrees"
                                       : length_text(std::abs(suspect.by), 2)) +
                             (suspect.by > 0.0 ? " too much" : " too little") +
                             (suspect.blunder.empty() ? "" : "; " + suspect.blunder));
        }
        drawing_.height_mm = y + margin_mm / 2.0;
    }

    double draw_scale(double y) {
        const double unit_mm = survey_.units == plan::Units::in ? mm_per_inch : 1.0;
        const double length = ticks(0.0, 60.0 / scale_ / unit_mm, 3).back() * unit_mm;
        const double x = margin_mm, width = length * scale_;
        add_line({x, y}, {x + width, y}, {0.5, Dash::solid, 0.0});
        for (const double end : {x, x + width})
            add_line({end, y - 1.0}, {end, y + 1.0}, {0.25, Dash::solid, 0.0});
        add_text(text_at({x + width + 2.0, y + 1.2}, length_text(length, 3), Anchor::left));
        return y;
    }

    const SurveyResult& result_;
    const Survey& survey_;
    const std::vector<Point>& at_;
    Point low_, high_;
    double scale_ = 1.0, left_ = 0.0, bottom_ = 0.0;
    double ellipse_factor_ = 1.0, residual_factor_ = 1.0;
    bool has_circle_ = false, has_residuals_ = false;
    std::vector<std::vector<Place>> marks_;  ///< of suspects: where each may stand
    LabelRoom labels_{page_mm};
    Drawing drawing_;
};

}  // namespace

Drawing survey_chart(const SurveyResult& result) { return SurveyChart(result).draw(); }

}  // namespace fitup::sheets
