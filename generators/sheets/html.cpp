#include "sheets/html.hpp"

#include <cstdint>
#include <string_view>

namespace fitup::sheets {

namespace {

/// What stands for a letter that can't stand for itself.
std::string_view other_letter(char c) {
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
        case '\t':
        case '\n':
        case '\r':
            return {};
        default:
            break;
    }
    const bool is_control = static_cast<unsigned char>(c) < 0x20 || c == '\x7f';
    return is_control ? "\xEF\xBF\xBD" : std::string_view();
}

}  // namespace

std::string html_text(std::string_view text) {
    std::string html;
    html.reserve(text.size());
    std::size_t kept = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const std::string_view other = other_letter(text[i]);
        if (other.empty()) continue;
        html.append(text, kept, i - kept).append(other);
        kept = i + 1;
    }
    return html.append(text, kept);
}

std::string attribute(std::string_view name, std::string_view value) {
    std::string html = " ";
    return html.append(name).append("=\"").append(html_text(value)).append("\"");
}

std::string element(std::string_view name, std::string_view inner, std::string_view attributes) {
    std::string html;
    html.reserve(2 * name.size() + attributes.size() + inner.size() + 5);
    html.append("<").append(name).append(attributes).append(">").append(inner);
    return html.append("</").append(name).append(">");
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
