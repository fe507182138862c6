#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "parameters/fault.hpp"

namespace fitup::parameters {

/// Largest parameter file that is read.
inline constexpr std::size_t most_bytes = std::size_t{16} * 1024 * 1024;

/// The text without its byte-order mark.
std::string_view without_byte_order_mark(std::string_view bytes);

/// What keeps bytes from being a text that can be parsed: too many, none, a NUL, not UTF-8. Nothing when they
/// can.
std::optional<Fault> unreadable(std::string_view bytes, const std::string& file);

/// The offset of the first byte that is not UTF-8 (RFC 3629: no overlong forms, no surrogates, at most
/// U+10FFFF).
std::optional<std::size_t> first_wrong_byte(std::string_view text);

}  // namespace fitup::parameters
