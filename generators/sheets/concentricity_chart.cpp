#include "sheets/concentricity_chart.hpp"

#include <algorithm>
#include <cmath>

#include "base/length_text.hpp"
#include "base/text.hpp"
#include "sheets/chart.hpp"

namespace fitup::sheets {

using namespace calculations;

namespace {

constexpr double page_mm = 210.0, margin_mm = 12.0, names_mm = 66.0, right_mm = 18.0, row_mm = 7.0;
constexpr double text_mm = 2.5, small_mm = 2.2;
constexpr std::size_t most_letters = 34;

class Picture {
  public:
    explicit Picture(const ConcentricityResult& result)
        : result_(result), length_(result.asked.units == plan::Units::in) {
        axis_ = axis_over("", {0.0, result.worst_offset_mm / length_.unit_mm(),
                               1.2 * result.limit_offset_mm / length_.unit_mm()});
        axis_.least = 0.0;
    }

    Drawing draw() {
        drawing_.title = result_.asked.name;
        drawing_.width_mm = page_mm;
        add_text({margin_mm, margin_mm}, shortened(result_.asked.name, 40) + ": one shaft off the other",
                 Anchor::left, 3.5);
        double top = margin_mm + 14.0;
        if (!result_.contributions.empty()) top = draw_budget(top) + 10.0;
        if (result_.bore) top = draw_dial(top) + 8.0;
        drawing_.height_mm = top + 4.0;
        return std::move(drawing_);
    }

  private:
    double left() const { return margin_mm + names_mm; }
    double x_of(double offset_mm) const {
        return left() + (page_mm - right_mm - left()) * offset_mm / length_.unit_mm() / axis_.most;
    }
    void add_text(Place at, const std::string& text, Anchor anchor, double size = text_mm) {
        drawing_.items.emplace_back(Text{at, text, size, anchor, 0.0});
    }
    void add_line(Place from, Place to, const Pen& pen) {
        drawing_.items.emplace_back(Line{{from, to}, false, pen, std::nullopt});
    }

    void draw_bar(const std::string& name, double from_mm, double to_mm, double y, double grey) {
        add_text({margin_mm, y + 1.0}, shortened(name, most_letters), Anchor::left, small_mm);
        const double x0 = x_of(from_mm), x1 = x_of(to_mm), half = 1.9;
        drawing_.items.emplace_back(
            Line{{{x0, y - half}, {x1, y - half}, {x1, y + half}, {x0, y + half}}, true, Pen{}, grey});
    }

    double draw_budget(double top) {
        const double bars_top = top;
        double y = top + row_mm / 2.0, at_mm = 0.0;
        for (std::size_t i = 0; i < result_.contributions.size(); ++i) {
            const double own_mm = result_.contributions[i].offset_mm;
            draw_bar(result_.asked.contributions[i].name, at_mm, at_mm + own_mm, y,
                     result_.asked.contributions[i].fixed ? 0.6 : 0.88);
            at_mm += own_mm;
            y += row_mm;
        }
        draw_bar("at worst " + length_.number(result_.worst_offset_mm), 0.0, result_.worst_offset_mm, y, 0.3);
        y += row_mm;
        draw_bar("root-sum-square " + length_.number(result_.rss_offset_mm), 0.0, result_.rss_offset_mm, y,
                 0.3);
        y += row_mm / 2.0 + 1.0;
        draw_axes(bars_top - 1.0, y);
        return y + 12.0;
    }

    /// Offset below, reading above: the two are never told apart by a factor of 2 in silence.
    void draw_axes(double top, double bottom) {
        add_line({x_of(0.0), top}, {x_of(axis_.most), top}, {});
        add_line({x_of(0.0), bottom}, {x_of(axis_.most), bottom}, {});
        for (const double at : ticks(0.0, axis_.most, 5)) {
            const double at_mm = at * length_.unit_mm();
            add_line({x_of(at_mm), bottom}, {x_of(at_mm), bottom + 1.2}, {});
            add_line({x_of(at_mm), top}, {x_of(at_mm), top - 1.2}, {});
            add_text({x_of(at_mm), bottom + 4.2}, short_text(at, 6), Anchor::middle, small_mm);
            add_text({x_of(at_mm), top - 2.0}, short_text(2.0 * at, 6), Anchor::middle, small_mm);
        }
        add_text({margin_mm, bottom + 4.2}, std::string("offset, ") + length_.unit(), Anchor::left, small_mm);
        add_text({margin_mm, top - 2.0}, std::string("reading, ") + length_.unit(), Anchor::left, small_mm);
        const double x = x_of(result_.limit_offset_mm);
        add_line({x, top}, {x, bottom}, {wide_mm, Dash::chain, 0.0});
        add_text({margin_mm, bottom + 9.0},
                 "chain line: limit, offset " + length_.number(result_.limit_offset_mm) + ", reading " +
                     length_.number(2.0 * result_.limit_offset_mm) + "   grey: as it is",
                 Anchor::left, small_mm);
    }

    double draw_dial(double top) {
        constexpr double radius = 18.0;
        const Place centre{margin_mm + 40.0, top + radius + 6.0};
        drawing_.items.emplace_back(
            RoundLine{centre, radius, 0.0, 6.283185307179586, Pen{wide_mm, Dash::solid, 0.0}, std::nullopt});
        const Pen faint{0.18, Dash::chain, 0.0};
        add_line({centre[0] - radius, centre[1]}, {centre[0] + radius, centre[1]}, faint);
        add_line({centre[0], centre[1] - radius}, {centre[0], centre[1] + radius}, faint);
        const DialReadings& read = *result_.asked.bore;
        add_text({centre[0], centre[1] - radius - 1.5}, "12: " + length_.number(read.at_12), Anchor::middle);
        add_text({centre[0], centre[1] + radius + 4.0}, "6: " + length_.number(read.at_6), Anchor::middle);
        add_text({centre[0] + radius + 1.5, centre[1] + 1.0}, "3: " + length_.number(read.at_3),
                 Anchor::left);
        add_text({centre[0] - radius - 1.5, centre[1] + 1.0}, "9: " + length_.number(read.at_9),
                 Anchor::right);
        draw_move(centre, radius);
        const double x = centre[0] + radius + 30.0;
        add_text({x, centre[1] - 4.0},
                 "move X " + length_.number(result_.bore->move_mm[0]) + ", Y " +
                     length_.with_unit(result_.bore->move_mm[1]),
                 Anchor::left);
        add_text({x, centre[1] + 1.0},
                 "offset " + length_.number(result_.bore->total_offset_mm) + ", reading " +
                     length_.with_unit(result_.bore->reading_mm),
                 Anchor::left);
        add_text({x, centre[1] + 6.0},
                 std::string("swept ") + (read.outside ? "spigot" : "bore") + ", as you look at it",
                 Anchor::left, small_mm);
        return centre[1] + radius + 6.0;
    }

    /// The way to move; its length is not to scale.
    void draw_move(const Place& centre, double radius) {
        const double total = result_.bore->total_offset_mm;
        if (total < 0.0005) return;
        const double x = result_.bore->move_mm[0] / total, y = -result_.bore->move_mm[1] / total;
        const double length = 0.7 * radius, head = 3.0, half = 1.2;
        const Place tip{centre[0] + length * x, centre[1] + length * y};
        const Place neck{tip[0] - head * x, tip[1] - head * y};
        add_line(centre, neck, {0.7, Dash::solid, 0.0});
        drawing_.items.emplace_back(
            Line{{tip, {neck[0] - half * y, neck[1] + half * x}, {neck[0] + half * y, neck[1] - half * x}},
                 true,
                 std::nullopt,
                 0.0});
    }

    const ConcentricityResult& result_;
    LengthText length_;
    Axis axis_;
    Drawing drawing_;
};

}  // namespace

Drawing concentricity_chart(const ConcentricityResult& result) { return Picture(result).draw(); }

}  // namespace fitup::sheets
