#include "exchange/printing.hpp"

#include "base/error.hpp"

namespace fitup::exchange {

namespace {

constexpr char done = 'd', failed = 'f';
/// Millions of triangles take seconds; this ends only what has gone astray.
constexpr unsigned most_seconds = 3600;

/// The file, or why there is none; nothing is thrown.
std::string written_bytes(const PrintFiles& library, const PrintBody& body, const std::string& title) {
    try {
        return done + library.write({&body, 1}, title);
    } catch (const Error& error) {
        return failed + std::string(error.what());
    } catch (...) {
        return failed + std::string("the 3MF file can't be written");
    }
}

}  // namespace

// The library is loaded before the process is forked: it reads the file back here, too.
Printing::Printing(const PrintBody& body, const std::string& title)
    : process_([&library = print_files(), &body, &title] { return written_bytes(library, body, title); },
               most_seconds) {}

std::string Printing::finish() {
    Ending ending = process_.finish();
    if (ending.how != Ending::How::done || ending.bytes.empty())
        throw KernelError("writing the 3MF file ended before it was done");
    if (ending.bytes.front() == failed) throw KernelError(ending.bytes.substr(1));
    return ending.bytes.substr(1);
}

}  // namespace fitup::exchange
