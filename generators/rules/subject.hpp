#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "plan/cuts.hpp"
#include "rules/boundary.hpp"
#include "rules/limits.hpp"

namespace fitup::rules {

/// How a flat shape lies to a region.
enum class Lie { apart, crossing, inside };

/// A hole or pocket with all its cuts.
struct Owner {
    bool is_pocket = false;
    std::size_t index = 0;  ///< into Plan::holes or Plan::pockets
    std::string id;
    std::size_t first_cut = 0;
    std::size_t cut_count = 0;
    plan::Box box;
};

/// A pocket's cut that has some or all of a hole's shaft in its area, wherever its floor is.
struct PocketAtHole {
    std::size_t cut = 0;
    Lie lie = Lie::apart;
};

/// What the rules judge: the plan with its cuts, its outline made ready for questions, and which cuts are
/// near each other. Worked out once for all rules.
class Subject {
  public:
    /// The plan must outlive the subject.
    explicit Subject(const plan::Plan& plan);

    const plan::Plan& plan() const { return plan_; }
    const Limits& limits() const { return limits_; }
    const Boundary& outline() const { return outline_; }
    const std::vector<plan::Cut>& cuts() const { return cuts_; }
    const std::vector<Owner>& owners() const { return owners_; }
    /// Pairs of owners (places in owners(), the lower first) that are nearer than a wall or floor limit can
    /// ask; marks left out.
    const std::vector<std::pair<std::size_t, std::size_t>>& neighbours() const { return neighbours_; }
    const std::vector<PocketAtHole>& pockets_at_hole(std::size_t hole) const {
        return pockets_at_hole_[hole];
    }
    /// The edge of a pocket's cut.
    const Boundary& edge_of(std::size_t cut) const { return *edges_[cut]; }
    /// How a contour lies to the outline.
    Lie lie_in_outline(const plan::Contour& contour) const;
    /// How a contour lies to a pocket's cut.
    Lie lie_in_pocket(const plan::Contour& contour, std::size_t cut) const;
    /// Metal between a contour inside the outline and the outline.
    double rim_mm(const plan::Contour& contour) const;
    /// The most that a wall or floor rule can ask for around this owner.
    double reach_mm(const Owner& owner) const;

  private:
    void add_owners();
    void find_neighbours();
    void find_pockets_at_holes();

    const plan::Plan& plan_;
    Limits limits_;
    Boundary outline_;
    std::vector<plan::Cut> cuts_;
    std::vector<std::optional<Boundary>> edges_;
    std::vector<Owner> owners_;
    std::vector<std::pair<std::size_t, std::size_t>> neighbours_;
    std::vector<std::vector<PocketAtHole>> pockets_at_hole_;
};

/// Least metal between two cuts: the table's, and a quarter of the smaller hole's diameter.
Limit web_limit(const Subject& subject, const Owner& first, const Owner& second);
/// Least metal under a flat floor: the table's, and half of the bolt that it carries.
Limit recess_floor_limit(const Subject& subject, const Owner& owner);

}  // namespace fitup::rules
