#include "mesh/png.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <utility>

namespace fitup::mesh {

namespace {

constexpr std::array<std::uint32_t, 256> crc_table() {
    std::array<std::uint32_t, 256> table{};
    for (std::uint32_t i = 0; i < 256; ++i) {
        std::uint32_t c = i;
        for (int k = 0; k < 8; ++k) c = (c & 1U) != 0 ? 0xEDB88320U ^ (c >> 1U) : c >> 1U;
        table[i] = c;
    }
    return table;
}

std::uint32_t crc(std::string_view bytes) {
    static constexpr auto table = crc_table();
    std::uint32_t c = 0xFFFFFFFFU;
    for (const char byte : bytes) c = table[(c ^ static_cast<unsigned char>(byte)) & 255U] ^ (c >> 8U);
    return c ^ 0xFFFFFFFFU;
}

std::uint32_t adler(std::string_view bytes) {
    std::uint64_t a = 1, b = 0;
    constexpr std::size_t before_overflow = 5000;
    for (std::size_t at = 0; at < bytes.size(); at += before_overflow) {
        for (const char c : bytes.substr(at, before_overflow)) {
            a += static_cast<unsigned char>(c);
            b += a;
        }
        a %= 65521;
        b %= 65521;
    }
    return std::uint32_t((b << 16U) | a);
}

std::string big_endian(std::uint32_t value) {
    return {char(value >> 24U), char(value >> 16U), char(value >> 8U), char(value)};
}

std::string chunk(const std::string& type, const std::string& body) {
    return big_endian(std::uint32_t(body.size())) + type + body + big_endian(crc(type + body));
}

/// RFC 1950 and 1951 with the fixed Huffman table. Matches are looked for at two distances only: one pixel
/// back and one row up, which is all that flat shading needs.
class Deflate {
  public:
    explicit Deflate(std::size_t row) : row_(row) {}

    std::string pack(const std::string& bytes) {
        out_ = {'\x78', '\x01'};
        add(1, 1);
        add(1, 2);
        for (std::size_t at = 0; at < bytes.size();) at += code(bytes, at);
        literal(256);
        if (bits_ > 0) out_ += char(word_);
        return out_ + big_endian(adler(bytes));
    }

  private:
    static constexpr std::size_t shortest = 3, longest = 258, farthest = 32768;

    void add(std::uint32_t value, int count) {
        word_ |= std::uint64_t(value) << unsigned(bits_);
        for (bits_ += count; bits_ >= 8; bits_ -= 8) {
            out_ += char(word_);
            word_ >>= 8U;
        }
    }

    void huffman(std::uint32_t code, int count) {
        std::uint32_t turned = 0;
        for (int i = 0; i < count; ++i) turned |= ((code >> unsigned(i)) & 1U) << unsigned(count - 1 - i);
        add(turned, count);
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

    /// Codes grow in steps of two powers, four lengths (two distances) to a power; RFC 1951, 3.2.5.
    static std::pair<std::uint32_t, int> step_of(std::uint32_t value, int per_power_bits) {
        int extra = 0;
        while ((value >> unsigned(extra)) >= (2U << unsigned(per_power_bits))) ++extra;
        return {(value >> unsigned(extra)) + (std::uint32_t(extra) << unsigned(per_power_bits)), extra};
    }

    void match(std::size_t length, std::size_t distance) {
        const auto [code, extra] = step_of(std::uint32_t(length - shortest), 2);
        literal(length == longest ? 285 : 257 + code);
        if (length != longest) add(std::uint32_t(length - shortest) & ((1U << unsigned(extra)) - 1U), extra);
        const auto [far, more] = step_of(std::uint32_t(distance - 1), 1);
        huffman(far, 5);
        add(std::uint32_t(distance - 1) & ((1U << unsigned(more)) - 1U), more);
    }

    static std::size_t alike(const std::string& bytes, std::size_t at, std::size_t distance) {
        if (distance > at || distance > farthest) return 0;
        const std::size_t most = std::min(longest, bytes.size() - at);
        std::size_t length = 0;
        while (length < most && bytes[at + length] == bytes[at + length - distance]) ++length;
        return length;
    }

    std::size_t code(const std::string& bytes, std::size_t at) {
        constexpr std::size_t pixel = 3;
        const std::size_t beside = alike(bytes, at, pixel);
        const std::size_t above = beside < longest ? alike(bytes, at, row_) : 0;
        const std::size_t length = std::max(beside, above);
        if (length < shortest) {
            literal(static_cast<unsigned char>(bytes[at]));
            return 1;
        }
        match(length, beside >= above ? pixel : row_);
        return length;
    }

    std::size_t row_;
    std::string out_;
    std::uint64_t word_ = 0;
    int bits_ = 0;
};

}  // namespace

std::string png_bytes(int width_px, int height_px, std::string_view pixels) {
    const std::size_t row = std::size_t(width_px) * 3;
    std::string filtered;
    for (int y = 0; y < height_px; ++y) {
        filtered += '\0';
        filtered += pixels.substr(std::size_t(y) * row, row);
    }
    std::string header = big_endian(std::uint32_t(width_px)) + big_endian(std::uint32_t(height_px));
    header += {8, 2, 0, 0, 0};  // 8 bits, colour
    return "\x89PNG\r\n\x1a\n" + chunk("IHDR", header) + chunk("IDAT", Deflate(row + 1).pack(filtered)) +
           chunk("IEND", "");
}

}  // namespace fitup::mesh
