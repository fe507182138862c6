#pragma once

/// Signs of the drawing standards, as the lettering font has them (UTF-8).
namespace fitup::sheets::sign {

inline constexpr const char* diameter = "\xE2\x8C\x80";     // U+2300
inline constexpr const char* counterbore = "\xE2\x8C\xB4";  // U+2334
inline constexpr const char* countersink = "\xE2\x8C\xB5";  // U+2335
inline constexpr const char* depth = "\xE2\x86\xA7";        // U+21A7
inline constexpr const char* plus_minus = "\xC2\xB1";
inline constexpr const char* degree = "\xC2\xB0";
inline constexpr const char* times = "\xC3\x97";

}  // namespace fitup::sheets::sign
