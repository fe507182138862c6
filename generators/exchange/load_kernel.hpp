#pragma once

#include "exchange/kernel.hpp"

namespace fitup::exchange {

/// Name and type of the one function that the kernel's library is asked for by name.
inline constexpr const char* kernel_entry = "fitup_kernel";
using KernelEntry = const Kernel*();

/// @param library  a file name; without a folder it is looked for beside the library that asks.
/// @throws KernelError when it can't be loaded, or is something else.
const Kernel& load_kernel(const char* library);

}  // namespace fitup::exchange
