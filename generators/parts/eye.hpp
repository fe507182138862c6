#pragma once

#include "parts/reading.hpp"
#include "plan/plan.hpp"

namespace fitup::parts {

/// The eye of a crank's or an offset arm's end: a plain bore, a thread or a slot along the arm. The hole goes
/// through and has no id, place or direction yet.
/// @param field  with exactly one of `bore`, `thread`, `slot`; `fit` beside a bore, `hand` and `model_as`
/// beside a
///               thread
plan::Hole read_eye(Reader& reader, const Field& field);

/// A plain or tapped through hole beside an eye: the eye's own bore or thread, or `bore` where that is given.
plan::Hole like_eye(const plan::Hole& eye, std::optional<double> bore_mm);

}  // namespace fitup::parts
