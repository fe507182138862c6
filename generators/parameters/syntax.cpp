#include "parameters/syntax.hpp"

#include <algorithm>

#include "parameters/node.hpp"

namespace fitup::parameters {

namespace {

enum class Next { value, value_or_close, key, key_or_close, colon, comma_or_close, nothing };

const std::string a_value = "a value";
const std::string a_key = "a key in double quotes";
const std::string a_number = "a number such as 12, -0.5 or 1e3";
const std::string a_text = "a text in straight double quotes";

Next next_after(const Progress& progress) {
    switch (progress.last) {
        case Progress::Last::nothing:
            return Next::value;
        case Progress::Last::opening:
            return progress.open == '{' ? Next::key_or_close : Next::value_or_close;
        case Progress::Last::key:
            return Next::colon;
        case Progress::Last::value:
            return progress.open == '\0' ? Next::nothing : Next::comma_or_close;
    }
    return Next::value;
}

bool is_word(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
           c == '.' || c == '+' || c == '-';
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// The word or text here, or the single character.
std::string token_at(const Cursor& at) {
    const std::string_view rest = at.text().substr(at.offset());
    if (rest.starts_with('"')) return in_quotes(rest.substr(1, string_end(rest, 0) - 2));
    std::size_t length = 0;
    while (length < rest.size() && is_word(rest[length])) ++length;
    if (length == 0) {
        length = 1;
        while (length < rest.size() && (static_cast<unsigned char>(rest[length]) & 0xC0U) == 0x80U) ++length;
    }
    const std::string text = in_quotes(rest.substr(0, length));
    return text.substr(1, text.size() - 2);
}

class Diagnosis {
  public:
    Diagnosis(const Progress& progress, const std::string& file)
        : progress_(progress), file_(file), at_(progress.end), next_(next_after(progress)) {}

    Fault fault() {
        if (runs_on()) return number_that_runs_on();
        at_.skip_blanks();
        pass_comma_or_colon();
        if (at_.at_end()) return at_end();
        if (at_.peek() == '/') return comment();
        if (comma_ && closes())
            return wrong("a comma before " + token_at(at_), wanted(), "take the comma away");
        if (at_.peek() == '"' && wants_text()) return text();
        if (wants_value()) return value();
        return wrong(token_at(at_), wanted());
    }

  private:
    Fault wrong(const std::string& found, const std::string& wanted, const std::string& advice = {}) const {
        return fault_of({.file = file_, .line = at_.line(), .column = at_.column()}, found, wanted, advice);
    }

    bool wants_value() const { return next_ == Next::value || next_ == Next::value_or_close; }
    bool wants_text() const { return wants_value() || next_ == Next::key || next_ == Next::key_or_close; }
    bool closes() const { return at_.peek() == '}' || at_.peek() == ']'; }

    std::string closing() const { return progress_.open == '{' ? "}" : "]"; }

    std::string wanted() const {
        switch (next_) {
            case Next::value:
                return a_value;
            case Next::value_or_close:
                return a_value + " or ]";
            case Next::key:
                return a_key;
            case Next::key_or_close:
                return a_key + " or }";
            case Next::colon:
                return "a colon after the key";
            case Next::comma_or_close:
                return "a comma or " + closing();
            case Next::nothing:
                return "nothing after the end of the JSON text";
        }
        return {};
    }

    /// A comma or colon that has its place leads to what must follow it.
    void pass_comma_or_colon() {
        const bool colon = next_ == Next::colon && at_.peek() == ':';
        comma_ = next_ == Next::comma_or_close && at_.peek() == ',';
        if (!colon && !comma_) return;
        next_ = comma_ && progress_.open == '{' ? Next::key : Next::value;
        at_.move_to(at_.offset() + 1);
        at_.skip_blanks();
    }

    /// A number was read, and letters, digits or a fraction follow it without a gap: 40mm, 012, 3/8.
    bool runs_on() const {
        if (progress_.last != Progress::Last::value || at_.offset() == 0) return false;
        const char c = at_.peek();
        const bool fraction = c == '/' && is_digit(at_.peek(1));
        return is_digit(at_.text()[at_.offset() - 1]) && (is_word(c) || fraction);
    }

    Fault number_that_runs_on() {
        const std::string tail = token_at(at_);
        at_ = progress_.begin;
        const std::size_t length = progress_.end.offset() - at_.offset();
        std::string found(at_.text().substr(at_.offset(), length));
        found += tail;
        if (tail == "/") {
            Cursor denominator = progress_.end;
            denominator.move_to(denominator.offset() + 1);
            found += token_at(denominator);
        }
        return wrong(found, a_number,
                     "a length with a unit or a fraction stands in double quotes (\"3/8 in\")");
    }

    Fault at_end() const {
        const std::string found = "the end of the file";
        if (progress_.open == '\0')
            return wrong(found, progress_.last == Progress::Last::nothing ? "a JSON object" : a_value);
        return wrong(found, closing(),
                     std::string("the ") + progress_.open + " at " + std::to_string(progress_.open_line) +
                         ":" + std::to_string(progress_.open_column) + " is never closed");
    }

    Fault comment() const {
        if (at_.peek(1) == '*') return wrong("/*", "*/ at the end of the comment");
        return wrong("/", wanted(), "a comment begins with // or /*");
    }

    /// A text that was begun and is no text: broken off, a control character, an unknown escape.
    Fault text() {
        at_.move_to(at_.offset() + 1);
        while (!at_.at_end() && at_.peek() != '"') {
            const char c = at_.peek();
            if (c == '\n' || c == '\r')
                return wrong("the end of the line", "a double quote at the end of the text");
            if (static_cast<unsigned char>(c) < 0x20)
                return wrong("a control character", "\\t, \\n or \\u with four digits");
            if (c == '\\' && !passes_escape()) return wrong_escape();
            if (c != '\\') at_.move_to(at_.offset() + 1);
        }
        return wrong("the end of the file", "a double quote at the end of the text");
    }

    bool passes_escape() {
        constexpr std::string_view plain = "\"\\/bfnrt";
        const char c = at_.peek(1);
        if (c != '\0' && plain.find(c) != std::string_view::npos) {
            at_.move_to(at_.offset() + 2);
            return true;
        }
        const std::string_view digits = at_.text().substr(std::min(at_.offset() + 2, at_.text().size()), 4);
        const bool hexadecimal = digits.size() == 4 &&
                                 digits.find_first_not_of("0123456789abcdefABCDEF") == std::string_view::npos;
        if (c != 'u' || !hexadecimal || !passes_surrogates(digits)) return false;
        at_.move_to(at_.offset() + 6);
        return true;
    }

    /// Half of a pair (U+D800 to U+DFFF) is sound only as a high half with a low half behind it.
    bool passes_surrogates(std::string_view digits) {
        if (digits[0] != 'd' && digits[0] != 'D') return true;
        if (digits[1] < '8') return true;
        const std::string_view low = at_.text().substr(std::min(at_.offset() + 6, at_.text().size()), 6);
        const bool is_high = digits[1] == '8' || digits[1] == '9' || digits[1] == 'a' || digits[1] == 'A' ||
                             digits[1] == 'b' || digits[1] == 'B';
        const bool has_low = low.size() == 6 && (low.starts_with("\\ud") || low.starts_with("\\uD")) &&
                             std::string_view("cdefCDEF").find(low[3]) != std::string_view::npos;
        if (is_high && has_low) at_.move_to(at_.offset() + 6);
        return is_high && has_low;
    }

    Fault wrong_escape() const {
        Cursor behind = at_;
        behind.move_to(at_.offset() + 1);
        const std::string found = behind.at_end() ? "\\" : "\\" + token_at(behind);
        return wrong(found,
                     "one of \\\" \\\\ \\/ \\b \\f \\n \\r \\t, or \\u with the four digits of a character");
    }

    Fault value() const {
        const std::string found = token_at(at_);
        const char c = at_.peek();
        if (is_digit(c) || c == '-' || c == '+' || c == '.') return wrong(found, a_number);
        if (c == '\'' || found == "\u201C" || found == "\u201D" || found == "\u201E")
            return wrong(found, a_text);
        if (is_word(c)) return wrong(found, wanted(), "a text stands in double quotes");
        return wrong(found, wanted());
    }

    const Progress& progress_;
    const std::string& file_;
    Cursor at_;
    Next next_;
    bool comma_ = false;
};

}  // namespace

Fault syntax_fault(const Progress& progress, const std::string& file) {
    return Diagnosis(progress, file).fault();
}

}  // namespace fitup::parameters
