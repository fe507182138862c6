#include "calculations/clocking_reading.hpp"

#include <algorithm>

#include "calculations/plate_file.hpp"

namespace fitup::calculations {

namespace {

using parts::Field;
using parts::Reader;

std::vector<std::string> pattern_names(const parts::AdapterPlate& plate) {
    std::vector<std::string> names;
    for (const auto& pattern : plate.patterns) names.push_back(pattern.name);
    return names;
}

class ClockingReader {
  public:
    explicit ClockingReader(Reader& reader) : reader_(reader) {}

    std::optional<Clocking> read() {
        const Field root = reader_.root();
        auto file = read_plate_file(reader_, root["plate"]);
        read_range(root["over"]);
        if (!file) return {};
        const std::vector<std::size_t> turning = read_turning(root["turn"], file->plate);
        if (turning.empty()) return {};
        Clocking clocking{reader_.text_or(root["name"], ""),
                          reader_.text_or(root["revision"], ""),
                          reader_.text_or(root["plate"], ""),
                          ClockedPlate(file->document, std::move(file->plate), turning),
                          from_deg_,
                          to_deg_,
                          reader_.length_mm(root["web"])};
        check_axes(root["turn"], clocking.plate);
        return clocking;
    }

  private:
    void read_range(const Field& field) {
        if (!field) return;
        from_deg_ = reader_.angle_or(field.item(0), {}).degrees();
        to_deg_ = reader_.angle_or(field.item(1), Angle::from_degrees(360.0)).degrees();
        if (from_deg_ >= to_deg_)
            reader_.wrong_in_words(field, "the range is empty; wanted the least angle first");
        else if (to_deg_ - from_deg_ > 360.0)
            reader_.wrong_in_words(field, "the range is more than a full turn; wanted at most 360 degrees");
    }

    void read_name(const Field& field, const std::vector<std::string>& names,
                   std::vector<std::size_t>& turning) {
        const auto name = reader_.text(field);
        if (!name) return;
        const auto found = std::find(names.begin(), names.end(), *name);
        if (found == names.end()) {
            reader_.unknown_name(field, "the name of a pattern of the plate", names);
            return;
        }
        const auto index = std::size_t(found - names.begin());
        if (std::find(turning.begin(), turning.end(), index) != turning.end())
            reader_.wrong(field, "a pattern that is not named yet");
        else
            turning.push_back(index);
    }

    std::vector<std::size_t> read_turning(const Field& field, const parts::AdapterPlate& plate) {
        const std::vector<std::string> names = pattern_names(plate);
        std::vector<std::size_t> turning;
        if (field && field.node->type == parameters::Node::Type::text) read_name(field, names, turning);
        for (std::size_t i = 0; i < field.size(); ++i) read_name(field.item(i), names, turning);
        return turning;
    }

    void check_axes(const Field& field, const ClockedPlate& plate) {
        for (const std::size_t i : plate.turning()) {
            if (plate.has_common_axis(i)) continue;
            reader_.wrong_in_words(field, plate.plate().patterns[i].name +
                                              " turns about another place than " +
                                              plate.plate().patterns[plate.turning().front()].name +
                                              " (their `shift` differs); wanted patterns of one shift");
            return;
        }
    }

    Reader& reader_;
    double from_deg_ = 0.0, to_deg_ = 360.0;
};

}  // namespace

ReadClocking read_clocking(const parameters::Document& document) {
    Reader reader(document, parts::units_of(document));
    auto clocking = ClockingReader(reader).read();
    if (reader.has_faults()) return {{}, parts::refused(reader).faults};
    return {std::move(clocking), {}};
}

}  // namespace fitup::calculations
