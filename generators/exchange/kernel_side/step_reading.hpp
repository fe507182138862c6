#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>

#include "exchange/kernel_side/step_read.hpp"
#include "exchange/own_process.hpp"

namespace fitup::exchange {

/// A STEP text that is being read in a process of its own, so that a damaged one can't bring this one down.
class StepReading {
  public:
    /// @param work  what is wanted of the content, as bytes; runs in the other process
    /// @throws FileError(name, ..) when the text is no STEP file
    StepReading(std::string_view text, const std::string& name, StepUse use,
                const std::function<std::string(const StepContent&)>& work);

    /// Waits for what `work` returned. To be called once.
    /// @throws FileError(name, ..) when the file is damaged or holds no shape
    std::string finish();

  private:
    std::string name_;
    std::optional<OwnProcess> process_;
};

}  // namespace fitup::exchange
