#pragma once

#include "parts/reading.hpp"
#include "plan/plan.hpp"
#include "trade/trade.hpp"

namespace fitup::parts {

/// Reads what every kind of part shares (name, revision, note, quantity, units, material, rules) into the
/// plan. An unknown material is a fault of the reader.
void read_common_header(Reader& reader, plan::Plan& plan);

/// A material by its name in the table, or by its figures. Nothing where there is none or it is unknown (then
/// a fault).
std::optional<plan::Material> read_material(Reader& reader, const Field& field);

/// Classes of holes have a capital letter, those of shafts (a spigot) a small one.
enum class FitOf { hole, shaft };

/// ISO 286 limits of `field`'s class at a nominal size. Nothing where the file names none, or the table has
/// none (then a fault).
std::optional<plan::Fit> read_fit(Reader& reader, const Field& field, double nominal_mm, FitOf of);

/// A thread by its name in the table, without depth; right-handed unless `hand` says "left". Nothing where it
/// is unknown (then a fault).
std::optional<plan::Thread> read_thread(Reader& reader, const Field& name, const Field& hand);

/// Diameter that a tapped hole has in the model: its tap drill's unless `model_as` says otherwise. "thread"
/// marks the thread as modelled, in a hole at its minor diameter.
double modelled_diameter_mm(const Reader& reader, const Field& model_as, plan::Thread& thread);

/// A table row's source in one text, "unverified" said where it is so.
std::string source_text(const trade::Source& source);

}  // namespace fitup::parts
