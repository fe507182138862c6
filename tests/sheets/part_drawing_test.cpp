// The drawing of a part: every word on its sheet and over no other one, every hole in the table once, sizes
// that read back as the plan's. The PDF's pages are measured by another reader (poppler), the SVG is read by
// another one's XML.
#include "sheets/part_drawing.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "base/file.hpp"
#include "base/text.hpp"
#include "base/units.hpp"
#include "exchange/random_plates.hpp"
#include "parts/examples.hpp"
#include "parts/kinds.hpp"
#include "plan/skin.hpp"
#include "rules/rules.hpp"
#include "sheets/drawing_frame.hpp"
#include "sheets/hole_table.hpp"
#include "sheets/render.hpp"

namespace fitup::sheets {
namespace {

namespace fs = std::filesystem;

using parts::testing::example_plan;

const std::vector<plan::PaperSize>& sizes() {
    static const std::vector<plan::PaperSize> all{
        {"A4", 210, 297}, {"A3", 297, 420}, {"Letter", 215.9, 279.4}, {"Tabloid", 279.4, 431.8}};
    return all;
}

std::vector<Drawing> drawn(const plan::Plan& plan, const plan::DrawingSheet& sheet) {
    const plan::Findings findings = rules::judge(plan);
    const DrawingFacts facts{findings, 1.0, 2.5, plan::skin(plan).skin.box, "2026-01-02"};
    return part_drawing(plan, sheet, facts);
}

std::vector<std::string> texts_of(const std::vector<Drawing>& sheets) {
    std::vector<std::string> texts;
    for (const Drawing& sheet : sheets) {
        for (const auto& item : sheet.items) {
            if (const Text* text = std::get_if<Text>(&item)) texts.push_back(text->text);
        }
    }
    return texts;
}

std::size_t count_of(const std::vector<std::string>& texts, const std::string& wanted) {
    return std::size_t(std::count(texts.begin(), texts.end(), wanted));
}

/// What is wrong with the sheets' layout, in words; "" for nothing.
std::string trouble(const std::vector<Drawing>& sheets, const plan::PaperSize& size) {
    if (sheets.empty()) return "no sheet";
    for (const Drawing& sheet : sheets) {
        if (sheet.width_mm != size.height_mm || sheet.height_mm != size.width_mm) return "wrong size";
        if (const auto pairs = overlapping_texts(sheet); !pairs.empty())
            return "\"" + pairs[0][0] + "\" over \"" + pairs[0][1] + "\"";
        if (const auto out = outside_page(sheet); !out.empty()) return out[0] + " outside";
    }
    return "";
}

const char* const plates[] = {"brace-plate.json", "pump-plate.json", "winch-adapter.json",
                              "selector-crank.json"};

TEST(PartDrawing, keeps_the_frames_marks_out_of_the_title_block) {
    for (const plan::PaperSize& size :
         {plan::PaperSize{"Letter", 215.9, 279.4}, plan::PaperSize{"A3", 297, 420}}) {
        const SheetLayout layout = sheet_layout(size);
        const Drawing sheet = empty_sheet(layout, {}, 1, 1);
        int marks = 0;
        for (const auto& item : sheet.items) {
            const Line* line = std::get_if<Line>(&item);
            if (line == nullptr || line->closed || !line->pen || line->pen->width_mm < 0.6) continue;
            ++marks;
            for (const Place& end : line->points)
                EXPECT_FALSE(end[0] > layout.title[0] && end[1] > layout.title[1] &&
                             end[0] < layout.title[2] && end[1] < layout.title[3]);
        }
        EXPECT_EQ(marks, 4) << size.name;
    }
}

TEST(PartDrawing, of_the_examples_keeps_every_word_on_its_sheet_and_off_others) {
    std::vector<const char*> all(std::begin(plates), std::end(plates));
    all.insert(all.end(), {"deck-arm.json", "selector-rod.json"});
    for (const char* file : all) {
        const plan::Plan plan = example_plan(file);
        for (const plan::PaperSize& size : sizes()) {
            for (const bool both : {false, true}) {
                for (const auto projection : {plan::Projection::third, plan::Projection::first}) {
                    const auto sheets = drawn(plan, {size, projection, both});
                    EXPECT_EQ(trouble(sheets, size), "") << file << " " << size.name << " " << both;
                }
            }
        }
    }
}

/// Rows of the hole table as the sheets have them: mark, X, Y.
TEST(PartDrawing, has_every_hole_once_at_its_place) {
    for (const char* file : plates) {
        const plan::Plan plan = example_plan(file);
        const SheetSizes words(plan.units, false);
        const auto groups = hole_groups(plan, {}, words);
        const DrawnTable table = hole_places_table(plan, groups, words);
        ASSERT_EQ(table.rows.size(), plan.holes.size());
        const double unit_mm = plan.units == plan::Units::in ? mm_per_inch : 1.0;
        const double within = plan.units == plan::Units::in ? 0.00005 : 0.005;
        std::size_t row = 0;
        for (const HoleGroup& group : groups) {
            for (const std::size_t h : group.holes) {
                const auto x = parse_number(table.rows[row][1].lines[0]),
                           y = parse_number(table.rows[row][2].lines[0]);
                ASSERT_TRUE(x && y);
                EXPECT_NEAR(*x, plan.holes[h].at_mm.x_mm / unit_mm, within * 1.001) << plan.holes[h].id;
                EXPECT_NEAR(*y, plan.holes[h].at_mm.y_mm / unit_mm, within * 1.001) << plan.holes[h].id;
                ++row;
            }
        }
        for (const plan::PaperSize& size : sizes()) {
            const auto texts = texts_of(drawn(plan, {size, plan::Projection::third, false}));
            for (const auto& cells : table.rows) {
                // In the table once, and beside the hole on at least one side.
                EXPECT_GE(count_of(texts, cells[0].lines[0]), 2u) << file << size.name << cells[0].lines[0];
                EXPECT_GE(count_of(texts, cells[1].lines[0]), 1u);
                EXPECT_GE(count_of(texts, cells[2].lines[0]), 1u);
            }
        }
    }
}

/// The number that a dimension's words begin with, after its diameter sign.
std::optional<double> leading_number(const std::string& text) {
    const std::string sign = "\xE2\x8C\x80";
    const std::size_t from = text.starts_with(sign) ? sign.size() : 0;
    return parse_number(text.substr(from, text.find(' ', from) - from));
}

bool says(const std::vector<std::string>& texts, double size_mm, bool is_diameter) {
    return std::any_of(texts.begin(), texts.end(), [&](const std::string& text) {
        const auto number = leading_number(text);
        return number && std::abs(*number - size_mm) < 5e-4 &&
               text.starts_with("\xE2\x8C\x80") == is_diameter;
    });
}

TEST(PartDrawing, says_the_sizes_of_the_plan) {
    const plan::Plan plan = example_plan("winch-adapter.json");
    const auto texts = texts_of(drawn(plan, {}));
    EXPECT_TRUE(says(texts, plan.body.thickness_mm, false));
    EXPECT_TRUE(says(texts, 2.0 * plan.body.outline.circle()->radius_mm, true));
    for (const plan::Register& reg : plan.registers) EXPECT_TRUE(says(texts, reg.diameter_mm, true));
    for (const plan::Raised& ring : plan.raised) EXPECT_TRUE(says(texts, ring.height_mm, false)) << ring.id;
    for (const plan::Pattern& pattern : plan.patterns) {
        if (!pattern.circle_diameter_mm) continue;
        EXPECT_TRUE(says(texts, *pattern.circle_diameter_mm, true));
    }
    const plan::Plan crank = example_plan("selector-crank.json");
    const auto crank_texts = texts_of(drawn(crank, {}));
    const plan::Fit& fit = *crank.holes[0].fit;
    EXPECT_EQ(count_of(crank_texts, "14.018 / 14.000"), 2u);  // in the section and in the table
    EXPECT_NEAR(fit.nominal_mm + fit.upper_um / 1000.0, 14.018, 5e-4);
    EXPECT_TRUE(says(crank_texts, crank.crank->hub_diameter_mm, true));
}

TEST(PartDrawing, of_an_arm_and_a_rod_says_their_sizes) {
    const plan::Plan arm = example_plan("deck-arm.json");
    const auto arm_texts = texts_of(drawn(arm, {}));
    EXPECT_TRUE(says(arm_texts, arm.arm->length_mm, false));
    EXPECT_TRUE(says(arm_texts, arm.body.joggle->rise_mm, false));
    EXPECT_TRUE(says(arm_texts, arm.body.joggle->run_mm, false));
    // Published figures of this joggle (see the tests of the joggle): 24.0515 degrees, developed 25.4013.
    EXPECT_GE(count_of(arm_texts, "bend 24.05\xC2\xB0"), 1u);
    const plan::Plan rod = example_plan("selector-rod.json");
    const auto rod_texts = texts_of(drawn(rod, {}));
    EXPECT_TRUE(says(rod_texts, 120.0, false));
    EXPECT_TRUE(says(rod_texts, 327.039, false));  // cut length, as the test of make has it
    EXPECT_EQ(count_of(rod_texts, "1/4-28 UNF - 2A"), 2u);
}

TEST(PartDrawing, first_angle_lays_the_section_on_the_other_side) {
    const auto middle_of = [](const Drawing& sheet, const std::string& start) {
        for (const auto& item : sheet.items) {
            const Text* text = std::get_if<Text>(&item);
            if (text != nullptr && text->text.starts_with(start)) return text->at;
        }
        return Place{-1.0, -1.0};
    };
    const plan::Plan plan = example_plan("winch-adapter.json");
    for (const auto projection : {plan::Projection::third, plan::Projection::first}) {
        const Drawing sheet = drawn(plan, {{"A3", 297, 420}, projection, false}).front();
        const Place side = middle_of(sheet, "SIDE B"), section = middle_of(sheet, "SECTION");
        ASSERT_GT(section[0], 0.0);
        const bool is_after = section[0] + section[1] > side[0] + side[1];
        EXPECT_EQ(is_after, projection == plan::Projection::third);
    }
}

TEST(PartDrawing, gives_a_pattern_the_position_tolerance_of_the_rules) {
    const plan::Plan plan = example_plan("winch-adapter.json");
    const plan::Findings findings = rules::judge(plan);
    const SheetSizes words(plan::Units::mm, false);
    for (const HoleGroup& group : hole_groups(plan, findings, words)) {
        const std::string& pattern = plan.holes[group.holes[0]].pattern;
        const auto found = std::find_if(findings.begin(), findings.end(), [&](const plan::Finding& finding) {
            return finding.rule == "position-tolerance" && finding.where == pattern && finding.value;
        });
        ASSERT_EQ(group.frame.has_value(), found != findings.end()) << group.letter;
        if (!group.frame) continue;
        const auto zone = leading_number(group.frame->zone);
        ASSERT_TRUE(zone);
        EXPECT_LE(*zone, *found->value + 1e-9);  // never rounded up
        EXPECT_GT(*zone, *found->value - 0.01);
        EXPECT_EQ(group.frame->datums, (std::vector<std::string>{"A", "C"}));
    }
}

TEST(PartDrawing, of_any_plate_keeps_its_words_apart) {
    EXPECT_TRUE(rc::check([] {
        const auto fair = exchange::testing::any_fair_plate();
        RC_LOG() << fair.file;
        const auto planned = parts::plan_file(fair.file, "fair.json");
        RC_PRE(planned.plan.has_value());
        const plan::PaperSize& size = sizes()[std::size_t(*rc::gen::inRange(0, 4))];
        const auto projection = *rc::gen::element(plan::Projection::third, plan::Projection::first);
        const bool both_units = *rc::gen::arbitrary<bool>();
        RC_LOG() << size.name << (projection == plan::Projection::third ? " third " : " first ")
                 << both_units;
        const auto sheets = drawn(*planned.plan, {size, projection, both_units});
        const std::string found = trouble(sheets, size);
        if (!found.empty()) RC_FAIL(found);
    }));
}

std::string output_of(const std::string& command) {
    const fs::path out = fs::temp_directory_path() / ("fitup-drawing-" + std::to_string(::getpid()) + ".txt");
    const int status = std::system((command + " >'" + out.string() + "'").c_str());
    const std::string text = status == 0 ? read_file(out) : "";
    fs::remove(out);
    return text;
}

TEST(PartDrawing, pages_have_the_papers_size_and_pictures_are_xml) {
    const plan::Plan plan = example_plan("winch-adapter.json");
    const auto sheets = drawn(plan, {});
    const fs::path file = fs::temp_directory_path() / ("fitup-drawing-" + std::to_string(::getpid()));
    std::ofstream(file.string() + ".pdf", std::ios::binary) << renderer().pdf(sheets);
    const std::string info = output_of("pdfinfo '" + file.string() + ".pdf'");
    EXPECT_NE(info.find("1190.55 x 841.89 pts (A3)"), std::string::npos) << info;
    EXPECT_NE(info.find("Pages:           " + std::to_string(sheets.size())), std::string::npos) << info;
    const std::string words = output_of("pdftotext '" + file.string() + ".pdf' -");
    for (const char* word : {"winch-adapter", "aluminium 6061-T6", "ISO 2768-1"})
        EXPECT_NE(words.find(word), std::string::npos) << word << "\n" << words;
    std::ofstream(file.string() + ".svg", std::ios::binary) << renderer().svg(sheets[0]);
    EXPECT_EQ(output_of("python3 -c 'import sys, xml.etree.ElementTree as t;"
                        "print(t.parse(sys.argv[1]).getroot().get(\"width\"))' '" +
                        file.string() + ".svg'"),
              "420mm\n");
    fs::remove(file.string() + ".pdf");
    fs::remove(file.string() + ".svg");
}

/// A plate that is cut askew, from corner to corner.
constexpr const char* cut_askew = R"({"format": 1, "part": "adapter_plate", "name": "askew", "units": "in",
 "material": "mild steel", "thickness": 1, "outline": {"rectangle": {"width": 9.5, "height": 7.25, "corner_radius": 0.5}},
 "bore": {"diameter": 2.125}, "patterns": [
  {"name": "drum", "seen_from": "B", "circle": {"diameter": 4.5, "count": 6, "start_angle": 17},
   "hole": {"kind": "tapped", "thread": "3/8-16 UNC", "depth": 0.6, "drill_depth": 0.82}},
  {"name": "frame", "seen_from": "A", "points": [[-4, 2.9], [4, 2.9], [4, -2.9], [-4, -2.9]],
   "hole": {"kind": "clearance", "for": "1/2-13 UNC", "fit": "close"}}]})";

bool is_crossed(const Text& text, const Drawing& sheet) {
    return std::any_of(sheet.items.begin(), sheet.items.end(), [&text](const auto& item) {
        const Line* line = std::get_if<Line>(&item);
        const RoundLine* round = std::get_if<RoundLine>(&item);
        return (line != nullptr && overlap(text, *line)) || (round != nullptr && overlap(text, *round));
    });
}

TEST(PartDrawing, letters_of_a_cut_stand_off_every_line) {
    const auto planned = parts::plan_file(cut_askew, "askew.json");
    ASSERT_TRUE(planned.plan.has_value());
    int letters = 0;
    const auto sheets = drawn(*planned.plan, {});
    for (const Drawing& sheet : sheets) {
        for (const auto& item : sheet.items) {
            const Text* letter = std::get_if<Text>(&item);
            if (letter == nullptr || letter->text != "S") continue;
            ++letters;
            EXPECT_FALSE(is_crossed(*letter, sheet)) << letter->at[0] << " " << letter->at[1];
        }
    }
    EXPECT_EQ(letters, 2);
}

}  // namespace
}  // namespace fitup::sheets
