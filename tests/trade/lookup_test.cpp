#include <gtest/gtest.h>

#include <algorithm>

#include "trade/listing.hpp"
#include "trade/trade.hpp"

namespace fitup::trade {
namespace {

Listing listing(std::string_view table, std::string_view name = "") {
    auto found = lookup(table, name);
    if (!found) throw std::runtime_error("no table " + std::string(table));
    return *found;
}

std::string cell(const Listing& list, std::size_t row, std::string_view column) {
    const auto at = std::find(list.columns.begin(), list.columns.end(), column);
    return list.rows.at(row).at(static_cast<std::size_t>(at - list.columns.begin()));
}

std::vector<std::string> firsts(const Listing& list) {
    std::vector<std::string> names;
    for (const auto& row : list.rows) names.push_back(row.front());
    return names;
}

TEST(Lookup, every_table_lists_full_rows_with_the_source_last) {
    for (const std::string& table : table_names()) {
        const Listing list = listing(table);
        EXPECT_FALSE(list.title.empty());
        EXPECT_EQ(list.columns.back(), "source") << table;
        EXPECT_FALSE(list.rows.empty()) << table;
        for (const auto& row : list.rows) {
            ASSERT_EQ(row.size(), list.columns.size()) << table;
            for (const std::string& value : row) EXPECT_FALSE(value.empty()) << table << ' ' << row.front();
        }
    }
}

TEST(Lookup, every_name_that_is_offered_finds_something) {
    for (const std::string& table : table_names()) {
        EXPECT_FALSE(names_in(table).empty()) << table;
        for (const std::string& name : names_in(table))
            EXPECT_FALSE(listing(table, name).rows.empty()) << table << ' ' << name;
    }
}

TEST(Lookup, unknown_tables_and_names) {
    EXPECT_FALSE(lookup("bolts", ""));
    EXPECT_TRUE(names_in("bolts").empty());
    for (const std::string& table : table_names()) EXPECT_TRUE(listing(table, "xyzzy").rows.empty()) << table;
    EXPECT_EQ(listing("Clearance holes").rows.size(), clearance_holes().size());
}

TEST(Lookup, a_threads_row) {
    const Listing list = listing("threads", "3/8-16");
    ASSERT_EQ(list.rows.size(), 1u);
    EXPECT_EQ(cell(list, 0, "thread"), "3/8-16 UNC");
    EXPECT_EQ(cell(list, 0, "also"), "3/8-16, 3/8 UNC");
    EXPECT_EQ(cell(list, 0, "major in"), "0.3750");
    EXPECT_EQ(cell(list, 0, "tap drill"), "5/16");
    EXPECT_EQ(cell(list, 0, "tap drill mm"), "7.9375");
    EXPECT_EQ(cell(list, 0, "thread %"), "77");
    EXPECT_EQ(cell(list, 0, "pitch dia mm"), "8.4939");
}

TEST(Lookup, sizes_and_series_keep_their_threads) {
    EXPECT_EQ(firsts(listing("threads", "3/8")),
              (std::vector<std::string>{"3/8-16 UNC", "3/8-24 UNF", "3/8 BSW", "3/8 BSF"}));
    EXPECT_EQ(listing("threads", "BA").rows.size(), 11u);
    EXPECT_EQ(firsts(listing("threads", "M10")), (std::vector<std::string>{"M10"}));
}

TEST(Lookup, fastener_tables_take_size_thread_and_qualifier) {
    EXPECT_EQ(listing("clearance-holes", "M10").rows.size(), 3u);
    const Listing close = listing("clearance-holes", "3/8-16 UNC close");
    ASSERT_EQ(close.rows.size(), 1u);
    EXPECT_EQ(cell(close, 0, "drill"), "25/64");
    EXPECT_EQ(listing("heads", "M10 cap screw").rows.size(), 1u);
    EXPECT_EQ(listing("heads", "hex bolt").rows.size(), 21u);
    EXPECT_EQ(listing("nuts", "3/8").rows.size(), 3u);
    EXPECT_EQ(listing("nuts", "3/8 UNC").rows.size(), 1u);
    EXPECT_EQ(listing("nuts", "3/8 BSW").rows.size(), 2u);
    EXPECT_EQ(cell(listing("nuts", "3/16"), 0, "height mm"), "not known");
}

TEST(Lookup, fits_take_class_and_size) {
    EXPECT_EQ(listing("fits", "H7").rows.size(), 13u);
    const Listing one = listing("fits", "H7 150");
    ASSERT_EQ(one.rows.size(), 1u);
    EXPECT_EQ(cell(one, 0, "upper um"), "40");
    EXPECT_EQ(listing("fits", "150 mm H7").rows.size(), 1u);
    EXPECT_EQ(listing("fits", "150").rows.size(), 10u);
    EXPECT_TRUE(listing("fits", "h7").rows.empty());
}

TEST(Lookup, unverified_rows_say_so) {
    EXPECT_NE(cell(listing("heads", "M10 cap screw"), 0, "source").find("unverified"), std::string::npos);
    EXPECT_NE(cell(listing("clearance-holes", "3/8 close"), 0, "source").find("(unverified)"),
              std::string::npos);
    EXPECT_EQ(cell(listing("threads", "M10"), 0, "source").find("unverified"), std::string::npos);
    EXPECT_NE(cell(listing("materials", "6061"), 0, "source").find("expansion: from memory"),
              std::string::npos);
}

TEST(Lookup, other_tables) {
    EXPECT_EQ(cell(listing("housings", "SAE No. 4"), 0, "circle in"), "15.0000");
    EXPECT_EQ(cell(listing("flywheels", "11.5"), 0, "holes"), "8");
    EXPECT_EQ(cell(listing("materials", "mild steel"), 0, "material"), "mild steel A36");
    EXPECT_EQ(listing("materials", "aluminium").rows.size(), 4u);
    EXPECT_EQ(cell(listing("drills", "7/16"), 0, "mm"), "11.1125");
    EXPECT_EQ(cell(listing("tool-room", "16"), 1, "outside mm"), "23");
    EXPECT_EQ(listing("tool-room", "ring spanner").rows.size(), 6u);
    EXPECT_EQ(listing("washers", "1/4").rows.size(), 2u);
}

}  // namespace
}  // namespace fitup::trade
