#pragma once

#include <string>
#include <vector>

#include "plan/plan.hpp"
#include "sheets/sheet_sizes.hpp"

namespace fitup::sheets {

/// "M10x1.5 - 6H", "3/8-16 UNC - 2B": medium fit where the thread's standard has one and the file says
/// nothing else.
std::string thread_callout(const plan::Thread& thread);
/// The same of a bolt or a rod's end: 6g or 2A.
std::string external_thread_callout(const plan::Thread& thread);

/// What is asked at one hole in the form of the drawing standards (ASME Y14.6, ISO 6410, ISO 15786; from
/// memory), an operation a line. A recess on the other side than the hole is made from says so.
std::vector<std::string> callout(const plan::Plan& plan, const plan::Hole& hole, const SheetSizes& sizes);

}  // namespace fitup::sheets
