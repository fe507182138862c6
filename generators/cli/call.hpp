#pragma once

#include <string>
#include <variant>
#include <vector>

#include "base/angle.hpp"

/// The command line as plain data; no library's types.
namespace fitup::cli {

/// What was asked for, still as texts: each command reads and judges its own.
struct Call {
    std::string command;
    std::vector<std::string> words;  ///< files, or kind and key, or table and name
    std::string folder = "out";
    std::string only;
    std::string chord = "0.01 mm";
    std::string angle = "10";
    std::string step_schema = "AP214";
    std::string step_unit = "mm";
    std::string against;
    std::string within = "0.005 mm";
    std::vector<std::string> vary;  ///< KEY=FROM:TO:STEP
    bool keep = false;
    bool json = false;
    bool quiet = false;
    bool despite_rules = false;
};

/// The call can't be carried out, or was a request for help: print and end with `status`.
struct Answer {
    int status = 0;
    std::string text;
    bool json = false;  ///< the caller asked for --json: a wrong call is an object there
};

std::variant<Call, Answer> read_command_line(int count, const char* const* words);

/// What completions and the manual are made from.
struct OptionHelp {
    std::string name;   ///< "--to"
    std::string value;  ///< "DIR"; empty for a switch
    std::string meaning;
    std::vector<std::string> choices;
};
struct CommandHelp {
    std::string name;
    std::string arguments;  ///< "FILE..."
    std::string meaning;
    std::vector<OptionHelp> options;
    std::vector<std::string> choices;  ///< of the first word
};
std::vector<CommandHelp> all_commands();

/// Kinds of part, then of calculation.
std::vector<std::string> all_kind_names();

/// Completion script for "bash", "zsh" or "fish"; empty for another shell.
std::string completion_script(const std::string& shell);

/// Manual page, roff.
std::string manual_page();

}  // namespace fitup::cli
