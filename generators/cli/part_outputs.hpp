#pragma once

#include <filesystem>
#include <future>
#include <span>
#include <string_view>
#include <vector>

#include "base/file.hpp"
#include "cli/part_result.hpp"
#include "exchange/make.hpp"
#include "sheets/report_page.hpp"

/// What `make` can write, one row a word of --only.
namespace fitup::cli {

/// A part that is judged, on its way to its files.
struct Making {
    PartResult& result;  ///< takes the files
    exchange::Body& body;
    const std::filesystem::path& folder;
    FileSet& files;  ///< not yet published
    /// The report's triangles and pictures, begun beside the papers. `body` is its own until it is there.
    std::shared_future<sheets::ReportView> view = {};
    std::vector<sheets::ReportDrawing> drawn = {};  ///< the drawing's sheets, once they are
};

struct Output {
    std::string_view word;
    std::string_view what;  ///< in words, for the help; may be ""
    bool by_default = true;
    /// Writes its files and enters them in the result; null: made with the exchange files.
    /// @throws FileError, KernelError
    void (*add)(Making& making) = nullptr;
    /// Begun before the first output is made; null: nothing is.
    void (*begin)(Making& making) = nullptr;
};

/// In the order they are made in: the order text names every file before it.
std::span<const Output> part_outputs();

}  // namespace fitup::cli
