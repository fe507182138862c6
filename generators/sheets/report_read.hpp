#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "mesh/mesh.hpp"

/// A report's page read back: what its table and its view hold, by the page's own bytes.
namespace fitup::sheets {

struct ReadRow {
    std::string id;
    std::vector<double> numbers;  ///< of the cells, in the file's own unit, as far as they are numbers
};

struct ReadReport {
    std::vector<ReadRow> rows;
    mesh::Mesh mesh;
};

/// Reads what report_page() writes; what is not there or cut short is left empty.
ReadReport read_report(std::string_view page);

}  // namespace fitup::sheets
