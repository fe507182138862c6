#include "parameters/place.hpp"

namespace fitup::parameters {

namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::size_t digits_end(std::string_view text, std::size_t at) {
    while (at < text.size() && is_digit(text[at])) ++at;
    return at;
}

char at_or_nul(std::string_view text, std::size_t at) { return at < text.size() ? text[at] : '\0'; }

/// Continuation bytes of UTF-8 belong to the character before.
bool starts_character(char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }

}  // namespace

char Cursor::peek(std::size_t ahead) const { return at_or_nul(text_, offset_ + ahead); }

void Cursor::step() {
    const char c = text_[offset_++];
    if (c == '\n' || (c == '\r' && peek() != '\n')) {
        ++line_;
        column_ = 1;
    } else if (c != '\r' && (at_end() || starts_character(peek()))) {
        ++column_;
    }
}

void Cursor::move_to(std::size_t offset) {
    while (offset_ < offset && !at_end()) step();
}

std::size_t Cursor::comment_end() const {
    if (peek() != '/') return offset_;
    if (peek(1) == '/') {
        const std::size_t end = text_.find_first_of("\r\n", offset_);
        return end == std::string_view::npos ? text_.size() : end;
    }
    if (peek(1) != '*') return offset_;
    const std::size_t end = text_.find("*/", offset_ + 2);
    return end == std::string_view::npos ? offset_ : end + 2;
}

void Cursor::skip_blanks() {
    while (!at_end()) {
        const char c = peek();
        const bool blank = c == ' ' || c == '\t' || c == '\r' || c == '\n';
        const std::size_t end = blank ? offset_ + 1 : comment_end();
        if (end == offset_) return;
        move_to(end);
    }
}

void Cursor::skip_to_token() {
    skip_blanks();
    while (peek() == ',' || peek() == ':') {
        step();
        skip_blanks();
    }
}

std::size_t string_end(std::string_view text, std::size_t start) {
    for (std::size_t at = start + 1; at < text.size(); ++at) {
        if (text[at] == '\\') {
            ++at;
        } else if (text[at] == '"') {
            return at + 1;
        }
    }
    return text.size();
}

std::size_t number_end(std::string_view text, std::size_t start) {
    std::size_t at = start;
    if (at_or_nul(text, at) == '-') ++at;
    at = at_or_nul(text, at) == '0' ? at + 1 : digits_end(text, at);
    if (at_or_nul(text, at) == '.' && is_digit(at_or_nul(text, at + 1))) at = digits_end(text, at + 1);
    const char e = at_or_nul(text, at);
    if (e != 'e' && e != 'E') return at;
    const char sign = at_or_nul(text, at + 1);
    const std::size_t digits = at + (sign == '+' || sign == '-' ? 2 : 1);
    return is_digit(at_or_nul(text, digits)) ? digits_end(text, digits) : at;
}

}  // namespace fitup::parameters
