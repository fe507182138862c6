#pragma once

#include <array>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sheets/drawing.hpp"

namespace fitup::sheets {

/// Width and height of each page of a PDF file in its order, as its page boxes say (ISO 32000-1, 14.11.2).
/// Boxes are looked for in the plain text: files that pack their page objects show none.
std::vector<std::array<double, 2>> pdf_pages_mm(std::string_view pdf);

/// What is wrong with a PDF file of these pages; "" where it has as many, each of its size.
std::string wrong_pdf_pages(std::string_view pdf, std::span<const Drawing> pages);

}  // namespace fitup::sheets
