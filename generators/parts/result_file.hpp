#pragma once

#include <string_view>

#include "parts/reading.hpp"

namespace fitup::parts {

/// The result object that `calculate` wrote to the file named by `field`, alone or in the list of a call's
/// results. Nothing where it can't be read or is another calculation's (then a fault at `field`).
std::optional<parameters::Node> read_result(Reader& reader, const Field& field, std::string_view calculation);

/// A member's number; nothing where it has none.
std::optional<double> number_in(const parameters::Node& object, std::string_view key);
/// A member's text; "" where it has none.
std::string text_in(const parameters::Node& object, std::string_view key);

}  // namespace fitup::parts
