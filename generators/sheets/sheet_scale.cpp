#include "sheets/sheet_scale.hpp"

namespace fitup::sheets {

namespace {

std::vector<Scale> series(std::vector<std::pair<double, std::string>> steps) {
    std::vector<Scale> made;
    for (auto& [factor, text] : steps) made.push_back({factor, text});
    return made;
}

}  // namespace

const std::vector<Scale>& scales(plan::Units units) {
    static const std::vector<Scale> metric = series({{10.0, "10:1"},
                                                     {5.0, "5:1"},
                                                     {2.0, "2:1"},
                                                     {1.0, "1:1"},
                                                     {1.0 / 2.0, "1:2"},
                                                     {1.0 / 2.5, "1:2.5"},
                                                     {1.0 / 5.0, "1:5"},
                                                     {1.0 / 10.0, "1:10"},
                                                     {1.0 / 20.0, "1:20"},
                                                     {1.0 / 50.0, "1:50"},
                                                     {1.0 / 100.0, "1:100"}});
    static const std::vector<Scale> inch = series({{8.0, "8:1"},
                                                   {4.0, "4:1"},
                                                   {2.0, "2:1"},
                                                   {1.0, "1:1"},
                                                   {1.0 / 2.0, "1:2"},
                                                   {1.0 / 4.0, "1:4"},
                                                   {1.0 / 8.0, "1:8"},
                                                   {1.0 / 16.0, "1:16"},
                                                   {1.0 / 32.0, "1:32"},
                                                   {1.0 / 64.0, "1:64"},
                                                   {1.0 / 128.0, "1:128"}});
    return units == plan::Units::in ? inch : metric;
}

}  // namespace fitup::sheets
