#include "exchange/own_process.hpp"

#include <fcntl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <csignal>
#include <cstring>
#include <utility>

#include "base/error.hpp"

namespace fitup::exchange {
namespace {

/// After all bytes, so that a process that died on the way is not taken for one that had little to say.
constexpr char all_said = '!';

void be_silent() {
    const int nowhere = ::open("/dev/null", O_RDWR);
    for (int stream = 0; stream <= 2; ++stream) ::dup2(nowhere, stream);
}

void be_limited(unsigned most_seconds) {
    const rlimit no_core{0, 0};
    ::setrlimit(RLIMIT_CORE, &no_core);
    const rlimit seconds{most_seconds, most_seconds + 1};
    ::setrlimit(RLIMIT_CPU, &seconds);
    for (const int signal : {SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT, SIGXCPU, SIGPIPE})
        ::signal(signal, SIG_DFL);
}

bool write_all(int pipe, const std::string& bytes) {
    std::size_t written = 0;
    while (written < bytes.size()) {
        const ssize_t count = ::write(pipe, bytes.data() + written, bytes.size() - written);
        if (count < 0 && errno == EINTR) continue;
        if (count <= 0) return false;
        written += static_cast<std::size_t>(count);
    }
    return true;
}

std::string read_all(int pipe) {
    std::string bytes;
    std::array<char, 65536> part{};
    for (;;) {
        const ssize_t count = ::read(pipe, part.data(), part.size());
        if (count < 0 && errno == EINTR) continue;
        if (count <= 0) return bytes;
        bytes.append(part.data(), static_cast<std::size_t>(count));
    }
}

[[noreturn]] void be_the_child(int pipe, const std::function<std::string()>& work, unsigned most_seconds) {
    be_silent();
    be_limited(most_seconds);
    write_all(pipe, work() + all_said);
    // Without the destructors and exit handlers of the process that this is a copy of.
    ::_exit(0);
}

int status_of(pid_t child) {
    int status = 0;
    while (::waitpid(child, &status, 0) < 0 && errno == EINTR) {
    }
    return status;
}

}  // namespace

OwnProcess::OwnProcess(const std::function<std::string()>& work, unsigned most_seconds) {
    std::array<int, 2> pipe{};
    if (::pipe2(pipe.data(), O_CLOEXEC) != 0) {
        throw KernelError(std::string("no pipe for a process of its own: ") + std::strerror(errno));
    }
    child_ = ::fork();
    if (child_ == 0) {
        ::close(pipe[0]);
        be_the_child(pipe[1], work, most_seconds);
    }
    const int why = errno;
    ::close(pipe[1]);
    pipe_ = pipe[0];
    if (child_ > 0) return;
    ::close(pipe_);
    throw KernelError(std::string("no process to read the file in: ") + std::strerror(why));
}

OwnProcess::~OwnProcess() {
    if (child_ <= 0) return;
    ::close(pipe_);
    ::kill(child_, SIGKILL);
    status_of(child_);
}

Ending OwnProcess::finish() {
    Ending ending;
    ending.bytes = read_all(pipe_);
    ::close(pipe_);
    const int status = status_of(std::exchange(child_, -1));
    if (!ending.bytes.empty() && ending.bytes.back() == all_said) {
        ending.bytes.pop_back();
        ending.how = Ending::How::done;
    } else if (WIFSIGNALED(status) && (WTERMSIG(status) == SIGXCPU || WTERMSIG(status) == SIGKILL)) {
        ending.how = Ending::How::took_too_long;
    }
    return ending;
}

}  // namespace fitup::exchange
