#include "calculations/survey_reading.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "base/text.hpp"
#include "base/units.hpp"
#include "calculations/survey_choices.hpp"
#include "calculations/survey_uncertainty.hpp"
#include "parts/kinds.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using parts::Field;
using parts::Reader;

/// Nobody drills or reads two holes nearer to one another than this.
constexpr double one_place_mm = 0.01;

class SurveyReader {
  public:
    explicit SurveyReader(Reader& reader) : reader_(reader) {}

    Survey read() {
        const Field root = reader_.root();
        survey_.name = reader_.text_or(root["name"], "");
        survey_.revision = reader_.text_or(root["revision"], "");
        survey_.units = reader_.units();
        survey_.measured_on = reader_.side_or(root["measured_on"], plan::Side::B);
        file_sigma_mm_ = reader_.length_mm(root["uncertainty"]);
        const Field points = root["points"];
        read_ids(points);
        for (std::size_t i = 0; i < points.size(); ++i) read_coordinates(points.item(i), int(i));
        for (std::size_t i = 0; i < root["spans"].size(); ++i) read_span(root["spans"].item(i));
        for (std::size_t i = 0; i < root["angles"].size(); ++i) read_angle(root["angles"].item(i));
        tell_names_apart();
        check_places(points);
        check_every_point_is_read(points);
        read_choices(reader_, root, survey_);
        read_bolts_to(reader_, root["bolts_to"], survey_);
        check_doubted();
        return std::move(survey_);
    }

  private:
    void read_ids(const Field& points) {
        std::map<std::string, int> lines;
        for (std::size_t i = 0; i < points.size(); ++i) {
            const Field item = points.item(i), id = item["id"];
            const std::string text = reader_.text_or(id, "");
            survey_.points.push_back({text, item.line(), reader_.text_or(item["kind"], "")});
            if (text.empty()) continue;
            const auto [first, is_new] = lines.emplace(text, id.line());
            if (!is_new)
                reader_.wrong(id, "an id that no other point has",
                              "the first one stands in line " + std::to_string(first->second));
        }
    }

    const std::string& id(int point) const { return survey_.points[std::size_t(point)].id; }
    double kind_sigma(int point) const { return kind_sigma_mm(survey_.points[std::size_t(point)].kind); }

    /// A length's own uncertainty, else the file's, else the default with what the kinds of hole add.
    void set_sigma(Reading& reading, const Field& own, double otherwise_mm) {
        const auto stated = own ? reader_.length_mm(own) : file_sigma_mm_;
        reading.sigma_is_default = !stated;
        reading.sigma = stated.value_or(otherwise_mm);
        if (stated) return;
        for (const int point : {reading.a, reading.b}) {
            if (point >= 0) reading.sigma = std::hypot(reading.sigma, kind_sigma(point));
        }
    }

    void add(Reading reading, const Field& field) {
        reading.key = field.key;
        reading.line = field.line();
        survey_.readings.push_back(std::move(reading));
    }

    void read_coordinates(const Field& item, int point) {
        const Field at = item["at"];
        read_coordinate(at.item(0), item["uncertainty"], point, Quantity::x);
        read_coordinate(at.item(1), item["uncertainty"], point, Quantity::y);
        read_touch(item["touch_x"], item["uncertainty"], point, Quantity::x);
        read_touch(item["touch_y"], item["uncertainty"], point, Quantity::y);
    }

    std::string name_of_coordinate(Quantity quantity, int point) const {
        return std::string(quantity == Quantity::x ? "x of " : "y of ") + id(point);
    }

    void read_coordinate(const Field& field, const Field& uncertainty, int point, Quantity quantity) {
        const auto value_mm = reader_.length_mm(field);
        if (!value_mm) return;
        Reading reading;
        reading.quantity = quantity;
        reading.taken = Taken::at;
        reading.a = point;
        reading.value = *value_mm;
        reading.written = {*value_mm};
        reading.name = name_of_coordinate(quantity, point);
        set_sigma(reading, uncertainty, scribed_sigma_mm());
        add(std::move(reading), field);
    }

    void read_touch(const Field& field, const Field& uncertainty, int point, Quantity quantity) {
        const auto first_mm = reader_.length_mm(field.item(0)), last_mm = reader_.length_mm(field.item(1));
        if (!first_mm || !last_mm) return;
        if (std::abs(*first_mm - *last_mm) < one_place_mm) {
            reader_.wrong_in_words(field, "both contacts are at " + reader_.length_text(*first_mm) +
                                              "; wanted one from each of two opposite sides");
            return;
        }
        Reading reading;
        reading.quantity = quantity;
        reading.taken = Taken::touch;
        reading.a = point;
        reading.value = (*first_mm + *last_mm) / 2.0;
        reading.written = {*first_mm, *last_mm};
        reading.name = name_of_coordinate(quantity, point);
        set_sigma(reading, uncertainty, contact_sigma_mm());
        // Half the sum of two contacts that err apart from one another; what the kind of hole adds does not
        // shrink by touching twice.
        const double kind_mm = reading.sigma_is_default ? kind_sigma(point) : 0.0;
        const double contact_mm = reading.sigma_is_default ? contact_sigma_mm() : reading.sigma;
        reading.sigma = std::hypot(contact_mm / std::numbers::sqrt2, kind_mm);
        add(std::move(reading), field);
    }

    /// Two different points of a list of two ids; false (and a fault, where there is something to say)
    /// otherwise.
    bool read_pair(const Field& between, int& a, int& b) {
        a = read_point(reader_, between.item(0), survey_);
        b = read_point(reader_, between.item(1), survey_);
        if (a < 0 || b < 0) return false;
        if (a != b) return true;
        reader_.wrong_in_words(between, "from " + id(a) + " to itself; wanted two different points");
        return false;
    }

    void read_span(const Field& item) {
        Reading reading;
        reading.quantity = Quantity::span;
        if (!read_pair(item["between"], reading.a, reading.b)) return;
        const bool is_over = bool(item["over"]), is_inside = bool(item["inside"]);
        const Field field = is_over ? item["over"] : is_inside ? item["inside"] : item["centres"];
        const auto measured_mm = reader_.length_mm(field);
        if (!measured_mm || *measured_mm <= 0.0) return;
        reading.taken = is_over ? Taken::over : is_inside ? Taken::inside : Taken::centres;
        reading.written = {*measured_mm};
        reading.name = "span " + id(reading.a) + "-" + id(reading.b) +
                       (is_over     ? " (over)"
                        : is_inside ? " (inside)"
                                    : "");
        reading.value = *measured_mm;
        if ((is_over || is_inside) && !reduce(item, field, reading)) return;
        set_sigma(reading, item["uncertainty"], caliper_sigma_mm(*measured_mm));
        add(std::move(reading), item);
    }

    /// To centres, by the pins' diameters.
    bool reduce(const Field& item, const Field& measured, Reading& reading) {
        const auto first_mm = reader_.length_mm(item["pins"].item(0)),
                   last_mm = reader_.length_mm(item["pins"].item(1));
        if (!first_mm || !last_mm) return false;
        reading.pins_mm = {*first_mm, *last_mm};
        const double both_mm = *first_mm + *last_mm;
        reading.value += (reading.taken == Taken::over ? -0.5 : 0.5) * both_mm;
        if (reading.taken == Taken::inside || reading.written.front() >= both_mm) return true;
        if (reader_.units() == plan::Units::mm && reading.written.front() * mm_per_inch >= both_mm) {
            // The other readings may show that it was read in inches.
            doubted_.emplace_back(survey_.readings.size(), measured);
            return true;
        }
        tell_shorter_than_pins(measured, reading);
        return false;
    }

    void tell_shorter_than_pins(const Field& measured, const Reading& reading) {
        const double both_mm = reading.pins_mm[0] + reading.pins_mm[1];
        const double in_inches_mm = reading.written.front() * mm_per_inch;
        const bool is_maybe_inches = reader_.units() == plan::Units::mm && in_inches_mm >= both_mm &&
                                     reading.written.front() < 0.75 * both_mm;
        reader_.wrong(
            measured, "from outside to outside, at least both pins together, " + reader_.length_text(both_mm),
            is_maybe_inches ? "a gap is `inside`; read in inches it is " + short_text(in_inches_mm, 2) + " mm"
                            : "a gap is `inside`");
    }

    /// A number that is no length over its pins is wrong, unless the others show what it is.
    void check_doubted() {
        if (doubted_.empty()) return;
        std::vector<std::string> wrong;
        const bool all_wrong = reader_.has_faults();
        if (!all_wrong)
            for (const SurveyTrouble& trouble : adjust(survey_, {false, false}).troubles)
                wrong.push_back(trouble.key);
        for (const auto& [index, measured] : doubted_) {
            const Reading& reading = survey_.readings[index];
            if (all_wrong || std::ranges::find(wrong, reading.key) != wrong.end())
                tell_shorter_than_pins(measured, reading);
        }
    }

    void read_angle(const Field& item) {
        Reading reading;
        reading.quantity = Quantity::angle;
        reading.taken = Taken::angle;
        reading.a = read_point(reader_, item["at"], survey_);
        reading.b = read_point(reader_, item["from"], survey_);
        reading.c = read_point(reader_, item["to"], survey_);
        const auto degrees = reader_.number(item["angle"]);
        if (reading.a < 0 || reading.b < 0 || reading.c < 0 || !degrees) return;
        if (reading.a == reading.b || reading.a == reading.c || reading.b == reading.c) {
            reader_.wrong_in_words(item, "at " + id(reading.a) + ", from " + id(reading.b) + " to " +
                                             id(reading.c) + "; wanted three different points");
            return;
        }
        reading.value = *degrees / deg_per_rad;
        reading.written = {reading.value};
        reading.name = "angle at " + id(reading.a) + " from " + id(reading.b) + " to " + id(reading.c);
        const auto stated = reader_.number(item["uncertainty"]);
        reading.sigma_is_default = !stated;
        reading.sigma = stated.value_or(angle_sigma_deg()) / deg_per_rad;
        add(std::move(reading), item);
    }

    /// Readings of the same thing, taken twice: "x of 2", "x of 2, again", "x of 2, again (3)".
    void tell_names_apart() {
        std::map<std::string, int> seen;
        for (Reading& reading : survey_.readings) {
            const int before = seen[reading.name]++;
            if (before == 1) reading.name += ", again";
            if (before > 1) reading.name += ", again (" + std::to_string(before + 1) + ")";
        }
    }

    void check_places(const Field& points) {
        for (std::size_t i = 0; i < survey_.points.size(); ++i) {
            const auto place = place_as_read(survey_, int(i));
            for (std::size_t j = 0; j < i && place; ++j) {
                const auto other = place_as_read(survey_, int(j));
                if (!other || plan::distance_mm(*place, *other) > one_place_mm) continue;
                reader_.wrong_in_words(points.item(i), "as read " + id(int(i)) + " is at the same place as " +
                                                           id(int(j)) + ", [" +
                                                           reader_.length_text(place->x_mm) + ", " +
                                                           reader_.length_text(place->y_mm) + "]");
            }
        }
    }

    void check_every_point_is_read(const Field& points) {
        // Where readings are faulty themselves, a point may only seem to have none.
        if (reader_.has_faults()) return;
        std::vector<bool> is_read(survey_.points.size(), false);
        for (const Reading& reading : survey_.readings) {
            for (const int point : {reading.a, reading.b, reading.c}) {
                if (point >= 0) is_read[std::size_t(point)] = true;
            }
        }
        for (std::size_t i = 0; i < is_read.size(); ++i) {
            if (!is_read[i])
                reader_.wrong_in_words(points.item(i), "no reading tells where " + id(int(i)) +
                                                           " is; wanted its coordinates, or spans or angles "
                                                           "to other points");
        }
    }

    Reader& reader_;
    Survey survey_;
    std::optional<double> file_sigma_mm_;
    std::vector<std::pair<std::size_t, Field>> doubted_;  ///< readings, and where their numbers stand
};

}  // namespace

int read_point(Reader& reader, const Field& field, const Survey& survey) {
    const auto text = reader.text(field);
    if (!text) return -1;
    std::vector<std::string> ids;
    for (std::size_t i = 0; i < survey.points.size(); ++i) {
        if (survey.points[i].id == *text) return int(i);
        ids.push_back(survey.points[i].id);
    }
    reader.unknown_name(field, "the id of a point", ids);
    return -1;
}

std::optional<plan::Point> place_as_read(const Survey& survey, int point) {
    double sum[2] = {0.0, 0.0};
    int count[2] = {0, 0};
    for (const Reading& reading : survey.readings) {
        if (reading.a != point || reading.quantity > Quantity::y) continue;
        const std::size_t i = reading.quantity == Quantity::x ? 0 : 1;
        sum[i] += reading.value;
        ++count[i];
    }
    if (count[0] == 0 || count[1] == 0) return {};
    return plan::Point{sum[0] / count[0], sum[1] / count[1]};
}

ReadSurvey read_survey(const parameters::Document& document) {
    Reader reader(document, parts::units_of(document));
    Survey survey = SurveyReader(reader).read();
    if (reader.has_faults()) return {std::nullopt, parts::refused(reader).faults};
    return {std::move(survey), {}};
}

}  // namespace fitup::calculations
