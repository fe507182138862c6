#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "plan/finding.hpp"
#include "plan/plan.hpp"

namespace fitup::rules {

/// The values at which a rule speaks, in the rule's unit, and where they are from.
struct Limit {
    std::optional<double> note;
    std::optional<double> warn;
    std::optional<double> stop;
    std::string source;
};

/// What a value makes of a limit: the severest of its steps that the value is beyond.
struct Verdict {
    plan::Severity severity = plan::Severity::note;
    double limit = 0.0;
};

/// Two lengths in mm (or shares, or diameters) nearer than this are equal: far below what can be made, far
/// above the rounding of doubles at the size of a part. A value equal to its limit passes.
inline constexpr double equal_values = 1e-9;

/// For a rule whose value must not fall under its limit.
std::optional<Verdict> under(const Limit& limit, double value);
/// For a rule whose value must not go over its limit.
std::optional<Verdict> over(const Limit& limit, double value);

/// The rules' limits with the file's own in their place.
class Limits {
  public:
    Limits() = default;
    /// Overrides of unknown rules and of rules that can't be overridden are left out.
    explicit Limits(const std::vector<plan::RuleOverride>& overrides);

    /// The table's limit of a rule, overridden.
    Limit of(std::string_view rule) const;
    /// The limit that the case at hand has (its material, its size), overridden.
    Limit of(std::string_view rule, Limit usual) const;

  private:
    struct Own {
        std::optional<double> warn;
        std::optional<double> stop;
    };
    std::map<std::string, Own, std::less<>> own_;
};

/// Limits that depend on the material's family.
Limit edge_distance_limit(std::string_view family, double nominal_mm);
Limit engagement_limit(std::string_view family);
/// Least inside radius of a bend in thicknesses, by family and thickness; no limit for what is not in the
/// table.
Limit bend_radius_limit(std::string_view family, double thickness_mm);

}  // namespace fitup::rules
