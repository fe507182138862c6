#include "parts/plate_shape.hpp"

namespace fitup::parts {

void add_marks(Reader& reader, const AdapterPlate& plate, plan::Plan&) {
    for (const MarkParameters& mark : plate.marks) {
        reader.wrong_in_words(mark.field, "this version can't cut text yet: leave \"marks\" out");
    }
}

}  // namespace fitup::parts
