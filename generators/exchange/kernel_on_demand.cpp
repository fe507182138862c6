#include <dlfcn.h>

#include "base/error.hpp"
#include "exchange/kernel.hpp"
#include "exchange/load_kernel.hpp"

namespace fitup::exchange {

const Kernel& load_kernel(const char* library) {
    // Never closed: the kernel's own libraries keep threads and static data that don't survive it.
    void* handle = dlopen(library, RTLD_LAZY | RTLD_LOCAL);
    if (handle == nullptr)
        throw KernelError(std::string("the modelling kernel can't be loaded: ") + dlerror());
    void* symbol = dlsym(handle, kernel_entry);
    if (symbol == nullptr)
        throw KernelError(std::string("the modelling kernel can't be loaded: ") + dlerror());
    return *reinterpret_cast<KernelEntry*>(symbol)();
}

const Kernel& kernel() {
    static const Kernel& loaded = load_kernel("libfitup-kernel.so");
    return loaded;
}

}  // namespace fitup::exchange
