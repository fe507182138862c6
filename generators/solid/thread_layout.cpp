#include "solid/thread_layout.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fitup::solid {
namespace {

constexpr std::size_t root = 0;
constexpr std::size_t crest = 2;

/// A straight piece as its two ends, a round one as a conic arc, which a circle's is exactly: the middle pole
/// where the tangents meet, weighted by the cosine of half the sweep.
std::vector<SectionPole> section_of(const plan::ProfilePiece& piece, Angle half_angle) {
    const SectionPole first{piece.from_mm, piece.from_radius_mm, 1.0};
    const SectionPole last{piece.to_mm, piece.to_radius_mm, 1.0};
    if (piece.rounding_mm == 0.0) return {first, last};
    const double cosine = half_angle.sin();
    const double rise_mm = piece.rounding_mm * (1.0 / cosine - cosine);
    return {first,
            {piece.middle_mm(), piece.from_radius_mm + (piece.is_crest ? rise_mm : -rise_mm), cosine},
            last};
}

EndForm end_of(const plan::ThreadedLength& of, bool is_low, plan::ThreadEnd kind) {
    const bool external = of.side == plan::ThreadSide::external;
    const double minor = of.form.minor_radius_mm();
    const double major = of.form.major_radius_mm();
    EndForm end;
    end.is_chamfer = kind == plan::ThreadEnd::chamfer;
    const double height_mm = end.is_chamfer ? of.chamfer_mm() : of.form.pitch_mm;
    end.z_mm = is_low ? 0.0 : of.end_mm();
    end.full_z_mm = is_low ? height_mm : of.end_mm() - height_mm;
    end.radius_mm = is_low ? of.start_radius_mm() : of.finish_radius_mm();
    end.full_radius_mm = external ? major : minor;
    end.touched = external ? root : crest;
    return end;
}

}  // namespace

ThreadLayout::ThreadLayout(const plan::ThreadedLength& of)
    : rise_mm_(of.form.pitch_mm / (2.0 * std::numbers::pi)), round_(of.form.rounding_mm > 0.0) {
    for (std::size_t k = 0; k < 4; ++k) sections_[k] = section_of(of.form.pieces[k], of.form.half_angle);
    ends_ = {end_of(of, true, plan::ThreadEnd::chamfer), end_of(of, false, of.finish)};
}

SectionPole ThreadLayout::section_at(std::size_t piece, double v) const {
    const auto& poles = sections_[piece];
    const double u = 1.0 - v;
    if (poles.size() == 2) {
        return {std::lerp(poles[0].along_mm, poles[1].along_mm, v),
                std::lerp(poles[0].radius_mm, poles[1].radius_mm, v), 1.0};
    }
    const double a = u * u;
    const double b = 2.0 * u * v * poles[1].weight;
    const double c = v * v;
    const double weight = a + b + c;
    return {(a * poles[0].along_mm + b * poles[1].along_mm + c * poles[2].along_mm) / weight,
            (a * poles[0].radius_mm + b * poles[1].radius_mm + c * poles[2].radius_mm) / weight, weight};
}

Crossing ThreadLayout::crossing(std::size_t end, std::size_t piece, double v) const {
    const EndForm& form = ends_[end];
    const SectionPole at = section_at(piece, v);
    double z_mm = form.full_z_mm;
    if (form.is_chamfer) {
        const double share = (at.radius_mm - form.radius_mm) / (form.full_radius_mm - form.radius_mm);
        z_mm = std::lerp(form.z_mm, form.full_z_mm, share);
    }
    return {(z_mm - at.along_mm) / rise_mm_, z_mm, at.radius_mm};
}

ThreadLayout::Turns ThreadLayout::crease_turns(std::size_t end, std::size_t piece) const {
    // A straight piece's crease is straight in turn and v; a round one's has no more than two turning points.
    constexpr int samples = 64;
    Turns turns{crossing(end, piece, 0.0).turn_rad, crossing(end, piece, 0.0).turn_rad};
    for (int k = 1; k <= samples; ++k) {
        const double turn = crossing(end, piece, static_cast<double>(k) / samples).turn_rad;
        turns.least = std::min(turns.least, turn);
        turns.most = std::max(turns.most, turn);
    }
    return turns;
}

double ThreadLayout::turn_at_circle(std::size_t end, std::size_t piece, double v) const {
    return (ends_[end].z_mm - section_at(piece, v).along_mm) / rise_mm_;
}

double ThreadLayout::v_at(std::size_t piece, double along_mm) const {
    const auto& poles = sections_[piece];
    const double half_mm = 0.5 * (poles.back().along_mm - poles.front().along_mm);
    const double off_mm = along_mm - poles.front().along_mm - half_mm;
    if (poles.size() == 2) return 0.5 + 0.5 * off_mm / half_mm;
    // With m = v - 1/2: off / half = 2 m / ((1 + w) / 2 + 2 (1 - w) m^2).
    const double w = poles[1].weight;
    return 0.5 + 0.5 * (1.0 + w) * off_mm /
                     (half_mm + std::sqrt(half_mm * half_mm - (1.0 - w * w) * off_mm * off_mm));
}

std::size_t ThreadLayout::long_flank(std::size_t end) const {
    const Turns rise = crease_turns(end, 1);
    const Turns fall = crease_turns(end, 3);
    return rise.most - rise.least > fall.most - fall.least ? 1 : 3;
}

Crossing ThreadLayout::fading(const SectionPole& at, double turn_rad) const {
    const EndForm& form = ends_[1];
    const double z_mm = at.along_mm + rise_mm_ * turn_rad;
    const double left = (form.z_mm - z_mm) / (form.z_mm - form.full_z_mm);
    return {turn_rad, z_mm, std::lerp(form.radius_mm, at.radius_mm, left)};
}

}  // namespace fitup::solid
