// `print` of a part's file: what is read, what is told, and which plan is printed.
#include <gtest/gtest.h>

#include "parts/plates.hpp"
#include "parts/printed.hpp"
#include "parts/rods.hpp"

namespace fitup::parts {
namespace {

using testing::fault_texts;
using testing::pattern;
using testing::plate_text;

const std::string cut_away = R"("print": {"threads": "cut_away"})";

std::string tapped(const std::string& more) {
    return pattern(R"("points": [[100, 0], [-100, 0]])",
                   R"({"kind": "tapped", "thread": "M10", "depth": 20)" + more + "}");
}

Planned planned(const std::string& text) { return plan_file(text, "p.json"); }

std::vector<std::string> notes_of(const Planned& planned) {
    std::vector<std::string> notes;
    for (const plan::Finding& finding : planned.findings) {
        if (finding.rule != "print-threads") continue;
        EXPECT_EQ(finding.severity, plan::Severity::note);
        notes.push_back(finding.message);
    }
    return notes;
}

TEST(Print, is_as_modelled_unless_the_file_says_otherwise) {
    const std::string threaded = tapped(R"(, "model_as": "thread")");
    for (const std::string& more : {std::string(), std::string(R"(, "print": {})"),
                                    std::string(R"(, "print": {"threads": "modelled"})")}) {
        const Planned plain = planned(plate_text(threaded + more));
        ASSERT_TRUE(plain.plan) << more;
        EXPECT_EQ(plain.papers.print.threads, plan::PrintedThreads::modelled);
        EXPECT_TRUE(notes_of(plain).empty());
        EXPECT_FALSE(printed_plan(*plain.plan, plain.papers.print));
    }
}

TEST(Print, with_threads_cut_away_leaves_the_part_itself_alone_and_says_so) {
    const Planned asked = planned(plate_text(tapped(R"(, "model_as": "thread")") + ", " + cut_away));
    ASSERT_TRUE(asked.plan);
    EXPECT_EQ(asked.papers.print.threads, plan::PrintedThreads::cut_away);
    const auto printed = printed_plan(*asked.plan, asked.papers.print);
    ASSERT_TRUE(printed);
    for (std::size_t i = 0; i < 2; ++i) {
        EXPECT_TRUE(asked.plan->holes[i].thread->modelled);
        EXPECT_FALSE(printed->holes[i].thread->modelled);
        EXPECT_EQ(printed->holes[i].diameter_mm, 10.0);
    }
    const auto notes = notes_of(asked);
    ASSERT_EQ(notes.size(), 1u);
    EXPECT_NE(notes[0].find("2 holes are plain at the thread's major diameter"), std::string::npos)
        << notes[0];
}

TEST(Print, where_no_thread_is_modelled_is_told_and_changes_nothing) {
    for (const std::string& plate : {tapped(""), std::string(R"("bore": {"diameter": 100})")}) {
        const Planned asked = planned(plate_text(plate + ", " + cut_away));
        ASSERT_TRUE(asked.plan);
        EXPECT_FALSE(printed_plan(*asked.plan, asked.papers.print));
        const auto notes = notes_of(asked);
        ASSERT_EQ(notes.size(), 1u);
        EXPECT_NE(notes[0].find("no thread is modelled"), std::string::npos) << notes[0];
    }
}

TEST(Print, belongs_to_every_kind_of_part) {
    const std::string rod = testing::rod_text(
        {.ends = R"([{"thread": "M8", "length": 25, "model_as": "thread"}, {"thread": "M6", "length": 20}])",
         .more = cut_away});
    const Planned asked = planned(rod);
    ASSERT_TRUE(asked.plan);
    EXPECT_TRUE(printed_plan(*asked.plan, asked.papers.print));
    const auto notes = notes_of(asked);
    ASSERT_EQ(notes.size(), 1u);
    EXPECT_NE(notes[0].find("1 end is plain at the thread's minor diameter"), std::string::npos) << notes[0];
    const Planned crank = planned(
        R"({"format": 1, "part": "bellcrank", "name": "c", "units": "mm", "material": "mild steel", "thickness": 8,
        "pivot": {"bore": 12, "hub_diameter": 28}, "print": {"threads": "cut_away"}, "arms": [{"name": "a", "length": 50,
        "angle": 0, "eye": {"thread": "M6", "diameter": 16, "height": 10, "model_as": "thread"}}]})");
    ASSERT_TRUE(crank.plan);
    EXPECT_TRUE(printed_plan(*crank.plan, crank.papers.print));
    const Planned arm = planned(
        R"({"format": 1, "part": "offset_arm", "name": "a", "units": "mm", "material": "mild steel",
        "strip": {"width": 22, "thickness": 6}, "length": 86, "pivot": {"bore": 12},
        "joggle": {"rise": 9, "start": 27, "run": 24, "inside_radius": 9},
        "print": {"threads": "cut_away"}, "eye": {"thread": "M8", "model_as": "thread"}})");
    ASSERT_TRUE(arm.plan);
    EXPECT_TRUE(printed_plan(*arm.plan, arm.papers.print));
}

TEST(Print, a_word_or_key_that_is_none_is_a_fault_with_the_nearest) {
    const std::string bore = R"("bore": {"diameter": 100}, "print": )";
    const auto word = fault_texts(plate_text(bore + R"({"threads": "cutaway"})"));
    ASSERT_EQ(word.size(), 1u);
    for (const char* wanted : {"p.json:3:", "print.threads", "\"cutaway\"", "cut_away", "modelled"})
        EXPECT_NE(word[0].find(wanted), std::string::npos) << word[0];
    const auto key = fault_texts(plate_text(bore + R"({"thread": "cut_away"})"));
    ASSERT_EQ(key.size(), 1u);
    EXPECT_NE(key[0].find("the nearest is threads"), std::string::npos) << key[0];
    EXPECT_EQ(fault_texts(plate_text(bore + R"({"threads": true})")).size(), 1u);
    EXPECT_EQ(fault_texts(plate_text(bore + R"("cut_away")")).size(), 1u);
}

}  // namespace
}  // namespace fitup::parts
