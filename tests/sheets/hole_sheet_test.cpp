// Hole sheets: what stands on paper is the hole list, row for row, as another reader (poppler) gets it out of
// the PDF; pictures lie as the side does; nothing runs over the page or over other words.
#include "sheets/hole_sheet.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>

#include "base/file.hpp"
#include "base/text.hpp"
#include "parts/examples.hpp"
#include "sheets/hole_list.hpp"
#include "sheets/hole_plans.hpp"
#include "sheets/milled_list.hpp"
#include "sheets/render.hpp"
#include "sheets/side_diagram.hpp"

namespace fitup::sheets {
namespace {

namespace fs = std::filesystem;
using parts::testing::example_plan;

const plan::PaperSize a4{}, letter{"Letter", 215.9, 279.4};
constexpr const char* plates[]{"winch-adapter.json", "pump-plate.json", "brace-plate.json",
                               "selector-crank.json"};
constexpr const char* parts_of_all_kinds[]{"winch-adapter.json",  "pump-plate.json", "brace-plate.json",
                                           "selector-crank.json", "deck-arm.json",   "selector-rod.json"};

std::string first_of(const std::vector<std::string>& words) { return words.empty() ? "" : words.front(); }

void expect_tidy(const Drawing& page, const std::string& name) {
    EXPECT_EQ(first_of(outside_page(page)), "") << name;
    const auto pairs = overlapping_texts(page);
    EXPECT_TRUE(pairs.empty()) << name << ": \"" << pairs.front()[0] << "\" and \"" << pairs.front()[1]
                               << '"';
    for (const auto& item : page.items) {
        const Text* text = std::get_if<Text>(&item);
        EXPECT_TRUE(text == nullptr || text->size_mm >= 2.5) << name << ": " << text->text;
    }
}

TEST(HoleSheets, keep_every_word_on_the_page_and_off_the_others) {
    for (const char* name : parts_of_all_kinds) {
        for (const plan::PaperSize& size : {a4, letter}) {
            for (const HoleSheet& sheet : hole_sheets(example_plan(name), size)) {
                for (const Drawing& page : sheet.pages) {
                    EXPECT_EQ(page.width_mm, size.width_mm);
                    EXPECT_EQ(page.height_mm, size.height_mm);
                    expect_tidy(page, name + sheet.suffix + size.name);
                }
            }
        }
    }
}

TEST(HoleSheets, lie_on_a4_or_letter_whatever_the_templates_are_on) {
    const plan::Plan plan = example_plan("brace-plate.json");
    EXPECT_EQ(hole_sheets(plan, {"A3", 297.0, 420.0})[0].pages[0].width_mm, 210.0);
    EXPECT_EQ(hole_sheets(plan, {"A3", 297.0, 420.0})[0].pages[0].height_mm, 297.0);
    EXPECT_NEAR(hole_sheets(plan, {"Tabloid", 279.4, 431.8})[0].pages[0].width_mm, 215.9, 1e-9);
    EXPECT_EQ(hole_sheets(plan, {"Tabloid", 279.4, 431.8})[0].pages[0].height_mm, 279.4);
}

std::string text_of_pdf(const std::vector<Drawing>& pages) {
    const fs::path file = fs::temp_directory_path() / ("fitup-sheet-" + std::to_string(::getpid()) + ".pdf");
    const fs::path out = file.string() + ".txt";
    std::ofstream(file, std::ios::binary) << renderer().pdf(pages);
    const int status =
        std::system(("pdftotext -layout '" + file.string() + "' '" + out.string() + "'").c_str());
    const std::string text = status == 0 ? read_file(out) : "";
    fs::remove(file);
    fs::remove(out);
    return text;
}

/// Every row of a sheet as it is read out of its PDF: name and the numbers behind it.
struct Row {
    std::string id;
    std::vector<std::string> numbers;
};

std::vector<Row> rows_of(const std::string& text, const plan::Plan& plan) {
    std::map<std::string, std::string> number_of;
    for (std::size_t i = 0; i < plan.holes.size(); ++i) number_of[std::to_string(i + 1)] = plan.holes[i].id;
    std::vector<Row> rows;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        std::istringstream words(line);
        std::string number, id, word;
        words >> number >> id;
        if (!number_of.contains(number) || number_of[number] != id) continue;
        Row row{id, {}};
        while (words >> word) row.numbers.push_back(word);
        rows.push_back(row);
    }
    return rows;
}

std::vector<std::string> expected_numbers(const HoleLine& line, bool is_inch) {
    std::vector<std::string> numbers;
    const auto add = [&](double length_mm) {
        const std::string mm = fixed_text(length_mm, 2), in = fixed_text(length_mm / 25.4, 4);
        numbers.push_back(is_inch ? in : mm);
        numbers.push_back(is_inch ? mm : in);
    };
    add(line.x_mm);
    add(line.y_mm);
    line.through ? numbers.push_back("through") : add(line.depth_mm);
    if (line.through || line.depth_with_point_mm > line.depth_mm) add(line.depth_with_point_mm);
    add(line.from_last_mm);
    numbers.pop_back();
    return numbers;
}

TEST(HoleSheets, hold_the_hole_list_row_for_row_in_its_order) {
    for (const char* name : plates) {
        const plan::Plan plan = example_plan(name);
        std::string text;
        for (const HoleSheet& sheet : hole_sheets(plan, a4)) text += text_of_pdf(sheet.pages);
        const std::vector<Row> rows = rows_of(text, plan);
        const std::vector<HoleLine> lines = hole_lines(plan);
        ASSERT_EQ(rows.size(), lines.size()) << name << '\n' << text;
        for (std::size_t i = 0; i < rows.size(); ++i) {
            EXPECT_EQ(rows[i].id, lines[i].id) << name;
            EXPECT_EQ(rows[i].numbers, expected_numbers(lines[i], plan.units == plan::Units::in))
                << name << ' ' << lines[i].id << ' ' << lines[i].operation;
        }
    }
}

/// The text of a plan's diagram numbers and where they stand.
std::map<std::string, Place> numbers_on(const plan::Plan& plan, plan::Side side, const HoleNumbers& numbers) {
    Drawing page;
    page.width_mm = page.height_mm = 120.0;
    EXPECT_EQ(draw_side_diagram(page, plan, side, numbers, {10.0, 10.0, 110.0, 110.0}), 0u);
    std::map<std::string, Place> places;
    for (const auto& item : page.items) {
        if (const Text* text = std::get_if<Text>(&item)) places[text->text] = text->at;
    }
    expect_tidy(page, "diagram");
    return places;
}

TEST(SideDiagram, lies_as_the_side_does) {
    plan::Plan plan = plate({hole("right", plan::HoleKind::drilled, {60, 0}, 8),
                             hole("up", plan::HoleKind::drilled, {10, 70}, 8)});
    plan.body.outline = plan::Contour(plan::Circle{{}, 100.0});
    const HoleNumbers numbers{{"right", 1}, {"up", 2}};
    // 80 mm of the frame for 200 of the part, from its middle: at 0.4 the holes lie 24 beside, and 28 over
    // zero.
    const auto near = [](const Place& place, double x, double y) {
        return std::hypot(place[0] - x, place[1] - y) < 6.0;
    };
    const auto b = numbers_on(plan, plan::Side::B, numbers), a = numbers_on(plan, plan::Side::A, numbers);
    EXPECT_TRUE(near(b.at("1"), 61.0 + 24.0, 59.0)) << b.at("1")[0] << ' ' << b.at("1")[1];
    EXPECT_TRUE(near(a.at("1"), 61.0 - 24.0, 59.0)) << a.at("1")[0] << ' ' << a.at("1")[1];
    EXPECT_TRUE(near(b.at("2"), 61.0 + 4.0, 59.0 - 28.0)) << b.at("2")[0] << ' ' << b.at("2")[1];
    EXPECT_TRUE(near(a.at("2"), 61.0 - 4.0, 59.0 - 28.0)) << a.at("2")[0] << ' ' << a.at("2")[1];
}

TEST(SideDiagram, says_how_far_the_edges_are_from_zero_as_the_side_lies) {
    plan::Plan plan = plate({});
    plan.body.outline = plan::rectangle({20.0, 5.0}, 100.0, 60.0, 0.0, {});
    EXPECT_EQ(edge_distances(plan, plan::Side::B),
              (std::vector<std::string>{"a 30.00 mm (1.1811 in) from the left edge to zero",
                                        "b 25.00 mm (0.9843 in) from the lowest edge to zero"}));
    EXPECT_EQ(edge_distances(plan, plan::Side::A)[0], "a 70.00 mm (2.7559 in) from the left edge to zero");
}

TEST(SideDiagram, leaves_out_and_counts_numbers_that_find_no_room) {
    std::vector<plan::Hole> holes;
    HoleNumbers numbers;
    for (int i = 0; i < 1600; ++i) {
        holes.push_back(hole("h" + std::to_string(i), plan::HoleKind::drilled,
                             {(i % 40 - 19.5) * 5.0, (i / 40 - 19.5) * 5.0}, 3));
        numbers[holes.back().id] = std::size_t(i) + 1;
    }
    plan::Plan plan = plate(std::move(holes));
    plan.body.outline = plan::rectangle({}, 220.0, 220.0, 0.0, {});
    Drawing page;
    page.width_mm = page.height_mm = 120.0;
    const std::size_t left_out =
        draw_side_diagram(page, plan, plan::Side::B, numbers, {10.0, 10.0, 110.0, 110.0});
    std::size_t texts = 0;
    for (const auto& item : page.items) texts += std::holds_alternative<Text>(item) ? 1 : 0;
    EXPECT_GT(left_out, 0u);
    EXPECT_EQ(texts + left_out, 1600u + 4u);  // +X, +Y, a and b
    expect_tidy(page, "crowded");
}

TEST(HoleSheets, of_many_holes_keep_their_order_too) {
    std::vector<plan::Hole> holes;
    for (int i = 0; i < 120; ++i)
        holes.push_back(hole("a-rather-long-name-" + std::to_string(i), plan::HoleKind::drilled,
                             {(i % 12 - 5.5) * 40.0, (i / 12 - 4.5) * 40.0}, 8));
    plan::Plan plan = plate(std::move(holes));
    plan.body.outline = plan::rectangle({}, 500.0, 440.0, 0.0, {});
    const auto sheets = hole_sheets(plan, letter);
    ASSERT_EQ(sheets.size(), 1u);
    EXPECT_GE(sheets[0].pages.size(), 4u);
    std::size_t boxes = 0;
    for (const Drawing& page : sheets[0].pages) {
        expect_tidy(page, "many");
        for (const auto& item : page.items) {
            const Line* line = std::get_if<Line>(&item);
            if (line != nullptr && line->closed && line->points.size() == 4 &&
                std::abs(line->points[1][0] - line->points[0][0] - 3.8) < 1e-9)
                ++boxes;
        }
    }
    EXPECT_EQ(boxes, 2u * 120u + 1u);  // to spot and to drill each, and back at zero
}

TEST(HoleSheets, tell_what_is_milled_on_the_side_it_is_milled_from) {
    const plan::Plan plan = example_plan("winch-adapter.json");
    const auto on_a = milled_shapes(plan, plan::Side::A), on_b = milled_shapes(plan, plan::Side::B);
    EXPECT_EQ(on_a.size() + on_b.size(), plan.raised.size() + plan.pockets.size());
    const auto named = [](const std::vector<MilledShape>& shapes, const std::string& id) {
        for (const MilledShape& shape : shapes) {
            if (shape.id == id) return shape;
        }
        return MilledShape{};
    };
    EXPECT_EQ(named(on_b, "register-B").what.substr(0, 38), "recess, diameter 170.05 mm (6.6949 in)");
    EXPECT_EQ(named(on_b, "register-B").depth_mm, 6.0);
    EXPECT_FALSE(named(on_a, "register-A").depth_mm);
    EXPECT_NE(named(on_a, "register-A").what.find("stands 5 mm (0.1969 in) out of the face"),
              std::string::npos);
    // The slot from (92, 58) to (112, 36), 22 wide, as its file says.
    EXPECT_EQ(named(on_b, "relief-2").what.substr(0, 46), "relief, X 81.00 to 123.00, Y 25.00 to 69.00 mm");
}

bool has(const std::string& text, const std::string& wanted) {
    return text.find(wanted) != std::string::npos;
}

/// Blanks as one, so that a layout does not matter.
std::string squeezed(const std::string& text) {
    std::istringstream words(text);
    std::string all, word;
    while (words >> word) all += word + " ";
    return all;
}

TEST(HoleSheets, of_an_arm_are_its_flat_blank_and_what_goes_into_its_edge) {
    const auto sheets = hole_sheets(example_plan("deck-arm.json"), a4);
    ASSERT_EQ(sheets.size(), 1u);
    EXPECT_EQ(sheets[0].suffix, "-sheet");
    const std::string text = squeezed(text_of_pdf(sheets[0].pages));
    // Developed: rise 9, run 24, radius 6, thickness 6, K 0.42, worked out by hand in the trade notes:
    // bend 24.0515 degrees, 25.4013 for the joggle, marks 21.8248 apart.
    EXPECT_TRUE(has(text, "bend 1 starts 27.00 1.0630 47.70 1.8780 up 24.05 degrees")) << text;
    EXPECT_TRUE(has(text, "bend 2 starts 48.82 1.9222 69.52 2.7372 down 24.05 degrees")) << text;
    EXPECT_TRUE(has(text, "bend 2 ends 52.40")) << text;
    EXPECT_TRUE(has(text, "2 eye 87.40 3.4410 0.00 0.0000 through")) << text;
    EXPECT_TRUE(has(text, "After bending \"eye\" lies at X 86.00 mm")) << text;
    EXPECT_TRUE(has(text, "edge +Y up")) << text;
    EXPECT_TRUE(has(text, "4 pinch-tapped -11.70 -0.4606 7.00 0.2756 through")) << text;
}

TEST(HoleSheets, of_a_rod_are_its_marks_and_bends) {
    const auto sheets = hole_sheets(example_plan("selector-rod.json"), letter);
    ASSERT_EQ(sheets.size(), 1u);
    EXPECT_EQ(sheets[0].suffix, "-sheet");
    const std::string text = squeezed(text_of_pdf(sheets[0].pages));
    // The first corner turns by atan2(38, 45) = 40.1786 degrees; its setback is 22 tan(20.0893) = 8.0466.
    EXPECT_TRUE(has(text, "1 111.95 4.4076 119.67 4.7113 40.18 0.00 22.00 0.8661 111.95 4.4076")) << text;
    EXPECT_TRUE(has(text, "end 327.04 12.8756 141.39 5.5665")) << text;
    EXPECT_TRUE(has(text, "first end: thread 1/4-28 UNF, 25.4 mm (1 in) of full form")) << text;
}

TEST(HoleSheets, draw_an_edge_as_it_lies_when_it_is_up) {
    // With +Y up and the underside towards the bench's front, +X points left: Y x X = -Z.
    const auto pages = hole_sheets(example_plan("deck-arm.json"), a4)[0].pages;
    double arrow_mm = 0.0, zero_mm = 0.0;
    for (const auto& item : pages.back().items) {
        if (const Text* text = std::get_if<Text>(&item); text != nullptr && text->text == "+X")
            arrow_mm = text->at[0];
        if (const RoundLine* round = std::get_if<RoundLine>(&item);
            round != nullptr && round->radius_mm == 1.3)
            zero_mm = round->centre[0];
    }
    EXPECT_GT(zero_mm, 0.0);
    EXPECT_GT(arrow_mm, 0.0);
    EXPECT_LT(arrow_mm, zero_mm - 10.0);
}

}  // namespace
}  // namespace fitup::sheets
