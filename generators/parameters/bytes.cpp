#include "parameters/bytes.hpp"

#include "base/text.hpp"
#include "parameters/place.hpp"

namespace fitup::parameters {

namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

unsigned char byte_at(std::string_view text, std::size_t at) {
    return at < text.size() ? static_cast<unsigned char>(text[at]) : 0;
}

/// Length of the sound UTF-8 character at `at`, or 0. The second byte's range shuts out overlong forms,
/// surrogates and what lies beyond U+10FFFF (RFC 3629, section 4).
std::size_t character_length(std::string_view text, std::size_t at) {
    const unsigned char first = byte_at(text, at);
    if (first < 0x80) return 1;
    const std::size_t length = first < 0xC2 ? 0 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : first < 0xF5 ? 4 : 0;
    const unsigned char least = first == 0xE0 ? 0xA0 : first == 0xF0 ? 0x90 : 0x80;
    const unsigned char most = first == 0xED ? 0x9F : first == 0xF4 ? 0x8F : 0xBF;
    for (std::size_t i = 1; i < length; ++i) {
        const unsigned char next = byte_at(text, at + i);
        if (next < (i == 1 ? least : 0x80) || next > (i == 1 ? most : 0xBF)) return 0;
    }
    return length;
}

Fault placed(std::string_view text, std::size_t offset, const std::string& file) {
    Cursor cursor(text);
    cursor.move_to(offset);
    return {.file = file, .line = cursor.line(), .column = cursor.column()};
}

std::string hexadecimal(unsigned char byte) {
    constexpr std::string_view digits = "0123456789ABCDEF";
    return std::string("0x") + digits[byte >> 4U] + digits[byte & 0xFU];
}

bool is_utf16(std::string_view bytes) {
    return bytes.starts_with("\xFF\xFE") || bytes.starts_with("\xFE\xFF");
}

}  // namespace

std::string_view without_byte_order_mark(std::string_view bytes) {
    return bytes.starts_with(byte_order_mark) ? bytes.substr(byte_order_mark.size()) : bytes;
}

std::optional<std::size_t> first_wrong_byte(std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t length = character_length(text, at);
        if (length == 0) return at;
        at += length;
    }
    return {};
}

std::optional<Fault> unreadable(std::string_view bytes, const std::string& file) {
    const Fault whole{.file = file};
    const std::string text_file = "a text file saved as UTF-8";
    if (bytes.size() > most_bytes) {
        const std::string size = fixed_text(static_cast<double>(bytes.size()) / 1048576.0, 1);
        return fault_of(whole, "a file of " + size + " MiB", "at most 16 MiB");
    }
    if (bytes.empty()) return fault_of(whole, "an empty file", "a JSON object");
    if (is_utf16(bytes)) return fault_of(whole, "a UTF-16 file", text_file);
    const std::string_view text = without_byte_order_mark(bytes);
    const std::size_t nul = text.find('\0');
    const std::size_t wrong = first_wrong_byte(text).value_or(std::string_view::npos);
    if (nul < wrong)
        return fault_of(placed(text, nul, file), "a NUL byte", text_file, "this is no JSON file");
    if (wrong == std::string_view::npos) return {};
    return fault_of(placed(text, wrong, file), "the byte " + hexadecimal(byte_at(text, wrong)), text_file);
}

}  // namespace fitup::parameters
