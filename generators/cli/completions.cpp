#include <sstream>

#include "cli/call.hpp"

namespace fitup::cli {

namespace {

std::string joined(const std::vector<std::string>& words) {
    std::string text;
    for (const std::string& word : words) text += (text.empty() ? "" : " ") + word;
    return text;
}

std::string option_names(const CommandHelp& command) {
    std::string text;
    for (const OptionHelp& option : command.options) text += (text.empty() ? "" : " ") + option.name;
    return text;
}

std::string names(const std::vector<CommandHelp>& commands) {
    std::string text;
    for (const CommandHelp& command : commands) text += (text.empty() ? "" : " ") + command.name;
    return text;
}

/// Text inside single quotes of a shell.
std::string quoted(const std::string& text) {
    std::string safe;
    for (const char c : text) safe += c == '\'' ? std::string("'\\''") : std::string(1, c);
    return "'" + safe + "'";
}

std::string bash_script(const std::vector<CommandHelp>& commands) {
    std::ostringstream out;
    out << "# bash completion for fitup\n_fitup() {\n"
        << "    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} "
           "command=${COMP_WORDS[1]}\n"
        << "    if [ \"$COMP_CWORD\" -eq 1 ]; then\n        COMPREPLY=($(compgen -W '" << names(commands)
        << " --help --version' -- \"$word\"))\n        return\n    fi\n    case $before in\n"
        << "        --to) COMPREPLY=($(compgen -d -- \"$word\")); return ;;\n";
    for (const OptionHelp& option : commands.front().options) {
        if (!option.choices.empty())
            out << "        " << option.name << ") COMPREPLY=($(compgen -W '" << joined(option.choices)
                << "' -- \"$word\")); return ;;\n";
    }
    out << "    esac\n    case $command in\n";
    for (const CommandHelp& command : commands) {
        out << "        " << command.name << ")\n            COMPREPLY=($(compgen -W '"
            << option_names(command);
        if (!command.choices.empty()) out << " " << joined(command.choices);
        out << "' -- \"$word\")";
        if (command.choices.empty()) out << " $(compgen -f -- \"$word\")";
        out << ") ;;\n";
    }
    out << "    esac\n}\ncomplete -o filenames -F _fitup fitup\n";
    return out.str();
}

std::string zsh_script(const std::vector<CommandHelp>& commands) {
    std::ostringstream out;
    out << "#compdef fitup\n_fitup() {\n    local -a commands\n    commands=(\n";
    for (const CommandHelp& command : commands)
        out << "        " << quoted(command.name + ":" + command.meaning) << "\n";
    out << "    )\n    if (( CURRENT == 2 )); then\n        _describe command commands\n        return\n    "
           "fi\n"
        << "    case $words[2] in\n";
    for (const CommandHelp& command : commands) {
        out << "        " << command.name << ") _arguments";
        for (const OptionHelp& option : command.options) {
            std::string spec = option.name + "[" + option.meaning + "]";
            if (option.name == "--to")
                spec += ":folder:_directories";
            else if (!option.choices.empty())
                spec += ":" + option.value + ":(" + joined(option.choices) + ")";
            else if (!option.value.empty())
                spec += ":" + option.value + ":_files";
            out << " \\\n            " << quoted(spec);
        }
        out << " \\\n            "
            << (command.choices.empty() ? quoted("*:file:_files")
                                        : quoted("2:name:(" + joined(command.choices) + ")"))
            << " ;;\n";
    }
    out << "    esac\n}\n_fitup \"$@\"\n";
    return out.str();
}

std::string fish_script(const std::vector<CommandHelp>& commands) {
    std::ostringstream out;
    out << "# fish completion for fitup\n";
    for (const CommandHelp& command : commands) {
        out << "complete -c fitup -n __fish_use_subcommand -a " << command.name << " -d "
            << quoted(command.meaning) << "\n";
        const std::string within = "complete -c fitup -n '__fish_seen_subcommand_from " + command.name + "'";
        if (!command.choices.empty()) out << within << " -f -a " << quoted(joined(command.choices)) << "\n";
        for (const OptionHelp& option : command.options) {
            out << within << " -l " << option.name.substr(2) << " -d " << quoted(option.meaning);
            if (!option.value.empty()) out << " -r";
            if (!option.choices.empty()) out << " -f -a " << quoted(joined(option.choices));
            out << "\n";
        }
    }
    return out.str();
}

/// A hyphen that starts an option must be \- in roff, or it is set as a typographic hyphen.
std::string roff(const std::string& text) {
    std::string safe;
    for (const char c : text)
        safe += c == '-' ? std::string("\\-") : c == '\\' ? std::string("\\e") : std::string(1, c);
    return safe;
}

}  // namespace

std::string completion_script(const std::string& shell) {
    const std::vector<CommandHelp> commands = all_commands();
    if (shell == "bash") return bash_script(commands);
    if (shell == "zsh") return zsh_script(commands);
    if (shell == "fish") return fish_script(commands);
    return {};
}

std::string manual_page() {
    std::ostringstream out;
    out << ".TH FITUP 1 \"\" \"fitup " FITUP_VERSION
           "\" \"User Commands\"\n.SH NAME\nfitup \\- parts that marry machines never made for "
           "each other\n.SH SYNOPSIS\n.B fitup\n.I COMMAND\n[ARGUMENT ...]\n.SH DESCRIPTION\nfitup reads a "
           "parameter file, judges the part "
           "by shop rules, and writes it as STEP and STL with a hole list. Every file is read back and "
           "compared with the plan before it "
           "is called verified. A file is complete or absent.\n.SH COMMANDS\n";
    for (const CommandHelp& command : all_commands()) {
        out << ".SS fitup " << roff(command.name) << " " << roff(command.arguments) << "\n"
            << roff(command.meaning) << ".\n";
        for (const OptionHelp& option : command.options) {
            out << ".TP\n.B " << roff(option.name);
            if (!option.value.empty()) out << " " << roff(option.value);
            out << "\n" << roff(option.meaning) << "\n";
        }
    }
    out << ".SH EXIT STATUS\n.TP\n.B 0\ndone\n.TP\n.B 2\nthe file or the call is wrong; nothing is "
           "written\n.TP\n.B 3\na shop rule stops "
           "the part, or an inspected file differs; nothing is written unless \\-\\-despite\\-rules\n.TP\n.B "
           "4\na file could not be read or "
           "written\n.TP\n.B 5\nthe kernel could not build or verify the solid\n.SH ENVIRONMENT\n.TP\n.B "
           "NO_COLOR\nno colour, also on a "
           "terminal\n.TP\n.B SOURCE_DATE_EPOCH\ntime, in seconds since 1970, that is written into a STEP "
           "file's header\n.SH CAUTIONS\nThe "
           "checks are shop practice, not an approval. Drive trains, lifting gear and controls can maim: "
           "local law, class rules and a "
           "licensed engineer decide. A printed fit\\-check part is never run.\n";
    return out.str();
}

}  // namespace fitup::cli
