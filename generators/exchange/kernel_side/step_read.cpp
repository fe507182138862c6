#include "exchange/kernel_side/step_read.hpp"

#include <STEPControl_Reader.hxx>
#include <StepBasic_Product.hxx>
#include <StepData_StepModel.hxx>
#include <StepShape_Face.hxx>
#include <TColStd_SequenceOfAsciiString.hxx>
#include <TransferBRep.hxx>
#include <Transfer_TransientProcess.hxx>
#include <XSControl_TransferReader.hxx>
#include <XSControl_WorkSession.hxx>
#include <locale>
#include <optional>
#include <sstream>

#include "base/error.hpp"
#include "base/text.hpp"
#include "exchange/kernel_side/healing.hpp"

namespace fitup::exchange {
namespace {

void load(STEPControl_Reader& reader, std::string_view text, const std::string& name) {
    std::istringstream stream{std::string(text)};
    stream.imbue(std::locale::classic());
    if (reader.ReadStream(name.c_str(), stream) != IFSelect_RetDone) {
        throw FileError(name, "the STEP text can't be understood");
    }
}

std::string text_of(const Handle(TCollection_HAsciiString) & text) {
    return text.IsNull() ? "" : text->ToCString();
}

std::string product_name(const Handle(StepData_StepModel) & model) {
    for (int i = 1; i <= model->NbEntities(); ++i) {
        const auto product = Handle(StepBasic_Product)::DownCast(model->Entity(i));
        if (!product.IsNull()) return text_of(product->Name());
    }
    return "";
}

/// The first length unit, as the trade writes it.
std::string length_unit(STEPControl_Reader& reader) {
    TColStd_SequenceOfAsciiString lengths, angles, solid_angles;
    reader.FileUnits(lengths, angles, solid_angles);
    if (lengths.IsEmpty()) return "";
    const std::string unit = lower_case(lengths.First().ToCString());
    if (unit == "millimetre") return "mm";
    if (unit == "inch") return "in";
    if (unit == "centimetre") return "cm";
    if (unit == "metre") return "m";
    return unit;
}

solid::FaceNames face_names(const Handle(Transfer_TransientProcess) & process) {
    solid::FaceNames names;
    for (int i = 1; i <= process->NbMapped(); ++i) {
        const auto face = Handle(StepShape_Face)::DownCast(process->Mapped(i));
        if (face.IsNull() || text_of(face->Name()).empty()) continue;
        const TopoDS_Shape shape = TransferBRep::ShapeResult(process, face);
        if (!shape.IsNull()) names.Bind(shape.Located(TopLoc_Location()), text_of(face->Name()));
    }
    return names;
}

}  // namespace

StepContent read_step(std::string_view text, const std::string& name, StepUse use) {
    std::optional<SparingHealing> sparing;
    if (use == StepUse::measuring) sparing.emplace();
    STEPControl_Reader reader;
    load(reader, text, name);
    reader.TransferRoots();
    StepContent content;
    content.shape = reader.OneShape();
    if (content.shape.IsNull()) throw FileError(name, "the STEP text holds no shape");
    content.names = face_names(reader.WS()->TransferReader()->TransientProcess());
    content.product_name = product_name(reader.StepModel());
    content.unit = length_unit(reader);
    return content;
}

}  // namespace fitup::exchange
