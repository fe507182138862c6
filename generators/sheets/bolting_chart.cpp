#include "sheets/bolting_chart.hpp"

#include <algorithm>
#include <cmath>

#include "base/length_text.hpp"
#include "plan/vector.hpp"
#include "sheets/label_room.hpp"

namespace fitup::sheets {

using namespace calculations;

namespace {

using plan::Point;

constexpr double page_mm = 180.0, margin_mm = 12.0, text_mm = 2.5, title_mm = 3.5, head_mm = 14.0;
constexpr double room_mm = 22.0, most_side_mm = 150.0;
/// The greatest ring's radius, and how far a dot may lie off its place, on the page.
constexpr double most_ring_mm = 5.0, most_off_mm = 9.0;
constexpr std::size_t most_id_letters = 16;
/// A ring smaller than this stands for no room at all.
constexpr double least_ring_mm = 0.2;
/// Between a ring and a text.
constexpr double gap_mm = 0.8;

class BoltingChart {
  public:
    BoltingChart(const BoltingCase& one, const BoltFit& fit)
        : one_(one), fit_(fit), length_(one.units == plan::Units::in) {
        measure();
    }

    Drawing draw(const std::string& title) {
        drawing_.title = title;
        drawing_.width_mm = page_mm;
        add_words(margin_mm, title, title_mm);
        for (std::size_t i = 0; i < one_.ids.size(); ++i) draw_fastener(i);
        for (std::size_t i = 0; i < one_.ids.size(); ++i) place_id(i);
        double end_mm = bottom_mm_ + 6.0;
        for (const std::string& note : notes()) end_mm = add_words(end_mm, note, text_mm);
        drawing_.height_mm = end_mm + margin_mm / 2.0;
        return std::move(drawing_);
    }

  private:
    double slack_mm(std::size_t i) const { return (one_.holes_mm[i] - one_.fasteners_mm[i]) / 2.0; }
    Point off_mm(std::size_t i) const { return laid(fit_, one_.second_mm[i]) - one_.first_mm[i]; }

    void measure() {
        low_ = high_ = one_.first_mm.front();
        double slack = 1e-6, off = 1e-6;
        for (std::size_t i = 0; i < one_.ids.size(); ++i) {
            const Point at = one_.first_mm[i];
            low_ = {std::min(low_.x_mm, at.x_mm), std::min(low_.y_mm, at.y_mm)};
            high_ = {std::max(high_.x_mm, at.x_mm), std::max(high_.y_mm, at.y_mm)};
            slack = std::max(slack, slack_mm(i));
            off = std::max(off, plan::length(off_mm(i)));
        }
        const Point size = high_ - low_;
        scale_ = (most_side_mm - 2.0 * room_mm) / std::max({size.x_mm, size.y_mm, 1e-3});
        enlarged_ = std::min(most_ring_mm / slack, most_off_mm / off);
        left_mm_ = (page_mm - scale_ * size.x_mm) / 2.0;
        bottom_mm_ = head_mm + 2.0 * room_mm + scale_ * size.y_mm;
    }

    Place place(Point at) const {
        return {left_mm_ + scale_ * (at.x_mm - low_.x_mm),
                bottom_mm_ - room_mm - scale_ * (at.y_mm - low_.y_mm)};
    }

    bool decides(std::size_t i) const {
        return std::find(fit_.deciding.begin(), fit_.deciding.end(), i) != fit_.deciding.end();
    }

    void add_round(Place at, double radius_mm, const std::optional<Pen>& pen, std::optional<double> fill) {
        drawing_.items.emplace_back(RoundLine{at, radius_mm, 0.0, 6.283185307179586, pen, fill});
        const double off_mm = radius_mm + gap_mm;
        labels_.keep_off({at[0] - off_mm, at[1] - off_mm, at[0] + off_mm, at[1] + off_mm});
    }

    void draw_fastener(std::size_t i) {
        const Place centre = place(one_.first_mm[i]);
        const Point off = off_mm(i) * enlarged_;
        const Pen pen{decides(i) ? wide_mm : narrow_mm, Dash::solid, 0.0};
        add_round(centre, std::max(slack_mm(i) * enlarged_, least_ring_mm), pen, 1.0);
        const Place dot{centre[0] + off.x_mm, centre[1] - off.y_mm};
        drawing_.items.emplace_back(Line{{centre, dot}, false, Pen{narrow_mm, Dash::solid, 0.0}, {}});
        if (fit_.clearances_mm[i] >= -bolting_exact_mm) return add_round(dot, 0.7, std::nullopt, 0.0);
        for (const double way : {-1.0, 1.0})
            drawing_.items.emplace_back(
                Line{{{dot[0] - 1.2, dot[1] - 1.2 * way}, {dot[0] + 1.2, dot[1] + 1.2 * way}},
                     false,
                     Pen{wide_mm, Dash::solid, 0.0},
                     {}});
        labels_.keep_off({dot[0] - 1.2, dot[1] - 1.2, dot[0] + 1.2, dot[1] + 1.2});
    }

    /// With the clearance that is left.
    void place_id(std::size_t i) {
        const Point out = one_.first_mm[i] - (low_ + high_) * 0.5;
        const std::string words =
            shortened(one_.ids[i], most_id_letters) + ": " + length_.number(fit_.clearances_mm[i]);
        const Text text = labels_.beside(place(one_.first_mm[i]), words, text_mm,
                                         slack_mm(i) * enlarged_ + 2.0, std::atan2(-out.y_mm, out.x_mm));
        drawing_.items.emplace_back(text);
        labels_.take(text);
    }

    std::vector<std::string> notes() const {
        return {std::string("numbers: clearance left at each fastener, radial, ") + length_.unit() +
                    "; under 0: missing",
                "ring: the room a fastener has (wide: it decides); dot: where it stands; cross: it does not "
                "go in",
                "rings and dots are drawn " + short_text(enlarged_ / scale_, 0) +
                    " times as large as the pattern"};
    }

    double add_words(double y_mm, const std::string& words, double size_mm) {
        for (const std::string& line : broken_lines(words, page_mm - 2.0 * margin_mm, size_mm)) {
            const Text text{{margin_mm, y_mm}, line, size_mm, Anchor::left, 0.0};
            drawing_.items.emplace_back(text);
            labels_.take(text);
            y_mm += 1.8 * size_mm;
        }
        return y_mm;
    }

    const BoltingCase& one_;
    const BoltFit& fit_;
    LengthText length_;
    Point low_, high_;
    double scale_ = 1.0, enlarged_ = 1.0, left_mm_ = 0.0, bottom_mm_ = 0.0;
    LabelRoom labels_{page_mm};
    Drawing drawing_;
};

}  // namespace

Drawing bolting_chart(const BoltingCase& one, const BoltFit& fit, const std::string& title) {
    return BoltingChart(one, fit).draw(title);
}

}  // namespace fitup::sheets
