#pragma once

#include <memory>
#include <optional>

#include "parts/adapter_plate.hpp"
#include "parts/reading.hpp"

namespace fitup::calculations {

/// An adapter plate named in a calculation's file.
struct PlateFile {
    std::shared_ptr<const parameters::Document> document;
    parts::AdapterPlate plate;
    plan::Plan plan;
};

/// Reads the plate at a path relative to the calculation's file; faults at `field` where it can't be read, is
/// wrong, or is another kind of part.
std::optional<PlateFile> read_plate_file(parts::Reader& reader, const parts::Field& field);

}  // namespace fitup::calculations
