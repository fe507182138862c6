#include <StepBasic_DerivedUnit.hxx>
#include <StepBasic_DerivedUnitElement.hxx>
#include <StepBasic_HArray1OfDerivedUnitElement.hxx>
#include <StepBasic_MeasureValueMember.hxx>
#include <StepBasic_Product.hxx>
#include <StepBasic_ProductDefinition.hxx>
#include <StepBasic_ProductDefinitionFormation.hxx>
#include <StepBasic_SiUnitAndLengthUnit.hxx>
#include <StepBasic_SiUnitAndMassUnit.hxx>
#include <StepBasic_Unit.hxx>
#include <StepData_StepModel.hxx>
#include <StepRepr_CharacterizedDefinition.hxx>
#include <StepRepr_DescriptiveRepresentationItem.hxx>
#include <StepRepr_HArray1OfRepresentationItem.hxx>
#include <StepRepr_MeasureRepresentationItem.hxx>
#include <StepRepr_PropertyDefinition.hxx>
#include <StepRepr_PropertyDefinitionRepresentation.hxx>
#include <StepRepr_Representation.hxx>
#include <StepRepr_RepresentationContext.hxx>
#include <StepRepr_RepresentedDefinition.hxx>
#include <StepShape_ShapeRepresentation.hxx>
#include <algorithm>

#include "base/error.hpp"
#include "exchange/kernel_side/step_text.hpp"

namespace fitup::exchange {
namespace {

/// "adapter plate, aluminium 6061-T6" and the user's own note.
std::string description_of(const plan::Plan& plan) {
    std::string text = plan.part;
    std::replace(text.begin(), text.end(), '_', ' ');
    if (!plan.material.name.empty()) text += ", " + plan.material.name;
    return plan.note.empty() ? text : text + ": " + plan.note;
}

/// A property of the product, of one item.
void add_property(const Handle(StepData_StepModel) & model, const char* property, const char* name,
                  const Handle(StepRepr_RepresentationItem) & item) {
    StepRepr_CharacterizedDefinition of_product;
    of_product.SetValue(first_entity<StepBasic_ProductDefinition>(model));
    const Handle(StepRepr_PropertyDefinition) definition = new StepRepr_PropertyDefinition;
    definition->Init(ascii(property), true, ascii(name), of_product);

    const Handle(StepRepr_HArray1OfRepresentationItem) items = new StepRepr_HArray1OfRepresentationItem(1, 1);
    items->SetValue(1, item);
    const Handle(StepRepr_Representation) representation = new StepRepr_Representation;
    representation->Init(ascii(name), items,
                         first_entity<StepShape_ShapeRepresentation>(model)->ContextOfItems());

    StepRepr_RepresentedDefinition represented;
    represented.SetValue(definition);
    const Handle(StepRepr_PropertyDefinitionRepresentation) link =
        new StepRepr_PropertyDefinitionRepresentation;
    link->Init(represented, representation);
    model->AddWithRefs(link);
}

Handle(StepBasic_DerivedUnitElement) power(const Handle(StepBasic_NamedUnit) & unit, double exponent) {
    const Handle(StepBasic_DerivedUnitElement) element = new StepBasic_DerivedUnitElement;
    element->Init(unit, exponent);
    return element;
}

/// Grams per cubic centimetre, in which receiving systems expect a density.
StepBasic_Unit grams_per_cubic_centimetre() {
    const Handle(StepBasic_SiUnitAndMassUnit) gram = new StepBasic_SiUnitAndMassUnit;
    gram->Init(false, StepBasic_spKilo, StepBasic_sunGram);
    const Handle(StepBasic_SiUnitAndLengthUnit) centimetre = new StepBasic_SiUnitAndLengthUnit;
    centimetre->Init(true, StepBasic_spCenti, StepBasic_sunMetre);
    const Handle(StepBasic_HArray1OfDerivedUnitElement) elements =
        new StepBasic_HArray1OfDerivedUnitElement(1, 2);
    elements->SetValue(1, power(gram, 1.0));
    elements->SetValue(2, power(centimetre, -3.0));
    const Handle(StepBasic_DerivedUnit) derived = new StepBasic_DerivedUnit;
    derived->Init(elements);
    StepBasic_Unit unit;
    unit.SetValue(derived);
    return unit;
}

void add_material(const Handle(StepData_StepModel) & model, const plan::Material& material) {
    const Handle(StepRepr_DescriptiveRepresentationItem) text = new StepRepr_DescriptiveRepresentationItem;
    text->Init(ascii(material.name), ascii(material.source));
    add_property(model, "material property", "material name", text);

    const Handle(StepBasic_MeasureValueMember) value = new StepBasic_MeasureValueMember;
    value->SetName("POSITIVE_RATIO_MEASURE");
    value->SetReal(material.density_kg_m3 / 1000.0);
    const Handle(StepRepr_MeasureRepresentationItem) density = new StepRepr_MeasureRepresentationItem;
    density->Init(ascii("density measure"), value, grams_per_cubic_centimetre());
    add_property(model, "material property", "density", density);
}

}  // namespace

void describe_product(STEPControl_Writer& writer, const plan::Plan& plan) {
    const Handle(StepData_StepModel) model = writer.Model();
    const Handle(StepBasic_Product) product = first_entity<StepBasic_Product>(model);
    product->SetName(ascii(plan.name));
    product->SetId(ascii(plan::file_stem(plan)));
    product->SetDescription(ascii(description_of(plan)));
    first_entity<StepBasic_ProductDefinitionFormation>(model)->SetId(ascii(plan.revision));
    if (!plan.material.name.empty()) add_material(model, plan.material);
}

}  // namespace fitup::exchange
