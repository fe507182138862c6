#pragma once

#include <functional>
#include <string>

namespace fitup::exchange {

/// How work in a process of its own ended.
struct Ending {
    enum class How { done, fell_over, took_too_long } how = How::fell_over;
    std::string bytes;  ///< what the work returned, when done
};

/// Runs `work` in a copy of this process, silent and limited in time, and brings its bytes back: whatever
/// happens in there, this process goes on. `work` must not throw, nor take a lock that another thread may
/// hold.
/// @param most_seconds  of processor time
/// @throws KernelError when the system gives no process.
/// Cost: 2 to 4 ms.
Ending in_own_process(const std::function<std::string()>& work, unsigned most_seconds);

}  // namespace fitup::exchange
