#pragma once

#include <string>

/// A sound link rod for tests: bent twice, threaded at both ends.
namespace fitup::parts::testing {

struct RodText {
    std::string units = "mm";
    std::string material = R"("mild steel")";
    std::string diameter = "8";
    std::string path = R"("path": [[0, 0, 0], [120, 0, 0], [170, 40, 0], [300, 40, 15]], "bend_radius": 24)";
    std::string ends = R"([{"thread": "M8", "length": 25}, {"thread": "M6", "length": 20, "hand": "left"}])";
    std::string more = {};
};

/// On four lines: what all have, the stock, the path, then the ends and what more there is.
inline std::string rod_text(const RodText& rod) {
    return R"({"format": 1, "part": "threaded_rod", "name": "rod", "material": )" + rod.material +
           ",\n"
           R"("units": ")" +
           rod.units + R"(", "diameter": )" + rod.diameter + ",\n" + rod.path + ",\n" + R"("ends": )" +
           rod.ends + (rod.more.empty() ? "" : ", ") + rod.more + "}";
}

inline std::string two_fittings() {
    return R"("fittings": [{"name": "fork", "pin_offset": 30, "thread_depth": 18}, {"pin_offset": 24, "thread_depth": 14}])";
}

}  // namespace fitup::parts::testing
