#include "trade/table.hpp"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <set>

#include "base/error.hpp"
#include "base/file.hpp"

namespace fitup::trade {
namespace {

TEST(Table, cells_are_read_by_column_name) {
    const Table table("test", "# a comment\nname,size\n\"#4\",2.5\n# another\nM3,3\n");
    ASSERT_EQ(table.size(), 2u);
    EXPECT_EQ(table.row(0).text("name"), "#4");
    EXPECT_EQ(table.row(0).number("size"), 2.5);
    EXPECT_EQ(table.row(1).text("name"), "M3");
}

TEST(Table, quotes_hold_commas_quotes_and_line_ends) {
    const Table table("test", "a,b\r\n\"one, \"\"two\"\"\",\"x\ny\"\r\n");
    EXPECT_EQ(table.row(0).text("a"), "one, \"two\"");
    EXPECT_EQ(table.row(0).text("b"), "x\ny");
}

TEST(Table, last_line_needs_no_end_and_a_last_cell_may_be_empty) {
    const Table table("test", "a,b\n1,");
    ASSERT_EQ(table.size(), 1u);
    EXPECT_FALSE(table.row(0).optional_number("b"));
    EXPECT_THROW(table.row(0).number("b"), Error);
}

std::string message_of(const std::function<void()>& action) {
    try {
        action();
    } catch (const Error& error) {
        return error.what();
    }
    return "no error";
}

TEST(Table, a_broken_table_is_named) {
    EXPECT_EQ(message_of([] { Table("bolts", "a,b\n1\n"); }),
              "bolts.csv: row \"1\" has not as many cells as the header");
    EXPECT_EQ(message_of([] { Table("bolts", "a\n\"1\n"); }), "bolts.csv: a quote is left open");
    EXPECT_EQ(message_of([] { Table("bolts", "a\n\"1\"2\n"); }), "bolts.csv: text after a closing quote");
    EXPECT_EQ(message_of([] { Table("bolts", "a\nx\n").row(0).number("a"); }),
              "bolts.csv: row \"x\", a: \"x\" is not a number");
    EXPECT_EQ(message_of([] { Table("bolts", "a\nx\n").row(0).text("b"); }), "bolts.csv: no column b");
    EXPECT_EQ(message_of([] { Table("bolts", "a,source\nx,\n").row(0).source(); }),
              "bolts.csv: row \"x\" has no source");
    EXPECT_EQ(message_of([] { embedded_table("bolts"); }), "no handbook table bolts in the program");
}

TEST(Table, a_source_recalled_is_unverified) {
    const Table table(
        "test", "source\nISO 261; found\n\"from memory (ISO 4762), unverified\"\ndrill name from memory\n");
    EXPECT_FALSE(table.row(0).source().unverified);
    EXPECT_TRUE(table.row(1).source().unverified);
    EXPECT_TRUE(table.row(2).source().unverified);
}

TEST(Table, every_row_of_every_file_has_a_source) {
    const std::filesystem::path folder =
        std::filesystem::path(FITUP_SOURCE_FOLDER) / "generators/trade/tables";
    int files = 0;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        const Table table = embedded_table(entry.path().stem().string());
        EXPECT_GT(table.size(), 0u) << entry.path();
        for (std::size_t i = 0; i < table.size(); ++i) {
            EXPECT_GT(table.row(i).source().text.size(), 5u) << entry.path() << " row " << i;
        }
        ++files;
    }
    EXPECT_EQ(files, 11);
}

TEST(Table, the_compiled_text_is_the_files_text) {
    const std::string folder = std::string(FITUP_SOURCE_FOLDER) + "/generators/trade/tables/";
    const Table compiled = embedded_table("threads");
    const Table file("threads", read_file(folder + "threads.csv"));
    ASSERT_EQ(compiled.size(), file.size());
    for (std::size_t i = 0; i < file.size(); ++i) {
        for (const std::string& column : file.columns()) {
            EXPECT_EQ(compiled.row(i).text(column), file.row(i).text(column));
        }
    }
}

}  // namespace
}  // namespace fitup::trade
