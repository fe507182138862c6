#include <gtest/gtest.h>

#include <algorithm>

#include "trade/trade.hpp"

namespace fitup::trade {
namespace {

std::optional<std::string> test_between(std::string_view one, std::string_view two) {
    for (const LookAlike& found : look_alikes(*find_thread(one))) {
        if (found.thread == find_thread(two)) return found.test;
    }
    return {};
}

/// Pairs that trade guides warn of (published trade guide; major diameters apart 0.0025, 0.007, 0.014, 0.019,
/// 0.028 in).
TEST(LookAlikes, the_known_traps_are_found_both_ways) {
    const std::vector<std::pair<const char*, const char*>> pairs{{"5/16-18 UNC", "M8"},
                                                                 {"3/8-16 UNC", "M10"},
                                                                 {"#10-32 UNF", "M5"},
                                                                 {"#10-24 UNC", "M5"},
                                                                 {"1/4-20 UNC", "M6"},
                                                                 {"1/2-13 UNC", "M12"},
                                                                 {"1/2-13 UNC", "1/2 BSW"},
                                                                 {"3/8-16 UNC", "3/8 BSW"},
                                                                 {"M10", "M10x1.25"},
                                                                 {"#8-32 UNC", "#8-36 UNF"},
                                                                 {"2 BA", "M5"},
                                                                 {"0 BA", "M6"}};
    for (const auto& [one, two] : pairs) {
        EXPECT_TRUE(test_between(one, two)) << one << " and " << two;
        EXPECT_TRUE(test_between(two, one)) << two << " and " << one;
    }
}

TEST(LookAlikes, what_nobody_mixes_up_is_left_out) {
    EXPECT_FALSE(test_between("M10", "M8"));
    EXPECT_FALSE(test_between("M10", "M12"));
    EXPECT_FALSE(test_between("3/8-16 UNC", "3/8-24 UNF"));
    EXPECT_FALSE(test_between("M10", "3/8 BSW"));
    EXPECT_FALSE(test_between("M10", "M10"));
}

TEST(LookAlikes, the_nearest_comes_first) {
    EXPECT_EQ(look_alikes(*find_thread("3/8-16"))[0].thread->designation, "3/8 BSW");
    EXPECT_EQ(look_alikes(*find_thread("M8"))[0].thread->series, "UNC");
}

/// 3/8-16 in M10: pitch diameters 8.4939 and 9.0257, play with 0.05 for cutting 0.5818 tan 30 = 0.3359 mm,
/// pitches 0.0875 apart: 3.84 turns (worked by hand); builders tell of M10 threads lost to 3/8 screws.
TEST(LookAlikes, the_test_says_how_to_tell_them_apart) {
    EXPECT_EQ(test_between("3/8-16 UNC", "M10").value_or(""),
              "pitch gauge: 3/8-16 UNC reads 1.5875 mm (16 per inch), M10 reads 1.5 mm (16.9 per inch); "
              "major diameter "
              "9.525 mm (0.3750 in) against 10 mm (0.3937 in); a 3/8-16 UNC screw jams after about 4 turns "
              "in an M10 nut, "
              "an M10 screw does not start in a 3/8-16 UNC nut");
}

TEST(LookAlikes, equal_pitches_are_told_by_the_flanks) {
    const std::string test = test_between("3/8-16 UNC", "3/8 BSW").value_or("");
    EXPECT_NE(test.find("flanks 60 against 55 deg"), std::string::npos) << test;
    EXPECT_NE(test.find("runs right through in a 3/8 BSW nut"), std::string::npos) << test;
}

/// #10-32 in M5: a thirtieth of a pitch apart, so the nut is through before it jams, and it rattles.
TEST(LookAlikes, a_near_pitch_runs_through_loose) {
    const std::string test = test_between("M5", "#10-32 UNF").value_or("");
    EXPECT_NE(test.find("a #10-32 UNF screw runs right through, loose, in an M5 nut"), std::string::npos)
        << test;
    EXPECT_NE(test.find("an M5 screw does not start in a #10-32 UNF nut"), std::string::npos) << test;
}

TEST(LookAlikes, a_coarse_screw_jams_at_once_in_a_fine_nut) {
    const std::string test = test_between("M12", "M12x1.5").value_or("");
    EXPECT_NE(test.find("an M12 screw jams at the first turn in an M12x1.5 nut"), std::string::npos) << test;
}

TEST(LookAlikes, every_pair_is_mutual_among_the_unified_and_metric) {
    for (const Thread& thread : threads()) {
        for (const LookAlike& other : look_alikes(thread)) {
            EXPECT_NE(other.thread, &thread);
            EXPECT_FALSE(other.test.empty());
            const auto back = look_alikes(*other.thread);
            const bool mutual = std::any_of(back.begin(), back.end(),
                                            [&](const LookAlike& l) { return l.thread == &thread; });
            EXPECT_TRUE(mutual || other.thread->series == "BSW" || other.thread->series == "BSF" ||
                        thread.series == "BSW" || thread.series == "BSF")
                << thread.designation << " and " << other.thread->designation;
        }
    }
}

}  // namespace
}  // namespace fitup::trade
