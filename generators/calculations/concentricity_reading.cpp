#include "calculations/concentricity_reading.hpp"

#include <algorithm>
#include <filesystem>

#include "base/error.hpp"
#include "base/file.hpp"
#include "base/units.hpp"
#include "calculations/concentricity_plate.hpp"
#include "parts/common_header.hpp"
#include "parts/kinds.hpp"
#include "parts/reading.hpp"
#include "trade/housings.hpp"

namespace fitup::calculations {

namespace {

using parts::Field;
using parts::Reader;

constexpr double usual_limit_mm = 0.005 * mm_per_inch;
constexpr double mm_per_um = 0.001;

class ConcentricityReader {
  public:
    explicit ConcentricityReader(Reader& reader) : reader_(reader) {}

    Concentricity read() {
        const Field root = reader_.root();
        asked_.name = reader_.text_or(root["name"], "");
        asked_.revision = reader_.text_or(root["revision"], "");
        asked_.units = reader_.units();
        read_limit(root["limit"]);
        read_housing(root["housing"]);
        read_plate(root["plate"]);
        for (std::size_t i = 0; i < root["contributions"].size(); ++i)
            read_contribution(root["contributions"].item(i));
        if (root["reamed_at_assembly"])
            asked_.reamed_at_assembly = reader_.truth_or(root["reamed_at_assembly"], false);
        asked_.bore = read_dial(root["readings"]);
        asked_.face = read_dial(root["face_readings"]);
        return std::move(asked_);
    }

  private:
    void read_limit(const Field& field) {
        asked_.limit_stated = bool(field);
        asked_.limit_reading_mm = usual_limit_mm;
        if (const auto reading_mm = reader_.length_mm(field["reading"]))
            asked_.limit_reading_mm = *reading_mm;
        if (const auto offset_mm = reader_.length_mm(field["offset"]))
            asked_.limit_reading_mm = 2.0 * *offset_mm;
    }

    void read_housing(const Field& field) {
        const auto name = reader_.text(field);
        if (!name) return;
        const trade::Housing* housing = trade::find_housing(*name);
        if (housing == nullptr)
            return reader_.unknown_name(field, "a housing of the table (`fitup lookup housings`)",
                                        trade::housing_names());
        Contribution one;
        one.name = "SAE " + housing->designation + " housing bore on the crank";
        one.measure = Measure::reading;
        one.least = one.most = trade::housing_reading_mm(housing->pilot_least_mm);
        one.fixed = true;
        one.from = std::string("allowed by ") + trade::housing_reading_source;
        asked_.contributions.push_back(std::move(one));
    }

    void read_plate(const Field& field) {
        const auto name = reader_.text(field);
        if (!name) return;
        asked_.plate = *name;
        const std::string path = (std::filesystem::path(reader_.folder()) / *name).string();
        try {
            const parts::Planned planned = parts::plan_file(read_file(path), path);
            if (!planned.plan)
                return reader_.wrong(field, "a part without faults",
                                     "it has " + std::to_string(planned.faults.size()) +
                                         ", the first: " + parameters::to_text(planned.faults.front()));
            if (planned.plan->part != "adapter_plate")
                return reader_.wrong(field, "an adapter plate", "this part is a " + planned.plan->part);
            add_plate(*planned.plan, asked_);
        } catch (const FileError& error) {
            reader_.wrong_in_words(field, error.what());
        }
    }

    void read_contribution(const Field& field) {
        Contribution one;
        one.name = reader_.text_or(field["name"], "");
        one.fixed = reader_.truth_or(field["fixed"], false);
        const bool is_known = std::any_of(asked_.contributions.begin(), asked_.contributions.end(),
                                          [&](const Contribution& other) { return other.name == one.name; });
        if (is_known) reader_.wrong(field["name"], "a name that no other contribution has");
        read_measure(field, one);
        asked_.contributions.push_back(std::move(one));
    }

    void read_measure(const Field& field, Contribution& one) {
        if (field["clearance"]) return read_clearance(field["clearance"], one);
        if (field["fit"]) return read_fit(field["fit"], one);
        for (const Measure measure : {Measure::position, Measure::reading, Measure::offset}) {
            const auto value_mm = reader_.length_mm(field[to_text(measure)]);
            if (!value_mm) continue;
            one.measure = measure;
            one.least = one.most = *value_mm;
        }
    }

    void read_clearance(const Field& field, Contribution& one) {
        one.measure = Measure::clearance;
        if (field.size() != 2) {
            one.least = one.most = reader_.length_mm_or(field, 0.0);
            return;
        }
        one.least = reader_.length_mm_or(field.item(0), 0.0);
        one.most = reader_.length_mm_or(field.item(1), 0.0);
        if (one.least > one.most) reader_.wrong(field, "the least clearance first and the greatest after it");
        centre(one);
    }

    void read_fit(const Field& field, Contribution& one) {
        one.measure = Measure::clearance;
        const double diameter_mm = reader_.length_mm_or(field["diameter"], 0.0);
        const auto hole = parts::read_fit(reader_, field["hole"], diameter_mm, parts::FitOf::hole);
        const auto shaft = parts::read_fit(reader_, field["shaft"], diameter_mm, parts::FitOf::shaft);
        if (!hole || !shaft) return;
        one.least = (hole->lower_um - shaft->upper_um) * mm_per_um;
        one.most = (hole->upper_um - shaft->lower_um) * mm_per_um;
        one.from = hole->tolerance_class + " on " + shaft->tolerance_class;
        centre(one);
    }

    /// What is pressed in stands in the middle.
    static void centre(Contribution& one) {
        one.least = std::max(0.0, one.least);
        one.most = std::max(0.0, one.most);
    }

    std::optional<DialReadings> read_dial(const Field& field) {
        if (!field) return {};
        DialReadings readings;
        readings.at_12 = reader_.length_mm_or(field["12"], 0.0);
        readings.at_3 = reader_.length_mm_or(field["3"], 0.0);
        readings.at_6 = reader_.length_mm_or(field["6"], 0.0);
        readings.at_9 = reader_.length_mm_or(field["9"], 0.0);
        readings.again_at_12 = reader_.length_mm(field["12_again"]);
        readings.sag_mm = reader_.length_mm_or(field["sag"], 0.0);
        readings.outside = reader_.text_or(field["sweeps"], "bore") == "spigot";
        readings.face_diameter_mm = reader_.length_mm_or(field["diameter"], 0.0);
        return readings;
    }

    Reader& reader_;
    Concentricity asked_;
};

}  // namespace

ReadConcentricity read_concentricity(const parameters::Document& document) {
    Reader reader(document, parts::units_of(document));
    Concentricity asked = ConcentricityReader(reader).read();
    if (reader.has_faults()) return {std::nullopt, parts::refused(reader).faults};
    return {std::move(asked), {}};
}

}  // namespace fitup::calculations
