#include <malloc.h>

#include <map>
#include <new>

#include "base/error.hpp"
#include "cli/commands.hpp"
#include "cli/part_result.hpp"

namespace fitup::cli {

int wrong_call(Console& console, const std::string& message) {
    parameters::Fault fault;
    fault.message = message;
    if (console.json()) console.result(errors_json({fault}));
    console.complain("fitup: " + message + "\n");
    return wrong;
}

int wrong_files(Console& console, const parameters::Faults& faults) {
    if (console.json()) console.result(errors_json(faults));
    console.complain(faults_text(faults));
    return wrong;
}

namespace {

using Command = int (*)(const Call&, Console&);

const std::map<std::string, Command>& commands() {
    static const std::map<std::string, Command> table{
        {"make", make_command},           {"check", check_command},
        {"calculate", calculate_command}, {"try", try_command},
        {"compare", compare_command},     {"inspect", inspect_command},
        {"start", start_command},         {"explain", explain_command},
        {"lookup", lookup_command},       {"completion", completion_command},
        {"manual", manual_command}};
    return table;
}

int failed(Console& console, int status, const std::string& file, const std::string& message) {
    parameters::Fault fault;
    fault.file = file;
    fault.message = message;
    if (console.json()) console.result(errors_json({fault}));
    console.complain("fitup: " + message + "\n");
    return status;
}

int run(const Call& call, Console& console) {
    try {
        const int status = commands().at(call.command)(call, console);
        console.finish();
        return status;
    } catch (const FileError& error) {
        return failed(console, file_failed, error.file(), error.what());
    } catch (const Error& error) {
        return failed(console, kernel_failed, "", error.what());
    } catch (const std::bad_alloc&) {
        return failed(console, kernel_failed, "", "out of memory");
    } catch (const std::exception& error) {
        return failed(console, kernel_failed, "",
                      std::string("a fault of the program itself, please report it: ") + error.what());
    }
}

/// Large texts and tables come and go by the hundred; handing their pages back to the system each time and
/// taking them anew costs a third of a report's time.
void keep_freed_memory() {
#ifdef __GLIBC__
    mallopt(M_MMAP_THRESHOLD, 64 << 20);
    mallopt(M_TRIM_THRESHOLD, 512 << 20);
    mallopt(M_TOP_PAD, 4 << 20);
#endif
}

}  // namespace

}  // namespace fitup::cli

int main(int count, char** words) {
    fitup::cli::keep_freed_memory();
    using namespace fitup::cli;
    const auto read = read_command_line(count, words);
    if (const Answer* answer = std::get_if<Answer>(&read)) {
        Console console(answer->json, false);
        if (answer->status != 0) return wrong_call(console, answer->text);
        console.result(answer->text);
        return 0;
    }
    const Call& call = std::get<Call>(read);
    Console console(call.json, call.quiet);
    return run(call, console);
}
