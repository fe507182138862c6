#include "sheets/html.hpp"

#include <cstdint>

namespace fitup::sheets {

namespace {

std::string letter(char c) {
    switch (c) {
        case '&':
            return "&amp;";
        case '<':
            return "&lt;";
        case '>':
            return "&gt;";
        case '"':
            return "&quot;";
        case '\'':
            return "&#39;";
        default:
            break;
    }
    const bool is_control =
        (static_cast<unsigned char>(c) < 0x20 && c != '\t' && c != '\n' && c != '\r') || c == '\x7f';
    return is_control ? "\xEF\xBF\xBD" : std::string(1, c);
}

}  // namespace

std::string html_text(std::string_view text) {
    std::string html;
    html.reserve(text.size());
    for (const char c : text) html += letter(c);
    return html;
}

std::string attribute(std::string_view name, std::string_view value) {
    return " " + std::string(name) + "=\"" + html_text(value) + "\"";
}

std::string element(std::string_view name, std::string_view inner, std::string_view attributes) {
    std::string html = "<" + std::string(name) + std::string(attributes) + ">";
    html += inner;
    return html + "</" + std::string(name) + ">";
}

std::string text_element(std::string_view name, std::string_view text, std::string_view attributes) {
    return element(name, html_text(text), attributes);
}

std::string base64(std::string_view bytes) {
    constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string text;
    text.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t at = 0; at < bytes.size(); at += 3) {
        const std::size_t count = bytes.size() - at < 3 ? bytes.size() - at : 3;
        std::uint32_t word = 0;
        for (std::size_t i = 0; i < 3; ++i)
            word = (word << 8U) | (i < count ? static_cast<unsigned char>(bytes[at + i]) : 0U);
        for (std::size_t i = 0; i < 4; ++i)
            text += i <= count ? letters[(word >> (18U - 6U * i)) & 63U] : '=';
    }
    return text;
}

}  // namespace fitup::sheets
