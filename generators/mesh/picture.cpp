#include "mesh/picture.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
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

Point3 seen(const Point3& p, const PictureOptions& options) {
    const double x = p[0] * options.turn.cos() - p[1] * options.turn.sin();
    const double y = p[0] * options.turn.sin() + p[1] * options.turn.cos();
    return {x, y * options.tilt.cos() + p[2] * options.tilt.sin(),
            -y * options.tilt.sin() + p[2] * options.tilt.cos()};
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
        for (int x = int(std::ceil(from - rounding)); x <= last; ++x)
            put(x, y, float(z + z_slope * x), index);
    }

    void put(int x, int y, float z, std::uint32_t index) {
        const std::size_t sample = at(x, y);
        if (z <= depth_[sample]) return;
        depth_[sample] = z;
        facet_[sample] = index;
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

/// The mesh as it lies on the canvas; `scale` becomes samples per mm.
std::vector<Facet> laid_out(const Mesh& mesh, const PictureOptions& options, double& scale) {
    std::vector<Point3> points;
    for (const Point3& vertex : mesh.vertices) points.push_back(seen(vertex, options));
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

/// One pixel from its samples.
class Pixels {
  public:
    Pixels(const Canvas& canvas, const std::vector<Facet>& facets, const PictureOptions& options, double jump)
        : canvas_(canvas),
          facets_(facets),
          width_(options.width_px * samples),
          height_(options.height_px * samples),
          jump_(jump) {}

    Colour at(int x_px, int y_px) const {
        const int x = x_px * samples, y = y_px * samples;
        if (is_plain(x, y)) return colour(canvas_.facet(x, y));
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

  private:
    /// One facet, or nothing, on all samples and those beside them: most pixels of a picture.
    bool is_plain(int x, int y) const {
        const std::uint32_t first = canvas_.facet(x, y);
        for (int sy = y; sy <= std::min(y + samples, height_ - 1); ++sy) {
            for (int sx = x; sx <= std::min(x + samples, width_ - 1); ++sx) {
                if (canvas_.facet(sx, sy) != first) return false;
            }
        }
        return true;
    }

    Colour colour(std::uint32_t facet) const {
        if (facet == nothing) return paper;
        const double share = facets_[facet].tone;
        return {metal[0] * share, metal[1] * share, metal[2] * share};
    }

    const Canvas& canvas_;
    const std::vector<Facet>& facets_;
    int width_;
    int height_;
    double jump_;
};

}  // namespace

std::string picture_png(const Mesh& mesh, const PictureOptions& options) {
    double scale = 1.0;
    const std::vector<Facet> facets = laid_out(mesh, options, scale);
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
            if (facets[i].normal[2] > 0.0) canvas.fill(facets[i], std::uint32_t(i));
        }
        for (int y = top; y < std::min(top + band_px, options.height_px); ++y) {
            for (int x = 0; x < options.width_px; ++x) {
                for (const double value : drawn.at(x, y)) pixels += char(std::lround(value));
            }
        }
    }
    return png_bytes(options.width_px, options.height_px, pixels);
}

}  // namespace fitup::mesh
