#include "cli/console.hpp"

#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <condition_variable>
#include <cstdio>
#include <cstdlib>
#include <mutex>
#include <system_error>
#include <thread>

#include "base/error.hpp"

namespace fitup::cli {

namespace {

void print(std::FILE* stream, std::string_view text) { std::fwrite(text.data(), 1, text.size(), stream); }

bool wants_colour() {
    const char* no_colour = std::getenv("NO_COLOR");
    return ::isatty(STDOUT_FILENO) == 1 && (no_colour == nullptr || *no_colour == '\0');
}

}  // namespace

Console::Console(bool json, bool quiet) : json_(json), quiet_(quiet), coloured_(!json && wants_colour()) {}

void Console::say(std::string_view text) {
    if (!json_ && !quiet_) print(stdout, text);
}
void Console::result(std::string_view text) { print(stdout, text); }
void Console::tell(std::string_view text) {
    if (!quiet_) print(stderr, text);
}
void Console::complain(std::string_view text) { print(stderr, text); }

std::string Console::severity(plan::Severity severity) const {
    const std::string word = plan::to_text(severity);
    if (!coloured_) return word;
    const char* code = severity == plan::Severity::stop   ? "31;1"
                       : severity == plan::Severity::warn ? "33"
                                                          : "2";
    return "\x1b[" + std::string(code) + "m" + word + "\x1b[0m";
}

void Console::finish() {
    errno = 0;
    if (std::fflush(stdout) != 0 || std::ferror(stdout) != 0)
        throw FileError("standard output", std::generic_category().message(errno != 0 ? errno : EIO));
}

struct StageLine::State {
    std::mutex mutex;
    std::condition_variable changed;
    std::string stage;
    bool shown = false;
    bool ended = false;
    std::chrono::steady_clock::time_point start = std::chrono::steady_clock::now();
    std::thread watcher;

    void show() {
        std::fprintf(stderr, "\r\x1b[K%s ...", stage.c_str());
        shown = true;
    }

    void watch() {
        std::unique_lock lock(mutex);
        if (changed.wait_for(lock, std::chrono::seconds(1), [this] { return ended; })) return;
        show();
    }
};

StageLine::StageLine(bool wanted) {
    if (!wanted || ::isatty(STDERR_FILENO) != 1) return;
    state_ = std::make_unique<State>();
    state_->watcher = std::thread([state = state_.get()] { state->watch(); });
}

StageLine::~StageLine() {
    if (!state_) return;
    {
        const std::lock_guard lock(state_->mutex);
        state_->ended = true;
    }
    state_->changed.notify_all();
    state_->watcher.join();
    if (state_->shown) std::fputs("\r\x1b[K", stderr);
}

void StageLine::enter(std::string_view stage) {
    if (!state_) return;
    const std::lock_guard lock(state_->mutex);
    state_->stage = stage;
    if (std::chrono::steady_clock::now() - state_->start > std::chrono::seconds(1)) state_->show();
}

}  // namespace fitup::cli
