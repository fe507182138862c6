#pragma once

#include <string>
#include <vector>

#include "plan/cuts.hpp"
#include "plan/finding.hpp"
#include "rules/limits.hpp"

/// How findings say lengths, sizes and places: once, so that all rules speak alike.
namespace fitup::rules {

/// "12.3 mm (0.484 in)"; under 1 mm with one more decimal in both.
std::string length_text(double mm);
/// "0.05 mm (2 thou)", with its sign: for fits.
std::string thou_text(double mm);
/// "1.5 d"
std::string diameters_text(double diameters);
/// "aluminium", or "this material" where the family is unknown.
std::string material_text(const plan::Material& material);
/// "M10", "3/8", or the diameter in words.
std::string size_text(const plan::Hole& hole);
/// The diameter a shop calls the hole by: the thread's or bolt's nominal, a dowel's finished size, else the
/// hole's own.
double nominal_mm(const plan::Hole& hole);
/// "the recess of housing-3", or the id alone where the cut is the hole or pocket itself.
std::string name_of(const plan::Cut& cut);
/// On the face the hole is made from.
plan::Point3 place_of(const plan::Plan& plan, const plan::Hole& hole);
double face_z_mm(const plan::Plan& plan, plan::Side side);
/// "a and b", "a, b and 3 more": `most` are named.
std::string and_list(const std::vector<std::string>& words, std::size_t most);

/// "housing-1 to housing-12, dowels-2": all holes by their ids, runs drawn together.
/// @param holes  indices into Plan::holes
std::string holes_text(const plan::Plan& plan, const std::vector<std::size_t>& holes);

/// A finding of a rule with a limit.
plan::Finding finding_of(std::string rule, const Verdict& verdict, const Limit& limit, std::string unit,
                         double value);
/// The same about one hole, at its place.
plan::Finding hole_finding(const plan::Plan& plan, const plan::Hole& hole, std::string rule,
                           const Verdict& verdict, const Limit& limit, std::string unit, double value);
/// A note without a limit; its source is the rule's.
plan::Finding note_of(std::string rule, std::string where, std::string message);
/// A stop that nothing lifts; its source is the rule's.
plan::Finding final_stop_of(std::string rule, std::string where, std::string message, plan::Point3 at_mm);

}  // namespace fitup::rules
