#pragma once

#include <string>
#include <string_view>

#include "base/units.hpp"
#include "trade/trade.hpp"

/// How the tables compare names: what a person may write in many ways becomes one key.
namespace fitup::trade {

/// Lower case without spaces, inch marks and full stops that are not decimal points; a multiplication sign
/// becomes x; "no" before a number becomes "#"; "in" after the last one falls. "No. 10-24 UNC" ->
/// "#10-24unc".
std::string name_key(std::string_view name);

/// Key of the fastener size that a bare size or a thread's name stands for: "3/8", "3/8-16 UNC", "3/8 BSW" ->
/// "3/8". A text that is neither gives its own key.
std::string fastener_key(std::string_view name);

/// The thread's nominal size as fastener tables name it: "3/8", "#10", "M10", "2 BA".
std::string fastener_size(const Thread& thread);

}  // namespace fitup::trade
