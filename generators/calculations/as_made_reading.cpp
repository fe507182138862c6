#include "calculations/as_made_reading.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "base/text.hpp"
#include "calculations/plate_file.hpp"
#include "calculations/survey_places.hpp"
#include "plan/mating.hpp"
#include "trade/trade.hpp"

namespace fitup::calculations {

namespace {

using parts::Field;
using parts::Reader;

/// Diameters at a bolt, whichever part has the clearance.
struct Bolt {
    double hole_mm = 0.0, fastener_mm = 0.0;
};

/// What bolts through a hole, as the plan has it: its own fastener, or the thread's with the usual clearance
/// hole in the casting. Nothing for holes that don't bolt.
std::optional<Bolt> bolt_of(const plan::Hole& hole) {
    if (hole.fastener) return Bolt{hole.diameter_mm, hole.fastener->diameter_mm};
    if (!hole.thread) return {};
    const auto* clearance = trade::find_clearance_hole(hole.thread->designation, "normal");
    if (clearance == nullptr) return {};
    return Bolt{clearance->diameter_mm, hole.thread->major_mm};
}

/// Adds another covariance, turned by the turn that lays its places.
void add_turned(const std::vector<double>& more, double turn_rad, std::vector<double>& sum) {
    if (more.empty()) return;
    if (sum.empty()) sum.assign(more.size(), 0.0);
    const std::size_t size = std::size_t(std::sqrt(double(more.size())) + 0.5);
    const double c = std::cos(turn_rad), s = std::sin(turn_rad);
    for (std::size_t i = 0; i < size; i += 2) {
        for (std::size_t j = 0; j < size; j += 2) {
            const auto at = [&](std::size_t row, std::size_t column) { return more[row * size + column]; };
            const double xx = at(i, j), xy = at(i, j + 1), yx = at(i + 1, j), yy = at(i + 1, j + 1);
            // R M R^T with R = [c, -s; s, c]
            const double top_x = c * xx - s * yx, top_y = c * xy - s * yy;
            const double low_x = s * xx + c * yx, low_y = s * xy + c * yy;
            sum[i * size + j] += c * top_x - s * top_y;
            sum[i * size + j + 1] += s * top_x + c * top_y;
            sum[(i + 1) * size + j] += c * low_x - s * low_y;
            sum[(i + 1) * size + j + 1] += s * low_x + c * low_y;
        }
    }
}

/// The part of a covariance that is of the first places.
std::vector<double> leading(const std::vector<double>& covariance, std::size_t places, std::size_t count) {
    if (covariance.empty() || places == count) return covariance;
    std::vector<double> part;
    for (std::size_t row = 0; row < 2 * count; ++row) {
        for (std::size_t column = 0; column < 2 * count; ++column)
            part.push_back(covariance[row * 2 * places + column]);
    }
    return part;
}

/// Both fits of a slip pin together (common practice, no source).
constexpr double usual_dowel_play_mm = 0.02;

class AsMadeReader {
  public:
    explicit AsMadeReader(Reader& reader) : reader_(reader) {}

    std::optional<AsMade> read() {
        const Field root = reader_.root();
        made_.name = reader_.text_or(root["name"], "");
        made_.revision = reader_.text_or(root["revision"], "");
        made_.units = reader_.units();
        made_.plate_file = reader_.text_or(root["plate"], "");
        auto plate = read_plate_file(reader_, root["plate"]);
        auto measured = read_survey_places(reader_, root["survey"]);
        if (!plate || !measured) return {};
        plan_ = std::move(plate->plan);
        measured_ = measured->seen_from(reader_.side_or(root["seen_from"], plan::Side::B));
        read_holes(root["survey"]);
        if (reader_.has_faults()) return {};
        read_castings(root["castings"]);
        return std::move(made_);
    }

  private:
    void read_holes(const Field& field) {
        std::map<std::string, std::size_t> holes;
        for (std::size_t i = 0; i < plan_.holes.size(); ++i) holes.emplace(plan_.holes[i].id, i);
        for (std::size_t i = 0; i < measured_.ids.size(); ++i) {
            const auto hole = holes.find(measured_.ids[i]);
            if (is_register(measured_.ids[i])) {
                add_place(i, {}, 0.0);
                continue;
            }
            if (hole == holes.end()) {
                tell_stranger(field, measured_.ids[i], holes);
                return;
            }
            const auto bolt = bolt_of(plan_.holes[hole->second]);
            const double share = formula_of(Fastening::fixed).share;
            add_place(i, plan_.holes[hole->second].at_mm,
                      bolt ? share * (bolt->hole_mm - bolt->fastener_mm) : 0.0);
        }
    }

    /// Registers have the plate's own origin as their centre.
    bool is_register(const std::string& id) const {
        return std::any_of(plan_.registers.begin(), plan_.registers.end(), [&id](const plan::Register& one) {
            return id == std::string("register-") + plan::to_text(one.side);
        });
    }

    void add_place(std::size_t measured, plan::Point drawn_mm, double zone_mm) {
        place_of_id_[measured_.ids[measured]] = measured;
        made_.ids.push_back(measured_.ids[measured]);
        made_.drawn_mm.push_back(drawn_mm);
        made_.measured_mm.push_back(measured_.places_mm[measured]);
        made_.zone_mm.push_back(zone_mm);
    }

    void tell_stranger(const Field& field, const std::string& id,
                       const std::map<std::string, std::size_t>& holes) {
        std::vector<std::string> ids;
        for (const auto& entry : holes) ids.push_back(entry.first);
        const auto nearest = nearest_word(id, ids);
        reader_.wrong(
            field, "a survey whose points are holes of the plate",
            "it has a point " + id +
                (nearest ? "; the nearest hole is " + *nearest
                         : "; a hole's id is its pattern's name and number, such as " + ids.back()));
    }

    /// Without `castings` every pattern that bolts and was measured, as it is drawn.
    void read_castings(const Field& list) {
        for (std::size_t i = 0; i < list.size(); ++i) read_casting(list.item(i));
        if (list) return;
        for (const plan::Pattern& pattern : plan_.patterns) {
            const bool bolts = bolt_of(plan_.holes[pattern.holes.front()]).has_value();
            if (bolts && unmeasured(pattern).empty()) add_casting(reader_.root(), pattern);
        }
        if (made_.castings.empty())
            reader_.wrong_in_words(reader_.root()["survey"],
                                   "no pattern of the plate that bolts was measured whole; wanted one");
    }

    void read_casting(const Field& field) {
        const auto name = reader_.text(field["pattern"]);
        if (!name) return;
        std::vector<std::string> names;
        for (const plan::Pattern& pattern : plan_.patterns) {
            names.push_back(pattern.name);
            if (pattern.name != *name) continue;
            if (!seen_.insert(*name).second)
                reader_.wrong(field["pattern"], "a pattern that no other casting has");
            else
                check_and_add(field, pattern);
            return;
        }
        reader_.unknown_name(field["pattern"], "the name of a pattern of the plate", names);
    }

    std::string unmeasured(const plan::Pattern& pattern) const {
        std::string missing;
        for (const std::size_t hole : pattern.holes) {
            const std::string& id = plan_.holes[hole].id;
            if (!place_of_id_.contains(id)) missing += (missing.empty() ? "" : ", ") + id;
        }
        return missing;
    }

    void check_and_add(const Field& field, const plan::Pattern& pattern) {
        if (const std::string missing = unmeasured(pattern); !missing.empty()) {
            reader_.wrong(field["pattern"], "a pattern that was measured whole",
                          "the survey of the plate lacks " + missing);
            return;
        }
        add_casting(field, pattern);
    }

    std::optional<Bolt> read_bolt(const Field& field, const plan::Hole& hole) {
        auto bolt = bolt_of(hole);
        const auto hole_mm = reader_.length_mm(field["hole"]);
        const auto fastener_mm = reader_.length_mm(field["fastener"]);
        if (hole_mm && fastener_mm) bolt = Bolt{*hole_mm, *fastener_mm};
        if (!bolt) {
            reader_.wrong_in_words(field["pattern"],
                                   hole.pattern +
                                       " has no bolts whose size the plate's file tells (dowels "
                                       "locate); wanted `hole` and `fastener` beside it");
            return {};
        }
        if (hole_mm) bolt->hole_mm = *hole_mm;
        if (fastener_mm) bolt->fastener_mm = *fastener_mm;
        if (bolt->fastener_mm <= bolt->hole_mm) return bolt;
        reader_.wrong(field["fastener"], "at most the hole, " + reader_.length_text(bolt->hole_mm));
        return {};
    }

    /// What locates a casting, as the plate has it.
    struct Locator {
        std::string id;
        plan::Point drawn_mm;
        double inside_mm = 0.0, outside_mm = 0.0;  ///< diameters of what enters and of what it enters
    };

    void add_dowels(const Field& field, std::vector<Locator>& locators) {
        const auto name = reader_.text(field["dowels"]);
        if (!name) return;
        std::vector<std::string> names;
        for (const plan::Pattern& pattern : plan_.patterns) {
            if (plan_.holes[pattern.holes.front()].kind != plan::HoleKind::dowel) continue;
            names.push_back(pattern.name);
            if (pattern.name != *name) continue;
            if (const std::string missing = unmeasured(pattern); !missing.empty()) {
                reader_.wrong(field["dowels"], "dowels that were measured whole",
                              "the survey of the plate lacks " + missing);
                return;
            }
            const double play_mm = reader_.length_mm_or(field["dowel_play"], usual_dowel_play_mm);
            for (const std::size_t hole : pattern.holes) {
                const double pin_mm =
                    plan_.holes[hole].finish_diameter_mm.value_or(plan_.holes[hole].diameter_mm);
                locators.push_back({plan_.holes[hole].id, plan_.holes[hole].at_mm, pin_mm, pin_mm + play_mm});
            }
            return;
        }
        reader_.unknown_name(field["dowels"], "the name of a dowel pattern of the plate", names);
    }

    /// On the diameter, at its greatest.
    std::optional<double> clearance_mm(const std::string& name) const {
        std::optional<plan::Mating> mating;
        for (const plan::Register& one : plan_.registers) {
            if (name == std::string("register-") + plan::to_text(one.side)) mating = plan::mating_of(one);
        }
        if (name == "bore") mating = plan::mating_of(plan_.holes.front());
        if (!mating) return {};
        return std::max(0.0, plan::clearance_of(*mating).most_mm);
    }

    void add_register(const Field& field, std::vector<Locator>& locators) {
        const auto name = reader_.text(field["register"]);
        if (!name) return;
        if (!place_of_id_.contains(*name)) {
            reader_.wrong(field["register"], "a register or bore of the plate that was measured",
                          "the survey of the plate has no point " + *name);
            return;
        }
        auto room_mm = reader_.length_mm(field["register_clearance"]);
        if (!room_mm) room_mm = clearance_mm(*name);
        if (!room_mm) {
            reader_.wrong_in_words(field["register"],
                                   "the plate's file does not say what " + *name +
                                       " mates with; wanted `register_clearance` beside it");
            return;
        }
        locators.push_back({*name, {}, 0.0, *room_mm});
    }

    void add_casting(const Field& field, const plan::Pattern& pattern) {
        const auto bolt = read_bolt(field, plan_.holes[pattern.holes.front()]);
        std::vector<Locator> locators;
        add_dowels(field, locators);
        add_register(field, locators);
        if (!bolt || reader_.has_faults()) return;
        AsMadeCasting casting;
        casting.pattern = pattern.name;
        casting.words = pattern.name + " as drawn";
        casting.centre_mm = plan::Point{};
        BoltingCase all;
        for (const std::size_t hole : pattern.holes)
            add_fastener(plan_.holes[hole].id, plan_.holes[hole].at_mm, bolt->hole_mm, bolt->fastener_mm,
                         all);
        for (const Locator& one : locators)
            add_fastener(one.id, one.drawn_mm, one.outside_mm, one.inside_mm, all);
        if (field["survey"] && field["pattern"] && !measure_casting(field, casting, all)) return;
        take_measured(all, pattern.holes.size(), casting);
        made_.castings.push_back(std::move(casting));
    }

    static void add_fastener(const std::string& id, plan::Point at_mm, double hole_mm, double fastener_mm,
                             BoltingCase& all) {
        all.ids.push_back(id);
        all.second_mm.push_back(at_mm);
        all.holes_mm.push_back(hole_mm);
        all.fasteners_mm.push_back(fastener_mm);
    }

    /// The first places are the bolts': alone, and with what locates.
    void take_measured(const BoltingCase& all, std::size_t bolts, AsMadeCasting& casting) const {
        casting.bolting = first_of(all, bolts);
        if (all.ids.size() > bolts) casting.located = first_of(all, all.ids.size());
    }

    BoltingCase first_of(const BoltingCase& all, std::size_t count) const {
        BoltingCase one = all;
        one.units = reader_.units();
        one.ids.resize(count);
        one.second_mm.resize(count);
        one.holes_mm.resize(count);
        one.fasteners_mm.resize(count);
        std::vector<std::size_t> which;
        for (const std::string& id : one.ids) which.push_back(place_of_id_.at(id));
        const SurveyPlaces plate = measured_.only(which);
        one.first_mm = plate.places_mm;
        std::vector<double> casting_mm2 = leading(all.doubt.covariance_mm2, all.ids.size(), count);
        one.doubt.covariance_mm2 = plate.covariance_mm2;
        if (casting_mm2.empty()) return one;
        const BoltFit fit = best_fit(paired(one.first_mm, one.second_mm, std::vector<double>(count, 0.0)));
        add_turned(casting_mm2, fit.turn_rad, one.doubt.covariance_mm2);
        return one;
    }

    /// The casting's own places stand for the drawn ones; its covariance waits in `all`.
    bool measure_casting(const Field& field, AsMadeCasting& casting, BoltingCase& all) {
        const auto read = read_survey_places(reader_, field["survey"]);
        if (!read) return false;
        if (read->ids.size() != all.ids.size()) {
            const bool is_located = field["dowels"] || field["register"];
            reader_.wrong(field["survey"],
                          std::string("a survey of as many points as the pattern has holes") +
                              (is_located ? " and what locates it has, " : ", ") +
                              std::to_string(all.ids.size()),
                          "it has " + std::to_string(read->ids.size()));
            return false;
        }
        const SurveyPlaces places = read->seen_from(plan::other(read->measured_on));
        casting.words = casting.pattern + " as measured (" + reader_.text_or(field["survey"], "") + ")";
        all.second_mm = places.places_mm;
        all.doubt.covariance_mm2 = places.covariance_mm2;
        casting.centre_mm.reset();
        if (reader_.text(field["register"])) casting.centre_mm = places.places_mm.back();
        return true;
    }

    Reader& reader_;
    AsMade made_;
    plan::Plan plan_;
    SurveyPlaces measured_;
    std::map<std::string, std::size_t> place_of_id_;
    std::set<std::string> seen_;
};

}  // namespace

ReadAsMade read_as_made(const parameters::Document& document) {
    Reader reader(document, parts::units_of(document));
    auto made = AsMadeReader(reader).read();
    if (reader.has_faults()) return {{}, parts::refused(reader).faults};
    return {std::move(made), {}};
}

}  // namespace fitup::calculations
