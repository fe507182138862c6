#pragma once

#include <cstddef>
#include <string>
#include <vector>

/// Tables and sentences for the screen.
namespace fitup {

using TableRow = std::vector<std::string>;

enum class Columns { left, right };

/// Columns as wide as their widest entry, two blanks apart; no blanks at a line's end. With `Columns::right`
/// every column but the first ends flush, for numbers.
std::string aligned(const std::vector<TableRow>& rows, Columns columns = Columns::left);

/// A table four blanks further in, as it stands under a heading.
std::string indented(const std::string& table);

/// Breaks a sentence at blanks so that lines stay under 100 characters; every line but the first starts with
/// `indent`.
std::string wrapped(const std::string& text, const std::string& indent);

}  // namespace fitup
