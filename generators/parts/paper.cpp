#include "parts/paper.hpp"

#include <array>

namespace fitup::parts {

namespace {

/// ISO 216 and ANSI Y14.1.
const std::array<plan::PaperSize, 4> sizes{
    {{"A4", 210.0, 297.0}, {"A3", 297.0, 420.0}, {"Letter", 215.9, 279.4}, {"Tabloid", 279.4, 431.8}}};

}  // namespace

plan::Paper read_paper(const Reader& reader) {
    const Field field = reader.root()["paper"];
    plan::Paper paper;
    const std::string name = reader.text_or(field["size"], paper.size.name);
    for (const plan::PaperSize& size : sizes) {
        if (size.name == name) paper.size = size;
    }
    const Field measured = field["measured"];
    for (std::size_t axis = 0; axis < 2 && axis < measured.size(); ++axis)
        paper.measured_mm[axis] = reader.length_mm_or(measured.item(axis), 0.0);
    return paper;
}

}  // namespace fitup::parts
