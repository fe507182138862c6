#include <dlfcn.h>

#include <filesystem>
#include <system_error>

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

namespace {

/// The kernel's library lies beside this one (in a build), or in the folder `fitup` beside it (installed).
/// Named in full: under a sanitizer the loader asks on somebody else's behalf and does not look in our own
/// folders.
std::string kernel_library() {
    const char* name = "libfitup-kernel.so";
    Dl_info info{};
    if (dladdr(reinterpret_cast<void*>(&load_kernel), &info) == 0 || info.dli_fname == nullptr) return name;
    const std::filesystem::path folder = std::filesystem::path(info.dli_fname).parent_path();
    std::error_code ignored;
    for (const auto& path : {folder / name, folder / "fitup" / name}) {
        if (std::filesystem::exists(path, ignored)) return path.string();
    }
    return name;
}

}  // namespace

const Kernel& kernel() {
    static const Kernel& loaded = load_kernel(kernel_library().c_str());
    return loaded;
}

}  // namespace fitup::exchange
