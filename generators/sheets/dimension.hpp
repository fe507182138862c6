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
    plan::Point from, to;         ///< in the view
    std::string text;             ///< over the line
    std::string under = {};       ///< under it: limits
    std::string axis_datum = {};  ///< letter at the line's end: the datum is the axis of this diameter
    std::string face_datum = {};  ///< letter on the extension line of `from`
};

/// A datum's sign (ISO 5459): a filled triangle on a line, a stem, the letter in a box.
/// @param turn_rad  the way from the line to the letter, clockwise on the page from the right
void add_datum(Drawing& drawing, Place on, double turn_rad, const std::string& letter, double text_mm);
/// How far it reaches.
double datum_reach_mm(double text_mm);

/// A filled arrow with its tip at a place.
/// @param turn_rad  the way it points, clockwise on the page from the right
void add_arrow(Drawing& drawing, Place tip, double turn_rad);

/// The dimensions of a view in rows, the shortest nearest to it; no two lie over each other.
class DimensionRows {
  public:
    /// @param box  of the view in mm of the part
    /// @param kept_mm  beside the view on the page, for what else stands there
    DimensionRows(const plan::Box2& box, double scale, double text_mm, double kept_mm,
                  std::vector<Dimension> dimensions);

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
    void add_datum_room(Laid& laid) const;
    void keep_words_off_lines(std::vector<Laid>& laid) const;
    double kept_beside(Beside side) const;
    double first_row_mm(const std::vector<Laid>& laid, Beside side) const;
    void choose_rows(std::vector<Laid>& laid, Beside side);
    void widen_room(const Laid& laid);
    void draw_one(Drawing& drawing, const Laid& laid, const Placing& placing) const;

    plan::Box2 box_;
    double scale_, text_mm_, first_mm_;
    std::array<double, 4> room_mm_{};
    bool upwards_ = true;  ///< where words of upright dimensions go that have no room between their arrows

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
