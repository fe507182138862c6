// Fastener lists: lengths worked out by hand from the standards' figures.
//   Nut M10 8.4 high at most, M8 6.8 (ISO 4032); washer M10 2, M8 and M6 1.6 (ISO 7089); nut 3/8 8.56 mm
//   (0.337 in, ASME B18.2.2), washer 3/8 1.651 (0.065 in, ASME B18.21.1 type A narrow), head of a hex cap
//   screw 3/8 6.1722 (0.243 in, ASME B18.2.1); pitch M10 1.5, M8 1.25, 3/8-16 UNC 1.5875.
#include "sheets/fastener_list.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "base/file.hpp"
#include "parts/examples.hpp"
#include "parts/plates.hpp"
#include "sheets/hole_sheet.hpp"

namespace fitup::sheets {
namespace {

namespace fs = std::filesystem;
using parts::testing::example_plan;
using parts::testing::plan_with;

std::vector<FastenerRow> rows_with(const std::string& hole, const plan::PatternFastener& told = {}) {
    const plan::Plan plan = plan_with(
        R"("patterns": [{"name": "p", "seen_from": "B", "points": [[100, 0], [-100, 0]], "hole": )" + hole +
        "}]");
    return fastener_rows(plan, {&told, 1});
}

const FastenerRow* row_of(const std::vector<FastenerRow>& rows, const std::string& what) {
    for (const FastenerRow& row : rows) {
        if (row.what == what) return &row;
    }
    return nullptr;
}

void expect_length(const std::vector<FastenerRow>& rows, const std::string& what, double length_mm,
                   bool plus_reach) {
    const FastenerRow* row = row_of(rows, what);
    ASSERT_NE(row, nullptr) << what;
    EXPECT_NEAR(row->length_mm.value_or(0.0), length_mm, 1e-9) << row->made_up_of;
    EXPECT_EQ(row->plus_reach, plus_reach) << row->made_up_of;
    EXPECT_EQ(row->count, 2u);
}

const std::string tapped = R"({"kind": "tapped", "thread": "M10", "depth": 22})";

TEST(FastenerList, a_stud_in_the_plate_goes_through_casting_washer_nut_and_two_threads_more) {
    // 22 + 2 + 8.4 + 2 x 1.5 = 35.4
    const auto rows = rows_with(tapped);
    expect_length(rows, "stud", 35.4, true);
    EXPECT_EQ(row_of(rows, "nut")->size, "M10");
    EXPECT_EQ(row_of(rows, "nut")->count, 2u);
    EXPECT_EQ(row_of(rows, "washer")->count, 2u);
    EXPECT_NE(row_of(rows, "nut")->source.find("ISO 4032"), std::string::npos);
    expect_length(rows_with(tapped, {"p", "", 14.0}), "stud", 49.4, false);
    expect_length(rows_with(tapped, {"another", "", 14.0}), "stud", 35.4, true);
}

TEST(FastenerList, a_bolt_in_the_plates_thread_is_at_most_as_long_as_the_thread_takes) {
    expect_length(rows_with(tapped, {"p", "hex bolt", 14.0}), "hex bolt", 22.0 + 14.0 + 2.0, false);
    expect_length(rows_with(tapped, {"p", "cap screw", 14.0}), "cap screw", 22.0 + 14.0, false);
    EXPECT_EQ(row_of(rows_with(tapped, {"p", "cap screw", 14.0}), "nut"), nullptr);
    expect_length(rows_with(tapped, {"p", "jack screw", 5.0}), "jack screw", 45.0, false);
    EXPECT_TRUE(rows_with(tapped, {"p", "none", {}}).empty());
}

TEST(FastenerList, a_stud_in_the_casting_ends_under_the_sunk_nut) {
    // Recess 8.56 + 1.651 deep; 40 - 10.211 + 1.651 + 8.56 + 2 x 1.5875 = 43.175.
    const auto rows =
        rows_with(R"({"kind": "clearance", "for": "3/8", "recess": {"for": "nut", "side": "B"}})");
    expect_length(rows, "stud", 43.175, true);
    EXPECT_EQ(row_of(rows, "nut")->count, 2u);
    // Without a washer in the recess it is only the nut's height deep.
    const auto bare = rows_with(
        R"({"kind": "clearance", "for": "3/8", "recess": {"for": "nut", "side": "B", "washer": "none"}})");
    expect_length(bare, "stud", 43.175, true);
    EXPECT_EQ(row_of(bare, "washer"), nullptr);
}

TEST(FastenerList, headed_ones_count_from_under_the_head) {
    const std::string plain = R"({"kind": "clearance", "for": "3/8"})";
    expect_length(rows_with(plain, {"p", "", 20.0}), "hex bolt", 1.651 + 40.0 + 20.0, false);
    // Two washers: 40 + 20 + 2 x 1.651 + 8.56 + 3.175.
    const auto through = rows_with(plain, {"p", "bolt and nut", 20.0});
    expect_length(through, "hex bolt", 75.037, false);
    EXPECT_EQ(row_of(through, "washer")->count, 4u);
    EXPECT_EQ(row_of(through, "nut")->count, 2u);
    // Head 6.1722 and washer 1.651 sunk: 40 - 7.8232 + 1.651.
    expect_length(rows_with(R"({"kind": "clearance", "for": "3/8", "recess": {"for": "hex bolt"}})"),
                  "hex bolt", 33.8278, true);
    // A head of 10 in a recess without washer: 40 - 10.
    expect_length(
        rows_with(R"({"kind": "clearance", "for": "M10", "recess": {"for": "cap screw", "washer": "none"}})"),
        "cap screw", 30.0, true);
    expect_length(
        rows_with(R"({"kind": "clearance", "for": "M10", "countersink": {"diameter": 20, "angle": 90}})"),
        "countersunk screw", 40.0, true);
}

TEST(FastenerList, dowels_are_as_thick_as_they_are_reamed) {
    const std::string hole =
        R"({"kind": "dowel", "diameter": 12, "fit": "H7", "depth": 16, "finish": "at assembly"})";
    expect_length(rows_with(hole, {"p", "", 10.0}), "dowel pin", 26.0, false);
    EXPECT_EQ(row_of(rows_with(hole), "dowel pin")->size, "12 mm");
    EXPECT_TRUE(rows_with(R"({"kind": "drilled", "diameter": 12})").empty());
}

TEST(FastenerList, of_levers_and_rods_has_what_holds_them) {
    // The deck arm's lugs are 26 wide over both, its washer 1.6 thick.
    const auto arm = fastener_rows(example_plan("deck-arm.json"), {});
    ASSERT_NE(row_of(arm, "pinch bolt"), nullptr);
    EXPECT_EQ(row_of(arm, "pinch bolt")->size, "M6");
    EXPECT_NEAR(row_of(arm, "pinch bolt")->length_mm.value_or(0.0), 27.6, 1e-9);
    const auto rod = fastener_rows(example_plan("selector-rod.json"), {});
    ASSERT_EQ(rod.size(), 4u);
    EXPECT_EQ(rod[0].what, "ball socket");
    EXPECT_EQ(rod[1].what, "jam nut");
    EXPECT_EQ(rod[1].size, "1/4-28 UNF");
    EXPECT_EQ(rod[3].where, "last end");
    const auto crank = fastener_rows(example_plan("selector-crank.json"), {});
    ASSERT_EQ(crank.size(), 1u);
    EXPECT_EQ(crank[0].where, "selector");
    EXPECT_EQ(crank[0].size, "1/4-28 UNF");
}

/// What another reader of CSV makes of it: rows, and the sum of all counts.
std::string read_by_python(const std::string& csv) {
    const fs::path file =
        fs::temp_directory_path() / ("fitup-fasteners-" + std::to_string(::getpid()) + ".csv");
    const fs::path out = file.string() + ".txt";
    std::ofstream(file, std::ios::binary) << csv;
    const std::string script = "import csv;r=list(csv.DictReader(open('" + file.string() +
                               "',newline='')));print(len(r),sum(int(x['count']) for x in r),"
                               "all(None not in x and None not in x.values() for x in r))";
    const int status =
        std::system(("/usr/bin/python3 -c \"" + script + "\" >'" + out.string() + "'").c_str());
    const std::string text = status == 0 ? read_file(out) : "";
    fs::remove(file);
    fs::remove(out);
    return text;
}

TEST(FastenerList, as_csv_is_read_by_another_reader_with_every_cell) {
    const auto rows = fastener_rows(example_plan("winch-adapter.json"), {});
    std::size_t count = 0;
    for (const FastenerRow& row : rows) count += row.count;
    EXPECT_EQ(read_by_python(fastener_csv(rows)),
              std::to_string(rows.size()) + " " + std::to_string(count) + " True\n");
    EXPECT_NE(fastener_csv(rows).find("gearbox,8,stud,M10,35.40,1.3937,yes,"), std::string::npos)
        << fastener_csv(rows);
}

TEST(FastenerList, stands_on_the_last_page_of_the_first_sheet) {
    const plan::Plan plan = example_plan("winch-adapter.json");
    const std::vector<plan::PatternFastener> told{{"gearbox", "stud", 14.0}};
    const auto sheets = hole_sheets(plan, {}, told);
    std::vector<std::string> texts;
    for (const Drawing& page : sheets.front().pages) {
        for (const auto& item : page.items) {
            if (const Text* text = std::get_if<Text>(&item)) texts.push_back(text->text);
        }
    }
    EXPECT_EQ(std::count(texts.begin(), texts.end(), "Fasteners for one part"), 1);
    EXPECT_EQ(std::count(texts.begin(), texts.end(), "49.40"), 1);
    // The dowels' 16 in the plate; nobody said how far they go into the gearbox.
    EXPECT_EQ(std::count(texts.begin(), texts.end(), "reach + 16.00"), 1);
}

}  // namespace
}  // namespace fitup::sheets
