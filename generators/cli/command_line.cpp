#include <CLI/CLI.hpp>

#include "base/text.hpp"
#include "cli/call.hpp"
#include "cli/part_outputs.hpp"
#include "trade/trade.hpp"

namespace fitup::cli {

namespace {

std::string output_words() {
    std::string text;
    for (const Output& output : part_outputs()) {
        text += (text.empty() ? "" : ", ") + std::string(output.word);
        if (!output.what.empty()) text += " (" + std::string(output.what) + ")";
    }
    return text;
}

void add_output_options(CLI::App& command, Call& call) {
    command.add_option("--to", call.folder, "folder for the files (default out)")->type_name("DIR");
    command
        .add_option("--only", call.only,
                    "outputs to make, joined by commas (default all but png): " + output_words())
        ->type_name("LIST");
    command
        .add_option("--chord", call.chord,
                    "farthest that a facet of the STL may lie from the true surface (default 0.01 mm)")
        ->type_name("LENGTH");
    command.add_option("--angle", call.angle, "most that a facet may turn, in degrees (default 10)")
        ->type_name("DEGREES");
    command.add_option("--step-schema", call.step_schema, "AP214 (default) or AP242")->type_name("SCHEMA");
    command
        .add_option("--step-unit", call.step_unit,
                    "unit of the STEP file: mm (default, whatever the parameter file's) or in")
        ->type_name("UNIT");
    command.add_flag("--despite-rules", call.despite_rules, "make the part although a shop rule says stop");
}

CLI::App& add_command(CLI::App& app, Call& call, const std::string& name, const std::string& meaning) {
    CLI::App* command = app.add_subcommand(name, meaning);
    command->callback([&call, name] { call.command = name; });
    command->add_flag("--json", call.json, "print one result object on standard output and nothing else");
    command->add_flag("--quiet", call.quiet, "say only what is wrong");
    return *command;
}

/// The program's whole command line, bound to `call`.
std::unique_ptr<CLI::App> make_app(Call& call) {
    auto app = std::make_unique<CLI::App>(
        "fitup turns parameter files into the parts that marry machines never made for each other.\n"
        "Exit status: 0 done; 2 the file or the call is wrong; 3 a shop rule stops the part; 4 a file could "
        "not be\n"
        "read or written; 5 the kernel could not build or verify the solid.",
        "fitup");
    app->set_version_flag("--version", "fitup " FITUP_VERSION);
    app->require_subcommand(1);

    CLI::App& make =
        add_command(*app, call, "make", "build each part and write its files, verified by reading them back");
    make.add_option("FILE", call.words, "parameter files")->required();
    add_output_options(make, call);

    CLI::App& check = add_command(*app, call, "check", "the same findings, nothing written");
    check.add_option("FILE", call.words, "parameter files")->required();

    CLI::App& calculate =
        add_command(*app, call, "calculate", "work out a calculation; write its result and its chart");
    calculate.add_option("FILE", call.words, "calculations' parameter files")->required();
    calculate.add_option("--to", call.folder, "folder for the files (default out)")->type_name("DIR");
    calculate
        .add_option("--only", call.only, "outputs to write: json, svg, png, joined by commas (default all)")
        ->type_name("LIST");

    CLI::App& trial =
        add_command(*app, call, "try",
                    "the part or calculation at each of many values: what passes, and the least "
                    "change that does");
    trial.add_option("FILE", call.words, "parameter file")->required()->expected(1);
    trial
        .add_option("--vary", call.vary,
                    "key and its values, both ends included, in the file's units: joggle.rise=4:12:0.5; "
                    "several make a grid")
        ->type_name("KEY=FROM:TO:STEP")
        ->required()
        ->expected(1, 10);
    trial.add_flag("--keep", call.keep,
                   "write NAME-kept.json: the file with the best value, all else untouched");
    trial.add_option("--to", call.folder, "folder for the files (default out)")->type_name("DIR");

    CLI::App& compare = add_command(*app, call, "compare",
                                    "what differs between two parameter files or two results, and what that "
                                    "moved");
    compare.add_option("FILE", call.words, "the earlier file, then the later one")->required()->expected(2);

    CLI::App& inspect =
        add_command(*app, call, "inspect", "measure a STEP or STL file and compare it with a parameter file");
    inspect.add_option("FILE", call.words, "STEP or STL files")->required();
    inspect.add_option("--against", call.against, "parameter file that says what the part should be")
        ->type_name("FILE");
    inspect.add_option("--within", call.within, "how far a hole may be off (default 0.005 mm)")
        ->type_name("LENGTH");

    CLI::App& start = add_command(*app, call, "start", "print a commented parameter file to start from");
    start.add_option("KIND", call.words, "kind of part or calculation")->required()->expected(1);

    CLI::App& explain =
        add_command(*app, call, "explain", "what each key of a parameter file means, or each shop rule");
    explain.add_option("KIND", call.words, "kind of part or calculation, or rules; then a key")
        ->required()
        ->expected(1, 2);

    CLI::App& lookup =
        add_command(*app, call, "lookup", "the handbook tables that the program uses, with their sources");
    lookup.add_option("TABLE", call.words, "table; then a name to look for")->required()->expected(1, 3);

    CLI::App& completion =
        add_command(*app, call, "completion", "print a completion script for bash, zsh or fish");
    completion.add_option("SHELL", call.words, "bash, zsh or fish")->required()->expected(1);
    add_command(*app, call, "manual", "print the manual page");
    return app;
}

std::vector<std::string> choices_of(const std::string& command) {
    if (command == "start") return all_kind_names();
    if (command == "explain") {
        std::vector<std::string> names = all_kind_names();
        names.emplace_back("rules");
        return names;
    }
    if (command == "lookup") return trade::table_names();
    if (command == "completion") return {"bash", "zsh", "fish"};
    return {};
}

std::vector<std::string> choices_of_option(const std::string& option) {
    if (option == "--step-schema") return {"AP214", "AP242"};
    if (option == "--step-unit") return {"mm", "in"};
    if (option == "--only") {
        std::vector<std::string> words;
        for (const Output& output : part_outputs()) words.emplace_back(output.word);
        return words;
    }
    return {};
}

CommandHelp describe(CLI::App* command) {
    CommandHelp help{
        command->get_name(), "", command->get_description(), {}, choices_of(command->get_name())};
    for (const CLI::Option* option : command->get_options()) {
        if (option->get_positional()) {
            const bool several = option->get_items_expected_max() > 1;
            help.arguments = option->get_name(true) + (several ? "..." : "");
        } else {
            const std::string name =
                option->get_lnames().empty() ? option->get_name() : "--" + option->get_lnames().front();
            const std::string value = option->get_items_expected_max() > 0 ? option->get_type_name() : "";
            help.options.push_back({name, value, option->get_description(), choices_of_option(name)});
        }
    }
    return help;
}

/// CLI11 says only "a subcommand is required" for a misspelt command and "not expected" for a misspelt
/// option: name both.
std::string misspelt(int count, const char* const* words) {
    const std::vector<CommandHelp> commands = all_commands();
    std::vector<std::string> names;
    for (const CommandHelp& command : commands) names.push_back(command.name);
    const CommandHelp* chosen = nullptr;
    for (int i = 1; i < count; ++i) {
        const std::string word = words[i];
        if (chosen == nullptr && word.rfind('-', 0) != 0) {
            const auto found = std::find(names.begin(), names.end(), word);
            if (found == names.end()) {
                const auto nearest = nearest_word(word, names);
                return "no command is called \"" + word + "\"; " +
                       (nearest ? "did you mean " + *nearest + "?" : "there are " + or_list(names));
            }
            chosen = &commands[static_cast<std::size_t>(found - names.begin())];
        } else if (chosen != nullptr && word.rfind("--", 0) == 0) {
            const std::string name = word.substr(0, word.find('='));
            std::vector<std::string> options;
            for (const OptionHelp& option : chosen->options) options.push_back(option.name);
            if (std::find(options.begin(), options.end(), name) != options.end()) continue;
            const auto nearest = nearest_word(name, options);
            return "fitup " + chosen->name + " has no option " + name + "; " +
                   (nearest ? "did you mean " + *nearest + "?" : "it has " + or_list(options));
        }
    }
    return {};
}

bool asks_for_json(int count, const char* const* words) {
    return std::any_of(words + 1, words + count,
                       [](const char* word) { return std::string_view(word) == "--json"; });
}

}  // namespace

std::vector<CommandHelp> all_commands() {
    Call unused;
    const auto app = make_app(unused);
    std::vector<CommandHelp> commands;
    for (CLI::App* command : app->get_subcommands({})) commands.push_back(describe(command));
    return commands;
}

std::variant<Call, Answer> read_command_line(int count, const char* const* words) {
    Call call;
    const auto app = make_app(call);
    const bool json = asks_for_json(count, words);
    try {
        app->parse(count, words);
        return call;
    } catch (const CLI::ParseError& error) {
        if (error.get_exit_code() == 0) {
            std::ostringstream text;
            app->exit(error, text, text);
            return Answer{0, text.str(), false};
        }
        if (count < 2) return Answer{2, app->help(), json};
        std::string message = misspelt(count, words);
        if (message.empty()) message = error.what();
        return Answer{2, message, json};
    }
}

}  // namespace fitup::cli
