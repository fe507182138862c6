#include "sheets/sheet_pages.hpp"

namespace fitup::sheets {

namespace {

/// Printers leave about 5 mm blank (common practice, no source).
constexpr double top_mm = 11.0, foot_mm = 9.0;
/// From the last row to the foot's words.
constexpr double above_foot_mm = 5.0;
constexpr double line_share = 1.6;  ///< of the letters' height from line to line
constexpr const char* caution =
    "A check is no approval: the law, class rules and a licensed engineer decide.";

}  // namespace

plan::PaperSize bench_size(const plan::PaperSize& size) {
    constexpr double widest_mm = 250.0;
    if (size.width_mm < widest_mm) return size;
    return {size.name == "A3" ? "A4" : "Letter", size.height_mm / 2.0, size.width_mm};
}

std::string fitted(const std::string& text, double width_mm, double size_mm) {
    std::size_t letters = text.size();
    std::string shown = text;
    while (letters > 1 && text_width_mm(shown, size_mm) > width_mm) shown = shortened(text, --letters);
    return shown;
}

SheetPages::SheetPages(SheetHeading heading, const plan::PaperSize& size)
    : heading_(std::move(heading)), size_(size) {
    next_page();
}

double SheetPages::room_mm() const {
    return size_.height_mm - foot_mm - side_text_mm - above_foot_mm - y_mm_;
}

void SheetPages::begin(SheetHeading heading) {
    heading_ = std::move(heading);
    next_page();
}

void SheetPages::next_page() {
    Drawing page;
    page.width_mm = size_.width_mm;
    page.height_mm = size_.height_mm;
    page.title = heading_.title + ", " + heading_.lies;
    pages_.push_back(std::move(page));
    add_heading();
}

void SheetPages::add_heading() {
    y_mm_ = top_mm + title_text_mm;
    const double lies_mm = text_width_mm(heading_.lies, title_text_mm);
    text({left_mm, y_mm_}, fitted(heading_.title, width_mm - lies_mm - 6.0, title_text_mm), title_text_mm);
    text({right_mm, y_mm_}, heading_.lies, title_text_mm, Anchor::right);
    y_mm_ += 2.5;
    line({left_mm, y_mm_}, {right_mm, y_mm_}, {wide_mm});
    y_mm_ += side_text_mm + 2.0;
    for (const std::string& words : heading_.words) {
        for (const std::string& one : broken_lines(words, width_mm, side_text_mm)) {
            text({left_mm, y_mm_}, one, side_text_mm);
            y_mm_ += line_share * side_text_mm;
        }
    }
    y_mm_ += 0.5;
}

void SheetPages::text(Place at, const std::string& words, double size_mm, Anchor anchor) {
    if (!words.empty()) page().items.emplace_back(Text{at, words, size_mm, anchor, 0.0});
}

void SheetPages::line(Place from, Place to, const Pen& pen) {
    page().items.emplace_back(Line{{from, to}, false, pen, {}});
}

void SheetPages::rectangle(Place upper_left, double width, double height, std::optional<Pen> pen,
                           std::optional<double> fill_grey) {
    const auto [x, y] = upper_left;
    page().items.emplace_back(
        Line{{{x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}}, true, pen, fill_grey});
}

std::vector<Drawing> SheetPages::finish() {
    const double y = size_.height_mm - foot_mm;
    for (std::size_t i = 0; i < pages_.size(); ++i) {
        const std::string place = "page " + std::to_string(i + 1) + " of " + std::to_string(pages_.size());
        pages_[i].items.emplace_back(Text{{left_mm, y}, caution, side_text_mm, Anchor::left, 0.0});
        pages_[i].items.emplace_back(Text{{right_mm, y}, place, side_text_mm, Anchor::right, 0.0});
    }
    return std::move(pages_);
}

}  // namespace fitup::sheets
