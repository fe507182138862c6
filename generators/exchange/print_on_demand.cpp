#include "base/load_library.hpp"
#include "exchange/print_file.hpp"

namespace fitup::exchange {

const PrintFiles& print_files() {
    static const PrintFiles& loaded = *reinterpret_cast<PrintFilesEntry*>(
        entry_of("libfitup-print.so", print_files_entry, "the library for 3MF files"))();
    return loaded;
}

}  // namespace fitup::exchange
