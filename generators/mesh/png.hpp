#pragma once

#include <string>
#include <string_view>

namespace fitup::mesh {

/// A PNG file (ISO/IEC 15948) of 8-bit colours, `pixels` row by row, three bytes each. Areas of one tone and
/// rows alike the one above are packed; the same pixels give the same bytes.
std::string png_bytes(int width_px, int height_px, std::string_view pixels);

}  // namespace fitup::mesh
