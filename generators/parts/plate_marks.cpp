#include "parts/plate_shape.hpp"
#include "plan/lettering.hpp"
#include "plan/seen_from.hpp"

namespace fitup::parts {

namespace {

plan::Area placed(const plan::Area& area, const MarkParameters& mark) {
    const auto place = [&](const plan::Contour& contour) {
        return plan::moved(plan::seen_from(mark.side, plan::moved(contour, mark.angle, {})), {}, mark.at_mm);
    };
    plan::Area result{place(area.outer), {}};
    for (const plan::Contour& island : area.islands) result.islands.push_back(place(island));
    return result;
}

}  // namespace

void add_marks(Reader& reader, const AdapterPlate& plate, plan::Plan& plan) {
    for (std::size_t i = 0; i < plate.marks.size(); ++i) {
        const MarkParameters& mark = plate.marks[i];
        if (mark.depth_mm >= plan.body.thickness_mm) {
            reader.wrong(mark.field["depth"],
                         "less than the plate's thickness, " + reader.length_text(plan.body.thickness_mm));
            continue;
        }
        plan::Pocket pocket;
        pocket.id = "mark-" + std::to_string(i + 1);
        pocket.kind = plan::PocketKind::mark;
        pocket.side = mark.side;
        pocket.depth_mm = mark.depth_mm;
        for (const plan::Area& area : plan::lettering(mark.text, mark.height_mm))
            pocket.areas.push_back(placed(area, mark));
        if (!pocket.areas.empty()) plan.pockets.push_back(std::move(pocket));
    }
}

}  // namespace fitup::parts
