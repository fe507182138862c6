#include "mesh/picture.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <map>
#include <vector>

#include "base/vector3.hpp"
#include "mesh/png.hpp"

namespace fitup::mesh {

namespace {

using plan::Point3;

/// Each pixel is the mean of this many samples each way.
constexpr int samples = 3;
/// Share of the picture that stays free on each side.
constexpr double margin = 0.05;
/// Rows of pixels that are drawn at a time.
constexpr int band_px = 24;

/// Points turned about Z, then tilted.
std::vector<Point3> seen(const std::vector<Point3>& points, const PictureOptions& options) {
    const double turn_cos = options.turn.cos(), turn_sin = options.turn.sin();
    const double tilt_cos = options.tilt.cos(), tilt_sin = options.tilt.sin();
    std::vector<Point3> turned;
    turned.reserve(points.size());
    for (const Point3& p : points) {
        const double x = p[0] * turn_cos - p[1] * turn_sin;
        const double y = p[0] * turn_sin + p[1] * turn_cos;
        turned.push_back({x, y * tilt_cos + p[2] * tilt_sin, -y * tilt_sin + p[2] * tilt_cos});
    }
    return turned;
}

/// A triangle on the canvas: x and y in samples, depth towards the viewer, and how it looks.
struct Facet {
    std::array<Point3, 3> corners;
    Point3 normal;
    double tone = 0.0;
};

constexpr std::uint32_t nothing = std::numeric_limits<std::uint32_t>::max();

/// Depth and the facet that is nearest at each sample of some rows: a whole picture's would be drawn outside
/// the processor's cache, for several times as long.
class Canvas {
  public:
    Canvas(int width, int rows) : width_(width), depth_(std::size_t(width) * rows), facet_(depth_.size()) {}

    /// Empty, from this row of the picture on.
    void begin(int first_row, int rows) {
        first_ = first_row;
        height_ = first_row + rows;
        std::fill(depth_.begin(), depth_.end(), -std::numeric_limits<float>::infinity());
        std::fill(facet_.begin(), facet_.end(), nothing);
    }

    void fill(const Facet& facet, std::uint32_t index) {
        const auto& p = facet.corners;
        const double area =
            (p[1][0] - p[0][0]) * (p[2][1] - p[0][1]) - (p[2][0] - p[0][0]) * (p[1][1] - p[0][1]);
        if (std::abs(area) < 1e-12) return;
        const auto [low, high] = std::minmax({p[0][1], p[1][1], p[2][1]});
        const int last = std::min(height_ - 1, int(std::floor(high)));
        for (int y = std::max(first_, int(std::ceil(low))); y <= last; ++y) fill_row(p, area, y, index);
    }

    double depth(int x, int y) const { return depth_[at(x, y)]; }
    std::uint32_t facet(int x, int y) const { return facet_[at(x, y)]; }

    /// Whether one facet, or nothing, is on all samples of a pixel and those beside them.
    bool is_plain(int x, int y) const {
        const std::uint32_t* row = &facet_[at(x, y)];
        const std::uint32_t first = *row;
        std::uint32_t apart = 0;
        for (int i = 0; i <= samples; ++i, row += width_) {
            for (int j = 0; j <= samples; ++j) apart |= row[j] ^ first;
        }
        return apart == 0;
    }

  private:
    std::size_t at(int x, int y) const { return std::size_t(y - first_) * width_ + x; }

    /// A share of the triangle's weights, linear in x: where it is not below 0.
    static void narrow(double at_zero, double slope, double& from, double& to) {
        if (slope > 0.0)
            from = std::max(from, -at_zero / slope);
        else if (slope < 0.0)
            to = std::min(to, -at_zero / slope);
        else if (at_zero < 0.0)
            to = from - 1.0;
    }

    void fill_row(const std::array<Point3, 3>& p, double area, int y, std::uint32_t index) {
        const double b_slope = (p[2][1] - p[0][1]) / area, c_slope = -(p[1][1] - p[0][1]) / area;
        const double b = (-p[0][0] * (p[2][1] - p[0][1]) - (p[2][0] - p[0][0]) * (y - p[0][1])) / area;
        const double c = ((p[1][0] - p[0][0]) * (y - p[0][1]) + p[0][0] * (p[1][1] - p[0][1])) / area;
        double from = 0.0, to = width_ - 1.0;
        narrow(b, b_slope, from, to);
        narrow(c, c_slope, from, to);
        narrow(1.0 - b - c, -b_slope - c_slope, from, to);
        const double z = p[0][2] + b * (p[1][2] - p[0][2]) + c * (p[2][2] - p[0][2]);
        const double z_slope = b_slope * (p[1][2] - p[0][2]) + c_slope * (p[2][2] - p[0][2]);
        // Neighbours share their border: no sample may fall between them.
        constexpr double rounding = 1e-7;
        const int last = int(std::floor(to + rounding));
        float* const depth = &depth_[at(0, y)];
        std::uint32_t* const nearest = &facet_[at(0, y)];
        for (int x = int(std::ceil(from - rounding)); x <= last; ++x) {
            const float here = float(z + z_slope * x);
            if (here <= depth[x]) continue;
            depth[x] = here;
            nearest[x] = index;
        }
    }

    int width_;
    int first_ = 0;
    int height_ = 0;  ///< the row after the last
    std::vector<float> depth_;
    std::vector<std::uint32_t> facet_;
};

/// An edge of the part: the facing turns by over 30 degrees, or the depth jumps.
bool is_edge(const Canvas& canvas, const std::vector<Facet>& facets, int x, int y, double jump) {
    constexpr double cosine_of_30 = 0.866;
    const std::uint32_t here = canvas.facet(x, y);
    for (const auto& [dx, dy] : {std::pair(1, 0), std::pair(0, 1)}) {
        const std::uint32_t there = canvas.facet(x + dx, y + dy);
        if (here == there) continue;
        if (here == nothing || there == nothing) return true;
        if (dot(facets[here].normal, facets[there].normal) < cosine_of_30) return true;
        if (std::abs(canvas.depth(x, y) - canvas.depth(x + dx, y + dy)) > jump) return true;
    }
    return false;
}

/// Grey of a facing: light from the upper left, warm paper tones come from the caller's scaling.
double tone(const Point3& normal) {
    return std::clamp(0.62 + 0.26 * normal[2] - 0.16 * normal[0] + 0.10 * normal[1], 0.25, 0.97);
}

/// For each facet the first that lies in the same plane: as one they are drawn faster, and look the same.
std::vector<std::uint32_t> first_in_plane(const Mesh& mesh) {
    std::map<std::array<double, 4>, std::uint32_t> planes;
    std::vector<std::uint32_t> first;
    first.reserve(mesh.triangles.size());
    for (const auto& t : mesh.triangles) {
        const Point3& corner = mesh.vertices[t[0]];
        const Point3 across = cross(mesh.vertices[t[1]] - corner, mesh.vertices[t[2]] - corner);
        // Divided, so that normals along an axis are equal to the last bit.
        const double size = std::max(length(across), std::numeric_limits<double>::min());
        const Point3 normal{across[0] / size, across[1] / size, across[2] / size};
        const std::array plane{normal[0], normal[1], normal[2], dot(normal, corner)};
        first.push_back(planes.emplace(plane, std::uint32_t(first.size())).first->second);
    }
    return first;
}

/// The mesh as it lies on the canvas; `scale` becomes samples per mm.
std::vector<Facet> laid_out(const Mesh& mesh, const PictureOptions& options, double& scale) {
    std::vector<Point3> points = seen(mesh.vertices, options);
    Point3 low = points.front(), high = points.front();
    for (const Point3& p : points) {
        for (std::size_t i = 0; i < 3; ++i) {
            low[i] = std::min(low[i], p[i]);
            high[i] = std::max(high[i], p[i]);
        }
    }
    const int width = options.width_px * samples, height = options.height_px * samples;
    scale = (1.0 - 2.0 * margin) * std::min(width / (high[0] - low[0]), height / (high[1] - low[1]));
    for (Point3& p : points) {
        p = {width / 2.0 + scale * (p[0] - (low[0] + high[0]) / 2.0),
             height / 2.0 - scale * (p[1] - (low[1] + high[1]) / 2.0), scale * p[2]};
    }
    std::vector<Facet> facets;
    for (const auto& t : mesh.triangles) {
        Facet facet{{points[t[0]], points[t[1]], points[t[2]]}, {}, 0.0};
        // The picture's y runs down, which mirrors the normal.
        const Point3 normal =
            unit(cross(facet.corners[1] - facet.corners[0], facet.corners[2] - facet.corners[0]));
        facet.normal = {-normal[0], normal[1], -normal[2]};
        facet.tone = tone(facet.normal);
        facets.push_back(facet);
    }
    return facets;
}

using Colour = std::array<double, 3>;
constexpr Colour metal{236, 229, 214}, ink{38, 42, 48}, paper{255, 255, 255};

using Bytes = std::array<char, 3>;

Bytes rounded(const Colour& colour) {
    Bytes bytes{};
    for (std::size_t c = 0; c < 3; ++c) bytes[c] = char(std::lround(colour[c]));
    return bytes;
}

Colour colour_of(const Facet& facet) {
    return {metal[0] * facet.tone, metal[1] * facet.tone, metal[2] * facet.tone};
}

/// One pixel from its samples.
class Pixels {
  public:
    Pixels(const Canvas& canvas, const std::vector<Facet>& facets, const PictureOptions& options, double jump)
        : canvas_(canvas),
          facets_(facets),
          width_(options.width_px * samples),
          height_(options.height_px * samples),
          jump_(jump) {
        plain_.reserve(facets.size());
        for (const Facet& facet : facets) plain_.push_back(rounded(colour_of(facet)));
    }

    Bytes at(int x_px, int y_px) const {
        const int x = x_px * samples, y = y_px * samples;
        // So are most pixels of a picture; on its rim there is nothing beside them.
        const bool is_rim = x + samples >= width_ || y + samples >= height_;
        if (!is_rim && canvas_.is_plain(x, y)) return plain(canvas_.facet(x, y));
        return rounded(mixed(x, y));
    }

  private:
    Bytes plain(std::uint32_t facet) const {
        static const Bytes empty = rounded(paper);
        return facet == nothing ? empty : plain_[facet];
    }

    Colour mixed(int x, int y) const {
        Colour sum{};
        for (int sy = y; sy < y + samples; ++sy) {
            for (int sx = x; sx < x + samples; ++sx) {
                const bool is_rim = sx + 1 >= width_ || sy + 1 >= height_;
                const bool is_ink = !is_rim && is_edge(canvas_, facets_, sx, sy, jump_);
                const Colour one = is_ink ? ink : colour(canvas_.facet(sx, sy));
                for (std::size_t c = 0; c < 3; ++c) sum[c] += one[c] / (samples * samples);
            }
        }
        return sum;
    }

    Colour colour(std::uint32_t facet) const { return facet == nothing ? paper : colour_of(facets_[facet]); }

    const Canvas& canvas_;
    const std::vector<Facet>& facets_;
    std::vector<Bytes> plain_;  ///< of each facet
    int width_;
    int height_;
    double jump_;
};

}  // namespace

std::string picture_png(const Mesh& mesh, const PictureOptions& options) {
    double scale = 1.0;
    const std::vector<Facet> facets = laid_out(mesh, options, scale);
    const std::vector<std::uint32_t> planes = first_in_plane(mesh);
    // A row more than the pixels' own: edges are looked for downwards too.
    const int height = options.height_px * samples, rows = band_px * samples + 1;
    Canvas canvas(options.width_px * samples, rows);
    const Pixels drawn(canvas, facets, options, 2.0 * scale);
    std::string pixels;
    pixels.reserve(std::size_t(3) * options.width_px * options.height_px);
    for (int top = 0; top < options.height_px; top += band_px) {
        canvas.begin(top * samples, std::min(rows, height - top * samples));
        // What faces away lies behind what faces here: the mesh is closed.
        for (std::size_t i = 0; i < facets.size(); ++i) {
            if (facets[i].normal[2] > 0.0) canvas.fill(facets[i], planes[i]);
        }
        for (int y = top; y < std::min(top + band_px, options.height_px); ++y) {
            for (int x = 0; x < options.width_px; ++x) {
                const Bytes pixel = drawn.at(x, y);
                pixels.append(pixel.data(), pixel.size());
            }
        }
    }
    return png_bytes(options.width_px, options.height_px, pixels);
}

}  // namespace fitup::mesh
