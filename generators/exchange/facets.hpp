#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "base/vector3.hpp"
#include "mesh/adjacency.hpp"
#include "mesh/mesh.hpp"

namespace fitup::exchange {

/// Neighbouring triangles in one plane are a facet.
struct Facet {
    Vector normal{};
    std::span<const std::uint32_t> triangles;
    std::span<const std::uint32_t> folds;  ///< indices into Facets::folds
};

/// The line along which two facets meet at a blunt angle, as the sides of a polygon that stands for a circle
/// do.
struct Fold {
    std::uint32_t first_facet = 0;
    std::uint32_t second_facet = 0;
    Vector direction{};  ///< unit; its sign means nothing
    Vector middle{};
    double length_mm = 0.0;
    double angle_rad = 0.0;
    std::uint32_t other_facet(std::uint32_t facet) const {
        return facet == first_facet ? second_facet : first_facet;
    }
};

/// A mesh as facets and folds.
class Facets {
  public:
    explicit Facets(const mesh::Mesh& mesh);

    const mesh::Mesh& mesh() const { return mesh_; }
    const mesh::Adjacency& adjacency() const { return adjacency_; }
    /// How far a coordinate may be off because it is a single-precision number: half a unit in the last place
    /// of the largest.
    double rounding_mm() const { return rounding_mm_; }

    std::uint32_t facet_of(std::uint32_t triangle) const { return facet_of_[triangle]; }
    std::size_t count() const { return normals_.size(); }
    Facet operator[](std::uint32_t facet) const;
    const std::vector<Fold>& folds() const { return folds_; }

  private:
    void find_facets();
    void find_folds();
    void join_folds();
    bool is_flat(std::uint32_t half_edge) const;
    bool is_needle(std::uint32_t triangle) const;
    double side_mm(std::uint32_t half_edge) const;
    std::uint32_t longest_side(std::uint32_t triangle) const;
    void number_facets(std::vector<std::uint32_t>& parents);

    const mesh::Mesh& mesh_;
    mesh::Adjacency adjacency_;
    double rounding_mm_ = 0.0;
    std::vector<Vector> doubled_areas_;  ///< of triangles, along their normals
    std::vector<std::uint32_t> facet_of_;
    std::vector<Vector> normals_;  ///< of facets
    std::vector<std::uint32_t> triangles_, triangle_starts_;
    std::vector<Fold> folds_;
    std::vector<std::uint32_t> fold_numbers_, fold_starts_;
};

/// Numbers 0 to n - 1 put into groups by key, as a list of lists: `starts` has one more entry than there are
/// groups.
void group_by(std::span<const std::uint32_t> keys, std::size_t groups, std::vector<std::uint32_t>& numbers,
              std::vector<std::uint32_t>& starts);

}  // namespace fitup::exchange
