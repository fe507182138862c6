#pragma once

#include <Standard_Failure.hxx>
#include <exception>
#include <string>
#include <utility>

#include "base/error.hpp"

/// For solid/ and exchange/kernel_side/ sources alone.
namespace fitup::solid {

/// What a kernel failure says of itself; its text is often empty, so its type is named too.
std::string reason(const Standard_Failure& failure);

/// The one door for kernel calls: whatever is thrown inside comes out as a KernelError that says what was
/// being made.
template <class Work>
auto kernel_call(const std::string& making, Work&& work) -> decltype(work()) {
    try {
        return std::forward<Work>(work)();
    } catch (const Error&) {
        throw;
    } catch (const Standard_Failure& failure) {
        throw KernelError(making + ": " + reason(failure));
    } catch (const std::exception& error) {
        throw KernelError(making + ": " + error.what());
    }
}

}  // namespace fitup::solid
