#pragma once

#include <span>
#include <string>

#include "sheets/drawing.hpp"

/// Drawings as files. The half that draws is a library of its own, loaded when first needed.
namespace fitup::sheets {

class Renderer {
  public:
    virtual ~Renderer() = default;
    virtual std::string svg(const Drawing& drawing) const = 0;
    /// A page a drawing, each of its own size.
    virtual std::string pdf(std::span<const Drawing> pages) const = 0;
    std::string pdf(const Drawing& drawing) const { return pdf({&drawing, 1}); }
    virtual std::string png(const Drawing& drawing, double dots_per_mm) const = 0;
    /// How wide a text comes out; `text_width_mm` is what layouts reckon with.
    virtual double text_width_mm(const std::string& text, double size_mm) const = 0;
};

/// The same drawing gives the same bytes. Texts are outlines of the lettering font where the machine has it,
/// of a common one, or strokes of our own. @throws KernelError when the library can't be loaded.
const Renderer& renderer();

inline constexpr const char* renderer_entry = "fitup_renderer";
using RendererEntry = const Renderer*();

}  // namespace fitup::sheets
