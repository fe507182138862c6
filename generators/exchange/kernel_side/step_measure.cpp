#include "exchange/kernel_side/step_measure.hpp"

#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>

#include "exchange/kernel_side/step_read.hpp"
#include "solid/kernel_call.hpp"

namespace fitup::exchange {
namespace {

/// Every edge of the bodies' shells has a face on each side.
bool is_closed(const TopoDS_Shape& shape) {
    for (TopExp_Explorer shells(shape, TopAbs_SHELL); shells.More(); shells.Next()) {
        if (!BRep_Tool::IsClosed(shells.Current())) return false;
    }
    // A face outside every shell bounds nothing.
    return !TopExp_Explorer(shape, TopAbs_FACE, TopAbs_SHELL).More();
}

int bodies_in(const TopoDS_Shape& shape) {
    int count = 0;
    for (TopExp_Explorer solids(shape, TopAbs_SOLID); solids.More(); solids.Next()) ++count;
    return count;
}

}  // namespace

Measurement measure_step(std::string_view text, const std::string& name) {
    const StepContent content = read_step(text, name);
    return solid::kernel_call("measuring " + name, [&] {
        Measurement found;
        found.bodies = bodies_in(content.shape);
        found.closed = found.bodies > 0 && is_closed(content.shape);
        const solid::Amounts amounts = solid::amounts_of(content.shape);
        found.volume_mm3 = found.closed ? amounts.volume_mm3 : 0.0;
        found.area_mm2 = amounts.area_mm2;
        found.box = amounts.box;
        RoundFaces round = round_faces(content.shape, content.names);
        found.cylinders = std::move(round.cylinders);
        found.cones = std::move(round.cones);
        found.product_name = content.product_name;
        found.unit = content.unit;
        return found;
    });
}

}  // namespace fitup::exchange
