#include "exchange/random_plates.hpp"

#include <rapidcheck.h>

#include <cmath>
#include <numbers>
#include <vector>

namespace fitup::exchange::testing {

namespace {

using std::numbers::pi;

/// Hundredths of a millimetre, so that failures read well.
double number(double least, double most) {
    return *rc::gen::inRange(static_cast<int>(std::lround(least * 100)),
                             static_cast<int>(std::lround(most * 100)) + 1) /
           100.0;
}
int pick(int count) { return *rc::gen::inRange(0, count); }
bool flip() { return pick(2) == 0; }
const char* any_side() { return flip() ? "A" : "B"; }

/// Decimal text that a failing case can be copied from.
std::string text(double value) {
    std::string digits = std::to_string(static_cast<long long>(std::lround(std::abs(value) * 100)));
    if (digits.size() < 3) digits.insert(0, 3 - digits.size(), '0');
    return (value < 0 ? "-" : "") + digits.substr(0, digits.size() - 2) + "." +
           digits.substr(digits.size() - 2);
}

double disc(double diameter_mm, double height_mm) { return pi / 4 * diameter_mm * diameter_mm * height_mm; }
double cone(double radius_mm, double height_mm) { return pi / 3 * radius_mm * radius_mm * height_mm; }
double half_tan(double included_deg) { return std::tan(included_deg / 2 * pi / 180); }

/// A rectangle with rounded corners, or a slot where the radius is half its width.
double rounded_area(double width_mm, double height_mm, double radius_mm) {
    return width_mm * height_mm - (4 - pi) * radius_mm * radius_mm;
}

class Drawing {
  public:
    FairPlate plate() {
        thickness_ = number(14, 45);
        outline();
        hollow();
        middle();
        features();
        if (!patterns_.empty()) file_ += ",\n \"patterns\": [" + patterns_ + "]";
        if (!reliefs_.empty()) file_ += ",\n \"reliefs\": [" + reliefs_ + "]";
        return {R"({"format": 1, "part": "adapter_plate", "name": "fair", "units": "mm",)"
                R"( "material": "mild steel", "thickness": )" +
                    text(thickness_) + file_ + "}\n",
                volume_, hollow_depth_};
    }

  private:
    void outline() {
        const bool round = flip();
        width_ = round ? number(150, 320) : number(120, 320);
        height_ = round ? width_ : number(100, 240);
        const double radius = round ? width_ / 2 : (pick(3) == 0 ? 0.0 : number(5, 30));
        is_round_ = round;
        if (round)
            file_ += ", \"outline\": {\"round\": {\"diameter\": " + text(width_) + "}}";
        else
            file_ += ", \"outline\": {\"rectangle\": {\"width\": " + text(width_) +
                     ", \"height\": " + text(height_) + ", \"corner_radius\": " + text(radius) + "}}";
        volume_ = rounded_area(width_, height_, radius) * thickness_;
        if (flip()) break_edges(radius);
    }

    /// Steiner: a convex outline of area A and perimeter P leaves A - P s + k s^2 at a distance s inside it,
    /// k being pi where it is round or rounded and 4 for a sharp rectangle. What two broken edges take is the
    /// integral.
    void break_edges(double corner_radius_mm) {
        const double size = number(0.3, 3);
        file_ += ", \"edge_break\": {\"size\": " + text(size) + ", \"modelled\": true}";
        const double perimeter = 2 * (width_ + height_) - (8 - 2 * pi) * corner_radius_mm;
        const double k = corner_radius_mm > 0 ? pi : 4.0;
        volume_ -= 2 * (perimeter * size * size / 2 - k * size * size * size / 3);
    }

    void hollow() {
        if (pick(3) != 0) return;
        hollow_depth_ = number(2, thickness_ / 2);
        file_ += std::string(", \"hollow\": {\"side\": \"") + any_side() +
                 "\", \"rim\": " + text(number(8, 30)) + ", \"depth\": " + text(hollow_depth_) +
                 ", \"corner_radius\": " + text(number(2, 8)) + ", \"around_holes\": " + text(number(2, 8)) +
                 ", \"around_bore\": " + text(number(2, 8)) + "}";
    }

    /// Bore and register; what they cover is kept free of holes.
    void middle() {
        if (pick(4) == 0) return;
        const double bore = number(12, 40);
        file_ += ", \"bore\": {\"diameter\": " + text(bore) + "}";
        volume_ -= disc(bore, thickness_);
        middle_ = bore / 2;
        if (hollow_depth_ > 0 || flip()) return;
        const double diameter = bore + number(4, 20);
        const double height = number(1, 5);
        const bool spigot = flip();
        file_ += std::string(", \"registers\": [{\"side\": \"") + any_side() + "\", \"kind\": \"" +
                 (spigot ? "spigot" : "recess") + "\", \"diameter\": " + text(diameter) +
                 (spigot ? ", \"height\": " : ", \"depth\": ") + text(height) + "}]";
        volume_ += (spigot ? 1 : -1) * (disc(diameter, height) - disc(bore, height));
        middle_ = diameter / 2;
    }

    /// Cells of 40 mm: a feature stays within 14 mm of its place, a place within 4 mm of its cell's middle.
    void features() {
        for (double x = -140; x <= 140; x += 40) {
            for (double y = -100; y <= 100; y += 40) {
                if (pick(3) == 0) continue;
                x_ = x + number(-4, 4);
                y_ = y + number(-4, 4);
                if (is_free()) feature();
            }
        }
    }

    bool is_free() const {
        constexpr double own = 14 + 4;
        const double away = std::hypot(x_, y_);
        if (middle_ > 0 && away < middle_ + own) return false;
        if (is_round_) return away + own < width_ / 2;
        return std::abs(x_) + own < width_ / 2 && std::abs(y_) + own < height_ / 2;
    }

    void feature() {
        switch (pick(hollow_depth_ > 0 ? 5 : 6)) {
            case 0:
                return through();
            case 1:
                return blind();
            case 2:
                return tapped(any_side(), thickness_ - 2);
            case 3:
                return tapped_from_both();
            case 4:
                return slot();
            default:
                return relief();
        }
    }

    /// A pattern of one hole; seen from A, X has the other sign.
    void add_hole(const std::string& hole) {
        const bool from_a = flip();
        patterns_ += std::string(patterns_.empty() ? "" : ",") + "\n  {\"name\": \"h" +
                     std::to_string(++count_) + "\", \"seen_from\": \"" + (from_a ? "A" : "B") +
                     "\", \"points\": [[" + text(from_a ? -x_ : x_) + ", " + text(y_) + "]], \"hole\": {" +
                     hole + "}}";
    }

    void through() {
        const double diameter = number(2, 12);
        volume_ -= disc(diameter, thickness_);
        add_hole("\"kind\": \"drilled\", \"diameter\": " + text(diameter) + ", \"from\": \"" + any_side() +
                 "\"" + widened(diameter, thickness_ - 1, any_side()));
    }

    void blind() {
        const double diameter = number(2, 12);
        const int point_deg = std::vector<int>{0, 90, 118, 135}[static_cast<std::size_t>(pick(4))];
        const double tip = point_deg == 0 ? 0.0 : diameter / 2 / half_tan(point_deg);
        const double depth = number(1, thickness_ - tip - 1);
        volume_ -= disc(diameter, depth) + cone(diameter / 2, tip);
        const char* side = any_side();
        add_hole("\"kind\": \"drilled\", \"diameter\": " + text(diameter) + ", \"from\": \"" + side +
                 "\", \"depth\": " + text(depth) + ", \"point\": " +
                 (point_deg == 0 ? "\"flat\"" : std::to_string(point_deg)) + widened(diameter, depth, side));
    }

    /// Counterbore, countersink or nothing: what it takes beyond the shaft, no deeper than `room_mm`.
    std::string widened(double diameter, double room_mm, const char* side) {
        const int kind = pick(3);
        if (kind == 0) return "";
        const double wide = diameter + number(0.5, 28 - diameter);
        if (kind == 1) {
            const double depth = number(0.5, std::max(0.6, room_mm - 0.4));
            if (depth >= room_mm) return "";
            volume_ -= disc(wide, depth) - disc(diameter, depth);
            return ", \"recess\": {\"side\": \"" + std::string(side) + "\", \"diameter\": " + text(wide) +
                   ", \"depth\": " + text(depth) + "}";
        }
        const int angle_deg = std::vector<int>{60, 82, 90, 120}[static_cast<std::size_t>(pick(4))];
        const double depth = (wide - diameter) / 2 / half_tan(angle_deg);
        if (depth > room_mm - 0.2) return "";
        const double whole = cone(wide / 2, wide / 2 / half_tan(angle_deg));
        const double tip = cone(diameter / 2, diameter / 2 / half_tan(angle_deg));
        volume_ -= whole - tip - disc(diameter, depth);
        return ", \"countersink\": {\"side\": \"" + std::string(side) + "\", \"diameter\": " + text(wide) +
               ", \"angle\": " + std::to_string(angle_deg) + "}";
    }

    /// Tap drills of ISO 2306: major less pitch, to the standard's 6.8 for M8 and 4.2 for M5.
    void tapped(const char* side, double room_mm) {
        struct Size {
            const char* name;
            double drill;
        };
        const Size size = std::vector<Size>{
            {"M3", 2.5}, {"M5", 4.2}, {"M6", 5.0}, {"M8", 6.8}}[static_cast<std::size_t>(pick(4))];
        const double tip = size.drill / 2 / half_tan(118);
        const double drilled = room_mm - tip;
        if (drilled < 2) return;
        const double depth = number(1, drilled);
        volume_ -= disc(size.drill, depth) + cone(size.drill / 2, tip);
        add_hole(std::string("\"kind\": \"tapped\", \"thread\": \"") + size.name + "\", \"from\": \"" + side +
                 "\", \"depth\": " + text(std::max(0.5, std::floor(depth * 50) / 100)) +
                 ", \"drill_depth\": " + text(depth));
    }

    /// From opposite sides on one axis, not meeting.
    void tapped_from_both() {
        tapped("A", thickness_ / 2 - 1);
        tapped("B", thickness_ / 2 - 1);
    }

    void slot() {
        const double width = number(3, 12);
        const double length = width + number(0.5, 26 - width);
        const bool is_blind = flip();
        const double depth = is_blind ? number(1, thickness_ - 1) : thickness_;
        volume_ -= rounded_area(length, width, width / 2) * depth;
        add_hole("\"kind\": \"dowel\", \"diameter\": " + text(width) + ", \"from\": \"" + any_side() +
                 "\", \"slot\": {\"length\": " + text(length) + ", \"direction\": " +
                 std::to_string(pick(360)) + "}" + (is_blind ? ", \"depth\": " + text(depth) : ""));
    }

    void relief() {
        const bool is_through = pick(4) == 0;
        const double depth = is_through ? thickness_ : number(0.5, thickness_ - 1);
        const std::string at = "[" + text(x_) + ", " + text(y_) + "]";
        std::string shape;
        double area = 0.0;
        if (const int kind = pick(3); kind == 0) {
            const double diameter = number(3, 28);
            shape = "\"circle\": {\"at\": " + at + ", \"diameter\": " + text(diameter) + "}";
            area = disc(diameter, 1);
        } else if (kind == 1) {
            const double width = number(3, 12);
            const double run = number(1, 15);
            const double half = std::round(run * 50) / 100;
            shape = "\"slot\": {\"from\": [" + text(x_ - half) + ", " + text(y_) + "], \"to\": [" +
                    text(x_ + half) + ", " + text(y_) + "], \"width\": " + text(width) + "}";
            area = disc(width, 1) + 2 * half * width;
        } else {
            const double width = number(4, 19);
            const double height = number(4, 19);
            const double radius = flip() ? 0.0 : number(0.2, std::min(width, height) / 2 - 0.1);
            shape = "\"rectangle\": {\"at\": " + at + ", \"width\": " + text(width) +
                    ", \"height\": " + text(height) + ", \"corner_radius\": " + text(radius) +
                    ", \"angle\": " + std::to_string(pick(180)) + "}";
            area = rounded_area(width, height, radius);
        }
        volume_ -= area * depth;
        reliefs_ += std::string(reliefs_.empty() ? "" : ",") + "\n  {\"side\": \"" + any_side() + "\", " +
                    shape + ", \"depth\": " + (is_through ? "\"through\"" : text(depth)) + "}";
    }

    std::string file_, patterns_, reliefs_;
    double thickness_ = 0.0, width_ = 0.0, height_ = 0.0, volume_ = 0.0, hollow_depth_ = 0.0;
    double middle_ = 0.0;  ///< radius that bore and register cover
    double x_ = 0.0, y_ = 0.0;
    bool is_round_ = false;
    int count_ = 0;
};

}  // namespace

FairPlate any_fair_plate() { return Drawing().plate(); }

}  // namespace fitup::exchange::testing
