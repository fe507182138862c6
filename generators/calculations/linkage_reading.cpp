#include "calculations/linkage_reading.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <set>

#include "base/error.hpp"
#include "base/text.hpp"
#include "calculations/part_sizes.hpp"
#include "parts/common_header.hpp"
#include "parts/kinds.hpp"
#include "parts/swing_reading.hpp"

namespace fitup::calculations {

namespace {

using parts::Field;
using parts::Reader;

/// A rest may be off square by what three decimals of its components leave.
constexpr double square_within = 2e-3;
/// Two axes nearer than this, and as parallel, are one and the same.
constexpr double same_axis_mm = 1e-6;

class LinkageReader {
  public:
    explicit LinkageReader(Reader& reader) : reader_(reader) {}

    Linkage read() {
        const Field root = reader_.root();
        Linkage linkage;
        linkage.name = reader_.text_or(root["name"], "");
        linkage.revision = reader_.text_or(root["revision"], "");
        linkage.units = reader_.units();
        read_levers(root["levers"], linkage);
        read_rods(root["rods"], linkage);
        read_positions(root["positions"], linkage);
        read_stops(root["stops"], linkage);
        read_hand_work(root, linkage);
        linkage.surroundings = parts::read_surroundings(reader_);
        check_rods_have_diameters(root, linkage);
        check_travel(root["positions"], linkage);
        return linkage;
    }

  private:
    /// A direction of length one; a fault where it has none.
    Vector direction_or(const Field& field, const Vector& otherwise) {
        if (field.size() != 3) return otherwise;
        Vector direction{};
        for (std::size_t i = 0; i < 3; ++i) direction[i] = reader_.number(field.item(i)).value_or(0.0);
        if (length(direction) > 0.0) return unit(direction);
        reader_.wrong_in_words(field, "all three components are 0; wanted a direction");
        return otherwise;
    }

    void read_bounds(const Field& field, Dimension& dimension, bool is_angle) {
        if (field.size() != 2) return;
        const auto value = [&](std::size_t i) {
            return is_angle ? reader_.number(field.item(i)) : reader_.length_mm(field.item(i));
        };
        const auto least = value(0), most = value(1);
        if (!least || !most) return;
        if (*least >= *most) reader_.wrong(field, "the least first and the most after it");
        dimension.between = Bounds{*least, *most};
        dimension.value = (*least + *most) / 2.0;
    }

    /// What the part's file says; nothing (and a fault at `field`) where it can't be had.
    std::optional<PartSizes> part_sizes(const Field& field) {
        const std::string path = (std::filesystem::path(reader_.folder()) / field.node->text).string();
        try {
            ReadPart part = read_part_sizes(path);
            if (part.faults.empty()) return std::move(part.sizes);
            reader_.wrong(field, "a part without faults",
                          "it has " + std::to_string(part.faults.size()) +
                              ", the first: " + parameters::to_text(part.faults.front()));
        } catch (const FileError& error) {
            reader_.wrong_in_words(field, error.what());
        }
        return {};
    }

    const ArmSize* arm_of(const Field& field, const PartSizes& sizes) {
        if (sizes.arms.empty()) {
            reader_.wrong(field["part"], "a bellcrank or an offset arm", "this part is a " + sizes.kind);
            return nullptr;
        }
        const auto name = reader_.text(field["arm"]);
        if (!name) return &sizes.arms.front();
        std::vector<std::string> names;
        for (const ArmSize& arm : sizes.arms) {
            if (arm.name == *name) return &arm;
            names.push_back(arm.name);
        }
        reader_.unknown_name(field["arm"], "the name of an arm of the part", names);
        return nullptr;
    }

    /// Keeps what the part says about this arm in `sizes_of_arm`.
    Dimension arm_dimension(const Field& field, std::optional<ArmSize>& from_part) {
        Dimension dimension;
        if (!field) return dimension;
        if (field.node->type != parameters::Node::Type::object) {
            dimension.value = reader_.length_mm_or(field, 0.0);
            return dimension;
        }
        if (const Field part = field["part"]; reader_.text(part)) {
            const auto sizes = part_sizes(part);
            const ArmSize* arm = sizes ? arm_of(field, *sizes) : nullptr;
            if (arm != nullptr) {
                dimension.value = arm->length_mm;
                dimension.part_file = part.node->text;
                dimension.part_key = arm->key;
                dimension.part_value = arm->length_mm;
                from_part = *arm;
            }
        }
        read_bounds_beside_part(field["between"], dimension);
        return dimension;
    }

    /// The part's own value stays the starting point where it lies within the bounds.
    void read_bounds_beside_part(const Field& between, Dimension& dimension) {
        const double of_part = dimension.value;
        read_bounds(between, dimension, false);
        const bool is_within =
            dimension.between && of_part >= dimension.between->least && of_part <= dimension.between->most;
        if (!dimension.part_file.empty() && is_within) dimension.value = of_part;
    }

    Dimension plain_dimension(const Field& field, double otherwise, bool is_angle) {
        Dimension dimension;
        dimension.value = otherwise;
        if (!field) return dimension;
        if (field.node->type == parameters::Node::Type::object)
            read_bounds(field["between"], dimension, is_angle);
        else
            dimension.value =
                is_angle ? reader_.number(field).value_or(0.0) : reader_.length_mm_or(field, 0.0);
        return dimension;
    }

    void read_axis(const Field& field, Lever& lever) {
        lever.pivot_mm = reader_.point3_or(field["pivot"], {});
        lever.axis = direction_or(field["axis"], {0, 0, 1});
        const Vector rest = direction_or(field["rest"], {1, 0, 0});
        const double along = dot(rest, lever.axis);
        if (std::abs(along) > square_within) {
            reader_.wrong_in_words(field["rest"],
                                   "[" + shortest_text(rest[0]) + ", " + shortest_text(rest[1]) + ", " +
                                       shortest_text(rest[2]) + "] is not square to the axis, but " +
                                       fixed_text(Angle::from_radians(std::acos(along)).degrees(), 2) +
                                       " degrees from it; wanted 90");
            return;
        }
        lever.rest = unit(rest - lever.axis * along);
    }

    Lever read_lever(const Field& field) {
        Lever lever;
        lever.name = reader_.text_or(field["name"], "");
        read_axis(field, lever);
        std::optional<ArmSize> in_part, out_part;
        lever.single_arm = static_cast<bool>(field["arm"]);
        if (lever.single_arm) {
            lever.arm_in = lever.arm_out = arm_dimension(field["arm"], in_part);
            lever.offset_in = lever.offset_out =
                plain_dimension(field["offset"], in_part ? in_part->offset_mm : 0.0, false);
            return lever;
        }
        lever.arm_in = arm_dimension(field["arm_in"], in_part);
        lever.arm_out = arm_dimension(field["arm_out"], out_part);
        const bool one_part = in_part && out_part && lever.arm_in.part_file == lever.arm_out.part_file;
        const Angle of_part = one_part ? out_part->angle + in_part->angle * -1.0 : Angle();
        lever.angle_between = plain_dimension(field["angle_between"], of_part.degrees(), true);
        lever.offset_in = plain_dimension(field["offset_in"], in_part ? in_part->offset_mm : 0.0, false);
        lever.offset_out = plain_dimension(field["offset_out"], out_part ? out_part->offset_mm : 0.0, false);
        return lever;
    }

    void check_lever_places(const Field& field, std::size_t index, std::size_t count, const Lever& lever) {
        const bool at_an_end = index == 0 || index + 1 == count;
        if (at_an_end && !lever.single_arm && field["arm_in"])
            reader_.wrong_in_words(field, "the " + std::string(index == 0 ? "first" : "last") +
                                              " lever has one rod only; wanted `arm` in place of arm_in and "
                                              "arm_out");
    }

    /// Axes that are one and the same leave nothing for a rod to do.
    void check_axes(const Field& levers, const Linkage& linkage) {
        for (std::size_t i = 1; i < linkage.levers.size(); ++i) {
            const Lever &before = linkage.levers[i - 1], &lever = linkage.levers[i];
            const Vector between = lever.pivot_mm - before.pivot_mm;
            const bool parallel = length(cross(before.axis, lever.axis)) < 1e-9;
            if (parallel && length(cross(between, before.axis)) < same_axis_mm)
                reader_.wrong_in_words(levers.item(i)["pivot"],
                                       "levers " + before.name + " and " + lever.name +
                                           " turn about one and the same axis; a rod between them can't "
                                           "turn one by the other");
        }
    }

    template <typename Named>
    void check_names(const Field& list, const std::vector<Named>& named) {
        std::set<std::string> seen;
        for (std::size_t i = 0; i < named.size(); ++i) {
            if (!named[i].name.empty() && !seen.insert(named[i].name).second)
                reader_.wrong(list.item(i)["name"], "a name that no other has");
        }
    }

    void read_levers(const Field& field, Linkage& linkage) {
        for (std::size_t i = 0; i < field.size(); ++i) {
            linkage.levers.push_back(read_lever(field.item(i)));
            check_lever_places(field.item(i), i, field.size(), linkage.levers.back());
        }
        check_names(field, linkage.levers);
        check_axes(field, linkage);
    }

    void read_rods(const Field& field, Linkage& linkage) {
        if (field && !linkage.levers.empty() && field.size() + 1 != linkage.levers.size())
            reader_.wrong_in_words(field, std::to_string(field.size()) + " rods for " +
                                              std::to_string(linkage.levers.size()) +
                                              " levers; wanted one rod between each lever and the next, " +
                                              std::to_string(linkage.levers.size() - 1));
        for (std::size_t i = 0; i < field.size(); ++i) linkage.rods.push_back(read_rod(field.item(i), i));
    }

    Rod read_rod(const Field& field, std::size_t index) {
        Rod rod;
        rod.name = "rod-" + std::to_string(index + 1);
        std::optional<RodSize> from_part;
        rod.length = rod_dimension(field["length"], from_part);
        rod.adjust = read_adjust(field["adjust"]);
        rod.diameter_mm = reader_.length_mm(field["diameter"]);
        if (rod.adjust && from_part && !field["adjust"]["travel"]) {
            rod.adjust->shorter_mm = from_part->set_mm - from_part->least_mm;
            rod.adjust->longer_mm = from_part->most_mm - from_part->set_mm;
        }
        return rod;
    }

    Dimension rod_dimension(const Field& field, std::optional<RodSize>& from_part) {
        Dimension dimension;
        if (!field) return dimension;
        if (field.node->type != parameters::Node::Type::object) {
            dimension.value = reader_.length_mm_or(field, 0.0);
            return dimension;
        }
        if (field["arm"]) reader_.wrong_in_words(field["arm"], "a rod has no arms");
        if (const Field part = field["part"]; reader_.text(part)) {
            const auto sizes = part_sizes(part);
            if (sizes && !sizes->rod) reader_.wrong(part, "a threaded rod", "this part is a " + sizes->kind);
            if (sizes && sizes->rod) {
                from_part = sizes->rod;
                dimension.value = sizes->rod->set_mm;
                dimension.part_file = part.node->text;
                dimension.part_key = "pin to pin";
                dimension.part_value = sizes->rod->set_mm;
            }
        }
        read_bounds_beside_part(field["between"], dimension);
        return dimension;
    }

    /// Something to keep clear of and no rod thick enough to touch it: the person means more than the file
    /// says.
    void check_rods_have_diameters(const Field& root, const Linkage& linkage) {
        const bool has_one = std::any_of(linkage.rods.begin(), linkage.rods.end(),
                                         [](const Rod& rod) { return rod.diameter_mm.has_value(); });
        if (linkage.surroundings && !has_one)
            reader_.wrong_in_words(root["keep_clear"], "no rod has a `diameter` to keep clear with");
    }

    std::optional<Adjust> read_adjust(const Field& field) {
        if (!field) return {};
        const auto thread = parts::read_thread(reader_, field["thread"], {});
        if (!thread) return {};
        Adjust adjust;
        adjust.thread = thread->designation;
        adjust.pitch_mm = thread->pitch_mm;
        adjust.opposite_hands = reader_.text_or(field["ends"], "right-right") == "right-left";
        adjust.step_turns = reader_.number(field["step"]).value_or(0.5);
        // One diameter of thread stays in each end from about one and a half as set (common practice, no
        // source): half a diameter an end each way.
        const double travel_mm = reader_.length_mm_or(field["travel"], thread->major_mm);
        adjust.shorter_mm = adjust.longer_mm = travel_mm;
        return adjust;
    }

    /// A lever's angle given as degrees or as travel along the chord at a radius: s = 2 r sin(a / 2).
    Angle read_angle(const Field& angle, const Field& travel, const Field& radius) {
        if (angle) return reader_.angle_or(angle, Angle());
        const auto travel_mm = reader_.length_mm(travel), radius_mm = reader_.length_mm(radius);
        if (!travel_mm || !radius_mm || *radius_mm <= 0.0) return Angle();
        const double half_sine = *travel_mm / (2.0 * *radius_mm);
        if (std::abs(half_sine) > 1.0) {
            reader_.wrong(travel,
                          "a chord of at most twice the radius, " + reader_.length_text(2.0 * *radius_mm));
            return Angle();
        }
        return Angle::from_radians(2.0 * std::asin(half_sine));
    }

    void read_window(const Field& field, WantedPosition& position) {
        if (const auto half = reader_.number(field)) {
            position.below = position.above = Angle::from_degrees(*half);
            return;
        }
        if (field.size() != 2) return;
        const double below_deg = -reader_.number(field.item(0)).value_or(0.0);
        const double above_deg = reader_.number(field.item(1)).value_or(0.0);
        if (below_deg < 0.0 || above_deg < 0.0 || below_deg + above_deg <= 0.0)
            reader_.wrong(field,
                          "[below, above] about the output: the first under or at 0, the second over "
                          "or at 0, not both 0");
        position.below = Angle::from_degrees(below_deg);
        position.above = Angle::from_degrees(above_deg);
    }

    void read_positions(const Field& field, Linkage& linkage) {
        for (std::size_t i = 0; i < field.size(); ++i) {
            const Field item = field.item(i);
            WantedPosition position;
            position.name = reader_.text_or(item["name"], "");
            position.input = read_angle(item["input"], item["input_travel"], item["at"]);
            position.output = read_angle(item["output"], item["output_travel"], item["output_at"]);
            read_window(item["window"], position);
            linkage.positions.push_back(position);
        }
        check_names(field, linkage.positions);
        for (std::size_t i = 0; i < linkage.positions.size(); ++i) {
            for (std::size_t j = 0; j < i; ++j) check_two_positions(field.item(i), linkage.positions, j, i);
        }
    }

    void check_two_positions(const Field& field, const std::vector<WantedPosition>& positions,
                             std::size_t first, std::size_t second) {
        const WantedPosition &a = positions[first], &b = positions[second];
        if (a.input == b.input)
            reader_.wrong_in_words(field, "position " + b.name + " is at the same input as " + a.name + ", " +
                                              short_text(b.input.degrees(), 3) + " degrees");
        const double overlap_deg =
            std::min((a.output + a.above).degrees(), (b.output + b.above).degrees()) -
            std::max((a.output + a.below * -1.0).degrees(), (b.output + b.below * -1.0).degrees());
        if (overlap_deg > 1e-9)
            reader_.wrong_in_words(field["window"], "the windows of " + a.name + " and " + b.name +
                                                        " overlap by " + short_text(overlap_deg, 3) +
                                                        " degrees; no output may lie in two");
    }

    std::optional<std::array<Angle, 2>> read_range(const Field& field) {
        if (field.size() != 2) return {};
        const Angle least = reader_.angle_or(field.item(0), Angle());
        const Angle most = reader_.angle_or(field.item(1), Angle());
        if (least.degrees() >= most.degrees()) {
            reader_.wrong(field, "the least angle first and the most after it");
            return {};
        }
        return std::array{least, most};
    }

    void read_stops(const Field& field, Linkage& linkage) {
        linkage.stops.input = read_range(field["input"]);
        linkage.stops.output = read_range(field["output"]);
    }

    void read_hand_work(const Field& root, Linkage& linkage) {
        const Field play = root["joint_play"], tolerances = root["tolerances"], sampling = root["sampling"];
        linkage.play.stated = static_cast<bool>(play);
        const bool is_one = play && play.node->type != parameters::Node::Type::object;
        linkage.play.new_mm = reader_.length_mm_or(is_one ? play : play["new"], 0.0);
        linkage.play.worn_mm = reader_.length_mm_or(is_one ? play : play["worn"], 0.0);
        if (linkage.play.worn_mm < linkage.play.new_mm)
            reader_.wrong(play["worn"], "at least the play of a new joint");
        linkage.tolerances = {reader_.length_mm_or(tolerances["arm"], 0.0),
                              reader_.length_mm_or(tolerances["rod"], 0.0),
                              reader_.length_mm_or(tolerances["pivot"], 0.0), static_cast<bool>(tolerances)};
        linkage.joint_angle_limit = reader_.angle_or(root["joint_angle_limit"], linkage.joint_angle_limit);
        linkage.builds = static_cast<std::size_t>(reader_.number(sampling["builds"]).value_or(1e6));
        linkage.seed = static_cast<unsigned long long>(reader_.number(sampling["seed"]).value_or(1.0));
    }

    static bool lies_beyond(Angle angle, const std::optional<std::array<Angle, 2>>& stops) {
        return stops && (angle.degrees() < (*stops)[0].degrees() || angle.degrees() > (*stops)[1].degrees());
    }

    void check_travel(const Field& field, const Linkage& linkage) {
        for (std::size_t i = 0; i < linkage.positions.size(); ++i) {
            const Field item = field.item(i);
            const WantedPosition& position = linkage.positions[i];
            if (lies_beyond(position.input, linkage.stops.input))
                reader_.wrong_in_words(item["input"] ? item["input"] : item["input_travel"],
                                       "position " + position.name + " lies beyond the lever's stop");
            if (lies_beyond(position.output, linkage.stops.output))
                reader_.wrong_in_words(item["output"] ? item["output"] : item["output_travel"],
                                       "position " + position.name + " lies beyond the selector's stop");
        }
    }

    Reader& reader_;
};

}  // namespace

ReadLinkage read_linkage(const parameters::Document& document) {
    Reader reader(document, parts::units_of(document));
    Linkage linkage = LinkageReader(reader).read();
    if (reader.has_faults()) return {std::nullopt, parts::refused(reader).faults};
    return {std::move(linkage), {}};
}

}  // namespace fitup::calculations
