#pragma once

#include <array>
#include <string>
#include <vector>

#include "plan/contour.hpp"
#include "sheets/place_view.hpp"

/// Dimensions beside a view after ISO 129-1 (from memory): extension lines with a gap, filled arrows, words
/// over the line, read from below or from the right.
namespace fitup::sheets {

enum class Beside { above, below, left, right };

/// A length along X (above, below) or along Y (left, right).
struct Dimension {
    Beside beside = Beside::below;
    plan::Point from, to;    ///< in the view
    std::string text;        ///< over the line
    std::string under = {};  ///< under it: limits
};

/// A filled arrow with its tip at a place.
/// @param turn_rad  the way it points, clockwise on the page from the right
void add_arrow(Drawing& drawing, Place tip, double turn_rad);

/// The dimensions of a view in rows, the shortest nearest to it; no two lie over each other.
class DimensionRows {
  public:
    /// @param box  of the view in mm of the part
    DimensionRows(const plan::Box2& box, double scale, double text_mm, std::vector<Dimension> dimensions);

    /// What the rows take beyond the view's box on the page: left, top, right, bottom, in mm.
    const std::array<double, 4>& room_mm() const { return room_mm_; }
    void draw(Drawing& drawing, const Placing& placing) const;

  private:
    struct Laid;
    struct Row {
        double offset_mm = 0.0;  ///< of the line from the view's box
        std::vector<std::array<double, 2>> taken;
        bool has_under = false;
    };
    std::vector<Laid> lay_side(Beside side, const std::vector<Dimension>& all) const;
    Laid measured(const Dimension& dimension) const;
    void choose_rows(std::vector<Laid>& laid, Beside side);
    void widen_room(const Laid& laid);
    void draw_one(Drawing& drawing, const Laid& laid, const Placing& placing) const;

    plan::Box2 box_;
    double scale_, text_mm_;
    std::array<double, 4> room_mm_{};

    struct Laid {
        Dimension dimension;
        double from_mm = 0.0, to_mm = 0.0;  ///< along the line, on the page from the view's zero
        bool arrows_inside = true;
        double text_mm = 0.0;           ///< middle of the words, along
        std::array<double, 2> taken{};  ///< along, words and arrows
        double offset_mm = 0.0;         ///< of the line from the view's box
    };
    std::vector<Laid> laid_;
};

}  // namespace fitup::sheets
