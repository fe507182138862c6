#pragma once

#include <string>
#include <vector>

#include "plan/paper.hpp"
#include "sheets/drawing.hpp"

/// Sheets for the bench: pages with the same heading, filled from top to bottom.
namespace fitup::sheets {

/// Heights of letters at the machine: what is read off, what stands beside it, titles.
inline constexpr double read_text_mm = 3.0, side_text_mm = 2.5, title_text_mm = 4.5;

/// What stands at the top of every page.
struct SheetHeading {
    std::string title;               ///< "winch-adapter, revision B"
    std::string lies;                ///< "side B up", at the right
    std::vector<std::string> words;  ///< under it, each from a new line on
};

/// A4 or Letter; a paper of twice that size is folded.
plan::PaperSize bench_size(const plan::PaperSize& size);

class SheetPages {
  public:
    /// What is drawn on lies between `left_mm` and `left_mm + width_mm`.
    static constexpr double left_mm = 13.0, width_mm = 188.0, right_mm = left_mm + width_mm;

    SheetPages(SheetHeading heading, const plan::PaperSize& size);

    /// Where the next thing goes, from the page's top, and how much room there is under it.
    double y_mm() const { return y_mm_; }
    double room_mm() const;
    void advance(double by_mm) { y_mm_ += by_mm; }
    void next_page();
    /// Goes on with another heading, on a new page.
    void begin(SheetHeading heading);

    void text(Place at, const std::string& words, double size_mm, Anchor anchor = Anchor::left);
    void line(Place from, Place to, const Pen& pen);
    void rectangle(Place upper_left, double width_mm, double height_mm, std::optional<Pen> pen,
                   std::optional<double> fill_grey = {});
    Drawing& page() { return pages_.back(); }

    /// Every page with its number and the caution at its foot.
    std::vector<Drawing> finish();

  private:
    void add_heading();
    SheetHeading heading_;
    plan::PaperSize size_;
    std::vector<Drawing> pages_;
    double y_mm_ = 0.0;
};

/// The text without its last letters where it would be wider, ".." for them.
std::string fitted(const std::string& text, double width_mm, double size_mm);

}  // namespace fitup::sheets
