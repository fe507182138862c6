#pragma once

#include <string>

/// A sound offset arm for tests: the deck winch's lever, joggled up, with a boss and a slotted eye.
namespace fitup::parts::testing {

struct ArmText {
    std::string units = "mm";
    std::string material = "mild steel";
    std::string strip = R"({"width": 22, "thickness": 6})";
    std::string length = "86";
    std::string joggle = R"({"rise": 9, "start": 27, "run": 24, "inside_radius": 6})";  ///< "": none
    std::string pivot = R"({"bore": 12, "boss": {"diameter": 26, "height": 14}})";
    std::string eye = R"({"slot": {"length": 18, "width": 8}})";
    std::string more = {};
};

/// On five lines: what all have, strip and length, the joggle, pivot and eye, what more there is.
inline std::string arm_text(const ArmText& arm) {
    return R"({"format": 1, "part": "offset_arm", "name": "arm", "material": ")" + arm.material +
           R"(", "units": ")" + arm.units + "\",\n\"strip\": " + arm.strip + ", \"length\": " + arm.length +
           ",\n" + (arm.joggle.empty() ? "" : "\"joggle\": " + arm.joggle + ",") +
           "\n\"pivot\": " + arm.pivot + ", \"eye\": " + arm.eye + (arm.more.empty() ? "" : ",\n") +
           arm.more + "}";
}

}  // namespace fitup::parts::testing
