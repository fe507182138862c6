#include "parts/printed.hpp"

#include "plan/cut_threads.hpp"

namespace fitup::parts {

namespace {

std::string counted(std::size_t count, const char* one, const char* several) {
    return std::to_string(count) + " " + (count == 1 ? one : several);
}

std::string cut_text(const plan::ModelledThreads& threads) {
    std::string text;
    if (threads.holes > 0)
        text = counted(threads.holes, "hole is", "holes are") +
               " plain at the thread's major diameter, so that an actual screw passes";
    if (threads.rod_ends > 0)
        text = counted(threads.rod_ends, "end is", "ends are") +
               " plain at the thread's minor diameter, so that an actual nut passes";
    return "STL and 3MF have their threads cut away: " + text +
           " (a print that comes out tight wants a drill or a file). STEP has the helix.";
}

}  // namespace

std::optional<plan::Plan> printed_plan(const plan::Plan& plan, const plan::Print& print) {
    if (print.threads == plan::PrintedThreads::modelled || plan::modelled_threads(plan).all() == 0) return {};
    return plan::with_threads_cut_away(plan);
}

plan::Findings print_findings(const plan::Plan& plan, const plan::Print& print) {
    if (print.threads == plan::PrintedThreads::modelled) return {};
    const plan::ModelledThreads threads = plan::modelled_threads(plan);
    const std::string message = threads.all() > 0
                                    ? cut_text(threads)
                                    : "print.threads is \"cut_away\", but no thread is modelled as a helix "
                                      "(\"model_as\": \"thread\"): STL and 3MF are the part as STEP has it.";
    return {plan::finding_of("print-threads", plan::Severity::note, "", message)};
}

}  // namespace fitup::parts
