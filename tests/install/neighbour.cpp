// Plans a plate from text, judges it, and makes its STEP file, with nothing but the installed headers.
#include <cmath>
#include <cstdio>
#include <numbers>

#include "exchange/make.hpp"
#include "parts/kinds.hpp"
#include "rules/rules.hpp"

int main(int count, char** words) {
    using namespace fitup;
    if (count != 2) return 2;
    const parts::Planned planned = parts::plan_file(
        R"({"format": 1, "part": "adapter_plate", "name": "neighbour", "units": "mm", "material": "aluminium 6061-T6",
            "thickness": 20, "outline": {"round": {"diameter": 200}}, "bore": {"diameter": 60}})",
        "text");
    for (const parameters::Fault& fault : planned.faults) std::puts(parameters::to_text(fault).c_str());
    if (!planned.plan) return 1;
    for (const plan::Finding& finding : rules::judge(*planned.plan)) {
        if (finding.severity == plan::Severity::stop) return 1;
    }
    const auto silent = [](std::string_view) {};
    exchange::Body body = exchange::examine(*planned.plan, silent);
    exchange::MakeOptions options;
    options.folder = words[1];
    FileSet files;
    exchange::make(*planned.plan, body, options, files, silent);
    files.publish();
    const double closed_form = std::numbers::pi * (100.0 * 100.0 - 30.0 * 30.0) * 20.0;
    return std::abs(body.figures.volume_mm3 / closed_form - 1.0) < 1e-12 ? 0 : 1;
}
