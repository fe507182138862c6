#pragma once

#include <string>

#include "sheets/drawing.hpp"

/// Drawings as files. The half that draws is a library of its own, loaded when first needed.
namespace fitup::sheets {

class Renderer {
  public:
    virtual ~Renderer() = default;
    virtual std::string svg(const Drawing& drawing) const = 0;
    virtual std::string pdf(const Drawing& drawing) const = 0;
    virtual std::string png(const Drawing& drawing, double dots_per_mm) const = 0;
};

/// The same drawing gives the same bytes. Texts are outlines of the lettering font where the machine has it,
/// of a common one, or strokes of our own. @throws KernelError when the library can't be loaded.
const Renderer& renderer();

inline constexpr const char* renderer_entry = "fitup_renderer";
using RendererEntry = const Renderer*();

}  // namespace fitup::sheets
