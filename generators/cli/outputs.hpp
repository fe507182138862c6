#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/file.hpp"
#include "exchange/make.hpp"
#include "parameters/fault.hpp"

/// What commands write, and how they tell of what is wrong with the wish.
namespace fitup::cli {

/// The words of --only, and what is wrong with one that is not `known`.
std::vector<std::string> split_at_commas(const std::string& text);
std::optional<std::string> unknown_output(const std::vector<std::string>& words,
                                          const std::vector<std::string>& known);

/// Complaints as one message, a line each.
std::string lines_of(const std::vector<std::string>& complaints);

/// A second file of the call whose outputs would overwrite the first's.
parameters::Fault same_outputs(const std::string& first_file, const std::string& second_file,
                               const std::string& stem);

/// Writes a file beside its goal and reads it back. @throws FileError
exchange::MadeFile add_output(const std::string& kind, const std::filesystem::path& path,
                              const std::string& bytes, FileSet& files);

}  // namespace fitup::cli
