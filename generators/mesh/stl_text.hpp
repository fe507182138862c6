#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "plan/plan.hpp"

namespace fitup::mesh {

/// Three a triangle.
using Corners = std::vector<plan::Point3>;

/// Begins with the word "solid" and holds a facet or the end of the solid.
bool looks_like_text_stl(std::string_view bytes);

/// Reads the text form: any case, any white space, several solids in a file.
/// @throws FileError(name, "line 7: ..") for a missing or wrong word or number, or an end too soon.
Corners text_corners(std::string_view bytes, const std::string& name);

}  // namespace fitup::mesh
