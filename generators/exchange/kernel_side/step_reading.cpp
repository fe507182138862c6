#include "exchange/kernel_side/step_reading.hpp"

#include <algorithm>

#include "base/error.hpp"
#include "exchange/kernel_side/step_measure.hpp"
#include "exchange/kernel_side/step_session.hpp"
#include "solid/kernel_call.hpp"

namespace fitup::exchange {
namespace {

constexpr char done = 'd';
constexpr char refused = 'r';

/// What the work brings, or why there is nothing; nothing is thrown.
std::string guarded_bytes(std::string_view text, const std::string& name, StepUse use,
                          const std::function<std::string(const StepContent&)>& work) {
    try {
        return solid::kernel_call("reading the STEP file",
                                  [&] { return done + work(read_step(text, name, use)); });
    } catch (const FileError& error) {
        return refused + std::string(error.what()).substr(name.size() + 2);
    } catch (const Error& error) {
        return std::string(1, refused) + "it can't be measured: " + error.what();
    } catch (...) {
        return std::string(1, refused) + "it can't be measured";
    }
}

/// Far beyond what a sound file takes (a plate of 600 holes, 1.5 MB: half a second), within what a person
/// waits.
unsigned most_seconds(std::size_t bytes) {
    constexpr std::size_t bytes_a_second = 65536;
    return 20 + static_cast<unsigned>(std::min<std::size_t>(bytes / bytes_a_second, 3600));
}

}  // namespace

StepReading::StepReading(std::string_view text, const std::string& name, StepUse use,
                         const std::function<std::string(const StepContent&)>& work)
    : name_(name) {
    check_part21(text, name);
    // Held while the process is copied, so that no other thread is half-way through the kernel's tables then.
    const StepSession session;
    process_.emplace([&] { return guarded_bytes(text, name, use, work); }, most_seconds(text.size()));
}

std::string StepReading::finish() {
    Ending ending = process_->finish();
    if (ending.how == Ending::How::took_too_long)
        throw FileError(name_,
                        "reading it takes longer than a sound file of its size should; it is damaged, or "
                        "too intricate: leave out of it what isn't needed");
    if (ending.how == Ending::How::fell_over || ending.bytes.empty())
        throw FileError(name_, "it is damaged, or holds what can't be read");
    if (ending.bytes.front() == refused) throw FileError(name_, ending.bytes.substr(1));
    return ending.bytes.substr(1);
}

}  // namespace fitup::exchange
