#include "mesh/picture.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <vector>

#include "base/vector3.hpp"

namespace fitup::mesh {

namespace {

using plan::Point3;

/// Each pixel is the mean of this many samples each way.
constexpr int samples = 3;
/// Share of the picture that stays free on each side.
constexpr double margin = 0.05;

Point3 seen(const Point3& p, const PictureOptions& options) {
    const double x = p[0] * options.turn.cos() - p[1] * options.turn.sin();
    const double y = p[0] * options.turn.sin() + p[1] * options.turn.cos();
    return {x, y * options.tilt.cos() + p[2] * options.tilt.sin(),
            -y * options.tilt.sin() + p[2] * options.tilt.cos()};
}

/// Depth and the facing of what is nearest at each sample.
class Canvas {
  public:
    Canvas(int width, int height)
        : width_(width),
          height_(height),
          depth_(std::size_t(width) * height, -std::numeric_limits<double>::infinity()),
          normal_(depth_.size()) {}

    void fill(const std::array<Point3, 3>& p, const Point3& normal) {
        const auto span = [&p](int axis, int most) {
            const auto [low, high] = std::minmax({p[0][axis], p[1][axis], p[2][axis]});
            return std::pair(std::max(0, int(std::floor(low))), std::min(most - 1, int(std::ceil(high))));
        };
        const auto [x0, x1] = span(0, width_);
        const auto [y0, y1] = span(1, height_);
        const double area =
            (p[1][0] - p[0][0]) * (p[2][1] - p[0][1]) - (p[2][0] - p[0][0]) * (p[1][1] - p[0][1]);
        if (std::abs(area) < 1e-12) return;
        for (int y = y0; y <= y1; ++y) {
            for (int x = x0; x <= x1; ++x) put(p, normal, area, x, y);
        }
    }

    double depth(int x, int y) const { return depth_[index(x, y)]; }
    const Point3& normal(int x, int y) const { return normal_[index(x, y)]; }
    bool is_empty(int x, int y) const { return std::isinf(depth(x, y)); }

  private:
    std::size_t index(int x, int y) const { return std::size_t(y) * width_ + x; }

    void put(const std::array<Point3, 3>& p, const Point3& normal, double area, int x, int y) {
        const double b = ((x - p[0][0]) * (p[2][1] - p[0][1]) - (p[2][0] - p[0][0]) * (y - p[0][1])) / area;
        const double c = ((p[1][0] - p[0][0]) * (y - p[0][1]) - (x - p[0][0]) * (p[1][1] - p[0][1])) / area;
        if (b < 0 || c < 0 || b + c > 1) return;
        const double z = p[0][2] + b * (p[1][2] - p[0][2]) + c * (p[2][2] - p[0][2]);
        if (z <= depth_[index(x, y)]) return;
        depth_[index(x, y)] = z;
        normal_[index(x, y)] = normal;
    }

    int width_;
    int height_;
    std::vector<double> depth_;
    std::vector<Point3> normal_;
};

/// An edge of the part: the facing turns by over 30 degrees, or the depth jumps.
bool is_edge(const Canvas& canvas, int x, int y, double jump) {
    constexpr double cosine_of_30 = 0.866;
    for (const auto& [dx, dy] : {std::pair(1, 0), std::pair(0, 1)}) {
        if (canvas.is_empty(x, y) != canvas.is_empty(x + dx, y + dy)) return true;
        if (canvas.is_empty(x, y)) continue;
        const Point3& a = canvas.normal(x, y);
        const Point3& b = canvas.normal(x + dx, y + dy);
        if (dot(a, b) < cosine_of_30) return true;
        if (std::abs(canvas.depth(x, y) - canvas.depth(x + dx, y + dy)) > jump) return true;
    }
    return false;
}

/// Grey of a facing: light from the upper left, warm paper tones come from the caller's scaling.
double tone(const Point3& normal) {
    return std::clamp(0.62 + 0.26 * normal[2] - 0.16 * normal[0] + 0.10 * normal[1], 0.25, 0.97);
}

std::uint32_t crc(std::string_view bytes) {
    std::uint32_t c = 0xFFFFFFFFU;
    for (const char byte : bytes) {
        c ^= static_cast<unsigned char>(byte);
        for (int k = 0; k < 8; ++k) c = (c & 1U) != 0 ? 0xEDB88320U ^ (c >> 1U) : c >> 1U;
    }
    return c ^ 0xFFFFFFFFU;
}

std::string big_endian(std::uint32_t value) {
    return {char(value >> 24U), char(value >> 16U), char(value >> 8U), char(value)};
}

std::string chunk(const std::string& type, const std::string& body) {
    return big_endian(std::uint32_t(body.size())) + type + body + big_endian(crc(type + body));
}

/// RFC 1950 and 1951 with fixed-length stored blocks would be ten times as large: runs are coded by the fixed
/// Huffman table.
class Deflate {
  public:
    std::string pack(const std::string& bytes) {
        out_ = {'\x78', '\x01'};
        add(1, 1);
        add(1, 2);
        for (std::size_t at = 0; at < bytes.size();) at += code(bytes, at);
        literal(256);
        if (bits_ > 0) out_ += char(word_);
        std::uint32_t a = 1, b = 0;
        for (const char c : bytes) {
            a = (a + static_cast<unsigned char>(c)) % 65521;
            b = (b + a) % 65521;
        }
        return out_ + big_endian((b << 16U) | a);
    }

  private:
    void add(std::uint32_t value, int count) {
        for (int i = 0; i < count; ++i) {
            word_ |= ((value >> unsigned(i)) & 1U) << unsigned(bits_);
            if (++bits_ == 8) {
                out_ += char(word_);
                word_ = 0;
                bits_ = 0;
            }
        }
    }
    void huffman(std::uint32_t code, int count) {
        for (int i = count - 1; i >= 0; --i) add((code >> unsigned(i)) & 1U, 1);
    }
    void literal(std::uint32_t symbol) {
        if (symbol < 144)
            huffman(0x30 + symbol, 8);
        else if (symbol < 256)
            huffman(0x190 + symbol - 144, 9);
        else if (symbol < 280)
            huffman(symbol - 256, 7);
        else
            huffman(0xC0 + symbol - 280, 8);
    }
    /// One literal, or a run of the three bytes before as one match of 258.
    std::size_t code(const std::string& bytes, std::size_t at) {
        constexpr std::size_t longest = 258;
        const bool runs = at >= 3 && at + longest <= bytes.size() &&
                          std::equal(bytes.begin() + long(at), bytes.begin() + long(at + longest),
                                     bytes.begin() + long(at - 3));
        if (!runs) {
            literal(static_cast<unsigned char>(bytes[at]));
            return 1;
        }
        literal(285);   // length 258
        huffman(2, 5);  // distance 3
        return longest;
    }
    std::string out_;
    std::uint32_t word_ = 0;
    int bits_ = 0;
};

std::string png(int width, int height, const std::string& rows) {
    std::string header = big_endian(std::uint32_t(width)) + big_endian(std::uint32_t(height));
    header += {8, 2, 0, 0, 0};  // 8 bits, colour
    return "\x89PNG\r\n\x1a\n" + chunk("IHDR", header) + chunk("IDAT", Deflate().pack(rows)) +
           chunk("IEND", "");
}

Canvas drawn(const Mesh& mesh, const PictureOptions& options, double& scale) {
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
    Canvas canvas(width, height);
    for (const auto& t : mesh.triangles) {
        const std::array<Point3, 3> corners{points[t[0]], points[t[1]], points[t[2]]};
        const Point3 normal = cross(corners[1] - corners[0], corners[2] - corners[0]);
        const double size = length(normal);
        if (size == 0.0) continue;
        // The picture's y runs down, which mirrors the normal.
        canvas.fill(corners, {-normal[0] / size, normal[1] / size, -normal[2] / size});
    }
    return canvas;
}

}  // namespace

std::string picture_png(const Mesh& mesh, const PictureOptions& options) {
    double scale = 1.0;
    const Canvas canvas = drawn(mesh, options, scale);
    constexpr std::array<double, 3> metal{236, 229, 214}, ink{38, 42, 48};
    std::string rows;
    for (int y = 0; y < options.height_px; ++y) {
        rows += '\0';
        for (int x = 0; x < options.width_px; ++x) {
            std::array<double, 3> sum{};
            for (int sy = y * samples; sy < (y + 1) * samples; ++sy) {
                for (int sx = x * samples; sx < (x + 1) * samples; ++sx) {
                    const bool rim =
                        sx + 1 >= options.width_px * samples || sy + 1 >= options.height_px * samples;
                    const bool edge = !rim && is_edge(canvas, sx, sy, 2.0 * scale);
                    for (std::size_t c = 0; c < 3; ++c)
                        sum[c] += edge                      ? ink[c]
                                  : canvas.is_empty(sx, sy) ? 255.0
                                                            : metal[c] * tone(canvas.normal(sx, sy));
                }
            }
            for (const double value : sum) rows += char(std::lround(value / (samples * samples)));
        }
    }
    return png(options.width_px, options.height_px, rows);
}

}  // namespace fitup::mesh
