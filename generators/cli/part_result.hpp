#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/console.hpp"
#include "exchange/make.hpp"
#include "exchange/measurement.hpp"
#include "parameters/fault.hpp"
#include "plan/paper.hpp"
#include "plan/pattern_fastener.hpp"
#include "plan/work.hpp"
#include "trade/trade.hpp"

namespace fitup::cli {

/// What STL and 3MF are made of and held to, where the file wants them to differ from the part.
struct Printed {
    plan::Plan plan;
    exchange::Body body;  ///< once it is judged
};

/// In what they differ, for lists of files.
inline constexpr const char* printed_words = "threads cut away for printing";

/// Everything that `make` and `check` tell of one part.
struct PartResult {
    std::string file;
    std::string parameters;  ///< the file's bytes as they were read for the plan
    plan::Plan plan;
    plan::Papers papers;
    std::vector<plan::PatternFastener> fasteners;  ///< what the file says of them
    std::optional<Printed> printed;                ///< none: the meshes are the part's own
    plan::Findings findings;
    std::optional<exchange::Figures> figures;  ///< none when a final stop leaves no sound body
    std::vector<double> walls_left_mm;
    plan::Work work;
    std::vector<exchange::MadeFile> files;
    std::string failure;  ///< what could not be written or built, for the highest status of several files
};

/// The result for people.
std::string part_text(const PartResult& result, const Console& console);
/// The kind's own figures, a line each; millimetres in inches too.
std::string work_text(const plan::Work& work);
/// A line a file written.
std::string files_text(const std::vector<exchange::MadeFile>& files);
std::string faults_text(const parameters::Faults& faults);
std::string listing_text(const trade::Listing& listing);
std::string measurement_text(const std::string& file, const exchange::Measurement& found);

/// The result objects of the contract, one line break at the end.
std::string parts_json(const std::vector<PartResult>& results);
std::string errors_json(const parameters::Faults& faults);
std::string listing_json(const std::string& table, const trade::Listing& listing);
struct Inspected {
    std::string file;
    exchange::Measurement found;
    std::optional<exchange::Comparison> comparison;
    bool as_printed = false;  ///< compared with what is printed, not with the part itself
};
/// Empty where nothing was compared.
std::string comparison_text(const Inspected& inspected);
std::string inspections_json(const std::vector<Inspected>& inspections);
std::string text_json(const std::string& key, const std::string& text);

}  // namespace fitup::cli
