#pragma once

#include <unistd.h>

#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <STEPControl_Controller.hxx>
#include <STEPControl_Writer.hxx>
#include <TopoDS_Shape.hxx>
#include <filesystem>
#include <string>

#include "base/file.hpp"

namespace fitup::exchange::testing {

/// A STEP file as the kernel writes it by itself.
inline std::string foreign_step(const TopoDS_Shape& shape) {
    Message::DefaultMessenger()->ChangePrinters().Clear();
    STEPControl_Controller::Init();
    Interface_Static::SetIVal("write.surfacecurve.mode", 1);
    Interface_Static::SetCVal("write.step.unit", "MM");
    Interface_Static::SetCVal("write.step.schema", "AP203");
    STEPControl_Writer writer;
    writer.Transfer(shape, STEPControl_AsIs);
    const auto path =
        std::filesystem::temp_directory_path() / ("fitup-foreign-" + std::to_string(::getpid()) + ".step");
    writer.Write(path.c_str());
    const std::string text = read_file(path);
    std::filesystem::remove(path);
    return text;
}

}  // namespace fitup::exchange::testing
