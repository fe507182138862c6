#pragma once

#include <string>

#include "exchange/own_process.hpp"
#include "exchange/print_file.hpp"

namespace fitup::exchange {

/// A 3MF file that is being written in a process of its own while something else goes on.
class Printing {
  public:
    /// @param body  of which the other process has a copy
    /// To be begun while no other thread is at work. @throws KernelError
    Printing(const PrintBody& body, const std::string& title);

    /// Waits for the file's bytes, the same as PrintFiles::write gives. To be called once. @throws
    /// KernelError
    std::string finish();

  private:
    OwnProcess process_;
};

}  // namespace fitup::exchange
