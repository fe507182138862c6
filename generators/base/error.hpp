#pragma once

#include <stdexcept>
#include <string>

namespace fitup {

/// The world or we failed: thrown with what was being made. A wrong parameter file is a Fault (data), not an
/// Error.
class Error : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

/// A file could not be read or written (exit status 4). The message names the file and the reason.
class FileError : public Error {
  public:
    FileError(std::string file, const std::string& reason)
        : Error(file + ": " + reason), file_(std::move(file)) {}
    const std::string& file() const { return file_; }

  private:
    std::string file_;
};

/// The kernel could not build or verify a solid (exit status 5). The message says what was being made.
class KernelError : public Error {
  public:
    using Error::Error;
};

}  // namespace fitup
