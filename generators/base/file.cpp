#include "base/file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <system_error>

#include "base/error.hpp"

namespace fitup {

namespace fs = std::filesystem;

namespace {

[[noreturn]] void fail(const fs::path& path, int error) {
    throw FileError(path.string(), std::generic_category().message(error));
}

/// A file descriptor that closes itself.
class Descriptor {
  public:
    explicit Descriptor(int number) : number_(number) {}
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    ~Descriptor() {
        if (number_ >= 0) ::close(number_);
    }
    int number() const { return number_; }

  private:
    int number_;
};

int retry_open(const fs::path& path, int flags, mode_t mode = 0) {
    int number = -1;
    do {
        number = ::open(path.c_str(), flags | O_CLOEXEC, mode);
    } while (number < 0 && errno == EINTR);
    return number;
}

/// Zero, or the error's number.
int write_all(int descriptor, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return errno;
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return ::fsync(descriptor) == 0 ? 0 : errno;
}

void make_folder_of(const fs::path& path) {
    const fs::path folder = path.parent_path();
    if (folder.empty()) return;
    std::error_code error;
    fs::create_directories(folder, error);
    if (error) throw FileError(folder.string(), error.message());
}

fs::path hidden_beside(const fs::path& path, std::string_view ending) {
    const std::string name =
        "." + path.filename().string() + "." + std::to_string(::getpid()) + std::string(ending);
    return path.parent_path() / name;
}

}  // namespace

std::string read_file(const fs::path& path) {
    const Descriptor descriptor(retry_open(path, O_RDONLY));
    if (descriptor.number() < 0) fail(path, errno);
    struct stat status {};
    if (::fstat(descriptor.number(), &status) == 0 && S_ISDIR(status.st_mode)) fail(path, EISDIR);
    std::string bytes;
    // A size that is told and not there must not cost its memory.
    constexpr off_t most_reserved = off_t(64) << 20;
    bytes.reserve(std::size_t(std::clamp<off_t>(status.st_size, 0, most_reserved)));
    std::array<char, 65536> chunk{};
    for (;;) {
        const ssize_t got = ::read(descriptor.number(), chunk.data(), chunk.size());
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) fail(path, errno);
        if (got == 0) return bytes;
        bytes.append(chunk.data(), static_cast<std::size_t>(got));
    }
}

FileSet::~FileSet() {
    std::error_code ignored;
    for (const Entry& entry : entries_) fs::remove(entry.temporary, ignored);
}

fs::path FileSet::add(const fs::path& path, std::string_view bytes) {
    std::error_code error;
    if (fs::is_directory(path, error)) fail(path, EISDIR);
    make_folder_of(path);
    const fs::path temporary = hidden_beside(path, ".part");
    const Descriptor descriptor(retry_open(temporary, O_WRONLY | O_CREAT | O_TRUNC, 0666));
    if (descriptor.number() < 0) fail(path, errno);
    {
        const std::lock_guard lock(adding_);
        entries_.push_back({temporary, path});
    }
    if (const int failure = write_all(descriptor.number(), bytes); failure != 0) fail(path, failure);
    return temporary;
}

void FileSet::take(FileSet& other) {
    const std::scoped_lock lock(adding_, other.adding_);
    entries_.insert(entries_.end(), other.entries_.begin(), other.entries_.end());
    other.entries_.clear();
}

void FileSet::publish() {
    struct Done {
        fs::path goal;
        fs::path kept;  ///< the older file set aside; empty when there was none
    };
    std::vector<Done> done;
    const auto undo = [&done] {
        std::error_code ignored;
        for (const Done& step : done) {
            if (step.kept.empty())
                fs::remove(step.goal, ignored);
            else
                fs::rename(step.kept, step.goal, ignored);
        }
    };
    for (const Entry& entry : entries_) {
        std::error_code error;
        fs::path kept;
        if (fs::exists(entry.goal, error)) {
            kept = hidden_beside(entry.goal, ".old");
            fs::remove(kept, error);
            // A second name for the old file: the goal itself is never missing while it is replaced.
            fs::create_hard_link(entry.goal, kept, error);
            if (error) {
                error.clear();
                fs::copy_file(entry.goal, kept, error);
            }
        }
        if (!error) {
            done.push_back({entry.goal, kept});
            fs::rename(entry.temporary, entry.goal, error);
            if (error) done.pop_back();
        }
        if (error) {
            if (!kept.empty()) {
                std::error_code ignored;
                fs::remove(kept, ignored);
            }
            undo();
            throw FileError(entry.goal.string(), error.message());
        }
    }
    std::error_code ignored;
    for (const Done& step : done) {
        if (!step.kept.empty()) fs::remove(step.kept, ignored);
    }
    entries_.clear();
}

}  // namespace fitup
