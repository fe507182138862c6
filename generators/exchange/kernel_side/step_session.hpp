#pragma once

#include <Message_SequenceOfPrinters.hxx>
#include <mutex>

#include "exchange/kernel.hpp"

/// For exchange/kernel_side/ sources alone.
namespace fitup::exchange {

/// Sole use of the kernel's exchange code, which keeps its settings in global tables and prints to standard
/// output: while one of these lives no other thread is inside, and the kernel is silent.
class StepSession {
  public:
    StepSession();
    ~StepSession();
    StepSession(const StepSession&) = delete;
    StepSession& operator=(const StepSession&) = delete;

    /// @throws KernelError where the kernel doesn't know the setting.
    static void set(const char* key, const char* value);
    static void set(const char* key, int value);

  private:
    std::unique_lock<std::mutex> lock_;
    Message_SequenceOfPrinters printers_;
};

}  // namespace fitup::exchange
