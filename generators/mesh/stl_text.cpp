#include "mesh/stl_text.hpp"

#include <algorithm>

#include "base/error.hpp"
#include "base/text.hpp"

namespace fitup::mesh {

namespace {

constexpr std::string_view white_space = " \t\r\n\v\f";
/// Longer words are not repeated whole in a message.
constexpr std::size_t longest_quoted = 40;

class Words {
  public:
    Words(std::string_view text, const std::string& name) : text_(text), name_(name) {}

    /// Empty at the end of the text.
    std::string_view next() {
        skip_white_space();
        const std::size_t end = std::min(text_.find_first_of(white_space, at_), text_.size());
        word_ = text_.substr(at_, end - at_);
        at_ = end;
        return word_;
    }

    void skip_line() {
        while (at_ < text_.size() && text_[at_] != '\n' && text_[at_] != '\r') ++at_;
    }

    void expect(std::string_view wanted) {
        if (lower_case(next()) != wanted) fail("\"" + std::string(wanted) + "\"");
    }

    double number() {
        std::string_view word = next();
        if (word.starts_with('+')) word.remove_prefix(1);
        const auto value = parse_number(word);
        if (!value) fail("a number");
        return *value;
    }

    [[noreturn]] void fail(const std::string& wanted) const {
        const std::string place = "line " + std::to_string(line_) + ": ";
        if (word_.empty()) throw FileError(name_, place + "the file ends where " + wanted + " was wanted");
        throw FileError(name_, place + "found \"" + printable(word_) + "\", wanted " + wanted);
    }

  private:
    static std::string printable(std::string_view word) {
        std::string text(word.substr(0, longest_quoted));
        for (char& c : text) {
            if (c < ' ' || c > '~') c = '?';
        }
        return text;
    }

    void skip_white_space() {
        for (; at_ < text_.size() && white_space.find(text_[at_]) != std::string_view::npos; ++at_) {
            if (text_[at_] == '\n') ++line_;
        }
    }

    std::string_view text_;
    const std::string& name_;
    std::string_view word_;
    std::size_t at_ = 0;
    std::size_t line_ = 1;
};

void read_facet(Words& words, Corners& corners) {
    words.expect("normal");
    for (int i = 0; i < 3; ++i) words.next();  // not believed, so not read: some writers put nan there
    words.expect("outer");
    words.expect("loop");
    for (int k = 0; k < 3; ++k) {
        words.expect("vertex");
        plan::Point3 corner{};
        for (double& coordinate : corner) coordinate = words.number();
        corners.push_back(corner);
    }
    words.expect("endloop");
    words.expect("endfacet");
}

void read_solid(Words& words, Corners& corners) {
    words.skip_line();
    for (;;) {
        const std::string word = lower_case(words.next());
        if (word == "endsolid") break;
        if (word != "facet") words.fail("\"facet\" or \"endsolid\"");
        read_facet(words, corners);
    }
    words.skip_line();
}

}  // namespace

bool looks_like_text_stl(std::string_view bytes) {
    const std::size_t start = bytes.find_first_not_of(white_space);
    if (start == std::string_view::npos) return false;
    const std::string beginning = lower_case(bytes.substr(start, 2000));
    return beginning.starts_with("solid") &&
           (beginning.find("facet") != std::string::npos || beginning.find("endsolid") != std::string::npos);
}

Corners text_corners(std::string_view bytes, const std::string& name) {
    Words words(bytes, name);
    Corners corners;
    for (std::string word = lower_case(words.next()); !word.empty(); word = lower_case(words.next())) {
        if (word != "solid") words.fail("\"solid\"");
        read_solid(words, corners);
    }
    return corners;
}

}  // namespace fitup::mesh
