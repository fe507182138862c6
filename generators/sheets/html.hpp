#pragma once

#include <string>
#include <string_view>

/// The little HTML that a page needs.
namespace fitup::sheets {

/// Text as it may stand between tags and in quoted attributes, whatever it holds. Control characters other
/// than tab and line end, which no page may hold, become U+FFFD.
std::string html_text(std::string_view text);

/// `name="value"` with a blank before it, the value as above.
std::string attribute(std::string_view name, std::string_view value);

/// `<name attributes>inner</name>`; `inner` and `attributes` are HTML already.
std::string element(std::string_view name, std::string_view inner, std::string_view attributes = "");

/// The same round a text.
std::string text_element(std::string_view name, std::string_view text, std::string_view attributes = "");

/// RFC 4648 with padding.
std::string base64(std::string_view bytes);

}  // namespace fitup::sheets
