#pragma once

#include <string>

#include "mesh/mesh.hpp"

namespace fitup::mesh {

/// How a part is looked at: turned about Z, then tilted; seen from +Z.
struct PictureOptions {
    int width_px = 800;
    int height_px = 600;
    Angle turn = Angle::from_degrees(-28.0);
    Angle tilt = Angle::from_degrees(52.0);
};

/// A shaded parallel projection on white with the part's edges drawn dark, as PNG bytes. The same mesh gives
/// the same bytes.
std::string picture_png(const Mesh& mesh, const PictureOptions& options);

}  // namespace fitup::mesh
