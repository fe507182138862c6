#include "parts/paper.hpp"

#include <array>

namespace fitup::parts {

namespace {

/// ISO 216 and ANSI Y14.1.
const std::array<plan::PaperSize, 4> sizes{
    {{"A4", 210.0, 297.0}, {"A3", 297.0, 420.0}, {"Letter", 215.9, 279.4}, {"Tabloid", 279.4, 431.8}}};

plan::PaperSize size_or(const Reader& reader, const Field& field, const plan::PaperSize& otherwise) {
    const std::string name = reader.text_or(field, otherwise.name);
    for (const plan::PaperSize& size : sizes) {
        if (size.name == name) return size;
    }
    return otherwise;
}

plan::Paper read_paper(const Reader& reader) {
    const Field field = reader.root()["paper"];
    plan::Paper paper;
    paper.size = size_or(reader, field["size"], paper.size);
    const Field measured = field["measured"];
    for (std::size_t axis = 0; axis < 2 && axis < measured.size(); ++axis)
        paper.measured_mm[axis] = reader.length_mm_or(measured.item(axis), 0.0);
    return paper;
}

plan::DrawingSheet read_drawing(const Reader& reader) {
    const Field field = reader.root()["drawing"];
    plan::DrawingSheet drawing;
    if (reader.units() == plan::Units::in) drawing.size = sizes.back();
    drawing.size = size_or(reader, field["size"], drawing.size);
    if (reader.text_or(field["projection"], "third") == "first") drawing.projection = plan::Projection::first;
    drawing.both_units = reader.truth_or(field["both_units"], false);
    return drawing;
}

plan::Mockup read_mockup(const Reader& reader) {
    const Field field = reader.root()["mockup"];
    plan::Mockup mockup;
    mockup.thickness_mm = reader.length_mm_or(field["thickness"], mockup.thickness_mm);
    mockup.hole_allowance_mm = reader.length_mm_or(field["hole_allowance"], mockup.hole_allowance_mm);
    mockup.pilot_mm = reader.length_mm_or(field["pilot"], mockup.pilot_mm);
    mockup.joint_gap_mm = reader.length_mm_or(field["joint_gap"], mockup.joint_gap_mm);
    mockup.shrinkage = reader.number(field["shrinkage"]).value_or(mockup.shrinkage);
    const auto across_mm = reader.length_mm(field["bed"].item(0));
    const auto up_mm = reader.length_mm(field["bed"].item(1));
    if (across_mm && up_mm) mockup.bed_mm = {*across_mm, *up_mm};
    return mockup;
}

plan::Print read_print(const Reader& reader) {
    plan::Print print;
    if (reader.text_or(reader.root()["print"]["threads"], "modelled") == "cut_away")
        print.threads = plan::PrintedThreads::cut_away;
    return print;
}

}  // namespace

plan::Papers read_papers(const Reader& reader) {
    return {read_paper(reader), read_drawing(reader), read_mockup(reader), read_print(reader)};
}

}  // namespace fitup::parts
