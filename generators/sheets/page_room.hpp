#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "sheets/drawing.hpp"

namespace fitup::sheets {

/// What is taken on a page, in small squares: finds room for words beside lines without going through every
/// line for each place tried.
class PageRoom {
  public:
    PageRoom(double width_mm, double height_mm);

    /// Everything drawn so far: texts and filled shapes are taken, lines only better kept off.
    void take(const Drawing& drawing);
    void take(const Text& text);
    /// Left, top, right, bottom.
    void take(const std::array<double, 4>& box);

    bool is_free(const Text& text) const;
    /// How much of the text's box lies over lines, in squares; nothing may be drawn where it is not free.
    int lines_under(const Text& text) const;

    /// The place about `centre` that is free, near, and over few lines: at growing distances in all
    /// directions, the wanted one first.
    /// @param turn_rad  of the wanted direction, clockwise on the page from the right
    /// @returns nothing where no place up to `furthest_mm` is free
    std::optional<Text> beside(Place centre, const std::string& text, double size_mm, double near_mm,
                               double furthest_mm, double turn_rad) const;

  private:
    enum Use : std::uint8_t { line = 1, taken = 2 };
    struct Squares {
        int left, top, right, bottom;
    };
    Squares squares_of(const std::array<double, 4>& box) const;
    void mark(double x_mm, double y_mm, Use use);
    void mark_line(Place from, Place to);
    void mark_box(const std::array<double, 4>& box, Use use);
    void add(const Line& line);
    void add(const RoundLine& round);
    void add(const Text& text) { take(text); }
    void add(const Clip&) {}

    int columns_ = 0, rows_ = 0;
    std::vector<std::uint8_t> squares_;
};

}  // namespace fitup::sheets
