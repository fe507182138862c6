#include "sheets/concentricity_sheet.hpp"

#include <cmath>

#include "base/length_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/units.hpp"
#include "calculations/concentricity_findings.hpp"

namespace fitup::sheets {

namespace {

using namespace calculations;

std::string thou(double value_mm) { return short_text(1000.0 * value_mm / mm_per_inch, 1); }
std::string percent(double share) { return short_text(100.0 * share, 1) + " %"; }

/// The hour that a direction on the clock face is nearest to, in halves.
std::string hour_text(const std::array<double, 2>& direction) {
    const double hours = std::atan2(direction[0], direction[1]) * deg_per_rad / 30.0;
    const double half = std::round(2.0 * (hours <= 0.0 ? hours + 12.0 : hours)) / 2.0;
    return short_text(half < 0.75 ? half + 12.0 : half, 1) + " o'clock";
}

class ConcentricitySheet {
  public:
    explicit ConcentricitySheet(const ConcentricityResult& result)
        : result_(result), length_(result.asked.units == plan::Units::in) {}

    std::string text() const {
        std::string text = budget_text() + model_text() + sources_text();
        if (result_.bore) text += bore_text(*result_.asked.bore, *result_.bore);
        if (result_.face) text += face_text(*result_.asked.face, *result_.face);
        return text;
    }

  private:
    std::string stated_text(const Contribution& one) const {
        const std::string value = one.least == one.most
                                      ? length_.number(one.most)
                                      : length_.number(one.least) + " to " + length_.number(one.most);
        return std::string(to_text(one.measure)) + " " + value + (one.fixed ? ", as it is" : "");
    }

    TableRow sum_row(const std::string& name, double offset_mm) const {
        return {name, "", length_.number(offset_mm), length_.number(2.0 * offset_mm), thou(2.0 * offset_mm)};
    }

    std::string budget_text() const {
        if (result_.contributions.empty()) return "";
        const std::string unit = length_.unit();
        std::vector<TableRow> rows{{"contribution", "as stated, " + unit, "offset " + unit, "reading " + unit,
                                    "reading thou", "of the worst case", "alone to"}};
        for (std::size_t i = 0; i < result_.contributions.size(); ++i) {
            const Contribution& one = result_.asked.contributions[i];
            const ContributionResult& own = result_.contributions[i];
            TableRow row = sum_row(one.name, own.offset_mm);
            row[1] = stated_text(one);
            row.push_back(percent(own.of_worst_case));
            row.push_back(own.alone_to ? length_.number(*own.alone_to) : "-");
            rows.push_back(std::move(row));
        }
        rows.push_back(sum_row("at worst", result_.worst_offset_mm));
        rows.push_back(sum_row("root-sum-square", result_.rss_offset_mm));
        rows.push_back(sum_row("limit", result_.limit_offset_mm));
        return "  what may put the shafts off each other (a reading is twice the offset)\n" +
               indented(aligned(rows));
    }

    std::string model_text() const {
        if (result_.contributions.empty()) return "";
        return "    at worst: all offsets point the same way. Root-sum-square: each points any way, its "
               "greatest "
               "taken as three\n    standard deviations in X and in Y; " +
               percent(share_within_rss) + " of assemblies lie within it, and " +
               percent(result_.share_over) +
               " over the limit. Parts that always\n    lie against one side are off by that much on "
               "average.\n";
    }

    std::string sources_text() const {
        std::string text;
        for (const Contribution& one : result_.asked.contributions) {
            if (!one.from.empty()) text += "    " + one.name + ": " + one.from + "\n";
        }
        for (const std::string& looser : result_.asked.looser)
            text += "    not counted, since another locates that side closer: " + looser + "\n";
        if (!result_.asked.limit_stated)
            text += "    limit: " + offset_and_reading(result_.limit_offset_mm) +
                    "; common practice, no source\n";
        return text;
    }

    std::string checks_text(const DialResult& dial) const {
        std::string text = "    12 + 6 less 3 + 9: " + length_.with_unit(dial.sum_error_mm) + ", " +
                           (dial.sum_agrees ? "agrees" : "DOES NOT AGREE");
        text += dial.return_error_mm ? "; back at 12: " + length_.with_unit(*dial.return_error_mm) + ", " +
                                           (dial.returns ? "returns" : "DOES NOT RETURN")
                                     : "; go back to 12: the last reading must return to the first";
        return text + "\n";
    }

    std::string readings_row(const DialReadings& readings) const {
        return "12: " + length_.number(readings.at_12) + "   3: " + length_.number(readings.at_3) +
               "   6: " + length_.number(readings.at_6) + "   9: " + length_.number(readings.at_9) +
               (readings.sag_mm != 0.0 ? "   (sag " + length_.number(readings.sag_mm) + " at 6 taken out)"
                                       : "");
    }

    std::string bore_text(const DialReadings& readings, const DialResult& dial) const {
        return "  dial-in, as you stand looking at the swept " +
               std::string(readings.outside ? "spigot" : "bore") + ", " + length_.unit() + "\n    " +
               readings_row(readings) + "\n    it lies X " + length_.number(dial.offset_mm[0]) + ", Y " +
               length_.number(dial.offset_mm[1]) +
               " off the shaft: " + offset_and_reading(dial.total_offset_mm) + "\n    move it " +
               move_text(dial.move_mm) +
               "\n    the dial then reads the same all round; tap, sweep again, and clamp only when it "
               "does\n" +
               checks_text(dial);
    }

    std::string face_text(const DialReadings& readings, const DialResult& dial) const {
        return "  face, swept on a diameter of " + length_.with_unit(readings.face_diameter_mm) + "\n    " +
               readings_row(readings) + "\n    it runs out by a reading of " +
               length_.with_unit(dial.reading_mm) + " (" + thou(dial.reading_mm) + " thou), " +
               short_text(1000.0 * dial.reading_mm / readings.face_diameter_mm, 3) + " mm in a metre" +
               (dial.reading_mm > 0.0005 ? ", nearest to the indicator towards " + hour_text(dial.offset_mm)
                                         : "") +
               "\n" + checks_text(dial);
    }

    const ConcentricityResult& result_;
    LengthText length_;
};

}  // namespace

std::string concentricity_text(const ConcentricityResult& result) {
    return ConcentricitySheet(result).text();
}

}  // namespace fitup::sheets
