// For a fuzzing engine (libFuzzer's entry point): any bytes end in a value or in faults. Not part of the
// usual build:
//   clang++ -std=c++20 -g -O1 -fsanitize=fuzzer,address,undefined -Igenerators tests/parameters/read_fuzz.cpp
//   \
//     generators/parameters/*.cpp generators/base/*.cpp build/generators/schemas.cpp -o read_fuzz
//   ./read_fuzz -max_len=4096 corpus tests/parameters/wrong
// A file that it breaks goes into tests/parameters/wrong.
#include <cstddef>
#include <cstdint>
#include <cstdlib>

#include "parameters/schema.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace fitup::parameters;
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    const Document document = read_json(bytes, "fuzz.json");
    const Faults faults = check(document, "adapter_plate");
    if (!document.root && faults.empty()) std::abort();
    const bool told_by_us = bytes.find("exception") == std::string_view::npos;
    for (const Fault& fault : faults) {
        if (told_by_us && to_text(fault).find("exception") != std::string::npos) std::abort();
    }
    return 0;
}
