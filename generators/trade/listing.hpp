#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "trade/trade.hpp"

/// What the listings of `lookup` share: how a value is shown, and one function a table.
namespace fitup::trade {

std::string mm_text(double value_mm);
std::string inch_text(double value_mm);
/// The source's words, with "unverified" always in sight.
std::string source_text(const Source& source);

/// Whether `name` asks for a row of this fastener size: the size, a thread of it, the qualifier alone
/// ("close", "cap screw"), or size and qualifier; an empty name asks for every row.
bool asks_for(std::string_view name, std::string_view size, std::string_view qualifier);

Listing list_threads(std::string_view name);
Listing list_drills(std::string_view name);
Listing list_clearance_holes(std::string_view name);
Listing list_nuts(std::string_view name);
Listing list_heads(std::string_view name);
Listing list_washers(std::string_view name);
Listing list_tool_room(std::string_view name);
Listing list_housings(std::string_view name);
Listing list_flywheels(std::string_view name);
Listing list_materials(std::string_view name);
Listing list_fits(std::string_view name);

}  // namespace fitup::trade
