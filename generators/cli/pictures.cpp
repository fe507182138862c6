#include "base/units.hpp"
#include "cli/calculation.hpp"
#include "sheets/render.hpp"

namespace fitup::cli {

namespace {

/// Dots on the screen and on paper for a millimetre of a picture: 150 an inch.
constexpr double dots_per_mm = 150.0 / mm_per_inch;

}  // namespace

Picture picture_of(const std::string& suffix, const sheets::Drawing& drawing) {
    const sheets::Renderer& renderer = sheets::renderer();
    return {suffix, renderer.svg(drawing), renderer.png(drawing, dots_per_mm)};
}

}  // namespace fitup::cli
