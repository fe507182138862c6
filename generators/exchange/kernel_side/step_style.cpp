#include <Quantity_Color.hxx>
#include <STEPConstruct.hxx>
#include <STEPConstruct_Styles.hxx>
#include <StepData_StepModel.hxx>
#include <StepRepr_RepresentationContext.hxx>
#include <StepRepr_RepresentationItem.hxx>
#include <StepShape_AdvancedBrepShapeRepresentation.hxx>
#include <StepVisual_Colour.hxx>
#include <StepVisual_MechanicalDesignGeometricPresentationRepresentation.hxx>
#include <StepVisual_PresentationStyleAssignment.hxx>
#include <StepVisual_StyledItem.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <Transfer_FinderProcess.hxx>
#include <XSControl_TransferWriter.hxx>
#include <XSControl_WorkSession.hxx>

#include "base/error.hpp"
#include "exchange/kernel_side/step_text.hpp"
#include "exchange/paint.hpp"

namespace fitup::exchange {
namespace {

Quantity_Color colour_of(const std::string& family) {
    const auto [red, green, blue] = paint_of(family);
    return {red, green, blue, Quantity_TOC_sRGB};
}

}  // namespace

void name_faces(STEPControl_Writer& writer, const solid::KernelBody& body) {
    const auto finder = writer.WS()->TransferWriter()->FinderProcess();
    for (TopExp_Explorer faces(body.shape, TopAbs_FACE); faces.More(); faces.Next()) {
        const std::string* name = body.names.Seek(faces.Current());
        const auto entity = STEPConstruct::FindEntity(finder, faces.Current());
        if (name == nullptr || entity.IsNull()) throw KernelError("a face lost its name on the way to STEP");
        entity->SetName(ascii(*name));
    }
}

void paint(STEPControl_Writer& writer, const solid::KernelBody& body, const plan::Material& material) {
    const auto finder = writer.WS()->TransferWriter()->FinderProcess();
    TopLoc_Location place;
    const auto item = STEPConstruct::FindEntity(finder, body.shape, place);
    if (item.IsNull()) throw KernelError("the solid got lost on the way to STEP");
    const auto representation = first_entity<StepShape_AdvancedBrepShapeRepresentation>(writer.Model());
    STEPConstruct_Styles
        styles;  // not of the work session: that would work out who refers to whom in the whole model
    const auto colour = STEPConstruct_Styles::EncodeColor(colour_of(material.family));
    styles.AddStyle(item, styles.MakeColorPSA(item, colour, colour, colour, 0.0), {});
    Handle(StepVisual_MechanicalDesignGeometricPresentationRepresentation) presentation;
    if (!styles.CreateMDGPR(representation->ContextOfItems(), presentation)) {
        throw KernelError("the colour got lost on the way to STEP");
    }
    // Its documentation says that it adds itself to the model; it doesn't.
    writer.Model()->AddWithRefs(presentation);
}

}  // namespace fitup::exchange
