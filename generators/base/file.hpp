#pragma once

#include <filesystem>
#include <mutex>
#include <string>
#include <string_view>
#include <vector>

namespace fitup {

/// The whole content of a file, as bytes. @throws FileError when it can't be read (missing, a folder, no
/// permission).
std::string read_file(const std::filesystem::path& path);

/// Files that appear together or not at all.
///
/// Each `add` writes a hidden temporary file beside its goal, flushed to the disk; `publish` renames all of
/// them, and puts the old ones back if one rename fails. Without `publish` the destructor removes every
/// temporary file.
class FileSet {
  public:
    FileSet() = default;
    FileSet(const FileSet&) = delete;
    FileSet& operator=(const FileSet&) = delete;
    ~FileSet();

    /// Writes `bytes` beside `path` (its folder is made if missing) and returns the temporary file, which can
    /// be read back before publishing. @throws FileError (full disk, no permission, the goal is a folder);
    /// nothing is left. Several threads may add at once, each its own goals.
    std::filesystem::path add(const std::filesystem::path& path, std::string_view bytes);

    /// All files of another set, which is empty then.
    void take(FileSet& other);

    /// @throws FileError; then every goal is as it was before.
    void publish();

  private:
    struct Entry {
        std::filesystem::path temporary;
        std::filesystem::path goal;
    };
    std::mutex adding_;  ///< of `entries_`
    std::vector<Entry> entries_;
};

}  // namespace fitup
