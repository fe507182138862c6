// PDF files of papers as another reader (poppler) sees them: as many pages as were drawn, of the paper's
// size, and every word of them on the page.
#include "sheets/pdf_pages.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <regex>

#include "base/file.hpp"
#include "parts/examples.hpp"
#include "sheets/hole_sheet.hpp"
#include "sheets/paper_template.hpp"
#include "sheets/render.hpp"

namespace fitup::sheets {
namespace {

namespace fs = std::filesystem;
using parts::testing::example_plan;

/// ISO 216 and ANSI Y14.1, in mm.
const plan::PaperSize papers[]{{}, {"A3", 297.0, 420.0}, {"Letter", 215.9, 279.4}, {"Tabloid", 279.4, 431.8}};
constexpr double points_per_mm = 72.0 / 25.4;

/// What poppler's `pdftotext -bbox` says of a file.
struct Seen {
    std::vector<std::array<double, 2>> pages;                          ///< width and height in points
    std::vector<std::pair<std::size_t, std::array<double, 4>>> words;  ///< page; left, top, right, bottom
};

Seen seen_by_poppler(const std::vector<Drawing>& pages) {
    const fs::path file = fs::temp_directory_path() / ("fitup-pages-" + std::to_string(::getpid()) + ".pdf");
    const fs::path out = file.string() + ".html";
    std::ofstream(file, std::ios::binary) << renderer().pdf(pages);
    const std::string call = "pdftotext -bbox '" + file.string() + "' '" + out.string() + "'";
    const std::string text = std::system(call.c_str()) == 0 ? read_file(out) : "";
    fs::remove(file);
    fs::remove(out);
    Seen seen;
    const std::regex element(
        "<(page width=\"([0-9.]+)\" height=\"([0-9.]+)\"|word xMin=\"([-0-9.]+)\" "
        "yMin=\"([-0-9.]+)\" xMax=\"([-0-9.]+)\" yMax=\"([-0-9.]+)\")");
    for (auto it = std::sregex_iterator(text.begin(), text.end(), element); it != std::sregex_iterator();
         ++it) {
        const auto number = [&](std::size_t group) { return std::stod((*it)[group].str()); };
        if ((*it)[2].matched)
            seen.pages.push_back({number(2), number(3)});
        else
            seen.words.push_back({seen.pages.size() - 1, {number(4), number(5), number(6), number(7)}});
    }
    return seen;
}

void expect_pages(const std::vector<Drawing>& pages, const std::string& name) {
    const Seen seen = seen_by_poppler(pages);
    ASSERT_EQ(seen.pages.size(), pages.size()) << name;
    for (std::size_t i = 0; i < pages.size(); ++i) {
        // Poppler prints hundredths of a point and finer.
        EXPECT_NEAR(seen.pages[i][0], pages[i].width_mm * points_per_mm, 0.01) << name;
        EXPECT_NEAR(seen.pages[i][1], pages[i].height_mm * points_per_mm, 0.01) << name;
    }
    EXPECT_GT(seen.words.size(), 20u * pages.size()) << name;
    for (const auto& [page, box] : seen.words) {
        EXPECT_GE(box[0], 0.0) << name;
        EXPECT_GE(box[1], 0.0) << name;
        EXPECT_LE(box[2], seen.pages[page][0]) << name;
        EXPECT_LE(box[3], seen.pages[page][1]) << name;
    }
}

TEST(PdfPages, of_hole_sheets_are_their_papers_with_every_word_on_them) {
    for (const char* part : {"winch-adapter.json", "pump-plate.json", "brace-plate.json",
                             "selector-crank.json", "deck-arm.json", "selector-rod.json"}) {
        for (const plan::PaperSize& size : papers) {
            for (const HoleSheet& sheet : hole_sheets(example_plan(part), size))
                expect_pages(sheet.pages, std::string(part) + sheet.suffix + " " + size.name);
        }
    }
}

TEST(PdfPages, of_templates_are_their_papers_with_every_word_on_them) {
    for (const char* part :
         {"winch-adapter.json", "pump-plate.json", "selector-crank.json", "deck-arm.json"}) {
        for (const plan::PaperSize& size : papers) {
            for (const PaperTemplate& one : paper_templates(example_plan(part), {size, {0.0, 0.0}}))
                expect_pages(one.pages, std::string(part) + one.suffix + " " + size.name);
        }
    }
}

TEST(PdfPages, are_read_as_poppler_reads_them_and_wrong_ones_are_told) {
    const auto pages = paper_templates(example_plan("deck-arm.json"), {}).front().pages;
    const std::string pdf = renderer().pdf(pages);
    const auto found = pdf_pages_mm(pdf);
    const Seen seen = seen_by_poppler(pages);
    ASSERT_EQ(found.size(), seen.pages.size());
    for (std::size_t i = 0; i < found.size(); ++i)
        for (std::size_t axis = 0; axis < 2; ++axis)
            EXPECT_NEAR(found[i][axis] * points_per_mm, seen.pages[i][axis], 1e-3);
    EXPECT_EQ(wrong_pdf_pages(pdf, pages), "");
    std::vector<Drawing> other = pages;
    other[0].width_mm += 1.0;
    EXPECT_NE(wrong_pdf_pages(pdf, other).find("page 1 is 210 x 297 mm, wanted 211 x"), std::string::npos)
        << wrong_pdf_pages(pdf, other);
    other.push_back(pages[0]);
    EXPECT_EQ(wrong_pdf_pages(pdf, other).find("has "), 0u);
    EXPECT_NE(wrong_pdf_pages("%PDF-1.4 /MediaBox [ 0 0", pages), "");
}

}  // namespace
}  // namespace fitup::sheets
