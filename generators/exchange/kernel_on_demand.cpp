#include "base/load_library.hpp"
#include "exchange/kernel.hpp"
#include "exchange/load_kernel.hpp"

namespace fitup::exchange {

const Kernel& load_kernel(const char* library) {
    void* entry = entry_of(library, kernel_entry, "the modelling kernel");
    return *reinterpret_cast<KernelEntry*>(entry)();
}

const Kernel& kernel() {
    static const Kernel& loaded = load_kernel("libfitup-kernel.so");
    return loaded;
}

}  // namespace fitup::exchange
