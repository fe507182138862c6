// Rules of a link rod: bend-radius, straight-length, thread-engagement, adjustment, buckling, rod-yield,
// bent-rod, rod-meets-itself.
#include <algorithm>
#include <array>
#include <cmath>

#include "base/text.hpp"
#include "plan/rod_strength.hpp"
#include "rules/checks.hpp"
#include "rules/wording.hpp"

namespace fitup::rules {

namespace {

using plan::Finding;
using plan::Findings;

struct BendRow {
    std::string_view family;
    double warn = 0.0;
    double stop = 0.0;
    std::string_view source;
};

// Inside radius of a cold bend in round bar, in diameters.
constexpr std::array bend_rows{
    BendRow{"steel", 2.0, 1.0,
            "2 d up to 16 mm: BS 8666 and BS 4466, from memory, unverified; 2 to 3 d: a trade article; stop: "
            "common practice, no source"},
    BendRow{"stainless", 2.5, 1.0, "common practice, no source: a little over mild steel's 2 d"},
    BendRow{"aluminium", 3.0, 1.5, "makers' tables for plate of 6061-T6 (2.5 to 4.5 t); fabricators say 1.5"},
    BendRow{"brass", 3.0, 1.5, "common practice, no source: half hard bar cracks; anneal it first"},
    BendRow{"plastic", 5.0, 2.0, "common practice, no source: and only warm"},
    // Iron does not bend at all: no rod has a radius of a thousand diameters.
    BendRow{"cast iron", 1000.0, 1000.0, "cast iron breaks before it bends"},
    BendRow{"", 3.0, 1.0, "common practice, no source, the material being unknown"},
};
/// Over 16 mm steel wants more.
constexpr double thick_bar_mm = 16.0;
constexpr BendRow thick_steel{"steel", 3.5, 1.5, "3.5 d over 16 mm: BS 8666, from memory, unverified"};

Limit bend_limit(std::string_view family, double diameter_mm) {
    const bool is_thick = family == "steel" && diameter_mm > thick_bar_mm;
    const BendRow* chosen = is_thick ? &thick_steel : &bend_rows.back();
    for (const BendRow& row : bend_rows) {
        if (row.family == family && !is_thick) chosen = &row;
    }
    return {std::nullopt, chosen->warn, chosen->stop, std::string(chosen->source)};
}

class Judge {
  public:
    explicit Judge(const Subject& subject)
        : subject_(subject), rod_(*subject.plan().rod), path_(plan::rod_path(rod_)) {}

    Findings judge() {
        judge_contact();
        if (!path_.bends.empty()) judge_bends();
        for (std::size_t i = 0; i < path_.straights.size(); ++i) judge_straight(i);
        for (const std::size_t end : {std::size_t{0}, std::size_t{1}}) judge_engagement(end);
        judge_adjustment();
        if (rod_.load) judge_load();
        return std::move(findings_);
    }

  private:
    void add(const std::string& rule, const Verdict& verdict, const Limit& limit, const std::string& unit,
             double value, const std::string& where, const std::string& message) {
        Finding finding = finding_of(rule, verdict, limit, unit, value);
        finding.where = where;
        finding.message = message;
        findings_.push_back(std::move(finding));
    }

    void judge_contact() {
        const auto contact = plan::rod_contact(rod_, path_);
        if (!contact) return;
        findings_.push_back(final_stop_of(
            "rod-meets-itself", "",
            "The rod runs into itself: its centreline comes back to " + length_text(contact->distance_mm) +
                " of itself, " + length_text(contact->first_mm) + " and " + length_text(contact->second_mm) +
                " from the first end, and it is " + length_text(rod_.diameter_mm) +
                " thick. Move a corner so that the two pass clear.",
            contact->at));
    }

    void judge_bends() {
        const plan::Material& material = subject_.plan().material;
        const double value = rod_.bend_radius_mm / rod_.diameter_mm - 0.5;
        const Limit limit =
            subject_.limits().of("bend-radius", bend_limit(material.family, rod_.diameter_mm));
        if (const auto verdict = under(limit, value))
            add("bend-radius", *verdict, limit, "d", value, "bend_radius",
                "The inside of the bends has a radius of " + diameters_text(value) + "; cold in " +
                    material_text(material) + " make bend_radius at least " +
                    length_text((verdict->limit + 0.5) * rod_.diameter_mm) +
                    " to the centreline, or bend it hot.");
        const plan::BentShare share = plan::bent_share(rod_, path_);
        findings_.push_back(note_of("bent-rod", "",
                                    "Bent, its middle stands " + length_text(share.eccentricity_mm) +
                                        " off the line of the pins: it is stressed " +
                                        short_text(share.stress_times, 1) +
                                        " times as high as a straight rod of this stock and gives " +
                                        short_text(share.give_times, 1) +
                                        " times as much. A straight rod is better where one goes."));
    }

    /// Of a straight between two bends, or between a thread and a bend, what is free of both.
    void judge_straight(std::size_t index) {
        if (path_.bends.empty()) return;
        const bool is_first = index == 0, is_last = index + 1 == path_.straights.size();
        const plan::RodEnd& end = rod_.ends[is_first ? 0 : 1];
        if ((is_first || is_last) && !end.thread) return;
        const double run_out_mm = is_first || is_last ? run_out(end) : 0.0;
        const double free_mm =
            path_.straights[index].length_mm - (is_first || is_last ? end.length_mm + run_out_mm : 0.0);
        const double value = free_mm / rod_.diameter_mm;
        const bool at_thread = is_first || is_last;
        const Limit usual{std::nullopt, at_thread ? 1.0 : 2.0, std::nullopt, "common practice, no source"};
        const Limit limit = subject_.limits().of("straight-length", usual);
        const auto verdict = under(limit, value);
        if (!verdict) return;
        add("straight-length", *verdict, limit, "d", value, "straight-" + std::to_string(index + 1),
            "Straight " + std::to_string(index + 1) + " has " + length_text(free_mm) + " free " +
                (at_thread ? "between its thread and the bend, too little to hold without marking the thread"
                           : "between its bends, too little for the bender to hold") +
                ": make it " + length_text(verdict->limit * rod_.diameter_mm) + ".");
    }

    static double run_out(const plan::RodEnd& end) {
        return end.thread_modelled ? end.thread->pitch_mm : 0.0;
    }

    void judge_engagement(std::size_t end) {
        const auto set = plan::adjustment(rod_, end);
        if (!set) return;
        const plan::Thread& thread = *rod_.ends[end].thread;
        const double value = set->engaged_mm / thread.major_mm;
        const Limit usual{
            std::nullopt, 1.0, 0.8,
            "1 to 1.5 d: common practice, no source; stop under the height of a nut (0.8 d, ISO "
            "4032)"};
        const Limit limit = subject_.limits().of("thread-engagement", usual);
        const auto verdict = under(limit, value);
        if (!verdict) return;
        add("thread-engagement", *verdict, limit, "d", value, end_text(end),
            "The " + rod_.fittings[end]->name + " on the " + end_text(end) + " holds " +
                length_text(set->engaged_mm) + " of " + thread.designation + ", " + diameters_text(value) +
                ": screw it on by " + length_text(verdict->limit * thread.major_mm) +
                ", or take one that is deeper.");
    }

    static std::string end_text(std::size_t end) { return end == 0 ? "first end" : "last end"; }

    void judge_adjustment() {
        const auto first = plan::adjustment(rod_, 0), last = plan::adjustment(rod_, 1);
        if (!first && !last) return;
        int in = 0, out = 0;
        for (const auto& end : {first, last}) {
            in += end ? end->half_turns_in : 0;
            out += end ? end->half_turns_out : 0;
        }
        const Limit limit = subject_.limits().of("adjustment");
        const double value = std::min(in, out);
        const auto verdict = under(limit, value);
        if (!verdict) return;
        const plan::PinToPin reach = plan::pin_to_pin(rod_);
        add("adjustment", *verdict, limit, "half turns", value, "fittings",
            "Set to " + length_text(reach.set_mm) + " the rod can be made shorter by " + std::to_string(in) +
                " and longer by " + std::to_string(out) + " half turns, to " + length_text(reach.least_mm) +
                " and " + length_text(reach.most_mm) + " with one diameter of thread left in each fitting: " +
                (in < out ? "make the fittings deeper or the threads longer, or engage less."
                          : "engage more, or take deeper fittings."));
    }

    void judge_load() {
        judge_buckling();
        judge_yield();
    }

    void judge_buckling() {
        const auto column = plan::buckling(rod_, subject_.plan().material);
        if (!(rod_.load->push_n > 0.0)) return;
        if (!column) {
            findings_.push_back(
                note_of("buckling", "load.push",
                        "Not judged: the material has no Young's modulus in the table; give it "
                        "by its figures."));
            return;
        }
        const double value = column->load_n / rod_.load->push_n;
        const Limit limit = subject_.limits().of("buckling");
        const auto verdict = under(limit, value);
        if (!verdict) return;
        add("buckling", *verdict, limit, "", value, "load.push",
            "A push of " + short_text(rod_.load->push_n, 1) + " N is too near the " +
                short_text(column->load_n, 0) + " N at which the shank buckles (" +
                (column->is_euler ? "Euler" : "Johnson") + ", both ends pinned, straight), a factor of " +
                short_text(value, 2) + ": take thicker stock or a shorter rod.");
    }

    void judge_yield() {
        const plan::Material& material = subject_.plan().material;
        const auto load = plan::loaded(rod_, path_, material);
        if (!material.yield_mpa || !(load->most_mpa() > 0.0)) return;
        const double value = *material.yield_mpa / load->most_mpa();
        const Limit limit = subject_.limits().of("rod-yield");
        const auto verdict = under(limit, value);
        if (!verdict) return;
        const std::string stress = std::isfinite(load->most_mpa())
                                       ? "reaches " + short_text(load->most_mpa(), 0) + " MPa"
                                       : std::string("grows until it gives way");
        const bool in_thread = load->thread_mpa >= load->most_mpa();
        add("rod-yield", *verdict, limit, "", value, "load",
            "Under its load the stress in the " + std::string(in_thread ? "thread" : "shank") + " " + stress +
                " of the " + short_text(*material.yield_mpa, 0) + " MPa at which " + material.name +
                " yields, a factor of " + short_text(value, 2) + ": take thicker stock" +
                (path_.bends.empty() ? "." : ", or bend it less far off the line of the pins."));
    }

    const Subject& subject_;
    const plan::Rod& rod_;
    plan::RodPath path_;
    Findings findings_;
};

}  // namespace

Findings check_rod(const Subject& subject) {
    return subject.plan().rod ? Judge(subject).judge() : Findings{};
}

}  // namespace fitup::rules
