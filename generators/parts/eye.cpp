#include "parts/eye.hpp"

#include "parts/common_header.hpp"

namespace fitup::parts {

namespace {

void read_eye_thread(Reader& reader, const Field& field, plan::Hole& hole) {
    hole.kind = plan::HoleKind::tapped;
    hole.thread = read_thread(reader, field["thread"], field["hand"]);
    if (hole.thread) hole.diameter_mm = modelled_diameter_mm(reader, field["model_as"], *hole.thread);
}

void read_eye_slot(Reader& reader, const Field& slot, plan::Hole& hole) {
    hole.diameter_mm = reader.length_mm_or(slot["width"], 0.0);
    hole.slot_length_mm = reader.length_mm_or(slot["length"], 0.0);
    if (slot["length"] && slot["width"] && *hole.slot_length_mm <= hole.diameter_mm)
        reader.wrong(slot["length"], "more than its width, " + reader.length_text(hole.diameter_mm));
}

}  // namespace

plan::Hole read_eye(Reader& reader, const Field& field) {
    plan::Hole hole;
    hole.kind = plan::HoleKind::drilled;
    hole.through = true;
    if (field["thread"]) {
        read_eye_thread(reader, field, hole);
    } else if (field["slot"]) {
        read_eye_slot(reader, field["slot"], hole);
    } else {
        hole.diameter_mm = reader.length_mm_or(field["bore"], 0.0);
        hole.fit = read_fit(reader, field["fit"], hole.diameter_mm, FitOf::hole);
    }
    return hole;
}

plan::Hole like_eye(const plan::Hole& eye, std::optional<double> bore_mm) {
    plan::Hole hole = eye;
    hole.slot_length_mm.reset();
    if (!bore_mm) return hole;
    hole.kind = plan::HoleKind::drilled;
    hole.thread.reset();
    hole.fit.reset();
    hole.diameter_mm = *bore_mm;
    return hole;
}

}  // namespace fitup::parts
