#pragma once

#include <string>

namespace fitup::exchange::testing {

/// A mesh as a geometry library that has nothing to do with ours sees it.
struct IndependentMesh {
    bool is_closed = false;
    bool faces_outward = false;
    bool crosses_itself = false;
    double volume_mm3 = 0.0;
    std::size_t triangles = 0;
};

/// Reads binary STL bytes, joins equal corners and judges. CGAL, polygon mesh processing.
IndependentMesh judged_independently(const std::string& stl_bytes);

}  // namespace fitup::exchange::testing
