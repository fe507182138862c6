#include "plan/thread_form.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fitup::plan {
namespace {

using std::numbers::pi;

struct Proportions {
    Angle half_angle;
    double depth_in_pitches = 0.0;
    double crest_flat_in_pitches = 0.0;
    double root_flat_in_pitches = 0.0;
    bool is_rounded = false;
};

/// Height of the sharp triangle that the flanks make, over the pitch.
double sharp_height(Angle half_angle) { return 0.5 / half_angle.tan(); }

Proportions proportions_of(ThreadProfile profile) {
    const Angle whitworth = Angle::from_degrees(27.5);
    switch (profile) {
        case ThreadProfile::whitworth:
            return {whitworth, sharp_height(whitworth) * 2.0 / 3.0, 0.0, 0.0, true};
        case ThreadProfile::british_association:
            return {Angle::from_degrees(23.75), 0.6, 0.0, 0.0, true};
        case ThreadProfile::iso_and_unified:
            break;
    }
    const Angle sixty = Angle::from_degrees(30.0);
    return {sixty, sharp_height(sixty) * 5.0 / 8.0, 1.0 / 8.0, 1.0 / 4.0, false};
}

/// Radius that touches both flanks and cuts as much off the sharp triangle as the depth says.
double rounding_in_pitches(const Proportions& of) {
    if (!of.is_rounded) return 0.0;
    const double cut_off = 0.5 * (sharp_height(of.half_angle) - of.depth_in_pitches);
    return cut_off / (1.0 / of.half_angle.sin() - 1.0);
}

/// A round piece turns by this to either side of its middle.
double half_sweep_rad(const ThreadForm& form) { return 0.5 * pi - form.half_angle.radians(); }

std::array<ProfilePiece, 4> pieces_of(const ThreadForm& form, double half_root_mm, double half_crest_mm) {
    const double sagitta_mm = form.rounding_mm * (1.0 - form.half_angle.sin());
    const double low_mm = form.minor_radius_mm() + sagitta_mm;
    const double high_mm = form.major_radius_mm() - sagitta_mm;
    const double half_mm = 0.5 * form.pitch_mm;
    ProfilePiece root{-half_root_mm, half_root_mm, low_mm, low_mm, form.rounding_mm, false};
    ProfilePiece rise{half_root_mm, half_mm - half_crest_mm, low_mm, high_mm, 0.0, false};
    ProfilePiece crest{rise.to_mm, half_mm + half_crest_mm, high_mm, high_mm, form.rounding_mm, true};
    ProfilePiece fall{crest.to_mm, form.pitch_mm - half_root_mm, high_mm, low_mm, 0.0, false};
    return {root, rise, crest, fall};
}

/// Integrals of radius, radius^2 and radius^3 along the axis.
struct Moments {
    double first = 0.0;
    double second = 0.0;
    double third = 0.0;
};

Moments straight_moments(const ProfilePiece& piece) {
    const double a = piece.from_radius_mm;
    const double b = piece.to_radius_mm;
    const double width = piece.to_mm - piece.from_mm;
    return {width * (a + b) / 2.0, width * (a * a + a * b + b * b) / 3.0,
            width * (a + b) * (a * a + b * b) / 4.0};
}

/// With the angle f from the middle: radius = q + e cos f, along = rounding sin f, so the integrals are sums
/// of those of powers of cos f.
Moments round_moments(const ProfilePiece& piece, double sweep) {
    const double rounding = piece.rounding_mm;
    const double e = piece.is_crest ? rounding : -rounding;
    const double q = piece.from_radius_mm - e * std::cos(sweep);
    const double sine = std::sin(sweep);
    const double first = 2.0 * sine;
    const double second = sweep + 0.5 * std::sin(2.0 * sweep);
    const double third = 2.0 * (sine - sine * sine * sine / 3.0);
    const double fourth = 0.75 * sweep + 0.5 * std::sin(2.0 * sweep) + std::sin(4.0 * sweep) / 16.0;
    return {rounding * (q * first + e * second),
            rounding * (q * q * first + 2.0 * q * e * second + e * e * third),
            rounding * (q * q * q * first + 3.0 * q * q * e * second + 3.0 * q * e * e * third +
                        e * e * e * fourth)};
}

Moments moments_of(const ThreadForm& form) {
    Moments sum;
    for (const ProfilePiece& piece : form.pieces) {
        const Moments part =
            piece.rounding_mm > 0.0 ? round_moments(piece, half_sweep_rad(form)) : straight_moments(piece);
        sum.first += part.first;
        sum.second += part.second;
        sum.third += part.third;
    }
    return sum;
}

/// Inside a chamfer that narrows the surface to the minor diameter: at each place of the profile the cone is
/// the surface up to where it meets the profile of radius p, the profile from there on. Integrated over the
/// height that is (p^3 - minor^3) / 3 + p^2 (major - p).
double narrowed_mm3(const ThreadForm& form) {
    const Moments moments = moments_of(form);
    const double minor = form.minor_radius_mm();
    const double sum = moments.second * form.major_radius_mm() - moments.third * 2.0 / 3.0 -
                       form.pitch_mm * minor * minor * minor / 3.0;
    return pi * sum / form.pitch_mm;
}

/// The same for a countersink, which widens the surface to the major diameter: (major^3 - p^3) / 3 + p^2 (p -
/// minor).
double widened_mm3(const ThreadForm& form) {
    const Moments moments = moments_of(form);
    const double major = form.major_radius_mm();
    const double sum = form.pitch_mm * major * major * major / 3.0 + moments.third * 2.0 / 3.0 -
                       moments.second * form.minor_radius_mm();
    return pi * sum / form.pitch_mm;
}

/// A run-out to the radius R: p goes to R evenly, so radius^2 is (R^2 + R p + p^2) / 3 in the mean of its
/// height.
double run_out_mm3(const ThreadForm& form, double radius_mm) {
    const Moments moments = moments_of(form);
    return pi / 3.0 * (radius_mm * radius_mm * form.pitch_mm + radius_mm * moments.first + moments.second);
}

}  // namespace

double ProfilePiece::radius_mm(double along_mm) const {
    if (rounding_mm > 0.0) {
        const double half_mm = 0.5 * (to_mm - from_mm);
        const double off_mm = along_mm - middle_mm();
        const double rise_mm = std::sqrt(rounding_mm * rounding_mm - off_mm * off_mm) -
                               std::sqrt(rounding_mm * rounding_mm - half_mm * half_mm);
        return is_crest ? from_radius_mm + rise_mm : from_radius_mm - rise_mm;
    }
    return std::lerp(from_radius_mm, to_radius_mm, (along_mm - from_mm) / (to_mm - from_mm));
}

double ThreadForm::pitch_diameter_mm() const {
    // On the rising flank a quarter of a pitch from the middle of the root.
    return 2.0 * pieces[1].radius_mm(0.25 * pitch_mm);
}

double ThreadForm::radius_mm(double along_mm) const {
    const double first_mm = pieces.front().from_mm;
    const double in_pitch_mm = along_mm - pitch_mm * std::floor((along_mm - first_mm) / pitch_mm);
    for (const ProfilePiece& piece : pieces) {
        if (in_pitch_mm <= piece.to_mm) return piece.radius_mm(in_pitch_mm);
    }
    return pieces.back().to_radius_mm;
}

double ThreadForm::section_mm2() const { return pi * moments_of(*this).second / pitch_mm; }

ThreadForm thread_form(ThreadProfile profile, double major_mm, double pitch_mm) {
    const Proportions proportions = proportions_of(profile);
    ThreadForm form;
    form.major_mm = major_mm;
    form.pitch_mm = pitch_mm;
    form.depth_mm = proportions.depth_in_pitches * pitch_mm;
    form.half_angle = proportions.half_angle;
    form.rounding_mm = rounding_in_pitches(proportions) * pitch_mm;
    // A round piece ends where its tangent has the flank's slope.
    const double half_round_mm = form.rounding_mm * form.half_angle.cos();
    form.pieces = pieces_of(form, 0.5 * proportions.root_flat_in_pitches * pitch_mm + half_round_mm,
                            0.5 * proportions.crest_flat_in_pitches * pitch_mm + half_round_mm);
    return form;
}

ThreadForm thread_form(const Thread& thread) {
    return thread_form(thread.profile, thread.major_mm, thread.pitch_mm);
}

double ThreadedLength::start_radius_mm() const {
    return side == ThreadSide::external ? form.minor_radius_mm() : form.major_radius_mm();
}

double ThreadedLength::finish_radius_mm() const {
    if (finish == ThreadEnd::chamfer) return start_radius_mm();
    return side == ThreadSide::external ? form.major_radius_mm() : form.minor_radius_mm();
}

double ThreadedLength::enclosed_mm3() const {
    const double chamfer_mm3 = side == ThreadSide::external ? narrowed_mm3(form) : widened_mm3(form);
    const double chamfers = finish == ThreadEnd::chamfer ? 2.0 : 1.0;
    const double run_out = finish == ThreadEnd::run_out ? run_out_mm3(form, finish_radius_mm()) : 0.0;
    return form.section_mm2() * (length_mm - chamfers * chamfer_mm()) + chamfers * chamfer_mm3 + run_out;
}

bool has_modelled_threads(const Plan& plan) {
    return std::any_of(plan.holes.begin(), plan.holes.end(),
                       [](const Hole& hole) { return hole.thread && hole.thread->modelled; });
}

}  // namespace fitup::plan
