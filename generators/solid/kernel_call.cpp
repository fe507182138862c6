#include "solid/kernel_call.hpp"

#include <Standard_Type.hxx>

namespace fitup::solid {

std::string reason(const Standard_Failure& failure) {
    const std::string kind = failure.DynamicType()->Name();
    const char* text = failure.GetMessageString();
    return text != nullptr && *text != '\0' ? kind + " (" + text + ")" : kind;
}

}  // namespace fitup::solid
