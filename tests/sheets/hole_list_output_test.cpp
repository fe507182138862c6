#include <gtest/gtest.h>

#include <algorithm>
#include <clocale>
#include <cmath>
#include <sstream>

#include "base/text.hpp"
#include "sheets/hole_list.hpp"
#include "sheets/hole_plans.hpp"

namespace fitup::sheets {
namespace {

using plan::HoleKind;
using plan::Side;

/// A reader of RFC 4180 of the tests' own.
std::vector<std::vector<std::string>> read_csv(const std::string& text) {
    std::vector<std::vector<std::string>> records(1, std::vector<std::string>(1));
    bool is_quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (c == '"') {
            const bool is_doubled = is_quoted && i + 1 < text.size() && text[i + 1] == '"';
            if (is_doubled) records.back().back() += text[++i];
            if (!is_doubled) is_quoted = !is_quoted;
        } else if (c == ',' && !is_quoted) {
            records.back().emplace_back();
        } else if (c == '\n' && !is_quoted) {
            records.emplace_back(1);
        } else if (c != '\r' || is_quoted) {
            records.back().back() += c;
        }
    }
    records.pop_back();
    return records;
}

plan::Plan winch_plate() {
    plan::Hole bore = hole("bore", HoleKind::bore, {}, 150.0);
    bore.fit = h7(150.0, 40.0);
    plan::Hole clearance = hole("housing-1", HoleKind::clearance, {184.008869908, 49.305028092}, 10.31875);
    clearance.recess = plan::Recess{Side::A, 29.0, 10.4, {}};
    return plate({bore, clearance, tapped("gearbox-1", {-88.2, 41.0}, 20.0, 26.0)});
}

TEST(HoleListCsv, one_header_row_then_one_row_a_line) {
    const auto records = read_csv(hole_list_csv(winch_plate()));
    ASSERT_EQ(records.size(), 1 + hole_lines(winch_plate()).size());
    EXPECT_EQ(records[0][0], "side");
    for (const auto& record : records) EXPECT_EQ(record.size(), records[0].size());
}

TEST(HoleListCsv, reads_back_as_the_lines) {
    const auto records = read_csv(hole_list_csv(winch_plate()));
    const auto lines = hole_lines(winch_plate());
    const auto& header = records[0];
    const auto cell = [&](std::size_t row, std::string_view name) {
        const auto at = std::find(header.begin(), header.end(), name);
        return records.at(row + 1).at(static_cast<std::size_t>(at - header.begin()));
    };
    const auto value = [&](std::size_t row, std::string_view name) {
        return parse_number(cell(row, name)).value();
    };
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const HoleLine& line = lines[i];
        EXPECT_EQ(cell(i, "id"), line.id);
        EXPECT_EQ(cell(i, "side"), plan::to_text(line.side));
        EXPECT_EQ(cell(i, "tool"), line.tool);
        EXPECT_EQ(cell(i, "operation"), line.operation);
        EXPECT_EQ(cell(i, "kind"), line.kind);
        EXPECT_EQ(cell(i, "note"), line.note);
        EXPECT_EQ(cell(i, "through"), line.through ? "yes" : "no");
        // Half of the last decimal: 0.01 mm and 0.0001 in.
        EXPECT_NEAR(value(i, "x_mm"), line.x_mm, 0.00501);
        EXPECT_NEAR(value(i, "y_mm"), line.y_mm, 0.00501);
        EXPECT_NEAR(value(i, "x_in") * 25.4, line.x_mm, 0.0000501 * 25.4);
        EXPECT_NEAR(value(i, "y_in") * 25.4, line.y_mm, 0.0000501 * 25.4);
        EXPECT_NEAR(value(i, "depth_mm"), line.depth_mm, 0.00501);
        EXPECT_NEAR(value(i, "depth_with_point_in") * 25.4, line.depth_with_point_mm, 0.0000501 * 25.4);
        EXPECT_NEAR(value(i, "diameter_mm"), line.diameter_mm, 0.000501);
        EXPECT_NEAR(value(i, "radius_mm"), std::hypot(line.x_mm, line.y_mm), 0.00501);
    }
}

TEST(HoleListCsv, a_row_in_full) {
    const std::string csv = hole_list_csv(winch_plate());
    EXPECT_NE(
        csv.find("\r\nB,drill "
                 "13/32,drill,clearance,housing-1,184.01,49.31,7.2444,1.9411,190.50,15.000,10.319,0.4062,"
                 "yes,40.00,1.5748,43.10,1.6969,190.50,7.5000,\r\n"),
        std::string::npos)
        << csv;
    EXPECT_NE(csv.find("\r\nA,counterbore 29 "
                       "mm,counterbore,clearance,housing-1,-184.01,49.31,-7.2444,1.9411,190.50,165.000,"),
              std::string::npos)
        << csv;
}

TEST(HoleListCsv, no_negative_zero_and_no_angle_of_360) {
    plan::Hole from_a = hole("x-1", HoleKind::drilled, {0.0, -50.0}, 6.0);
    from_a.from = Side::A;
    const std::string csv =
        hole_list_csv(plate({from_a, hole("x-2", HoleKind::drilled, {50.0, -1e-9}, 6.0)}));
    EXPECT_EQ(csv.find("-0.00"), std::string::npos) << csv;
    EXPECT_EQ(csv.find(",360.000"), std::string::npos) << csv;
    EXPECT_NE(csv.find(",270.000,"), std::string::npos) << csv;
}

TEST(HoleListCsv, cells_with_commas_are_quoted) {
    EXPECT_NE(hole_list_csv(winch_plate()).find("\"H7: 150.000 to 150.040 mm, 5.9055 to 5.9071 in\""),
              std::string::npos);
}

TEST(HoleListCsv, a_comma_locale_changes_nothing) {
    const std::string csv = hole_list_csv(winch_plate());
    std::setlocale(LC_ALL, "de_DE.UTF-8");
    EXPECT_EQ(hole_list_csv(winch_plate()), csv);
    std::setlocale(LC_ALL, "C");
}

TEST(HoleListCsv, a_part_without_holes_has_the_header_alone) {
    EXPECT_EQ(read_csv(hole_list_csv(plate({}))).size(), 1u);
    EXPECT_EQ(hole_list_table(plate({})), "No holes.\n");
}

TEST(HoleListTable, says_how_each_side_lies_and_ends_each_round_at_zero) {
    const std::string table = hole_list_table(winch_plate());
    EXPECT_EQ(table, R"(Side B up (the side of the winch gearbox), as drawn.
X to the right, Y up, looking down at it; zero is the bore's centre. Depths from face B.

bore 150 mm (150 mm, 5.9055 in): bore, 1 hole
  H7: 150.000 to 150.040 mm, 5.9055 to 5.9071 in
  id            X mm     Y mm     X in     Y in depth mm   tip mm depth in   tip in  last mm
  bore          0.00     0.00   0.0000   0.0000  through    40.00  through   1.5748     0.00
  back to zero, read 0, 0                                                               0.00

drill 8.5 mm (8.5 mm, 0.3346 in): tap drill, 1 hole
  id            X mm     Y mm     X in     Y in depth mm   tip mm depth in   tip in  last mm
  gearbox-1   -88.20    41.00  -3.4724   1.6142    26.00    28.55   1.0236   1.1242    97.26
  back to zero, read 0, 0                                                              97.26

drill 13/32 (10.319 mm, 0.4062 in): drill, 1 hole
  id            X mm     Y mm     X in     Y in depth mm   tip mm depth in   tip in  last mm
  housing-1   184.01    49.31   7.2444   1.9411  through    43.10  through   1.6969   190.50
  back to zero, read 0, 0                                                             190.50

M10 tap (10 mm, 0.3937 in): tap, 1 hole
  id            X mm     Y mm     X in     Y in depth mm   tip mm depth in   tip in  last mm
  gearbox-1   -88.20    41.00  -3.4724   1.6142    20.00    20.00   0.7874   0.7874    97.26
  back to zero, read 0, 0                                                              97.26

Side A up (the side of the flywheel housing), turned over about the Y axis: X has changed its sign.
X to the right, Y up, looking down at it; zero is the bore's centre. Depths from face A.

counterbore 29 mm (29 mm, 1.1417 in): counterbore, 1 hole
  id            X mm     Y mm     X in     Y in depth mm   tip mm depth in   tip in  last mm
  housing-1  -184.01    49.31  -7.2444   1.9411    10.40    10.40   0.4094   0.4094   190.50
  back to zero, read 0, 0                                                             190.50

Spot each hole before its drill. "last" is the distance from the hole before, the first from zero.
)");
}

TEST(HoleListTable, stays_within_100_columns) {
    plan::Plan made = winch_plate();
    made.holes[1].id = "flywheel-side-123";
    made.holes[1].at_mm = {-1234.56, -1234.56};
    std::istringstream text(hole_list_table(made));
    for (std::string line; std::getline(text, line);) EXPECT_LE(line.size(), 100u) << line;
}

TEST(HoleListTable, notes_of_single_holes_carry_their_id) {
    plan::Hole pilot = blind(hole("dowels-1", HoleKind::dowel, {150.0, 0.0}, 11.7), 16.0);
    pilot.finish_diameter_mm = 12.0;
    const std::string table =
        hole_list_table(plate({pilot, hole("x-1", HoleKind::drilled, {9.0, 9.0}, 11.7)}));
    EXPECT_NE(table.find("\n  dowels-1: pilot, reamed to 12 mm at assembly\n"), std::string::npos) << table;
}

TEST(HoleListTable, an_inch_file_checks_in_inches) {
    plan::Plan made = winch_plate();
    made.units = plan::Units::in;
    const std::string table = hole_list_table(made);
    EXPECT_NE(table.find("last in\n"), std::string::npos);
    EXPECT_NE(table.find("   7.5000\n"), std::string::npos);
}

}  // namespace
}  // namespace fitup::sheets
