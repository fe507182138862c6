#include "parts/mockup_bar.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "parts/mockup_words.hpp"

namespace fitup::parts {

namespace {

double length_mm(const plan::Mockup& settings) {
    if (!settings.bed_mm) return bar_mm;
    const double longer_mm = std::max((*settings.bed_mm)[0], (*settings.bed_mm)[1]);
    return std::min(bar_mm, 10.0 * std::floor(longer_mm / 10.0));
}

plan::Hole hole(const std::string& id, double x_mm, double thickness_mm) {
    plan::Hole hole;
    hole.id = id;
    hole.at_mm = {x_mm, 0.0};
    hole.diameter_mm = bar_hole_mm;
    hole.depth_mm = thickness_mm;
    return hole;
}

/// One under the other between the holes, each as high as fits.
void add_lines(const std::vector<std::string>& lines, double room_mm, Room& room, plan::Plan& bar) {
    constexpr double pitch_mm = 6.5;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        Label label{
            plan::Side::B, lines[i], 4.0, {0.0, (double(lines.size() - 1) / 2.0 - double(i)) * pitch_mm}};
        while (width_mm(label) > room_mm && label.height_mm > 2.0) label.height_mm -= 0.25;
        add_label(label, room, bar);
    }
}

}  // namespace

plan::Plan test_bar(const plan::Plan& source, const plan::Mockup& settings) {
    const double long_mm = length_mm(settings), apart_mm = long_mm - bar_ends_mm;
    plan::Plan bar;
    bar.units = source.units;
    bar.material = source.material;
    bar.body.outline = plan::rectangle({}, long_mm, 28.0, 3.0, {});
    bar.body.thickness_mm = settings.thickness_mm;
    bar.holes = {hole("left", -apart_mm / 2.0, settings.thickness_mm),
                 hole("right", apart_mm / 2.0, settings.thickness_mm)};
    Room room({bar.body.outline, {}, bar.holes});
    const std::string apart = short_text(apart_mm, 3);
    add_lines({"TEST BAR " + short_text(long_mm, 3) + " MM - FIT CHECK ONLY",
               "HOLES: " + apart + " MM MIDDLE TO MIDDLE", "SHRINKAGE = 1 - MEASURED / " + apart,
               "ALLOWANCE = " + short_text(bar_hole_mm, 3) + " - HOLE MEASURED"},
              apart_mm - bar_hole_mm - 4.0, room, bar);
    return bar;
}

}  // namespace fitup::parts
