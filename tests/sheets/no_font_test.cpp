// Papers on a machine without any font: the renderer, built with a font file that finds none, draws every
// letter of every paper as strokes of our own.
#include <dlfcn.h>
#include <gtest/gtest.h>

#include <set>
#include <stdexcept>
#include <string>

#include "parts/examples.hpp"
#include "plan/lettering.hpp"
#include "plan/skin.hpp"
#include "rules/rules.hpp"
#include "sheets/hole_sheet.hpp"
#include "sheets/paper_template.hpp"
#include "sheets/part_drawing.hpp"
#include "sheets/render.hpp"

namespace fitup::sheets {
namespace {

const Renderer& renderer_without_font() {
    void* const library = dlopen(FITUP_RENDER_WITHOUT_FONT, RTLD_NOW | RTLD_LOCAL);
    if (library == nullptr) throw std::runtime_error(dlerror());
    return *reinterpret_cast<RendererEntry*>(dlsym(library, renderer_entry))();
}

std::vector<Drawing> papers_of(const plan::Plan& plan) {
    const plan::Findings findings = rules::judge(plan);
    const plan::Box box = plan.rod ? plan::Box{} : plan::skin(plan).skin.box;
    std::vector<Drawing> papers = part_drawing(plan, {}, {findings, 1.0, 2.5, box, "2026-01-02"});
    for (const HoleSheet& sheet : hole_sheets(plan, {}, {}))
        papers.insert(papers.end(), sheet.pages.begin(), sheet.pages.end());
    for (const PaperTemplate& sheet : paper_templates(plan, {}))
        papers.insert(papers.end(), sheet.pages.begin(), sheet.pages.end());
    return papers;
}

/// Letters of a paper that there are no strokes for.
std::set<std::string> unknown_letters(const std::vector<Drawing>& papers) {
    std::set<std::string> unknown;
    for (const Drawing& paper : papers) {
        for (const auto& item : paper.items) {
            const Text* text = std::get_if<Text>(&item);
            if (text == nullptr) continue;
            for (const std::string_view letter : plan::split_into_letters(text->text)) {
                if (!plan::has_letter(letter)) unknown.emplace(letter);
            }
        }
    }
    return unknown;
}

std::size_t count_of(const std::string& text, const std::string& wanted) {
    std::size_t count = 0;
    for (std::size_t at = text.find(wanted); at != std::string::npos; at = text.find(wanted, at + 1)) ++count;
    return count;
}

TEST(NoFont, every_letter_of_the_examples_papers_has_strokes) {
    for (const char* example : {"winch-adapter.json", "pump-plate.json", "brace-plate.json", "deck-arm.json",
                                "selector-crank.json", "selector-rod.json"}) {
        const auto papers = papers_of(parts::testing::example_plan(example));
        EXPECT_FALSE(papers.empty()) << example;
        for (const std::string& letter : unknown_letters(papers)) ADD_FAILURE() << example << ": " << letter;
    }
}

TEST(NoFont, a_text_is_drawn_as_its_strokes_within_the_room_reckoned_with) {
    // Diameter, a small g beside a capital H, depth, a decimal point and a comma.
    const std::string words =
        "\xE2\x8C\x80"
        "10.5 M6-6H, 6g \xE2\x86\xA7"
        "20";
    Drawing drawing{100.0, 20.0, "test", {}};
    drawing.items.emplace_back(Text{{10, 10}, words, 4.0, Anchor::left, 0.0});
    const std::string svg = renderer_without_font().svg(drawing);
    EXPECT_EQ(count_of(svg, "<path"), plan::lettering_lines(words, 4.0).size());
    EXPECT_EQ(count_of(svg, "<use"), 0u);
    EXPECT_EQ(count_of(renderer_without_font().pdf(drawing), "/Font "), 0u);
    EXPECT_LT(0.0, renderer_without_font().text_width_mm(words, 4.0));
}

TEST(NoFont, small_and_capital_letters_differ) {
    const auto drawn = [](const std::string& words) {
        Drawing drawing{40.0, 20.0, "test", {}};
        drawing.items.emplace_back(Text{{10, 10}, words, 4.0, Anchor::left, 0.0});
        return renderer_without_font().svg(drawing);
    };
    EXPECT_NE(drawn("6g"), drawn("6G"));
    EXPECT_NE(drawn("H7"), drawn("h7"));
}

}  // namespace
}  // namespace fitup::sheets
