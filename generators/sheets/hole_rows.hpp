#pragma once

#include <span>

#include "sheets/hole_rounds.hpp"
#include "sheets/milled_list.hpp"
#include "sheets/sheet_pages.hpp"
#include "sheets/side_diagram.hpp"

/// The table of a hole sheet: boxes to tick, numbers to set, a round of holes a tool.
namespace fitup::sheets {

/// "drill 13/32 (10.319 mm, 0.4063 in)": with the sizes that the name does not say.
std::string tool_with_sizes(const HoleLine& line);

/// Whether the hole is spotted before this operation.
bool is_spotted(const HoleLine& line);

class HoleRows {
  public:
    HoleRows(SheetPages& pages, plan::Units units, const HoleNumbers& numbers)
        : pages_(pages), is_inch_(units == plan::Units::in), numbers_(numbers) {}

    /// One tool's round, which ends back at zero unless its last hole is there.
    void add_round(int step, Round round);
    void add_milled(int step, std::span<const MilledShape> shapes);

  private:
    void need(double height_mm);
    void add_header();
    void add_group(int step, const std::string& words, const std::string& note);
    void add_row(const HoleLine& line, bool has_own_note);
    void add_back_to_zero(const HoleLine& from);
    void add_shape(const MilledShape& shape);
    void add_box(double middle_mm);
    void add_pair(double length_mm, double read_mm, double beside_mm);
    void add_name(const std::string& id, std::optional<double> x_mm);
    void add_depth(bool through, double depth_mm);
    void add_under(const std::string& words);
    void cell(double at_mm, const std::string& words, double size_mm, Anchor anchor = Anchor::right);
    std::string readout(double length_mm) const;

    SheetPages& pages_;
    bool is_inch_;
    const HoleNumbers& numbers_;
    std::string group_;  ///< what a page that goes on with it repeats
};

}  // namespace fitup::sheets
