#pragma once

#include <string>
#include <string_view>

#include "exchange/measurement.hpp"

namespace fitup::exchange {

/// A measurement as bytes, for another process on this machine; not a file format.
std::string to_bytes(const Measurement& measurement);
/// @param bytes  from `to_bytes`
Measurement measurement_from(std::string_view bytes);

}  // namespace fitup::exchange
