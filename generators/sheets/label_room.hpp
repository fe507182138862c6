#pragma once

#include <array>
#include <string>
#include <vector>

#include "sheets/drawing.hpp"

/// Finding room on a page for names beside things.
namespace fitup::sheets {

/// What is taken on a page, and where a text still goes.
class LabelRoom {
  public:
    explicit LabelRoom(double page_width_mm) : page_mm_(page_width_mm) {}

    void take(const Text& text);
    /// A box that texts keep off: left, top, right, bottom.
    void keep_off(const std::array<double, 4>& box) { boxes_.push_back(box); }
    /// Within the page's width and over nothing that is taken. Upright texts only.
    bool is_free(const Text& text) const;

    /// The first free place round `centre` at growing distances, about the direction wanted first; the last
    /// one tried where none is free.
    /// @param turn_rad  of that direction, clockwise on the page from the right
    Text beside(Place centre, const std::string& text, double size_mm, double near_mm, double turn_rad) const;

  private:
    double page_mm_;
    std::vector<std::array<double, 4>> boxes_;
};

}  // namespace fitup::sheets
