#include "calculations/as_made_reading.hpp"

#include <cmath>
#include <map>
#include <set>

#include "base/text.hpp"
#include "calculations/plate_file.hpp"
#include "calculations/survey_places.hpp"
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

class AsMadeReader {
  public:
    explicit AsMadeReader(Reader& reader) : reader_(reader) {}

    std::optional<AsMade> read() {
        const Field root = reader_.root();
        made_.name = reader_.text_or(root["name"], "");
        made_.revision = reader_.text_or(root["revision"], "");
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
            if (hole == holes.end()) {
                tell_stranger(field, measured_.ids[i], holes);
                return;
            }
            place_of_id_[measured_.ids[i]] = i;
            made_.ids.push_back(measured_.ids[i]);
            made_.drawn_mm.push_back(plan_.holes[hole->second].at_mm);
            made_.measured_mm.push_back(measured_.places_mm[i]);
            const auto bolt = bolt_of(plan_.holes[hole->second]);
            const double share = formula_of(Fastening::fixed).share;
            made_.zone_mm.push_back(bolt ? share * (bolt->hole_mm - bolt->fastener_mm) : 0.0);
        }
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

    void add_casting(const Field& field, const plan::Pattern& pattern) {
        const auto bolt = read_bolt(field, plan_.holes[pattern.holes.front()]);
        if (!bolt) return;
        AsMadeCasting casting;
        casting.pattern = pattern.name;
        std::vector<std::size_t> which;
        for (const std::size_t hole : pattern.holes) {
            which.push_back(place_of_id_.at(plan_.holes[hole].id));
            casting.bolting.second_mm.push_back(plan_.holes[hole].at_mm);
        }
        const SurveyPlaces plate = measured_.only(which);
        casting.words = pattern.name + " as drawn";
        casting.bolting.ids = plate.ids;
        casting.bolting.first_mm = plate.places_mm;
        casting.bolting.holes_mm.assign(which.size(), bolt->hole_mm);
        casting.bolting.fasteners_mm.assign(which.size(), bolt->fastener_mm);
        casting.bolting.doubt.covariance_mm2 = plate.covariance_mm2;
        if (field["survey"] && field["pattern"] && !measure_casting(field, casting)) return;
        made_.castings.push_back(std::move(casting));
    }

    bool measure_casting(const Field& field, AsMadeCasting& casting) {
        const auto read = read_survey_places(reader_, field["survey"]);
        if (!read) return false;
        if (read->ids.size() != casting.bolting.ids.size()) {
            reader_.wrong(field["survey"],
                          "a survey of as many points as the pattern has holes, " +
                              std::to_string(casting.bolting.ids.size()),
                          "it has " + std::to_string(read->ids.size()));
            return false;
        }
        const SurveyPlaces places = read->seen_from(plan::other(read->measured_on));
        casting.words = casting.pattern + " as measured (" + reader_.text_or(field["survey"], "") + ")";
        casting.bolting.second_mm = places.places_mm;
        std::vector<double> slacks_mm(places.ids.size(), 0.0);
        const BoltFit fit = best_fit(paired(casting.bolting.first_mm, casting.bolting.second_mm, slacks_mm));
        add_turned(places.covariance_mm2, fit.turn_rad, casting.bolting.doubt.covariance_mm2);
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
