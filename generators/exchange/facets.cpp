#include "exchange/facets.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace fitup::exchange {

namespace {

/// Half a unit in the last place of a single-precision number near 1.
constexpr double float_rounding = 6e-8;
/// Sharper folds are edges of the part: 45 degrees, the turn of an octagon, and a little.
constexpr double bluntest_edge_rad = 46.5 / 57.29577951308232;
/// A needle's own normal says little; still, beyond this two triangles are not one plane.
constexpr double most_doubt_rad = 0.1;
/// Facets either side of a needle are one plane when their normals differ by less: a tenth of the finest
/// usual step.
constexpr double same_plane_rad = 5e-4;
/// Computed with doubles from exact input, normals agree to this.
constexpr double least_doubt_rad = 1e-6;

std::uint32_t root_of(std::vector<std::uint32_t>& parents, std::uint32_t i) {
    while (parents[i] != i) i = parents[i] = parents[parents[i]];
    return i;
}

double angle_between(const Vector& a, const Vector& b) { return std::atan2(length(cross(a, b)), dot(a, b)); }

}  // namespace

void group_by(std::span<const std::uint32_t> keys, std::size_t groups, std::vector<std::uint32_t>& numbers,
              std::vector<std::uint32_t>& starts) {
    starts.assign(groups + 1, 0);
    for (const std::uint32_t key : keys) ++starts[key + 1];
    std::partial_sum(starts.begin(), starts.end(), starts.begin());
    std::vector<std::uint32_t> next(starts.begin(), starts.end() - 1);
    numbers.resize(keys.size());
    for (std::uint32_t i = 0; i < keys.size(); ++i) numbers[next[keys[i]]++] = i;
}

Facets::Facets(const mesh::Mesh& mesh) : mesh_(mesh), adjacency_(mesh::adjacency_of(mesh.triangles)) {
    double farthest = 0.0;
    for (const auto& vertex : mesh.vertices) {
        for (const double coordinate : vertex) farthest = std::max(farthest, std::abs(coordinate));
    }
    rounding_mm_ = farthest * float_rounding;
    for (const auto& t : mesh.triangles) {
        const Vector& a = mesh.vertices[t[0]];
        doubled_areas_.push_back(cross(mesh.vertices[t[1]] - a, mesh.vertices[t[2]] - a));
    }
    find_facets();
    find_folds();
}

Facet Facets::operator[](std::uint32_t facet) const {
    const auto part = [facet](const std::vector<std::uint32_t>& numbers,
                              const std::vector<std::uint32_t>& starts) {
        return std::span(numbers).subspan(starts[facet], starts[facet + 1] - starts[facet]);
    };
    return {normals_[facet], part(triangles_, triangle_starts_), part(fold_numbers_, fold_starts_)};
}

/// Two triangles are in one plane when their normals differ by no more than rounding of their corners can
/// explain: a corner moved by the rounding turns the triangle by that over its height.
bool Facets::is_flat(std::uint32_t half_edge) const {
    const std::uint32_t twin = adjacency_.twin[half_edge];
    const Vector& first = doubled_areas_[half_edge / 3];
    const Vector& second = doubled_areas_[twin / 3];
    const Vector& a = mesh_.vertices[mesh_.triangles[half_edge / 3][half_edge % 3]];
    const Vector& b = mesh_.vertices[mesh_.triangles[twin / 3][twin % 3]];
    const double edge = length(b - a);
    const double turn = 2.0 * rounding_mm_ * edge * (1.0 / length(first) + 1.0 / length(second));
    return !(angle_between(first, second) > std::min(2.0 * turn + least_doubt_rad, most_doubt_rad));
}

/// A triangle so low that rounding may turn it anyhow. It belongs to its neighbour across the longest side.
bool Facets::is_needle(std::uint32_t triangle) const {
    return length(doubled_areas_[triangle]) <=
           2.0 / most_doubt_rad * rounding_mm_ * side_mm(longest_side(triangle));
}

double Facets::side_mm(std::uint32_t half_edge) const {
    const auto& t = mesh_.triangles[half_edge / 3];
    return length(mesh_.vertices[t[half_edge % 3]] -
                  mesh_.vertices[t[mesh::next_in_triangle(half_edge) % 3]]);
}

std::uint32_t Facets::longest_side(std::uint32_t triangle) const {
    std::uint32_t longest = 3 * triangle;
    for (std::uint32_t edge = longest + 1; edge < 3 * triangle + 3; ++edge) {
        if (side_mm(edge) > side_mm(longest)) longest = edge;
    }
    return longest;
}

void Facets::find_facets() {
    std::vector<std::uint32_t> parents(mesh_.triangles.size());
    std::iota(parents.begin(), parents.end(), 0U);
    std::vector<bool> needles(mesh_.triangles.size());
    for (std::uint32_t t = 0; t < needles.size(); ++t) needles[t] = is_needle(t);
    std::vector<std::uint32_t> doubtful;
    for (std::uint32_t edge = 0; edge < adjacency_.twin.size(); ++edge) {
        const std::uint32_t twin = adjacency_.twin[edge];
        if (twin == mesh::no_twin || twin < edge) continue;
        bool is_one = false;
        if (needles[edge / 3] || needles[twin / 3]) {
            is_one = (needles[edge / 3] && longest_side(edge / 3) == edge) ||
                     (needles[twin / 3] && longest_side(twin / 3) == twin);
            if (!is_one) doubtful.push_back(edge);
        } else {
            is_one = is_flat(edge);
        }
        if (is_one) parents[root_of(parents, edge / 3)] = root_of(parents, twin / 3);
    }
    number_facets(parents);
    if (doubtful.empty()) return;
    // Now that needles have a facet to belong to, its normal tells whether what lies on their other sides
    // goes on in it.
    for (const std::uint32_t edge : doubtful) {
        const std::uint32_t twin = adjacency_.twin[edge];
        const double angle = angle_between(normals_[facet_of_[edge / 3]], normals_[facet_of_[twin / 3]]);
        if (angle < same_plane_rad) parents[root_of(parents, edge / 3)] = root_of(parents, twin / 3);
    }
    number_facets(parents);
}

void Facets::number_facets(std::vector<std::uint32_t>& parents) {
    const auto count = static_cast<std::uint32_t>(parents.size());
    normals_.clear();
    facet_of_.resize(count);
    std::vector<std::uint32_t> numbers(count, mesh::no_twin);
    for (std::uint32_t t = 0; t < count; ++t) {
        std::uint32_t& number = numbers[root_of(parents, t)];
        if (number == mesh::no_twin) {
            number = static_cast<std::uint32_t>(normals_.size());
            normals_.push_back({});
        }
        facet_of_[t] = number;
        normals_[number] = normals_[number] + doubled_areas_[t];
    }
    for (Vector& normal : normals_) normal = unit(normal);
    group_by(facet_of_, normals_.size(), triangles_, triangle_starts_);
}

void Facets::find_folds() {
    for (std::uint32_t edge = 0; edge < adjacency_.twin.size(); ++edge) {
        const std::uint32_t twin = adjacency_.twin[edge];
        if (twin == mesh::no_twin || twin < edge) continue;
        const auto [one, other] = std::minmax(facet_of_[edge / 3], facet_of_[twin / 3]);
        if (one == other) continue;
        const double angle = angle_between(normals_[one], normals_[other]);
        if (angle > bluntest_edge_rad) continue;
        const Vector& a = mesh_.vertices[mesh_.triangles[edge / 3][edge % 3]];
        const Vector& b = mesh_.vertices[mesh_.triangles[twin / 3][twin % 3]];
        folds_.push_back({one, other, unit(b - a), (a + b) * 0.5, length(b - a), angle});
    }
    join_folds();
    std::vector<std::uint32_t> owners;
    for (const Fold& fold : folds_) {
        owners.push_back(fold.first_facet);
        owners.push_back(fold.second_facet);
    }
    group_by(owners, normals_.size(), fold_numbers_, fold_starts_);
    for (std::uint32_t& number : fold_numbers_) number /= 2;
}

/// Several edges of one line become one fold, as long as they together.
void Facets::join_folds() {
    const auto by_facets = [](const Fold& a, const Fold& b) {
        return std::pair(a.first_facet, a.second_facet) < std::pair(b.first_facet, b.second_facet);
    };
    std::stable_sort(folds_.begin(), folds_.end(), by_facets);
    std::size_t kept = 0;
    for (std::size_t i = 0; i < folds_.size(); ++i) {
        Fold& last = folds_[kept == 0 ? 0 : kept - 1];
        if (kept > 0 && !by_facets(last, folds_[i])) {
            const double whole = last.length_mm + folds_[i].length_mm;
            last.middle =
                last.middle * (last.length_mm / whole) + folds_[i].middle * (folds_[i].length_mm / whole);
            if (folds_[i].length_mm > last.length_mm) last.direction = folds_[i].direction;
            last.length_mm = whole;
        } else {
            folds_[kept++] = folds_[i];
        }
    }
    folds_.resize(kept);
}

}  // namespace fitup::exchange
