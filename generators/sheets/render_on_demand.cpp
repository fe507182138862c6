#include "base/load_library.hpp"
#include "sheets/render.hpp"

namespace fitup::sheets {

const Renderer& renderer() {
    static const Renderer& loaded = *reinterpret_cast<RendererEntry*>(
        entry_of("libfitup-render.so", renderer_entry, "the drawing library"))();
    return loaded;
}

}  // namespace fitup::sheets
