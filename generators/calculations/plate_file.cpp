#include "calculations/plate_file.hpp"

#include <filesystem>

#include "base/error.hpp"
#include "base/file.hpp"
#include "parameters/open_file.hpp"
#include "parts/kinds.hpp"

namespace fitup::calculations {

namespace {

std::optional<PlateFile> plate_of(parts::Reader& reader, const parts::Field& field, const std::string& path) {
    auto opened = parameters::open_file(read_file(path), path, parameters::Role::part, parts::kind_names());
    if (opened.document.faults.empty() && opened.kind != "adapter_plate") {
        reader.wrong(field, "an adapter plate", "this part is a " + opened.kind);
        return {};
    }
    PlateFile file;
    file.document = std::make_shared<const parameters::Document>(std::move(opened.document));
    parameters::Faults faults = file.document->faults;
    if (faults.empty()) {
        parts::Reader own(*file.document, parts::units_of(*file.document));
        file.plate = parts::read_adapter_plate(own);
        auto planned = own.has_faults() ? parts::refused(own) : parts::plan_of(own, file.plate);
        faults = std::move(planned.faults);
        if (planned.plan) file.plan = std::move(*planned.plan);
    }
    if (faults.empty()) return file;
    reader.wrong(
        field, "a plate without faults",
        "it has " + std::to_string(faults.size()) + ", the first: " + parameters::to_text(faults.front()));
    return {};
}

}  // namespace

std::optional<PlateFile> read_plate_file(parts::Reader& reader, const parts::Field& field) {
    const auto name = reader.text(field);
    if (!name) return {};
    const std::string path = (std::filesystem::path(reader.folder()) / *name).string();
    try {
        return plate_of(reader, field, path);
    } catch (const FileError& error) {
        reader.wrong_in_words(field, error.what());
        return {};
    }
}

}  // namespace fitup::calculations
