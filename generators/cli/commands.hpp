#pragma once

#include "cli/call.hpp"
#include "cli/console.hpp"
#include "parameters/fault.hpp"

/// One function a command; each returns the exit status.
namespace fitup::cli {

int make_command(const Call& call, Console& console);
int check_command(const Call& call, Console& console);
int calculate_command(const Call& call, Console& console);
int compare_command(const Call& call, Console& console);
int try_command(const Call& call, Console& console);
int inspect_command(const Call& call, Console& console);
int start_command(const Call& call, Console& console);
int explain_command(const Call& call, Console& console);
int lookup_command(const Call& call, Console& console);
int completion_command(const Call& call, Console& console);
int manual_command(const Call& call, Console& console);

/// Said after whatever someone may rely on.
inline constexpr const char* caution =
    "Before metal is cut: a check is no approval. Drive trains, lifting and controls can maim; local law, "
    "class rules and a licensed engineer decide.\n";

enum Status { done = 0, wrong = 2, stopped = 3, file_failed = 4, kernel_failed = 5 };

/// Tells of a wrong call (under --json as the object of the contract) and returns its status.
int wrong_call(Console& console, const std::string& message);
/// Tells of wrong files; the same.
int wrong_files(Console& console, const parameters::Faults& faults);

}  // namespace fitup::cli
