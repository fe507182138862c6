#include "base/load_library.hpp"

#include <dlfcn.h>

#include <filesystem>
#include <string>
#include <system_error>

#include "base/error.hpp"

namespace fitup {

namespace {

/// Named in full: under a sanitizer the loader asks on somebody else's behalf and does not look in our own
/// folders.
std::string place_of(const char* library) {
    Dl_info info{};
    const bool has_folder = std::string_view(library).find('/') != std::string_view::npos;
    if (has_folder || dladdr(reinterpret_cast<void*>(&entry_of), &info) == 0 || info.dli_fname == nullptr)
        return library;
    const std::filesystem::path folder = std::filesystem::path(info.dli_fname).parent_path();
    std::error_code ignored;
    for (const auto& path : {folder / library, folder / "fitup" / library}) {
        if (std::filesystem::exists(path, ignored)) return path.string();
    }
    return library;
}

}  // namespace

void* entry_of(const char* library, const char* function, const char* what) {
    void* handle = dlopen(place_of(library).c_str(), RTLD_LAZY | RTLD_LOCAL);
    void* symbol = handle != nullptr ? dlsym(handle, function) : nullptr;
    if (symbol == nullptr) throw KernelError(std::string(what) + " can't be loaded: " + dlerror());
    return symbol;
}

}  // namespace fitup
