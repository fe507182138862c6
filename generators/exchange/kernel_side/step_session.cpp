#include "exchange/kernel_side/step_session.hpp"

#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <STEPControl_Controller.hxx>

#include "base/error.hpp"

namespace fitup::exchange {
namespace {

std::mutex& one_at_a_time() {
    static std::mutex mutex;
    return mutex;
}

}  // namespace

StepSession::StepSession() : lock_(one_at_a_time()), printers_(Message::DefaultMessenger()->Printers()) {
    Message::DefaultMessenger()->ChangePrinters().Clear();
    STEPControl_Controller::Init();
    set("xstep.cascade.unit", "MM");
}

StepSession::~StepSession() { Message::DefaultMessenger()->ChangePrinters().Assign(printers_); }

void StepSession::set(const char* key, const char* value) {
    if (!Interface_Static::SetCVal(key, value)) {
        throw KernelError(std::string("the kernel's exchange has no setting ") + key + " = " + value);
    }
}

void StepSession::set(const char* key, int value) {
    if (!Interface_Static::SetIVal(key, value)) {
        throw KernelError(std::string("the kernel's exchange has no setting ") + key + " = " +
                          std::to_string(value));
    }
}

}  // namespace fitup::exchange
