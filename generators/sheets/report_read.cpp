#include "sheets/report_read.hpp"

#include <cstdint>
#include <map>

#include "base/text.hpp"

namespace fitup::sheets {

namespace {

/// What stands between two texts from `at` on, and moves `at` behind it; nothing where one is missing.
std::string_view between(std::string_view text, std::string_view first, std::string_view last,
                         std::size_t& at) {
    const std::size_t start = text.find(first, at);
    if (start == std::string_view::npos) return {};
    const std::size_t from = start + first.size();
    const std::size_t end = text.find(last, from);
    if (end == std::string_view::npos) return {};
    at = end + last.size();
    return text.substr(from, end - from);
}

std::string_view attribute_in(std::string_view tag, std::string_view name) {
    std::size_t at = 0;
    return between(tag, " " + std::string(name) + "=\"", "\"", at);
}

std::string plain_text(std::string_view html) {
    static const std::map<std::string_view, char> entities{
        {"&amp;", '&'}, {"&lt;", '<'}, {"&gt;", '>'}, {"&quot;", '"'}, {"&#39;", '\''}};
    std::string text;
    for (std::size_t at = 0; at < html.size();) {
        const std::size_t end = html[at] == '&' ? html.find(';', at) : std::string_view::npos;
        const auto found =
            end == std::string_view::npos ? entities.end() : entities.find(html.substr(at, end + 1 - at));
        text += found == entities.end() ? html[at] : found->second;
        at = found == entities.end() ? at + 1 : end + 1;
    }
    return text;
}

ReadRow read_row(std::string_view row) {
    ReadRow read{plain_text(attribute_in(row, "data-id")), {}};
    for (std::size_t at = 0;;) {
        const std::string_view cell = between(row, "<td class=\"n\">", "</td>", at);
        if (cell.empty()) return read;
        if (const auto number = parse_number(cell.substr(0, cell.find('<')))) read.numbers.push_back(*number);
    }
}

std::string bytes_of_base64(std::string_view text) {
    std::string bytes;
    std::uint32_t word = 0;
    int bits = 0;
    constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    for (const char c : text) {
        const std::size_t value = letters.find(c);
        if (value == std::string_view::npos) break;
        word = (word << 6U) | std::uint32_t(value);
        bits += 6;
        if (bits < 8) continue;
        bits -= 8;
        bytes += char((word >> unsigned(bits)) & 255U);
    }
    return bytes;
}

std::vector<double> numbers_of(std::string_view text) {
    std::vector<double> numbers;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(' '), text.size());
        numbers.push_back(parse_number(text.substr(0, end)).value_or(0.0));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return numbers;
}

std::uint32_t little_endian(std::string_view bytes, std::size_t at, std::size_t size) {
    std::uint32_t value = 0;
    for (std::size_t i = 0; i < size; ++i)
        value |= std::uint32_t(static_cast<unsigned char>(bytes[at + i])) << (8U * i);
    return value;
}

mesh::Mesh read_mesh(std::string_view tag, std::string_view content) {
    const std::string bytes = bytes_of_base64(content);
    const auto count = std::size_t(parse_number(attribute_in(tag, "data-vertices")).value_or(0));
    const auto triangles = std::size_t(parse_number(attribute_in(tag, "data-triangles")).value_or(0));
    const std::vector<double> least = numbers_of(attribute_in(tag, "data-least"));
    const std::vector<double> size = numbers_of(attribute_in(tag, "data-size"));
    const std::size_t wide = count > 65536 ? 4 : 2, start = (6 * count + 3) / 4 * 4;
    if (least.size() != 3 || size.size() != 3 || bytes.size() < start + 3 * wide * triangles) return {};
    mesh::Mesh mesh;
    for (std::size_t i = 0; i < count; ++i) {
        plan::Point3 point{};
        for (std::size_t axis = 0; axis < 3; ++axis)
            point[axis] = least[axis] + size[axis] * little_endian(bytes, 6 * i + 2 * axis, 2) / 65535.0;
        mesh.vertices.push_back(point);
    }
    for (std::size_t t = 0; t < triangles; ++t) {
        std::array<std::uint32_t, 3> corners{};
        for (std::size_t k = 0; k < 3; ++k)
            corners[k] = little_endian(bytes, start + wide * (3 * t + k), wide);
        for (const std::uint32_t corner : corners) {
            if (corner >= count) return {};
        }
        mesh.triangles.push_back(corners);
    }
    return mesh;
}

}  // namespace

ReadReport read_report(std::string_view page) {
    ReadReport read;
    for (std::size_t at = 0;;) {
        const std::string_view row = between(page, "<tr id=\"hole=", "</tr>", at);
        if (row.empty()) break;
        read.rows.push_back(read_row(row));
    }
    std::size_t at = 0;
    const std::string_view tag = between(page, "<script type=\"text/plain\" id=\"mesh\"", ">", at);
    read.mesh = read_mesh(tag, between(page, "", "</script>", at));
    return read;
}

}  // namespace fitup::sheets
