#pragma once

#include <string>

/// A sound crank for tests: two arms, a hub on both faces.
namespace fitup::parts::testing {

struct CrankText {
    std::string units = "mm";
    std::string thickness = "8";
    std::string pivot = R"({"bore": 14, "hub_diameter": 30, "hub_height": 20, "hub_from": -6})";
    std::string arms =
        R"([{"name": "rod", "length": 64, "angle": 0, "eye": {"bore": 6.4, "diameter": 18}},)"
        R"( {"name": "selector", "length": 30, "angle": -90, "eye": {"thread": "M6", "diameter": 16, "height": 10}}])";
    std::string more = {};
};

/// On four lines: what all have, the plate, the pivot, the arms and what more there is.
inline std::string crank_text(const CrankText& crank) {
    return R"({"format": 1, "part": "bellcrank", "name": "crank", "material": "mild steel",)"
           "\n"
           R"("units": ")" +
           crank.units + R"(", "thickness": )" + crank.thickness +
           ",\n"
           R"("pivot": )" +
           crank.pivot +
           ",\n"
           R"("arms": )" +
           crank.arms + (crank.more.empty() ? "" : ", ") + crank.more + "}";
}

}  // namespace fitup::parts::testing
