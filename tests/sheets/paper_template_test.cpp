// Paper templates: true scale after printing, cuts that go round holes, the same part on both views. Pages
// are measured in the PDF by another reader (poppler).
#include "sheets/paper_template.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "base/file.hpp"
#include "parts/examples.hpp"
#include "sheets/paper_tiles.hpp"
#include "sheets/profile.hpp"
#include "sheets/render.hpp"

namespace fitup::sheets {
namespace {

namespace fs = std::filesystem;

using parts::testing::example_plan;

TEST(PaperTiles, reach_across_and_cross_nothing_where_that_can_be) {
    EXPECT_TRUE(rc::check([] {
        const double to = *rc::gen::inRange(100, 900), most = 170.0;
        std::vector<Kept> kept;
        for (int i = 0; i < *rc::gen::inRange(0, 12); ++i) {
            const double at = *rc::gen::inRange(0, 900);
            kept.push_back({at - 8.0, at + 8.0});
        }
        const auto cuts = cuts_between(0.0, to, most, kept);
        double before = 0.0;
        for (const double cut : cuts) {
            RC_ASSERT(cut > before && cut - before <= most + 1e-9 && cut < to);
            // What is kept may fill the whole stretch in which a cut could lie; else the cut is free.
            bool can_be_free = false;
            for (double at = before + most / 3.0 + 0.01; at <= before + most; at += 0.01) {
                bool is_free = true;
                for (const Kept& one : kept) is_free = is_free && !(at > one.from_mm && at < one.to_mm);
                can_be_free = can_be_free || is_free;
            }
            for (const Kept& one : kept) RC_ASSERT(!can_be_free || !(cut > one.from_mm && cut < one.to_mm));
            before = cut;
        }
        RC_ASSERT(to - before <= most + 1e-9);
    }));
}

void expect_tidy_templates(const std::string& part) {
    for (const char* paper : {"A4", "A3", "Letter", "Tabloid"}) {
        const plan::PaperSize size =
            std::string(paper) == "A3"        ? plan::PaperSize{"A3", 297, 420}
            : std::string(paper) == "Letter"  ? plan::PaperSize{"Letter", 215.9, 279.4}
            : std::string(paper) == "Tabloid" ? plan::PaperSize{"Tabloid", 279.4, 431.8}
                                              : plan::PaperSize{};
        const auto templates = paper_templates(example_plan(part), {size, {0, 0}});
        ASSERT_FALSE(templates.empty());
        for (const PaperTemplate& one : templates) {
            EXPECT_TRUE(one.cut_holes.empty()) << paper << one.suffix;
            EXPECT_EQ(one.pages.size(), std::size_t(one.columns * one.rows));
            for (const Drawing& page : one.pages) {
                EXPECT_EQ(page.width_mm, size.width_mm);
                const auto outside = outside_page(page);
                EXPECT_TRUE(outside.empty()) << part << paper << one.suffix << ": " << outside.front();
                const auto overlapping = overlapping_texts(page);
                EXPECT_TRUE(overlapping.empty())
                    << part << paper << ": " << overlapping.front()[0] << ", " << overlapping.front()[1];
            }
        }
    }
}

TEST(PaperTemplate, of_every_example_cuts_no_hole_and_keeps_every_word_on_the_page) {
    for (const char* part : {"winch-adapter.json", "pump-plate.json", "brace-plate.json",
                             "selector-crank.json", "deck-arm.json"})
        expect_tidy_templates(part);
    EXPECT_EQ(paper_templates(example_plan("winch-adapter.json"), {}).size(), 2u);
}

/// The circle of that radius on a page, about the place where there are several.
const RoundLine* circle_on(const Drawing& page, double radius_mm, const Place* centre = nullptr) {
    for (const auto& item : page.items) {
        const RoundLine* round = std::get_if<RoundLine>(&item);
        if (round == nullptr || std::abs(round->radius_mm - radius_mm) > 1e-9) continue;
        if (centre == nullptr ||
            std::hypot(round->centre[0] - (*centre)[0], round->centre[1] - (*centre)[1]) < 1e-9)
            return round;
    }
    return nullptr;
}

bool shows_in(const Clip& clip, Place centre, double radius_mm) {
    const auto [left, top, right, bottom] = *clip.box;
    for (int degree = 0; degree < 360; ++degree) {
        const double turn = degree * 3.14159265358979 / 180.0;
        const double x = centre[0] + radius_mm * std::cos(turn), y = centre[1] + radius_mm * std::sin(turn);
        if (x > left && x < right && y > top && y < bottom) return true;
    }
    return false;
}

TEST(PaperTemplate, every_sheet_has_each_circle_that_shows_on_it) {
    const plan::Plan plan = example_plan("winch-adapter.json");
    const double outside_mm = plan.body.outline.circle()->radius_mm;
    std::size_t found = 0, absent = 0;
    // The template for A shows the plate's side B.
    const auto templates = paper_templates(plan, {});
    for (const Drawing& page : templates.front().pages) {
        const RoundLine* outline = circle_on(page, outside_mm);
        if (outline == nullptr) continue;
        const Clip clip = std::get<Clip>(page.items.front());
        for (const plan::ProfileCurve& one : side_profile(plan, plan::Side::B).curves) {
            const plan::Circle* circle = one.curve.circle();
            if (circle == nullptr) continue;
            const Place centre{outline->centre[0] + circle->centre.x_mm,
                               outline->centre[1] - circle->centre.y_mm};
            const bool is_there = circle_on(page, circle->radius_mm, &centre) != nullptr;
            EXPECT_TRUE(is_there || !shows_in(clip, centre, circle->radius_mm)) << one.layer;
            (is_there ? found : absent) += 1;
        }
    }
    // Some on each sheet, and by far not all on every one.
    EXPECT_GT(found, 40u);
    EXPECT_GT(absent, 2 * found);
}

/// Lengths of the lines that stand alone on a page, along X and along Y.
bool has_line(const Drawing& page, double length_mm, std::size_t axis) {
    for (const auto& item : page.items) {
        const Line* line = std::get_if<Line>(&item);
        if (line == nullptr || line->points.size() != 2) continue;
        const double along = std::abs(line->points[1][axis] - line->points[0][axis]),
                     across = std::abs(line->points[1][1 - axis] - line->points[0][1 - axis]);
        if (across < 1e-9 && std::abs(along - length_mm) < 1e-9) return true;
    }
    return false;
}

TEST(PaperTemplate, has_both_bars_on_every_sheet_and_corrects_by_what_they_measured) {
    const plan::Plan plan = example_plan("winch-adapter.json");
    const auto plain = paper_templates(plan, {});
    for (const Drawing& page : plain.front().pages) {
        EXPECT_TRUE(has_line(page, 180.0, 0));
        EXPECT_TRUE(has_line(page, 180.0, 1));
    }
    // A printer that makes 179.2 of 180 across and 180.3 up: drawn by 180/179.2 wider, it comes out right.
    const plan::Paper measured{{}, {179.2, 180.3}};
    const auto corrected = paper_templates(plan, measured);
    for (const Drawing& page : corrected.front().pages) {
        EXPECT_TRUE(has_line(page, 180.0 * 180.0 / 179.2, 0));
        EXPECT_TRUE(has_line(page, 180.0 * 180.0 / 180.3, 1));
    }
}

TEST(PaperTemplate, has_a_profile_in_one_piece_with_every_hole_centre) {
    const plan::Plan plan = example_plan("winch-adapter.json");
    const auto templates = paper_templates(plan, {});
    ASSERT_EQ(templates.size(), 2u);
    for (const PaperTemplate& one : templates) {
        EXPECT_EQ(one.profile.suffix, one.suffix);
        // The casting at A is laid on as seen from B, the one at B as seen from A, where X runs the other
        // way.
        const double way = one.suffix == "-paper-A" ? 1.0 : -1.0;
        for (const plan::Hole& hole : plan.holes) {
            const auto crosses = std::count_if(
                one.profile.lines.begin(), one.profile.lines.end(), [&](const plan::ProfileLine& line) {
                    const plan::Point middle{(line.ends[0].x_mm + line.ends[1].x_mm) / 2.0,
                                             (line.ends[0].y_mm + line.ends[1].y_mm) / 2.0};
                    return line.layer == "CENTRE" && std::abs(middle.x_mm - way * hole.at_mm.x_mm) < 1e-9 &&
                           std::abs(middle.y_mm - hole.at_mm.y_mm) < 1e-9;
                });
            EXPECT_EQ(crosses, 2) << one.suffix << " " << hole.id;
        }
    }
}

TEST(PaperTemplate, of_an_arm_is_its_blank_and_of_a_rod_nothing) {
    const auto arm = paper_templates(example_plan("deck-arm.json"), {});
    ASSERT_EQ(arm.size(), 1u);
    EXPECT_EQ(arm[0].suffix, "-paper");
    EXPECT_EQ(arm[0].pages.size(), 1u);
    EXPECT_EQ(paper_templates(example_plan("selector-crank.json"), {}).size(), 1u);
    EXPECT_TRUE(paper_templates(example_plan("selector-rod.json"), {}).empty());
}

std::string output_of(const std::string& command) {
    const fs::path out = fs::temp_directory_path() / ("fitup-paper-" + std::to_string(::getpid()) + ".txt");
    const int status = std::system((command + " >'" + out.string() + "'").c_str());
    const std::string text = status == 0 ? read_file(out) : "";
    fs::remove(out);
    return text;
}

TEST(PaperTemplate, a_printed_bar_measures_what_it_says) {
    const PaperTemplate one = paper_templates(example_plan("deck-arm.json"), {}).front();
    const fs::path file = fs::temp_directory_path() / ("fitup-paper-" + std::to_string(::getpid()) + ".pdf");
    std::ofstream(file, std::ios::binary) << renderer().pdf(one.pages);
    const std::string info = output_of("pdfinfo '" + file.string() + "'");
    EXPECT_NE(info.find("595.276 x 841.89 pts (A4)"), std::string::npos) << info;
    // The bar across is the lowest line of the page: its dark dots at 600 an inch, row by row from below.
    const fs::path picture = file.string() + "-page";
    ASSERT_EQ(
        std::system(
            ("pdftoppm -r 600 -gray -singlefile '" + file.string() + "' '" + picture.string() + "'").c_str()),
        0);
    std::ifstream image(picture.string() + ".pgm", std::ios::binary);
    std::string magic;
    int width = 0, height = 0, most = 0;
    image >> magic >> width >> height >> most;
    image.get();
    std::vector<unsigned char> dots(std::size_t(width) * std::size_t(height));
    image.read(reinterpret_cast<char*>(dots.data()), std::streamsize(dots.size()));
    int longest = 0;
    for (int y = height - 1; y > height * 9 / 10; --y) {
        int run = 0;
        for (int x = 0; x < width; ++x) {
            run = dots[std::size_t(y) * std::size_t(width) + std::size_t(x)] < 128 ? run + 1 : 0;
            longest = std::max(longest, run);
        }
    }
    // A line's end ticks are 0.18 wide, half of it beyond the bar at each end; a dot is 0.042.
    EXPECT_NEAR(longest * 25.4 / 600.0, 180.0 + 0.18, 0.09);
    fs::remove(file);
    fs::remove(picture.string() + ".pgm");
}

}  // namespace
}  // namespace fitup::sheets
