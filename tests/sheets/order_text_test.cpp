// The order's text: what a shop must find in it, and that it keeps to 100 columns.
#include "sheets/order_text.hpp"

#include <gtest/gtest.h>

#include <sstream>

#include "parts/examples.hpp"
#include "rules/rules.hpp"

namespace fitup::sheets {
namespace {

std::string order_of(const std::string& example, const OrderedSize& size) {
    const plan::Plan plan = parts::testing::example_plan(example);
    const std::vector<OrderedFile> files{{"step", plan.name + ".step"}, {"dxf", plan.name + "-B.dxf"}};
    return order_text(plan, size, rules::judge(plan), files);
}

void expect_in(const std::string& text, std::initializer_list<const char*> wanted) {
    // Line breaks stand where a line was full.
    std::string flowing;
    bool is_blank = false;
    for (const char letter : text) {
        const bool blank = letter == ' ' || letter == '\n';
        if (!(blank && is_blank)) flowing += blank ? ' ' : letter;
        is_blank = blank;
    }
    for (const char* words : wanted)
        EXPECT_NE(flowing.find(words), std::string::npos) << words << "\nin\n" << text;
}

void expect_narrow(const std::string& text) {
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) EXPECT_LE(line.size(), 100u) << line;
}

TEST(OrderText, of_a_plate_needs_no_question) {
    const std::string text =
        order_of("winch-adapter.json", {4321000.0, 11.667, {{-215, -215, -5}, {215, 215, 40}}});
    expect_in(text,
              {"ORDER: winch-adapter", "aluminium 6061-T6", "One body, over all 430 x 430 x 45 mm",
               "volume 4321 cm3, mass 11.667 kg", "8 x M10, thread 22 mm deep", "[gearbox-1 .. gearbox-8]",
               "reamed to 12 mm (0.4724 in) at assembly", "H7: 12.000 to 12.018 mm",
               "give each hole a position tolerance", "winch-adapter.step: the part to be made",
               "winch-adapter-B.dxf: flat outline", "A check is no approval"});
    expect_narrow(text);
}

TEST(OrderText, of_a_rod_names_its_threads) {
    const std::string text = order_of("selector-rod.json", {11000.0, 0.09, {{0, 0, 0}, {300, 40, 15}}});
    expect_in(text, {"ORDER: selector-rod", "1/4-28 UNF right-hand, 25.4 mm (1 in) full form"});
    expect_narrow(text);
}

TEST(OrderText, of_an_arm_has_its_pinch_bolt) {
    const std::string text = order_of("deck-arm.json", {20000.0, 0.16, {{-30, -13, 0}, {97, 13, 15}}});
    expect_in(text, {"ORDER: deck-arm", "slot", "[pinch-tapped]"});
    expect_narrow(text);
}

}  // namespace
}  // namespace fitup::sheets
