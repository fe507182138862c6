#include "exchange/kernel_side/step_measure.hpp"

#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>
#include <algorithm>
#include <cmath>

#include "base/error.hpp"
#include "exchange/kernel_side/measurement_bytes.hpp"
#include "exchange/kernel_side/step_reading.hpp"

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

void add(solid::Amounts& sum, const solid::Amounts& more, bool is_first) {
    sum.volume_mm3 += more.volume_mm3;
    sum.area_mm2 += more.area_mm2;
    for (std::size_t i = 0; i < 3; ++i) {
        sum.box.least[i] = is_first ? more.box.least[i] : std::min(sum.box.least[i], more.box.least[i]);
        sum.box.most[i] = is_first ? more.box.most[i] : std::max(sum.box.most[i], more.box.most[i]);
    }
}

/// Body by body, as one may have been healed and another not: what was not has a closed form, and only that.
void measure_bodies(Measurement& found, const TopoDS_Shape& shape) {
    solid::Amounts sum;
    for (TopExp_Explorer solids(shape, TopAbs_SOLID); solids.More(); solids.Next()) {
        add(sum, solid::amounts_of(solids.Current()), found.bodies == 0);
        ++found.bodies;
    }
    if (found.bodies == 0) sum = solid::amounts_of(shape);
    found.closed = found.bodies > 0 && is_closed(shape);
    found.volume_mm3 = found.closed ? sum.volume_mm3 : 0.0;
    found.area_mm2 = sum.area_mm2;
    found.box = sum.box;
}

Measurement measurement_of(const StepContent& content, const std::string& name) {
    Measurement found;
    measure_bodies(found, content.shape);
    if (!std::isfinite(found.volume_mm3) || !std::isfinite(found.area_mm2)) {
        throw FileError(name, "the STEP file holds sizes that are no numbers");
    }
    RoundFaces round = round_faces(content.shape, content.names);
    found.cylinders = std::move(round.cylinders);
    found.cones = std::move(round.cones);
    found.bends = std::move(round.bends);
    found.product_name = content.product_name;
    found.unit = content.unit;
    return found;
}

}  // namespace

std::unique_ptr<Measuring> start_measuring(std::string_view text, const std::string& name) {
    class StepMeasuring final : public Measuring {
      public:
        StepMeasuring(std::string_view text, const std::string& name)
            : reading_(text, name, StepUse::measuring, [name](const StepContent& content) {
                  return to_bytes(measurement_of(content, name));
              }) {}
        Measurement finish() override { return measurement_from(reading_.finish()); }

      private:
        StepReading reading_;
    };
    return std::make_unique<StepMeasuring>(text, name);
}

}  // namespace fitup::exchange
