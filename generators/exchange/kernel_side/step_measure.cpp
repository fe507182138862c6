#include "exchange/kernel_side/step_measure.hpp"

#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>
#include <algorithm>
#include <cmath>
#include <optional>

#include "base/error.hpp"
#include "exchange/kernel_side/measurement_bytes.hpp"
#include "exchange/kernel_side/own_process.hpp"
#include "exchange/kernel_side/step_read.hpp"
#include "exchange/kernel_side/step_session.hpp"
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

Measurement measurement_of(std::string_view text, const std::string& name) {
    const StepContent content = read_step(text, name);
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

constexpr char measured = 'm';
constexpr char refused = 'r';

/// A measurement, or why there is none; nothing is thrown.
std::string measured_bytes(std::string_view text, const std::string& name) {
    try {
        return solid::kernel_call("measuring",
                                  [&] { return measured + to_bytes(measurement_of(text, name)); });
    } catch (const FileError& error) {
        return refused + std::string(error.what()).substr(name.size() + 2);
    } catch (const Error& error) {
        return std::string(1, refused) + "it can't be measured: " + error.what();
    } catch (...) {
        return std::string(1, refused) + "it can't be measured";
    }
}

/// Far beyond what a sound file takes (a plate of 600 holes, 1.5 MB: half a second), within what a person
/// waits.
unsigned most_seconds(std::size_t bytes) {
    constexpr std::size_t bytes_a_second = 65536;
    return 20 + static_cast<unsigned>(std::min<std::size_t>(bytes / bytes_a_second, 3600));
}

/// A text that is being read and measured in a process of its own.
class StepMeasuring final : public Measuring {
  public:
    StepMeasuring(std::string_view text, const std::string& name) : name_(name) {
        check_part21(text, name);
        // Held while the process is copied, so that no other thread is half-way through the kernel's tables
        // then.
        const StepSession session;
        process_.emplace([&] { return measured_bytes(text, name); }, most_seconds(text.size()));
    }

    Measurement finish() override {
        const Ending ending = process_->finish();
        if (ending.how == Ending::How::took_too_long)
            throw FileError(name_, "reading it takes too long; it is probably damaged");
        if (ending.how == Ending::How::fell_over || ending.bytes.empty()) {
            throw FileError(name_, "it is damaged, or holds what can't be read");
        }
        if (ending.bytes.front() == refused) throw FileError(name_, ending.bytes.substr(1));
        return measurement_from(std::string_view(ending.bytes).substr(1));
    }

  private:
    std::string name_;
    std::optional<OwnProcess> process_;
};

}  // namespace

std::unique_ptr<Measuring> start_measuring(std::string_view text, const std::string& name) {
    return std::make_unique<StepMeasuring>(text, name);
}

}  // namespace fitup::exchange
