#pragma once

#include <array>
#include <vector>

#include "plan/thread_form.hpp"
#include "solid/thread_spline.hpp"

/// Where the faces of a thread meet, in turn and height, free of shapes.
///
/// Key: a right-hand thread along +Z, a middle of its root at turn 0 and z = 0. `rise` is what a helix rises
/// a radian. Piece k of the profile sweeps a strip between helices k and k + 1, the latter for k = 3 being
/// helix 0 a turn later. `v` goes from 0 to 1 along a piece. Full form ends at a chamfer's cone or at the
/// plane where the run-out begins; with a piece that has a crease in common, whose turn and height follow
/// from v alone.
namespace fitup::solid {

/// Where full form ends: a cone, or a plane.
///
/// At `z_mm` the thread ends with a circle of `radius_mm`. A chamfer's cone touches root or crest there and
/// goes to the other radius at `full_z_mm`; a run-out begins there.
struct EndForm {
    bool is_chamfer = true;
    double z_mm = 0.0;
    double radius_mm = 0.0;
    double full_z_mm = 0.0;
    double full_radius_mm = 0.0;
    std::size_t touched = 0;  ///< the piece that a cone touches
    bool is_low() const { return z_mm < full_z_mm; }
};

/// A point of a crease.
struct Crossing {
    double turn_rad = 0.0;
    double z_mm = 0.0;
    double radius_mm = 0.0;
};

class ThreadLayout {
  public:
    explicit ThreadLayout(const plan::ThreadedLength& of);
    double rise_mm() const { return rise_mm_; }
    bool is_round() const { return round_; }
    const EndForm& end(std::size_t k) const { return ends_[k]; }
    const std::vector<SectionPole>& section(std::size_t piece) const { return sections_[piece]; }
    Crossing crossing(std::size_t end, std::size_t piece, double v) const;
    struct Turns {
        double least = 0.0;
        double most = 0.0;
    };
    /// Of a piece's crease.
    Turns crease_turns(std::size_t end, std::size_t piece) const;
    /// Where a piece of the profile meets the circle of an end, or would without a chamfer.
    double turn_at_circle(std::size_t end, std::size_t piece, double v) const;
    /// Where along a piece a place is: the inverse of its section.
    double v_at(std::size_t piece, double along_mm) const;
    /// The flank whose crease with a chamfer is the longer one: the cone winds along it.
    std::size_t long_flank(std::size_t end) const;
    /// Run-out: a point of it, where the profile has the place and radius of `at`.
    Crossing fading(const SectionPole& at, double turn_rad) const;

  private:
    SectionPole section_at(std::size_t piece, double v) const;

    double rise_mm_;
    bool round_;
    std::array<std::vector<SectionPole>, 4> sections_;
    std::array<EndForm, 2> ends_;
};

}  // namespace fitup::solid
