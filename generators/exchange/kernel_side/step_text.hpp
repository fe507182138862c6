#pragma once

#include <STEPControl_Writer.hxx>
#include <StepData_StepModel.hxx>
#include <TCollection_HAsciiString.hxx>
#include <string>
#include <string_view>

#include "base/error.hpp"
#include "exchange/kernel.hpp"
#include "solid/solid_impl.hpp"

/// The stages of writing a solid as STEP; for exchange/kernel_side/ sources alone.
namespace fitup::exchange {

/// @see Kernel::step_text
std::string step_text(const solid::Solid& solid, const plan::Plan& plan, const StepOptions& options);

/// A text that a Part 21 string can hold as it is: anything but printable ASCII becomes "?" (ISO
/// 10303-21, 6.3.3, would need an encoding that many readers don't know).
Handle(TCollection_HAsciiString) ascii(std::string_view text);

/// The model's first entity of a type. @throws KernelError when there is none.
template <class Entity>
Handle(Entity) first_entity(const Handle(StepData_StepModel) & model) {
    for (int i = 1; i <= model->NbEntities(); ++i) {
        const Handle(Entity) entity = Handle(Entity)::DownCast(model->Entity(i));
        if (!entity.IsNull()) return entity;
    }
    throw KernelError(std::string("the STEP model has no ") + STANDARD_TYPE(Entity)->Name());
}

/// Gives each face its name. @throws KernelError when one got lost.
void name_faces(STEPControl_Writer& writer, const solid::KernelBody& body);
/// Colour of the solid by the family of its material.
void paint(STEPControl_Writer& writer, const solid::KernelBody& body, const plan::Material& material);
/// Name, id, description and revision of the product; material and density as properties of it (ISO
/// 10303-45).
void describe_product(STEPControl_Writer& writer, const plan::Plan& plan);
void write_header(STEPControl_Writer& writer, const plan::Plan& plan, const StepOptions& options);

}  // namespace fitup::exchange
