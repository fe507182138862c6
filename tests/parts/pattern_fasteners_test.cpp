// `fastener` of a pattern: what the file says of it, and what the hole can't take.
#include "parts/pattern_fasteners.hpp"

#include <gtest/gtest.h>

#include "parts/plates.hpp"

namespace fitup::parts {
namespace {

using testing::fault_texts;
using testing::plate_text;

std::string patterns(const std::string& hole, const std::string& fastener) {
    return R"("patterns": [{"name": "p", "seen_from": "B", "points": [[100, 0]], "hole": )" + hole +
           (fastener.empty() ? "" : R"(, "fastener": )" + fastener) + "}]";
}

const std::string tapped = R"({"kind": "tapped", "thread": "M10", "depth": 20})";
const std::string clear = R"({"kind": "clearance", "for": "M10"})";
const std::string dowel = R"({"kind": "dowel", "diameter": 12, "depth": 16})";

TEST(PatternFastener, is_what_the_file_says_and_changes_nothing_of_the_plan) {
    const std::string plain = plate_text(patterns(tapped, "")),
                      told = plate_text(patterns(tapped, R"({"kind": "hex bolt", "reach": "1/2 in"})"));
    EXPECT_TRUE(pattern_fasteners(plain, "p.json").empty());
    const auto fasteners = pattern_fasteners(told, "p.json");
    ASSERT_EQ(fasteners.size(), 1u);
    EXPECT_EQ(fasteners[0].pattern, "p");
    EXPECT_EQ(fasteners[0].kind, "hex bolt");
    EXPECT_NEAR(fasteners[0].reach_mm.value_or(0.0), 12.7, 1e-12);
    EXPECT_EQ(testing::plan_of(plain).holes.size(), testing::plan_of(told).holes.size());
    const auto only = pattern_fasteners(plate_text(patterns(dowel, R"({"reach": 9})")), "p.json");
    ASSERT_EQ(only.size(), 1u);
    EXPECT_EQ(only[0].kind, "");
    EXPECT_TRUE(fault_texts(plate_text(patterns(dowel, R"({"reach": 9})"))).empty());
}

/// The one fault of a pattern with that hole and fastener.
std::string fault_of(const std::string& hole, const std::string& fastener) {
    const auto texts = fault_texts(plate_text(patterns(hole, fastener)));
    EXPECT_EQ(texts.size(), 1u) << fastener;
    return texts.empty() ? "" : texts.front();
}

TEST(PatternFastener, that_the_hole_cannot_take_is_a_fault_at_its_key) {
    const std::string nut = fault_of(tapped, R"({"kind": "bolt and nut"})"),
                      jack = fault_of(clear, R"({"kind": "jack screw"})"),
                      pin = fault_of(dowel, R"({"kind": "stud"})"),
                      unknown = fault_of(tapped, R"({"kind": "rivet"})"),
                      nothing = fault_of(tapped, R"({"reach": 0})");
    for (const std::string& text : {nut, jack, pin, unknown})
        EXPECT_NE(text.find("patterns[0].fastener.kind"), std::string::npos) << text;
    EXPECT_NE(nut.find("a tapped hole is the nut"), std::string::npos) << nut;
    EXPECT_NE(jack.find("needs a tapped hole"), std::string::npos) << jack;
    EXPECT_NE(pin.find("wanted \"none\""), std::string::npos) << pin;
    EXPECT_NE(unknown.find("stud"), std::string::npos) << unknown;
    EXPECT_NE(nothing.find("patterns[0].fastener.reach"), std::string::npos) << nothing;
}

}  // namespace
}  // namespace fitup::parts
