#pragma once

#include <cstddef>
#include <string_view>

namespace fitup::parameters {

/// A place that moves forward through a text and knows its line and column (both from 1, columns in
/// characters). A line ends at \n, \r\n or a lone \r, as editors count.
class Cursor {
  public:
    explicit Cursor(std::string_view text, std::size_t offset = 0) : text_(text), offset_(offset) {}

    std::size_t offset() const { return offset_; }
    int line() const { return line_; }
    int column() const { return column_; }
    bool at_end() const { return offset_ >= text_.size(); }
    /// The byte here, or NUL at the end (a text that reaches this class holds no NUL).
    char peek(std::size_t ahead = 0) const;
    std::string_view text() const { return text_; }

    void move_to(std::size_t offset);
    /// Blanks and whole comments; stops at a comment that never ends.
    void skip_blanks();
    /// Blanks, comments, commas and colons: to the start of the next key or value of a sound JSON text.
    void skip_to_token();

  private:
    void step();
    /// One past the comment that begins here, or here when none does.
    std::size_t comment_end() const;

    std::string_view text_;
    std::size_t offset_;
    int line_ = 1;
    int column_ = 1;
};

/// Ends (one past) of the token that begins at `start` of a sound JSON text.
std::size_t string_end(std::string_view text, std::size_t start);
std::size_t number_end(std::string_view text, std::size_t start);

}  // namespace fitup::parameters
