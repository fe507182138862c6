#include <array>

#include "calculations/kinds.hpp"
#include "cli/calculation.hpp"
#include "parameters/open_file.hpp"

namespace fitup::cli {

namespace {

struct Row {
    std::string_view kind;
    ReadCalculation (*read)(const parameters::Document& document);
};

constexpr std::array rows{
    Row{"linkage", read_linkage_calculation},   Row{"survey", read_survey_calculation},
    Row{"clocking", read_clocking_calculation}, Row{"as_made", read_as_made_calculation},
    Row{"stack", read_stack_calculation},       Row{"concentricity", read_concentricity_calculation}};

}  // namespace

ReadCalculation read_calculation(std::string_view bytes, const std::string& file) {
    const parameters::Opened opened =
        parameters::open_file(bytes, file, parameters::Role::calculation, calculations::kind_names());
    for (const Row& row : rows) {
        if (row.kind == opened.kind) return row.read(opened.document);
    }
    return {{}, opened.document.faults, ""};
}

}  // namespace fitup::cli
