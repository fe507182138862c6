#include "exchange/kernel_side/healing.hpp"

#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>
#include <XSAlgo.hxx>

#include "solid/closed_form.hpp"

namespace fitup::exchange {
namespace {

class Sparing final : public XSAlgo_AlgoContainer {
  public:
    TopoDS_Shape ProcessShape(const TopoDS_Shape& shape, Standard_Real precision,
                              Standard_Real most_tolerance, Standard_CString resource,
                              Standard_CString sequence, Handle(Standard_Transient) & info,
                              const Message_ProgressRange& progress,
                              Standard_Boolean non_manifold) const override {
        if (is_plain(shape)) return shape;
        return XSAlgo_AlgoContainer::ProcessShape(shape, precision, most_tolerance, resource, sequence, info,
                                                  progress, non_manifold);
    }
};

}  // namespace

bool is_plain(const TopoDS_Shape& shape) {
    if (shape.IsNull() || TopExp_Explorer(shape, TopAbs_FACE, TopAbs_SHELL).More()) return false;
    for (TopExp_Explorer shells(shape, TopAbs_SHELL); shells.More(); shells.Next()) {
        if (!BRep_Tool::IsClosed(shells.Current())) return false;
    }
    const auto amounts = solid::amounts_in_closed_form(shape);
    return amounts && amounts->volume_mm3 > 0.0;
}

SparingHealing::SparingHealing() : before_(XSAlgo::AlgoContainer()) { XSAlgo::SetAlgoContainer(new Sparing); }

SparingHealing::~SparingHealing() { XSAlgo::SetAlgoContainer(before_); }

}  // namespace fitup::exchange
