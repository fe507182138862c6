#include "sheets/pdf_pages.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/text.hpp"
#include "base/units.hpp"

namespace fitup::sheets {

namespace {

constexpr double mm_per_point = mm_per_inch / 72.0;
/// Page boxes are written to some thousandths of a point.
constexpr double equal_mm = 0.01;
constexpr std::string_view key = "/MediaBox";

/// The next number from `at` on, which moves behind it.
std::optional<double> number_at(std::string_view text, std::size_t& at) {
    at = text.find_first_of("+-.0123456789", at);
    if (at == std::string_view::npos) return {};
    const std::size_t end = std::min(text.find_first_not_of("+-.0123456789", at), text.size());
    const auto number = parse_number(text.substr(at, end - at));
    at = end;
    return number;
}

std::string size_words(double width_mm, double height_mm) {
    return short_text(width_mm, 2) + " x " + short_text(height_mm, 2) + " mm";
}

}  // namespace

std::vector<std::array<double, 2>> pdf_pages_mm(std::string_view pdf) {
    std::vector<std::array<double, 2>> pages;
    for (std::size_t at = pdf.find(key); at != std::string_view::npos; at = pdf.find(key, at)) {
        const std::size_t end = std::min(pdf.find(']', at), pdf.size());
        const std::string_view box = pdf.substr(at + key.size(), end - at - key.size());
        std::array<double, 4> corners{};
        std::size_t in_box = 0;
        bool is_whole = true;
        for (double& corner : corners) {
            const auto number = in_box < box.size() ? number_at(box, in_box) : std::nullopt;
            is_whole = is_whole && number;
            corner = number.value_or(0.0) * mm_per_point;
        }
        if (is_whole) pages.push_back({corners[2] - corners[0], corners[3] - corners[1]});
        at = end;
    }
    return pages;
}

std::string wrong_pdf_pages(std::string_view pdf, std::span<const Drawing> pages) {
    const auto found = pdf_pages_mm(pdf);
    if (found.size() != pages.size())
        return "has " + std::to_string(found.size()) + " pages, wanted " + std::to_string(pages.size());
    for (std::size_t i = 0; i < pages.size(); ++i) {
        const double off_mm =
            std::max(std::abs(found[i][0] - pages[i].width_mm), std::abs(found[i][1] - pages[i].height_mm));
        if (off_mm > equal_mm)
            return "page " + std::to_string(i + 1) + " is " + size_words(found[i][0], found[i][1]) +
                   ", wanted " + size_words(pages[i].width_mm, pages[i].height_mm);
    }
    return "";
}

}  // namespace fitup::sheets
