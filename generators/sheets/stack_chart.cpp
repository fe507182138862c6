#include "sheets/stack_chart.hpp"

#include <algorithm>
#include <cmath>

#include "base/length_text.hpp"
#include "base/text.hpp"
#include "sheets/chart.hpp"

namespace fitup::sheets {

using namespace calculations;

namespace {

constexpr double page_mm = 210.0, margin_mm = 12.0, text_mm = 2.5, title_mm = 3.5, heading_mm = 3.0;
/// Links stand in lanes, one under the other, so that names and arrows never cover one another.
constexpr double lane_mm = 5.0;
/// Room on the left for the links' names.
constexpr double names_mm = 62.0;
/// As many letters of a name as fit there.
constexpr std::size_t most_letters = 16;

struct Reach {
    double low = 0.0, high = 0.0;
    void add(double value) {
        low = std::min(low, value);
        high = std::max(high, value);
    }
};

class Picture {
  public:
    explicit Picture(const StackResult& result)
        : result_(result), length_(result.stack.units == plan::Units::in) {
        for (const Closing& closing : result.stack.closings) {
            double at = 0.0;
            for (const StackTerm& term : closing.through) reach_.add(at += length(term));
        }
        scale_ = (page_mm - 2.0 * margin_mm - names_mm) / std::max(reach_.high - reach_.low, 1e-6);
    }

    Drawing draw() {
        drawing_.title = result_.stack.name;
        drawing_.width_mm = page_mm;
        add_text({margin_mm, margin_mm}, shortened(result_.stack.name, 48) + ": what the sizes add up to",
                 Anchor::left, title_mm);
        double top = margin_mm + 8.0;
        for (std::size_t i = 0; i < result_.closings.size(); ++i) top = draw_closing(i, top) + 8.0;
        draw_scale(top);
        drawing_.height_mm = top + 18.0;
        return std::move(drawing_);
    }

  private:
    double length(const StackTerm& term) const { return term.sign * result_.stack.links[term.link].size_mm; }
    double left() const { return margin_mm + names_mm; }
    double x_of(double along) const { return left() + (along - reach_.low) * scale_; }

    void add_text(Place at, const std::string& text, Anchor anchor, double size = text_mm) {
        drawing_.items.emplace_back(Text{at, text, size, anchor, 0.0});
    }
    void add_line(Place from, Place to, const Pen& pen) {
        drawing_.items.emplace_back(Line{{from, to}, false, pen, std::nullopt});
    }
    void add_box(double x0, double y0, double x1, double y1, std::optional<Pen> pen,
                 std::optional<double> fill) {
        drawing_.items.emplace_back(Line{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}, true, pen, fill});
    }

    void draw_arrow(double from, double to, double y) {
        const double head = std::min(2.2, std::abs(to - from)), way = to >= from ? 1.0 : -1.0;
        add_line({from, y}, {to, y}, {wide_mm, Dash::solid, 0.0});
        add_line({from, y - 1.2}, {from, y + 1.2}, {});
        drawing_.items.emplace_back(
            Line{{{to, y}, {to - way * head, y - 0.9}, {to - way * head, y + 0.9}}, true, std::nullopt, 0.0});
    }

    double draw_closing(std::size_t index, double top) {
        const Closing& closing = result_.stack.closings[index];
        add_text({margin_mm, top + heading_mm}, shortened(closing.name, 60), Anchor::left, heading_mm);
        double y = top + heading_mm + lane_mm, at = 0.0;
        const double first_y = y;
        for (const StackTerm& term : closing.through) {
            draw_link(term, at, y);
            at += length(term);
            y += lane_mm;
        }
        // What is left between the start of the chain and its end.
        const Pen faint{0.18, Dash::dashed, 0.0};
        add_line({x_of(0.0), first_y - 2.0}, {x_of(0.0), y + 1.5}, faint);
        add_line({x_of(at), y - lane_mm}, {x_of(at), y + 1.5}, faint);
        add_text({margin_mm, y + 1.0}, "= " + length_.with_unit(at) + " as drawn", Anchor::left);
        draw_arrow(x_of(0.0), x_of(at), y);
        return draw_bars(closing, result_.closings[index], y + lane_mm + 1.0);
    }

    std::string solved_words() const { return result_.solution->serves ? " (solved)" : " (none serves)"; }

    void draw_link(const StackTerm& term, double at, double y) {
        const StackLink& link = result_.stack.links[term.link];
        const bool is_open = result_.solution && result_.solution->link == term.link;
        add_text({margin_mm, y + 1.0},
                 (term.sign > 0.0 ? "+ " : "- ") + shortened(link.name, most_letters) + "  " +
                     length_.number(link.size_mm) + (is_open ? solved_words() : ""),
                 Anchor::left, 2.2);
        draw_arrow(x_of(at), x_of(at + length(term)), y);
        add_line({x_of(at + length(term)), y}, {x_of(at + length(term)), y + lane_mm},
                 {0.13, Dash::dashed, 0.0});
    }

    /// The closing itself, enlarged: window as a band, worst case as a bar with ends, the likely range thick.
    double draw_bars(const Closing& closing, const ClosingResult& one, double top) {
        std::vector<double> values{one.worst_case.least_mm, one.worst_case.most_mm, one.statistical.least_mm,
                                   one.statistical.most_mm};
        if (closing.between)
            values.insert(values.end(), {closing.between->least_mm, closing.between->most_mm});
        for (double& value : values) value /= length_.unit_mm();
        const Axis axis = axis_over("", values);
        const double right = page_mm - margin_mm;
        const auto x_of_number = [&](double value) {
            return left() + (right - left()) * (value - axis.least) / (axis.most - axis.least);
        };
        const auto x = [&](double value_mm) { return x_of_number(value_mm / length_.unit_mm()); };
        const double bottom = top + 15.0;
        if (closing.between)
            add_box(x(closing.between->least_mm), top, x(closing.between->most_mm), bottom, Pen{}, 0.88);
        draw_ticks(axis, x_of_number, bottom);
        draw_bar(x(one.worst_case.least_mm), x(one.worst_case.most_mm), top + 5.0,
                 {narrow_mm, Dash::solid, 0.0});
        draw_bar(x(one.statistical.least_mm), x(one.statistical.most_mm), top + 11.0,
                 {1.4, Dash::solid, 0.35});
        add_line({x(one.mean_mm), top + 9.0}, {x(one.mean_mm), top + 13.0}, {wide_mm, Dash::solid, 0.0});
        draw_bar_names(closing, one, top);
        return bottom + 5.0;
    }

    void draw_bar(double from, double to, double y, const Pen& pen) {
        add_line({from, y}, {to, y}, pen);
        for (const double end : {from, to}) add_line({end, y - 1.5}, {end, y + 1.5}, {});
    }

    template <typename X>
    void draw_ticks(const Axis& axis, const X& x, double y) {
        add_line({x(axis.least), y}, {x(axis.most), y}, {});
        for (const double value : ticks(axis.least, axis.most, 6)) {
            add_line({x(value), y}, {x(value), y + 1.2}, {});
            add_text({x(value), y + 4.2}, short_text(value, 6), Anchor::middle, 2.2);
        }
    }

    void draw_bar_names(const Closing& closing, const ClosingResult& one, double top) {
        const auto range = [this](const Interval& i) {
            return length_.number(i.least_mm) + " to " + length_.number(i.most_mm);
        };
        add_text({margin_mm, top + 6.0}, "at worst " + range(one.worst_case), Anchor::left, 2.2);
        add_text({margin_mm, top + 12.0}, "3 sigma " + range(one.statistical), Anchor::left, 2.2);
        if (closing.between)
            add_text({margin_mm, top + 0.5}, "wanted " + range(*closing.between), Anchor::left, 2.2);
    }

    void draw_scale(double top) {
        const double size = ticks(0.0, 60.0 / scale_ / length_.unit_mm(), 3).back();
        const double width = size * length_.unit_mm() * scale_, y = top + 3.0;
        add_line({left(), y}, {left() + width, y}, {wide_mm, Dash::solid, 0.0});
        for (const double end : {left(), left() + width}) add_line({end, y - 1.0}, {end, y + 1.0}, {});
        add_text({left() + width + 2.0, y + 1.0},
                 short_text(size, 6) + " " + length_.unit() + " of the arrows", Anchor::left);
        add_text({margin_mm, y + 8.0},
                 "band: wanted   thin bar: at worst   thick bar: three standard deviations, its mean marked",
                 Anchor::left, 2.2);
    }

    const StackResult& result_;
    LengthText length_;
    Reach reach_;
    double scale_ = 1.0;
    Drawing drawing_;
};

}  // namespace

Drawing stack_chart(const StackResult& result) { return Picture(result).draw(); }

}  // namespace fitup::sheets
