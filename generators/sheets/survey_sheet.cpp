#include "sheets/survey_sheet.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/units.hpp"

namespace fitup::sheets {

namespace {

using namespace calculations;

class SurveySheet {
  public:
    explicit SurveySheet(const SurveyResult& result)
        : result_(result), survey_(result.survey), is_inch_(survey_.units == plan::Units::in) {}

    std::string text() const {
        return heading() + points() + readings() + suspects() + check() + proposals() + pattern() + bolting();
    }

  private:
    std::string unit() const { return is_inch_ ? "in" : "mm"; }
    std::string number(double value_mm, bool has_sign = false) const {
        const std::string text = is_inch_ ? fixed_text(value_mm / mm_per_inch, 4) : fixed_text(value_mm, 3);
        return (has_sign && value_mm > 0.0 ? "+" : "") + text;
    }
    std::string length(double value_mm) const { return number(value_mm) + " " + unit(); }
    std::string value(const Reading& reading, double value, bool has_sign = false) const {
        if (reading.quantity != Quantity::angle) return number(value, has_sign);
        return (has_sign && value > 0.0 ? "+" : "") + fixed_text(value * deg_per_rad, 3) + " deg";
    }
    const std::string& id(int point) const { return survey_.points[std::size_t(point)].id; }

    static std::string sentence(const std::string& words) {
        return words.empty() ? "" : "    " + wrapped(words, "      ") + "\n";
    }

    std::string heading() const {
        return "  " +
               wrapped(std::string("seen looking at the casting on ") + plan::to_text(survey_.measured_on) +
                           ", X to the right and Y up; " + result_.datum,
                       "  ") +
               "\n";
    }

    std::string bolting() const {
        if (!result_.bolting) return "";
        return bolts_up_text(result_.bolting->asked, result_.bolting->worked, result_.bolting->other);
    }

    std::string points() const {
        std::vector<TableRow> rows{{"point", "x", "y", "sigma x", "sigma y", "worst way"}};
        const std::size_t size = 2 * survey_.points.size();
        for (std::size_t i = 0; i < survey_.points.size(); ++i) {
            const auto sigma = [&](std::size_t k) {
                return number(std::sqrt(std::max(0.0, result_.fit.covariance_mm2[k * size + k])));
            };
            const plan::Point at = result_.fit.points_mm[i];
            rows.push_back({survey_.points[i].id, number(at.x_mm), number(at.y_mm), sigma(2 * i),
                            sigma(2 * i + 1), number(error_ellipse(result_.fit, i).major_mm)});
        }
        return "  points (" + unit() + "; sigma is one standard deviation, plus or minus is two)\n" +
               indented(aligned(rows, Columns::right));
    }

    std::string as_written(const Reading& reading) const {
        std::string text;
        for (const double one : reading.written) text += (text.empty() ? "" : " and ") + value(reading, one);
        return text;
    }

    std::string mark(std::size_t index) const {
        if (survey_.readings[index].left_out) return "left out";
        for (const Suspect& suspect : result_.fit.suspects) {
            if (suspect.reading == int(index)) return "suspect";
        }
        return "";
    }

    std::string readings() const {
        std::vector<TableRow> rows{{"reading", "as written", "to centres", "fitted", "off by", "sigma",
                                    "off/error", "checked", "shows from", ""}};
        for (std::size_t i = 0; i < survey_.readings.size(); ++i) {
            const Reading& reading = survey_.readings[i];
            const Residual& residual = result_.fit.residuals[i];
            rows.push_back({reading.name, as_written(reading), value(reading, reading.value),
                            value(reading, residual.fitted), value(reading, residual.residual, true),
                            value(reading, reading.sigma) + (reading.sigma_is_default ? "*" : " "),
                            fixed_text(residual.normalised, 1),
                            fixed_text(100.0 * residual.redundancy, 0) + " %",
                            residual.detectable ? value(reading, *residual.detectable) : "never", mark(i)});
        }
        return "  readings (" + unit() +
               "; *: uncertainty by default; checked: how much of an error shows; shows from: the least "
               "error found)\n" +
               indented(aligned(rows, Columns::right));
    }

    std::string suspects() const {
        if (result_.fit.suspects.empty()) return "";
        std::string text = "  readings that don't agree with the rest\n";
        for (const Suspect& suspect : result_.fit.suspects) {
            const Reading& reading = survey_.readings[std::size_t(suspect.reading)];
            text +=
                sentence(reading.name + " (" + reading.key + "): " + value(reading, std::abs(suspect.by)) +
                         (reading.quantity == Quantity::angle ? "" : " " + unit()) +
                         (suspect.by > 0.0 ? " too much" : " too little") +
                         (suspect.blunder.empty() ? "" : "; " + suspect.blunder));
        }
        return text;
    }

    std::string check() const {
        if (result_.fit.redundancy == 0) return "  no reading to spare: nothing checks these places\n";
        return "  " + std::to_string(result_.fit.redundancy) +
               (result_.fit.redundancy == 1 ? " reading" : " readings") + " to spare; they disagree " +
               short_text(result_.fit.sigma_scale, 2) + " times as much as their uncertainties say\n" +
               (result_.keeps_blunder ? sentence(kept_words(result_)) : "");
    }

    std::string proposals() const {
        if (result_.fit.proposals.empty()) return "";
        std::string text = "  what to measure next\n";
        for (const Proposal& proposal : result_.fit.proposals) text += sentence(proposal.why);
        return text;
    }

    std::string pattern() const {
        std::string text = "  what pattern it is\n";
        if (result_.kind.circle) {
            const CircleFit& circle = *result_.kind.circle;
            text += sentence("best circle: diameter " + length(circle.diameter_mm) + " (sigma " +
                             number(circle.diameter_sigma_mm) + "), centre [" +
                             number(circle.centre_mm.x_mm) + ", " + number(circle.centre_mm.y_mm) + "], " +
                             id(0) + " at " + fixed_text(circle.start_angle_rad * deg_per_rad, 3) +
                             " degrees; roundness " + number(circle.roundness_mm));
        }
        for (const std::string& words : {result_.words.circle, result_.words.spacing, result_.words.housing,
                                         result_.words.symmetry, result_.words.mirrored})
            text += sentence(words);
        return text;
    }

    const SurveyResult& result_;
    const Survey& survey_;
    bool is_inch_;
};

}  // namespace

std::string survey_text(const SurveyResult& result) { return SurveySheet(result).text(); }

}  // namespace fitup::sheets
