#include <algorithm>
#include <charconv>
#include <string>
#include <vector>

#include "base/error.hpp"
#include "exchange/kernel_side/step_measure.hpp"

namespace fitup::exchange {
namespace {

/// Deeper lists than any real file's would only serve to exhaust the kernel's stack.
constexpr int most_nested = 100;
/// The kernel keeps instance numbers in an int.
constexpr std::size_t most_digits = 9;

/// Goes through a Part 21 text, noting which instances there are and which are named.
class Scan {
  public:
    Scan(std::string_view text, const std::string& name) : text_(text), name_(name) {}

    void run() {
        while (at_ < text_.size()) step();
        if (depth_ != 0) fail("a list is not closed");
        check_references();
    }

  private:
    [[noreturn]] void fail(const std::string& reason) const {
        const auto line =
            1 + std::count(text_.begin(),
                           text_.begin() + static_cast<std::ptrdiff_t>(std::min(at_, text_.size())), '\n');
        throw FileError(name_, "line " + std::to_string(line) + ": " + reason);
    }

    void step() {
        const char c = text_[at_];
        if (c == '\'') return skip_string();
        if (c == '/' && text_.substr(at_, 2) == "/*") return skip_comment();
        if (c == '#') return instance();
        if (c == '\0') fail("a byte of value zero: this is no text");
        if (c == '(' && ++depth_ > most_nested)
            fail("lists are nested deeper than " + std::to_string(most_nested));
        if (c == ')' && --depth_ < 0) fail("a list is closed that was not opened");
        if (c == ';' && depth_ != 0) fail("a list is not closed");
        ++at_;
    }

    void skip_string() {
        const auto end = text_.find('\'', at_ + 1);
        if (end == std::string_view::npos) fail("a text in quotes has no end: the file is cut short");
        at_ = end + 1;
    }

    void skip_comment() {
        const auto end = text_.find("*/", at_ + 2);
        if (end == std::string_view::npos) fail("a comment has no end: the file is cut short");
        at_ = end + 2;
    }

    void instance() {
        std::size_t end = at_ + 1;
        while (end < text_.size() && text_[end] >= '0' && text_[end] <= '9') ++end;
        int number = 0;
        const auto read = std::from_chars(text_.data() + at_ + 1, text_.data() + end, number);
        if (end - at_ - 1 > most_digits || read.ec != std::errc{} || number == 0)
            fail("# without a sound instance number");
        at_ = end;
        const auto next = text_.find_first_not_of(" \t\r\n", end);
        const bool defines = depth_ == 0 && next != std::string_view::npos && text_[next] == '=';
        (defines ? defined_ : named_).push_back(number);
    }

    void check_references() {
        std::sort(defined_.begin(), defined_.end());
        const auto twice = std::adjacent_find(defined_.begin(), defined_.end());
        if (twice != defined_.end()) throw FileError(name_, "#" + std::to_string(*twice) + " is there twice");
        for (const int number : named_) {
            if (!std::binary_search(defined_.begin(), defined_.end(), number)) {
                throw FileError(
                    name_, "#" + std::to_string(number) + " is named and not there: the file is damaged");
            }
        }
    }

    std::string_view text_;
    const std::string& name_;
    std::size_t at_ = 0;
    int depth_ = 0;
    std::vector<int> defined_;
    std::vector<int> named_;
};

std::string_view without_blanks_around(std::string_view text) {
    constexpr std::string_view blanks = " \t\r\n\f\v\x1a";
    constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
    if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());
    const auto start = text.find_first_not_of(blanks);
    if (start == std::string_view::npos) return {};
    return text.substr(start, text.find_last_not_of(blanks) - start + 1);
}

}  // namespace

void check_part21(std::string_view text, const std::string& name) {
    const std::string_view body = without_blanks_around(text);
    if (body.empty()) throw FileError(name, "the file is empty");
    if (!body.starts_with("ISO-10303-21;"))
        throw FileError(name, "this is no STEP file: it does not start with ISO-10303-21;");
    if (!body.ends_with("END-ISO-10303-21;"))
        throw FileError(name, "the STEP file is cut short: END-ISO-10303-21; is missing");
    for (const char* section : {"HEADER;", "FILE_SCHEMA", "DATA", "ENDSEC;"}) {
        if (body.find(section) == std::string_view::npos) {
            throw FileError(name, std::string("the STEP file has no ") + section);
        }
    }
    Scan(body, name).run();
}

}  // namespace fitup::exchange
