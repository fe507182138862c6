#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "plan/finding.hpp"

namespace fitup::cli {

/// Where a command's words go: results to standard output, messages to standard error.
class Console {
  public:
    Console(bool json, bool quiet);

    /// Part of the result for people; held back under --json and --quiet.
    void say(std::string_view text);
    /// The result object under --json, or a table that was asked for: printed whatever --quiet says.
    void result(std::string_view text);
    /// A message; held back under --quiet.
    void tell(std::string_view text);
    /// An error, printed always.
    void complain(std::string_view text);

    /// The word for a severity, coloured on a terminal (never with NO_COLOR).
    std::string severity(plan::Severity severity) const;
    bool json() const { return json_; }

    /// Ends the output. @throws FileError when standard output could not take it (full disk, closed pipe).
    void finish();

  private:
    bool json_;
    bool quiet_;
    bool coloured_;
};

/// Shows the running stage on a terminal's standard error once work has taken over a second.
class StageLine {
  public:
    explicit StageLine(bool wanted);
    ~StageLine();
    StageLine(const StageLine&) = delete;
    StageLine& operator=(const StageLine&) = delete;
    void enter(std::string_view stage);

  private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace fitup::cli
