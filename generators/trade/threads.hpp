#pragma once

#include <string>
#include <vector>

#include "trade/trade.hpp"

namespace fitup::trade {

/// Other names that find_thread() takes for this thread, the commonest first.
std::vector<std::string> thread_aliases(const Thread& thread);

}  // namespace fitup::trade
