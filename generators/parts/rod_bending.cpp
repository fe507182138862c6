#include "parts/rod_bending.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/text.hpp"
#include "base/vector3.hpp"
#include "plan/rod_path.hpp"
#include "plan/thread_form.hpp"

namespace fitup::parts {

namespace {

using plan::Rod;

/// The corner as a person counts it.
std::string corner_text(std::size_t corner) { return "corner " + std::to_string(corner + 1); }

class Bending {
  public:
    Bending(Reader& reader, const Rod& rod) : reader_(reader), rod_(rod) {}

    void check() {
        if (!are_corners_apart() || !do_corners_turn() || !is_there_a_radius()) return;
        for (std::size_t i = 0; i + 1 < rod_.corners.size(); ++i) check_straight(i);
        for (const std::size_t end : {std::size_t{0}, std::size_t{1}}) check_end(end);
    }

  private:
    Field corner(std::size_t index) const { return reader_.root()["path"].item(index); }
    double between_mm(std::size_t straight) const {
        return length(rod_.corners[straight + 1] - rod_.corners[straight]);
    }

    bool are_corners_apart() {
        bool apart = true;
        for (std::size_t i = 0; i + 1 < rod_.corners.size(); ++i) {
            // Far under what can be made, far over the rounding of coordinates.
            constexpr double least_mm = 1e-3;
            if (between_mm(i) >= least_mm) continue;
            apart = false;
            reader_.wrong_in_words(corner(i + 1), "the same place as the corner before it; leave one out");
        }
        return apart;
    }

    bool do_corners_turn() {
        bool turn = true;
        for (std::size_t i = 1; i + 1 < rod_.corners.size(); ++i) {
            const double angle_deg = plan::corner_angle(rod_, i).degrees();
            if (angle_deg > 180.0 - plan::least_bend.degrees()) {
                turn = false;
                reader_.wrong_in_words(corner(i),
                                       "the rod turns straight back here, which no radius can round; "
                                       "give a hairpin two corners");
            } else if (angle_deg < plan::least_bend.degrees()) {
                turn = false;
                reader_.wrong_in_words(corner(i), "the rod does not bend here (" + short_text(angle_deg, 4) +
                                                      " degrees); leave this corner out");
            }
        }
        return turn;
    }

    bool is_there_a_radius() {
        const Field radius = reader_.root()["bend_radius"];
        if (rod_.corners.size() == 2) return true;
        if (!radius) {
            reader_.wrong(radius, "the radius of the bends, to the centreline",
                          "for this rod something like " + reader_.length_text(3.0 * rod_.diameter_mm));
            return false;
        }
        if (rod_.bend_radius_mm > rod_.diameter_mm / 2.0 + plan::same_point_mm) return true;
        reader_.wrong(radius,
                      "over half the rod's diameter (" + reader_.length_text(rod_.diameter_mm / 2.0) + ")",
                      "the inside of a bend would cross itself");
        return false;
    }

    /// Setbacks of both ends of a straight for a radius of 1.
    double setback_share(std::size_t straight) const {
        return (plan::corner_angle(rod_, straight) * 0.5).tan() +
               (plan::corner_angle(rod_, straight + 1) * 0.5).tan();
    }

    /// The radius that all straights have room for.
    double most_radius_mm() const {
        double most_mm = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i + 1 < rod_.corners.size(); ++i) {
            const double share = setback_share(i);
            if (share > 0.0) most_mm = std::min(most_mm, between_mm(i) / share);
        }
        return most_mm;
    }

    /// A length that a person can type, not over `length_mm`.
    std::string rounded_down(double length_mm) const {
        const double step_mm = reader_.units() == plan::Units::in ? 0.0254 : 0.01;
        return reader_.length_text(std::floor(length_mm / step_mm) * step_mm);
    }
    std::string rounded_up(double length_mm) const {
        const double step_mm = reader_.units() == plan::Units::in ? 0.0254 : 0.01;
        return reader_.length_text(std::ceil(length_mm / step_mm) * step_mm);
    }

    void check_straight(std::size_t straight) {
        const double wanted_mm = rod_.bend_radius_mm * setback_share(straight);
        if (between_mm(straight) >= wanted_mm - plan::same_point_mm) return;
        // Said at the inner corner, the first of two.
        const std::size_t at = straight == 0 ? 1 : straight;
        reader_.wrong_in_words(
            corner(at), "too tight for bend_radius " + reader_.length_text(rod_.bend_radius_mm) + ": from " +
                            corner_text(straight) + " to " + corner_text(straight + 1) + " are " +
                            reader_.length_text(between_mm(straight)) + " and the bends take " +
                            reader_.length_text(wanted_mm) + "; move the corners at least " +
                            rounded_up(wanted_mm) + " apart, or make bend_radius at most " +
                            rounded_down(most_radius_mm()));
    }

    /// Thread, run-out and chamfer must end before the bend begins.
    void check_end(std::size_t end) {
        const plan::RodEnd& made = rod_.ends[end];
        const bool is_modelled = made.thread && made.thread_modelled;
        const double run_out_mm = is_modelled ? made.thread->pitch_mm : 0.0;
        const double wanted_mm = std::max(made.length_mm, made.chamfer_mm) + run_out_mm;
        const std::size_t straight = end == 0 ? 0 : rod_.corners.size() - 2;
        const double there_mm = between_mm(straight) - rod_.bend_radius_mm * setback_share(straight);
        const Field field = reader_.root()["ends"].item(end);
        if (is_modelled) check_form(end, field);
        // A straight that its bends leave nothing of has its own fault already.
        if (wanted_mm <= there_mm + plan::same_point_mm || there_mm < -plan::same_point_mm) return;
        reader_.wrong(field[made.thread ? "length" : "chamfer"],
                      there_mm > run_out_mm ? "at most " + rounded_down(there_mm - run_out_mm)
                                            : "a straight long enough for it before the first bend",
                      "the straight at this end is " + reader_.length_text(std::max(0.0, there_mm)) +
                          " long" + (is_modelled ? ", and the thread runs out over one pitch more" : ""));
    }

    void check_form(std::size_t end, const Field& field) {
        const plan::RodEnd& made = rod_.ends[end];
        const plan::ThreadForm form = plan::thread_form(*made.thread);
        // A thread just as long as its chamfer has no full form to join the two.
        constexpr double some_form_mm = 0.01;
        // 28 turns take a tenth of a second and 0.8 MB of STEP.
        constexpr double most_turns = 500.0;
        if (made.length_mm > most_turns * form.pitch_mm)
            reader_.wrong(
                field["length"],
                "at most 500 turns of a modelled thread (" + rounded_down(most_turns * form.pitch_mm) + ")",
                "model a longer one as \"plain\"");
        if (made.length_mm < form.depth_mm + some_form_mm)
            reader_.wrong(field["length"], "at least " + rounded_up(form.depth_mm + some_form_mm),
                          "a modelled thread starts with a chamfer as long as it is deep");
    }

    Reader& reader_;
    const Rod& rod_;
};

double taken_mm(const plan::RodEnd& end) {
    return std::max(end.length_mm, end.chamfer_mm) +
           (end.thread && end.thread_modelled ? end.thread->pitch_mm : 0.0);
}

/// Both ends of a straight rod share its one straight; some shank must be left between two shoulders, or
/// between two modelled threads, whose run-outs share no edge.
void check_both_ends(Reader& reader, const Rod& rod) {
    if (rod.corners.size() > 2) return;
    constexpr double least_collar_mm = 1e-3;
    const bool is_turned = std::any_of(rod.ends.begin(), rod.ends.end(), [&](const plan::RodEnd& end) {
        return end.diameter_mm < rod.diameter_mm;
    });
    const bool are_modelled = rod.ends[0].thread_modelled && rod.ends[1].thread_modelled;
    const double length_mm = length(rod.corners[1] - rod.corners[0]);
    const double ends_mm = taken_mm(rod.ends[0]) + taken_mm(rod.ends[1]);
    if (ends_mm + (is_turned || are_modelled ? least_collar_mm : 0.0) <= length_mm + plan::same_point_mm)
        return;
    const Field path = reader.root()["path"];
    reader.wrong_in_words(path ? path : reader.root()["length"],
                          "both ends take " + reader.length_text(ends_mm) + " of a rod of " +
                              reader.length_text(length_mm) + "; make it longer or the threads shorter");
}

}  // namespace

void check_bending(Reader& reader, const Rod& rod) {
    Bending(reader, rod).check();
    if (!reader.has_faults()) check_both_ends(reader, rod);
}

}  // namespace fitup::parts
