#pragma once

#include <filesystem>
#include <functional>
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

using MadeFiles = std::vector<exchange::MadeFile>;

/// A part that is judged, on its way to its files.
struct Making {
    PartResult& result;  ///< takes the files
    exchange::Body& body;
    const std::filesystem::path& folder;
    FileSet& files;  ///< not yet published
    /// The report's triangles and pictures, begun beside the papers. `body` is its own until it is there.
    std::shared_future<sheets::ReportView> view = {};
    /// The drawing's sheets, made by whoever asks first.
    std::shared_future<std::vector<sheets::Drawing>> drawings = {};
    /// The drawing's sheets as pictures, of which both the drawing and the report are made.
    std::shared_future<std::vector<sheets::ReportDrawing>> drawn = {};
    /// Of each output, where it is made beside the others. Destroyed, each waits for its thread.
    std::vector<std::future<MadeFiles>> beside = {};
};

struct Output {
    std::string_view word;
    std::string_view what = {};  ///< in words, for the help; may be ""
    bool by_default = true;
    /// Begun before the first output is made; null: nothing is.
    void (*begin)(Making& making) = nullptr;
    /// Its files, made in a thread of its own beside other outputs'; null: not so.
    /// @throws FileError, KernelError
    MadeFiles (*make)(const Making& making) = nullptr;
    /// Adds its files to the result after those of the outputs before it, which it may tell of; null: not so,
    /// and without `make` either it is made with the exchange files. @throws FileError, KernelError
    void (*add)(Making& making) = nullptr;
};

/// In the order they are made in: the order text names every file before it.
std::span<const Output> part_outputs();

/// Begins what can be made beside other things. Until it is finished nothing may make processes, or touch the
/// body or the result but for its files.
void begin_outputs(Making& making, std::span<const Output* const> wanted);

/// Makes the rest of them in their order, and enters all in the result.
/// @param wanted  as they were begun
void finish_outputs(Making& making, std::span<const Output* const> wanted,
                    const std::function<void(std::string_view word)>& entering);

}  // namespace fitup::cli
