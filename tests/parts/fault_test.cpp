#include "base/text.hpp"
#include "parts/plates.hpp"

namespace fitup::parts {
namespace {

using namespace testing;

Messages hole_messages(const std::string& hole) {
    return messages_with(pattern(R"("points": [[100, 0]])", hole));
}

std::string named(const std::string& first, const std::string& second) {
    const auto one = [](const std::string& name) {
        return R"({"name": ")" + name +
               R"(", "seen_from": "B", "points": [[100, 0]], "hole": {"kind": "drilled", "diameter": 8}})";
    };
    return "\"patterns\": [" + one(first) + ",\n" + one(second) + "]";
}

TEST(Fault, an_unknown_name_is_told_with_the_nearest) {
    EXPECT_EQ(
        hole_messages(R"({"kind": "tapped", "thread": "M10x1.26"})"),
        (Messages{"patterns[0].hole.thread: found \"M10x1.26\", wanted a thread of the table (`fitup lookup "
                  "threads`); the nearest is \"M10x1.25\""}));
    EXPECT_EQ(hole_messages(R"({"kind": "clearance", "for": "3/9"})"),
              (Messages{"patterns[0].hole.for: found \"3/9\", wanted a bolt of the table (`fitup lookup "
                        "clearance-holes`); the nearest is \"3/8\""}));
    EXPECT_EQ(messages_with(R"("side_materials": {"A": "cast irom grey"})").size(), 1u);
    EXPECT_EQ(messages_with(R"("side_materials": {"A": "mild stel"})"),
              (Messages{"side_materials.A: found \"mild stel\", wanted a material of the table (`fitup "
                        "lookup materials`) "
                        "or its figures; the nearest is \"mild steel\""}));
    const auto housing = messages_with(R"("housing": {"side": "A", "standard": "SAE 7", "threads": "inch"})");
    ASSERT_EQ(housing.size(), 1u);
    EXPECT_EQ(
        housing[0].find("housing.standard: found \"SAE 7\", wanted a housing of the table (`fitup lookup "
                        "housings`); the nearest is \""),
        0u);
}

TEST(Fault, an_unknown_thread_is_told_together_with_what_the_schema_finds) {
    const auto texts = fault_texts(plate_text(
        "\"thicknes\": 3,\n" + pattern(R"("points": [[100, 0]])", R"({"kind": "tapped", "thread": "M11"})")));
    ASSERT_EQ(texts.size(), 2u);
    EXPECT_EQ(texts[0].substr(0, 11), "p.json:3:1:");
    EXPECT_NE(texts[0].find("thicknes"), std::string::npos);
    EXPECT_EQ(texts[1].substr(0, 9), "p.json:4:");
    EXPECT_NE(texts[1].find("M11"), std::string::npos);
}

TEST(Fault, an_unknown_material_is_one_fault) {
    const auto texts = fault_texts(R"({"format": 1, "part": "adapter_plate", "name": "p", "units": "mm",
        "material": "aluminum 6061", "thickness": 10, "outline": {"round": {"diameter": 100}}})");
    ASSERT_LE(texts.size(), 1u);
    for (const std::string& text : texts) EXPECT_EQ(text.substr(0, 17), "p.json:2:21: mate");
}

TEST(Fault, a_classes_letter_says_hole_or_shaft) {
    const auto messages = messages_with(R"("bore": {"diameter": 150, "fit": "h7"})");
    ASSERT_EQ(messages.size(), 1u);
    EXPECT_EQ(messages[0].find("bore.fit: found \"h7\", wanted a hole's tolerance class: H"), 0u);
    const auto spigot =
        messages_with(R"("registers": [{"side": "A", "kind": "spigot", "diameter": 200, "height": 4,
                                         "fit": "H7"}])");
    ASSERT_EQ(spigot.size(), 1u);
    EXPECT_EQ(spigot[0].find("registers[0].fit: found \"H7\", wanted a shaft's tolerance class: "), 0u);
}

TEST(Fault, a_fit_beyond_its_table_is_told) {
    EXPECT_EQ(messages_with(R"("bore": {"diameter": 4000, "fit": "H7"})",
                            {.outline = R"({"round": {"diameter": 9000}})"}),
              (Messages{"bore.fit: found \"H7\", wanted a tolerance class whose table reaches 4000 mm"}));
}

TEST(Fault, names_are_unique_and_not_those_of_the_plates_own_features) {
    EXPECT_EQ(messages_with(named("studs", "studs")),
              (Messages{"patterns[1].name: found \"studs\", wanted a name that no other pattern has; the "
                        "first one stands "
                        "in line 3"}));
    for (const std::string name : {"bore", "outline", "hollow", "relief", "mark", "register-A"}) {
        EXPECT_EQ(messages_with(named("studs", name)),
                  (Messages{"patterns[1].name: found \"" + name +
                            "\", wanted another name: features of the plate itself are called that"}));
    }
}

TEST(Fault, a_name_that_is_a_path_is_refused) {
    EXPECT_EQ(messages_with(named("../../etc/passwd", "studs")).size(), 1u);
}

TEST(Fault, layouts_and_ways_of_looking_exclude_each_other) {
    const std::string hole = R"({"kind": "drilled", "diameter": 8})";
    EXPECT_EQ(messages_with(pattern(R"("points": [[100, 0]], "clock": {"diameter": 9, "hours": [1]})", hole))
                  .size(),
              1u);
    EXPECT_EQ(messages_with(pattern(R"("rotate": 3)", hole)).size(), 1u);
    EXPECT_EQ(
        messages_with(pattern(R"("points": [[100, 0]])", hole, R"("seen_from": "A", "measured_on": "A")"))
            .size(),
        1u);
    EXPECT_EQ(messages_with(pattern(R"("points": [[100, 0]])", hole, R"("rotate": 3)")).size(), 1u);
}

TEST(Fault, too_many_holes_are_refused_before_they_are_laid_out) {
    const auto many = [](int count) {
        return R"({"name": "p)" + std::to_string(count) +
               R"(", "seen_from": "B", "circle": {"diameter": 300, "count": )" + std::to_string(count) +
               R"(}, "hole": {"kind": "drilled", "diameter": 1}})";
    };
    EXPECT_EQ(messages_with("\"patterns\": [" + many(2000) + "," + many(1999) + "," + many(2) + "]"),
              (Messages{"patterns: found 4001 holes in all, wanted at most 4000"}));
    const auto huge = messages_with("\"patterns\": [" + many(100000000) + "]");
    ASSERT_EQ(huge.size(), 1u);
    EXPECT_EQ(huge[0].find("patterns[0].circle.count: found 100000000, wanted a whole number from 1 to 2000"),
              0u);
    EXPECT_EQ(plan_with("\"patterns\": [" + many(2000) + "," + many(1999) + "," + many(1) + "]").holes.size(),
              4000u);
}

TEST(Fault, skipping_leaves_ordinals_of_the_circle) {
    const std::string hole = R"({"kind": "drilled", "diameter": 8})";
    EXPECT_EQ(messages_with(pattern(R"("circle": {"diameter": 200, "count": 4, "skip": [5]})", hole)),
              (Messages{"patterns[0].circle.skip[0]: found 5, wanted an ordinal from 1 to the count, 4"}));
    EXPECT_EQ(messages_with(pattern(R"("circle": {"diameter": 200, "count": 2, "skip": [1, 2]})", hole)),
              (Messages{"patterns[0].circle.skip: found a list of 2, wanted at least one hole left"}));
}

TEST(Fault, a_hole_deeper_than_the_plate_is_no_blind_hole) {
    EXPECT_EQ(
        hole_messages(R"({"kind": "drilled", "diameter": 8, "depth": 40})"),
        (Messages{
            "patterns[0].hole.depth: found 40, wanted less than the thickness, 40 mm; or \"through\""}));
    EXPECT_EQ(
        hole_messages(R"({"kind": "tapped", "thread": "M10", "depth": 20, "drill_depth": 19})"),
        (Messages{"patterns[0].hole.drill_depth: found 19, wanted at least the thread's depth, 20 mm"}));
    EXPECT_EQ(hole_messages(R"({"kind": "tapped", "thread": "M10", "depth": 20, "drill_depth": 41})"),
              (Messages{"patterns[0].hole.drill_depth: found 41, wanted less than the thickness, 40 mm; or "
                        "\"through\""}));
}

TEST(Fault, in_an_inch_file_speaks_inches) {
    EXPECT_EQ(
        messages_with(pattern(R"("points": [[1, 0]])", R"({"kind": "drilled", "diameter": 0.3, "depth": 2})"),
                      {.units = "in", .thickness = "1.5", .outline = R"({"round": {"diameter": 9}})"}),
        (Messages{
            "patterns[0].hole.depth: found 2, wanted less than the thickness, 1.5 in; or \"through\""}));
}

TEST(Fault, of_a_dowel_slot) {
    EXPECT_EQ(hole_messages(R"({"kind": "dowel", "diameter": 10, "slot": {"length": 10, "direction": 0}})"),
              (Messages{"patterns[0].hole.slot.length: found 10, wanted more than its width, 10 mm"}));
    EXPECT_EQ(
        hole_messages(R"({"kind": "dowel", "diameter": 10, "slot": {"length": 14, "toward": "p-2"}})"),
        (Messages{
            "patterns[0].hole.slot.toward: found \"p-2\", wanted the id of a hole of this plate; the nearest "
            "is \"p-1\""}));
    EXPECT_EQ(hole_messages(R"({"kind": "dowel", "diameter": 10, "slot": {"length": 14, "toward": "p-1"}})"),
              (Messages{"patterns[0].hole.slot.toward: found \"p-1\", wanted the id of a hole at another "
                        "place than p-1"}));
    EXPECT_EQ(hole_messages(R"({"kind": "dowel", "diameter": 10, "finish": "at assembly",
                               "slot": {"length": 14, "direction": 0}})")
                  .size(),
              1u);
}

TEST(Fault, of_a_pilot) {
    EXPECT_EQ(hole_messages(R"({"kind": "dowel", "diameter": 10, "finish": "at assembly", "pilot": 10})"),
              (Messages{"patterns[0].hole.pilot: found 10, wanted less than the finished diameter, 10 mm"}));
    EXPECT_EQ(hole_messages(R"({"kind": "dowel", "diameter": 0.4, "finish": "at assembly"})"),
              (Messages{"patterns[0].hole.pilot: missing; wanted a diameter; no drill of the table is "
                        "small enough"}));
}

TEST(File, without_a_known_kind_is_refused) {
    std::vector<std::string> quoted = kind_names();
    for (std::string& name : quoted) name = "\"" + name + "\"";
    const std::string kinds = or_list(quoted);
    EXPECT_EQ(fault_texts("{\n\"part\": \"adapter_plat\"}"),
              (Messages{"p.json:2:9: part: found \"adapter_plat\", wanted " + kinds +
                        "; the nearest is \"adapter_plate\""}));
    EXPECT_EQ(fault_texts("{}"), (Messages{"p.json:1:1: part: missing; wanted \"part\": " + kinds}));
    EXPECT_EQ(fault_texts("{\"calculation\": \"linkage\"}"),
              (Messages{"p.json:1:17: calculation: this file is a calculation, for `fitup calculate`; wanted "
                        "\"part\": " +
                        kinds}));
    EXPECT_EQ(fault_texts("7"),
              (Messages{"p.json:1:1: found 7, wanted an object with format, part, name and so on"}));
    EXPECT_EQ(fault_texts("").size(), 1u);
    EXPECT_EQ(fault_texts("{").size(), 1u);
}

TEST(Kind, is_found_by_its_exact_name) {
    ASSERT_NE(find_kind("adapter_plate"), nullptr);
    EXPECT_EQ(find_kind("adapter"), nullptr);
    EXPECT_EQ(kinds().size(), kind_names().size());
}

}  // namespace
}  // namespace fitup::parts
