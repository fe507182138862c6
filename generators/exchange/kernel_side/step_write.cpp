#include <APIHeaderSection_MakeHeader.hxx>
#include <STEPControl_StepModelType.hxx>
#include <StepData_Protocol.hxx>
#include <StepData_StepModel.hxx>
#include <StepData_StepWriter.hxx>
#include <XSControl_WorkSession.hxx>
#include <chrono>
#include <cstdio>
#include <sstream>

#include "base/error.hpp"
#include "exchange/kernel_side/healing.hpp"
#include "exchange/kernel_side/step_session.hpp"
#include "exchange/kernel_side/step_text.hpp"
#include "solid/kernel_call.hpp"

namespace fitup::exchange {
namespace {

/// 1980-01-01T00:00:00, the oldest time that every archive format can hold.
constexpr std::int64_t default_time_s = 315'532'800;

/// The kernel writes this schema's name with a stray dot.
constexpr const char* ap242_schema =
    "AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF { 1 0 10303 442 1 1 4 }";

/// "2026-03-14T09:26:53", UTC (ISO 8601, as ISO 10303-21 asks for).
std::string time_text(std::int64_t seconds) {
    using namespace std::chrono;
    const sys_seconds moment{std::chrono::seconds(seconds)};
    const auto day = floor<days>(moment);
    const year_month_day date{day};
    const hh_mm_ss time{moment - day};
    std::array<char, 48> text{};
    std::snprintf(text.data(), text.size(), "%04d-%02u-%02uT%02d:%02d:%02d", static_cast<int>(date.year()),
                  static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                  static_cast<int>(time.hours().count()), static_cast<int>(time.minutes().count()),
                  static_cast<int>(time.seconds().count()));
    return text.data();
}

void apply(const StepOptions& options) {
    StepSession::set("write.step.schema", options.schema == StepSchema::AP214 ? "AP214IS" : "AP242DIS");
    StepSession::set("write.step.unit", options.unit == plan::Units::mm ? "MM" : "INCH");
    // Curves in the parameters of a surface only repeat what the surface and the edge say: files are 60 %
    // smaller.
    StepSession::set("write.surfacecurve.mode", 0);
    StepSession::set("write.step.assembly", 0);
}

std::string printed(STEPControl_Writer& writer) {
    StepData_StepWriter lines(writer.Model());
    lines.SendModel(Handle(StepData_Protocol)::DownCast(writer.WS()->Protocol()));
    std::ostringstream text;
    text.imbue(std::locale::classic());
    if (!lines.Print(text)) throw KernelError("the STEP text could not be written");
    return text.str();
}

}  // namespace

Handle(TCollection_HAsciiString) ascii(std::string_view text) {
    std::string plain;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const auto byte = static_cast<unsigned char>(text[i]);
        const bool continues_a_character = byte >= 0x80 && byte < 0xC0;
        if (!continues_a_character) plain += byte >= 0x20 && byte < 0x7F ? static_cast<char>(byte) : '?';
    }
    return new TCollection_HAsciiString(plain.c_str());
}

void write_header(STEPControl_Writer& writer, const plan::Plan& plan, const StepOptions& options) {
    APIHeaderSection_MakeHeader header(writer.Model());
    header.SetName(ascii(plan::file_stem(plan) + ".step"));
    header.SetTimeStamp(ascii(time_text(options.time_s.value_or(default_time_s))));
    header.SetAuthorValue(1, ascii(""));
    header.SetOrganizationValue(1, ascii(""));
    header.SetPreprocessorVersion(ascii("fitup"));
    header.SetOriginatingSystem(ascii("fitup"));
    header.SetAuthorisation(ascii(""));
    header.SetDescriptionValue(1, ascii(plan.name));
    if (options.schema == StepSchema::AP242) header.SetSchemaIdentifiersValue(1, ascii(ap242_schema));
}

std::string step_text(const solid::Solid& solid, const plan::Plan& plan, const StepOptions& options) {
    const std::string making = "the STEP text of " + plan.name;
    return solid::kernel_call(making, [&] {
        const StepSession session;
        const SparingHealing healing;
        apply(options);
        const solid::KernelBody& body = solid::body_of(solid);
        STEPControl_Writer writer;
        if (writer.Transfer(body.shape, STEPControl_AsIs, false) != IFSelect_RetDone) {
            throw KernelError(making + ": the kernel could not translate the solid");
        }
        name_faces(writer, body);
        paint(writer, body, plan.material);
        describe_product(writer, plan);
        write_header(writer, plan, options);
        return printed(writer);
    });
}

}  // namespace fitup::exchange
