#include "calculations/survey_slips.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/text.hpp"
#include "base/units.hpp"
#include "calculations/survey_words.hpp"

namespace fitup::calculations {

namespace {

/// Decimals that are written even where they are noughts, as scales and calipers give them; at most four.
constexpr int mm_decimals = 2, inch_decimals = 3, most_decimals = 4;

/// The numbers of a reading as they stand in the file.
class AsWritten {
  public:
    AsWritten(const Survey& survey, const Reading& reading)
        : reading_(reading),
          in_inches_(survey.units == plan::Units::in && reading.quantity != Quantity::angle),
          unit_(reading.quantity == Quantity::angle ? 1.0 / deg_per_rad
                : in_inches_                        ? mm_per_inch
                                                    : 1.0),
          written_(reading.written.empty() ? std::vector{reading.value} : reading.written) {}

    bool in_inches() const { return in_inches_; }
    std::size_t count() const { return written_.size(); }
    double number(std::size_t i) const { return written_[i] / unit_; }
    std::string unit_text() const {
        return reading_.quantity == Quantity::angle ? " degrees" : in_inches_ ? " in" : " mm";
    }

    /// Digits with sign and point.
    std::string text(double number) const {
        const std::string shortest = short_text(number, most_decimals);
        const auto point = shortest.find('.');
        const auto decimals = point == std::string::npos ? 0 : int(shortest.size() - point - 1);
        return fixed_text(number, std::max(decimals, in_inches_ ? inch_decimals : mm_decimals));
    }

    /// The reading with another number in place of one: half the change where two contacts make a centre.
    double value_with(std::size_t i, double number) const {
        return reading_.value + (number * unit_ - written_[i]) / double(written_.size());
    }

  private:
    const Reading& reading_;
    bool in_inches_;
    double unit_;
    std::vector<double> written_;
};

class Slips {
  public:
    Slips(const Survey& survey, const Reading& reading)
        : survey_(survey), reading_(reading), written_(survey, reading) {}

    std::vector<Slip> run() {
        for (std::size_t i = 0; i < written_.count(); ++i) units(i);
        pins();
        if (reading_.quantity != Quantity::span) signs();
        for (std::size_t i = 0; i < written_.count(); ++i) exchanged_digits(i);
        if (reading_.quantity != Quantity::angle)
            for (std::size_t i = 0; i < written_.count(); ++i) whole_marks(i);
        for (std::size_t i = 0; i < written_.count(); ++i) one_digit(i);
        return all_;
    }

  private:
    void put(std::size_t i, double number, const std::string& cause) {
        all_.push_back({written_.value_with(i, number), cause + ": " + written_.text(written_.number(i)) +
                                                            " for " + written_.text(number) +
                                                            written_.unit_text()});
    }

    void units(std::size_t i) {
        if (reading_.quantity == Quantity::angle) return;
        if (written_.count() > 1 && i == 0) {
            const double factor = written_.in_inches() ? 1.0 / mm_per_inch : mm_per_inch;
            all_.push_back({reading_.value * factor, written_.in_inches()
                                                         ? "both contacts read in millimetres"
                                                         : "both contacts read in inches"});
        }
        const double number = written_.number(i);
        const std::string text = written_.text(number);
        const double more = number * mm_per_inch, less = number / mm_per_inch;
        const std::string more_text = written_.text(more) + written_.unit_text();
        const std::string less_text = written_.text(less) + written_.unit_text();
        if (written_.in_inches()) {
            all_.push_back(
                {written_.value_with(i, less), "read in millimetres: " + text + " mm is " + less_text});
            all_.push_back(
                {written_.value_with(i, more), "turned into inches twice: " + text + " for " + more_text});
        } else {
            all_.push_back({written_.value_with(i, more), "read in inches: " + text + " in is " + more_text});
            all_.push_back({written_.value_with(i, less),
                            "turned into millimetres twice: " + text + " for " + less_text});
        }
    }

    /// Of the pin or stud at a point: the reading's own, or what another span found there.
    double pin_at(int point) const {
        if (reading_.quantity == Quantity::span && reading_.pins_mm[point == reading_.a ? 0 : 1] > 0.0)
            return reading_.pins_mm[point == reading_.a ? 0 : 1];
        for (const Reading& other : survey_.readings) {
            if (other.quantity != Quantity::span) continue;
            if (other.a == point && other.pins_mm[0] > 0.0) return other.pins_mm[0];
            if (other.b == point && other.pins_mm[1] > 0.0) return other.pins_mm[1];
        }
        return 0.0;
    }

    void shift(double by_mm, const std::string& cause) {
        if (by_mm == 0.0) return;
        const double value = reading_.value + by_mm;
        all_.push_back({value, cause + ": " + length_text(survey_, reading_.value) + " for " +
                                   length_text(survey_, value) +
                                   (reading_.quantity == Quantity::span ? " between centres" : "")});
    }

    void pins() {
        if (reading_.quantity == Quantity::angle) return;
        const double a = pin_at(reading_.a);
        if (reading_.quantity != Quantity::span) {
            for (const double sense : {-1.0, 1.0})
                shift(sense * a / 2, "touched on one side only, half of " + length_text(survey_, a) + " off");
            return;
        }
        const double b = pin_at(reading_.b);
        jaws(a, b);
        for (const double sense : {-1.0, 1.0}) {
            const std::string what = pin_slip(sense);
            shift(sense * a,
                  "the pin of " + length_text(survey_, a) + " at " + id_of(survey_, reading_.a) + what);
            if (b != a)
                shift(sense * b,
                      "the pin of " + length_text(survey_, b) + " at " + id_of(survey_, reading_.b) + what);
            shift(sense * (a + b), "both pins" + what);
        }
    }

    /// What was done to a pin where the centres are nearer (-1) or farther (1) than was read.
    std::string pin_slip(double sense) const {
        if (sense < 0.0) return reading_.taken == Taken::inside ? " added twice" : " not taken off";
        return reading_.taken == Taken::over ? " taken off twice" : " not added";
    }

    /// Taken one way and entered as another.
    void jaws(double a, double b) {
        const double half = (a + b) / 2;
        if (reading_.taken == Taken::over) {
            shift(2 * half, "measured inside and entered as over");
            shift(half, "measured between centres and entered as over");
        }
        if (reading_.taken == Taken::inside) {
            shift(-2 * half, "measured over and entered as inside");
            shift(-half, "measured between centres and entered as inside");
        }
        if (reading_.taken == Taken::centres) {
            shift(-half, "measured over the pins and entered as centres");
            shift(half, "measured inside the pins and entered as centres");
        }
    }

    void signs() {
        if (written_.count() > 1) all_.push_back({-reading_.value, "sign of both contacts"});
        for (std::size_t i = 0; i < written_.count(); ++i) put(i, -written_.number(i), "sign");
    }

    void exchanged_digits(std::size_t i) {
        const std::string text = written_.text(written_.number(i));
        std::vector<std::size_t> digits;
        for (std::size_t k = 0; k < text.size(); ++k)
            if (text[k] >= '0' && text[k] <= '9') digits.push_back(k);
        for (std::size_t k = 1; k < digits.size(); ++k) {
            std::string other = text;
            std::swap(other[digits[k - 1]], other[digits[k]]);
            if (const auto number = parse_number(other); number && other != text)
                put(i, *number, "two digits exchanged");
        }
    }

    void whole_marks(std::size_t i) {
        const std::vector<double> marks =
            written_.in_inches() ? std::vector{1.0, 0.1, 0.025} : std::vector{100.0, 10.0, 5.0, 1.0};
        for (const double mark : marks)
            for (const double sense : {-1.0, 1.0})
                put(i, written_.number(i) + sense * mark,
                    "a whole " + short_text(mark) + written_.unit_text() + " misread on the scale");
    }

    void one_digit(std::size_t i) {
        const std::string text = written_.text(written_.number(i));
        for (std::size_t k = 0; k < text.size(); ++k) {
            if (text[k] < '0' || text[k] > '9') continue;
            for (const int step : {-1, 1}) {
                std::string other = text;
                other[k] = char(other[k] + step);
                if (other[k] < '0' || other[k] > '9') continue;
                if (const auto number = parse_number(other)) put(i, *number, "one digit misread");
            }
        }
    }

    const Survey& survey_;
    const Reading& reading_;
    AsWritten written_;
    std::vector<Slip> all_;
};

}  // namespace

std::vector<Slip> slips_of(const Survey& survey, const Reading& reading) {
    return Slips(survey, reading).run();
}

}  // namespace fitup::calculations
