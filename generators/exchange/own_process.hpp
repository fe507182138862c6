#pragma once

#include <functional>
#include <string>

namespace fitup::exchange {

/// How work in a process of its own ended.
struct Ending {
    enum class How { done, fell_over, took_too_long } how = How::fell_over;
    std::string bytes;  ///< what the work returned, when done
};

/// Work in a copy of this process, silent and limited in time, that brings its bytes back: whatever happens
/// in there, this process goes on, and may do something else meanwhile.
class OwnProcess {
  public:
    /// @param work          must not throw, nor take a lock that another thread may hold.
    /// @param most_seconds  of processor time
    /// @throws KernelError when the system gives no process.
    /// Cost: 2 to 4 ms.
    OwnProcess(const std::function<std::string()>& work, unsigned most_seconds);
    /// One that nobody waited for is ended.
    ~OwnProcess();
    OwnProcess(const OwnProcess&) = delete;
    OwnProcess& operator=(const OwnProcess&) = delete;

    /// Waits for it. To be called once.
    Ending finish();

  private:
    int child_ = -1;
    int pipe_ = -1;
};

}  // namespace fitup::exchange
