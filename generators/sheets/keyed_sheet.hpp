#pragma once

#include <functional>
#include <string>

#include "sheets/sheet_composer.hpp"
#include "sheets/sheet_sizes.hpp"
#include "sheets/view_keys.hpp"

namespace fitup::sheets {

/// How a key's size is said; "" leaves it out.
using KeyWords = std::function<std::string(const KeyLength& key)>;

/// A view on a sheet with its keys as dimensions: lengths along X and Y in rows, others along themselves,
/// radii and angles at leaders.
/// @param make  the view with centre lines that stand out so far, in mm of the part
SheetView keyed_sheet_view(const std::string& caption, std::function<KeyedView(double overshoot_mm)> make,
                           const SheetSizes& sizes, double text_mm, const KeyWords& words);

/// "22", with a diameter sign where it is one.
std::string key_text(const KeyLength& key, const SheetSizes& sizes);

}  // namespace fitup::sheets
