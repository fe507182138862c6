#pragma once

#include <TopoDS_Solid.hxx>

#include "solid/thread.hpp"

/// Bodies that have a thread, for tests and benchmarks.
namespace fitup::solid {

/// Faces as one solid. @throws std::runtime_error where an edge has not one face on each side.
TopoDS_Solid closed_solid(const std::vector<TopoDS_Face>& faces);

/// A rod with a thread at its start; where the thread runs out, a plain shank of this length follows.
TopoDS_Solid threaded_stud(const plan::ThreadedLength& of, double shank_mm, const gp_Trsf& place = {});
double stud_mm3(const plan::ThreadedLength& of, double shank_mm);

/// A round bar of twice the major diameter with a tapped hole in its middle, right through; where the thread
/// runs out, its bore goes on for this length.
TopoDS_Solid tapped_bar(const plan::ThreadedLength& of, double bore_mm);
double bar_mm3(const plan::ThreadedLength& of, double bore_mm);

}  // namespace fitup::solid
