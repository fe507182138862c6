#include "calculations/survey_choices.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "calculations/survey_uncertainty.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using parts::Field;
using parts::Reader;

class ChoicesReader {
  public:
    ChoicesReader(Reader& reader, Survey& survey) : reader_(reader), survey_(survey) {}

    void read(const Field& root) {
        read_leave_out(root["leave_out"]);
        read_clockwise(root["clockwise"]);
        read_datum(root["datum"]);
        read_expect(root["expect"]);
        for (std::size_t i = 0; i < root["trial"].size(); ++i) read_trial(root["trial"].item(i));
    }

  private:
    const std::string& id(int point) const { return survey_.points[std::size_t(point)].id; }

    // leave_out ------------------------------------------------------------------------------------------

    bool leave_out_named(const std::string& name) {
        bool found = false;
        for (Reading& reading : survey_.readings) {
            if (reading.name != name) continue;
            reading.left_out = found = true;
        }
        return found;
    }

    bool leave_out_coordinates_of(const std::string& point) {
        bool found = false;
        for (Reading& reading : survey_.readings) {
            if (reading.quantity > Quantity::y || id(reading.a) != point) continue;
            reading.left_out = found = true;
        }
        return found;
    }

    void read_leave_out(const Field& field) {
        for (std::size_t i = 0; i < field.size(); ++i) {
            const auto name = reader_.text(field.item(i));
            if (!name || leave_out_named(*name) || leave_out_coordinates_of(*name)) continue;
            std::vector<std::string> names;
            for (const Reading& reading : survey_.readings) names.push_back(reading.name);
            reader_.unknown_name(field.item(i),
                                 "the name of a reading, or the id of a point with coordinates", names);
        }
    }

    // clockwise ------------------------------------------------------------------------------------------

    /// Whether the readings have a sense of their own; what is still open then, the adjustment tells.
    bool are_spans_alone() const {
        return std::all_of(survey_.readings.begin(), survey_.readings.end(), [](const Reading& reading) {
            return reading.left_out || reading.quantity == Quantity::span;
        });
    }

    void read_clockwise(const Field& field) {
        if (!field) {
            if (survey_.points.size() < 3 || !are_spans_alone() || survey_.readings.empty()) return;
            reader_.wrong(field, "the ids of three points in clockwise order as seen",
                          "spans are the same for a pattern and its mirror image");
            return;
        }
        if (field.size() != 3) return;
        std::array<int, 3> three{};
        for (std::size_t i = 0; i < 3; ++i) three[i] = read_point(reader_, field.item(i), survey_);
        if (std::any_of(three.begin(), three.end(), [](int point) { return point < 0; })) return;
        if (three[0] == three[1] || three[1] == three[2] || three[0] == three[2]) {
            reader_.wrong(field, "three different points");
            return;
        }
        survey_.clockwise = three;
        survey_.clockwise_line = field.line();
        check_clockwise(field, three);
    }

    void check_clockwise(const Field& field, const std::array<int, 3>& three) {
        const auto a = place_as_read(survey_, three[0]), b = place_as_read(survey_, three[1]),
                   c = place_as_read(survey_, three[2]);
        if (!a || !b || !c || plan::cross(*b - *a, *c - *a) < 0.0) return;
        reader_.wrong_in_words(field, id(three[0]) + ", " + id(three[1]) + ", " + id(three[2]) +
                                          " run anticlockwise by their coordinates; wanted clockwise order "
                                          "as seen, X to the right and Y up");
    }

    // datum ----------------------------------------------------------------------------------------------

    /// The ids of "mean of 1, 2 and 3".
    static std::vector<std::string> listed(std::string text) {
        std::vector<std::string> words;
        std::string word;
        for (char c : text + ",") {
            const bool ends = c == ',' || c == ' ';
            if (!ends) word += c;
            if (!ends || word.empty()) continue;
            if (word != "and") words.push_back(word);
            word.clear();
        }
        return words;
    }

    int point_named(const std::string& name) const {
        for (std::size_t i = 0; i < survey_.points.size(); ++i) {
            if (survey_.points[i].id == name) return int(i);
        }
        return -1;
    }

    static std::string list_of(const std::vector<std::string>& words) {
        std::string text;
        for (std::size_t i = 0; i < words.size(); ++i)
            text += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
        return text;
    }

    std::string read_origin(const Field& field, Datum& datum) {
        const auto text = reader_.text(field);
        if (!text) return "";
        if (*text == "circle") {
            datum.on_circle = true;
            return "origin at the centre of the fitted circle";
        }
        const bool is_mean = text->starts_with("mean of ");
        const std::vector<std::string> words = is_mean ? listed(text->substr(8)) : std::vector{*text};
        for (const std::string& word : words) {
            const int point = point_named(word);
            const bool is_new =
                std::find(datum.origin.begin(), datum.origin.end(), point) == datum.origin.end();
            if (point >= 0 && is_new) datum.origin.push_back(point);
            if (point >= 0 && is_new) continue;
            reader_.wrong(field, "a point's id, \"mean of\" different ids, or \"circle\"",
                          point < 0 ? "no point is called \"" + word + "\"" : word + " stands twice");
            return "";
        }
        return (is_mean ? "origin at the mean of " : "origin at ") + list_of(words);
    }

    void read_datum(const Field& field) {
        if (!field) return;
        Datum datum;
        datum.words = read_origin(field["origin"], datum);
        if (datum.words.empty()) datum.words = "origin as measured";
        datum.words += read_x_axis(field["x_axis"], datum);
        survey_.datum = std::move(datum);
    }

    std::string read_x_axis(const Field& field, Datum& datum) {
        const int first = read_point(reader_, field.item(0), survey_);
        const int last = read_point(reader_, field.item(1), survey_);
        if (first < 0 || last < 0) return ", +X as measured";
        if (first == last) reader_.wrong(field, "two different points");
        datum.x_axis = {first, last};
        return ", +X from " + id(first) + " to " + id(last);
    }

    // expect, trial --------------------------------------------------------------------------------------

    void read_expect(const Field& field) {
        const Field circle = field["circle"];
        if (!circle) return;
        ExpectedCircle expected;
        expected.diameter_mm = reader_.length_mm(circle["diameter"]);
        if (const auto count = reader_.number(circle["count"])) expected.count = int(*count);
        if (expected.count && *expected.count < int(survey_.points.size()))
            reader_.wrong(circle["count"],
                          "at least the number of points, " + std::to_string(survey_.points.size()));
        survey_.expect_circle = expected;
    }

    /// "5" is an id; "gearbox-5" is the fifth point, as a plate that takes them counts.
    int read_hole(const Field& field) {
        const auto name = reader_.text(field);
        if (!name) return -1;
        if (const int point = point_named(*name); point >= 0) return point;
        const std::size_t dash = name->rfind('-');
        const auto ordinal = dash == std::string::npos ? std::nullopt : parse_number(name->substr(dash + 1));
        const bool counts = ordinal && *ordinal >= 1.0 && *ordinal <= double(survey_.points.size()) &&
                            *ordinal == std::floor(*ordinal);
        return counts ? int(*ordinal) - 1 : read_point(reader_, field, survey_);
    }

    void read_trial(const Field& item) {
        TrialMove move;
        move.point = read_hole(item["hole"]);
        move.moved_mm = reader_.point_or(item["moved"], {});
        move.sigma_mm = reader_.length_mm_or(item["uncertainty"], trial_sigma_mm());
        if (move.point < 0) return;
        const auto same = [&](const TrialMove& other) { return other.point == move.point; };
        if (std::any_of(survey_.trial.begin(), survey_.trial.end(), same)) {
            reader_.wrong(item["hole"], "a hole that stands once");
            return;
        }
        survey_.trial.push_back(move);
    }

    Reader& reader_;
    Survey& survey_;
};

}  // namespace

void read_choices(Reader& reader, const Field& root, Survey& survey) {
    ChoicesReader(reader, survey).read(root);
}

}  // namespace fitup::calculations
