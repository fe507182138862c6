#pragma once

#include <optional>
#include <vector>

#include "plan/skin_layout.hpp"

namespace fitup::plan {

/// A skin, and the indices of the cuts that are not part of it.
struct Parted {
    SkinResult result;
    std::vector<std::size_t> left;
};

/// The skin of a stock; `volume_mm3` is not filled in yet.
Parted part_skin(const Stock& stock);

/// Volume of the skin less what the cuts that left it take, where these stand alone in space: inside the
/// outline, clear of every other cut, under no raised metal. Nothing otherwise.
std::optional<double> whole_volume_mm3(const Stock& stock, const Parted& parted);

}  // namespace fitup::plan
