#include "base/file.hpp"

#include <gtest/gtest.h>

#include <fstream>

#include "base/error.hpp"

namespace fitup {
namespace {

namespace fs = std::filesystem;

class FileSetTest : public ::testing::Test {
  protected:
    void SetUp() override {
        std::string pattern = (fs::temp_directory_path() / "fitup-file-XXXXXX").string();
        folder_ = ::mkdtemp(pattern.data());
    }
    void TearDown() override { fs::remove_all(folder_); }
    void put(const std::string& name, const std::string& text) { std::ofstream(folder_ / name) << text; }
    std::size_t entries() const {
        return static_cast<std::size_t>(
            std::distance(fs::directory_iterator(folder_), fs::directory_iterator()));
    }
    fs::path folder_;
};

TEST_F(FileSetTest, nothing_appears_before_publish) {
    {
        FileSet files;
        files.add(folder_ / "a.txt", "new");
        EXPECT_FALSE(fs::exists(folder_ / "a.txt"));
    }
    EXPECT_EQ(entries(), 0u);
}

TEST_F(FileSetTest, publish_replaces_and_leaves_nothing_else) {
    put("a.txt", "old");
    FileSet files;
    files.add(folder_ / "a.txt", "new");
    files.add(folder_ / "b.txt", "second");
    files.publish();
    EXPECT_EQ(read_file(folder_ / "a.txt"), "new");
    EXPECT_EQ(read_file(folder_ / "b.txt"), "second");
    EXPECT_EQ(entries(), 2u);
}

TEST_F(FileSetTest, one_failure_puts_every_old_file_back) {
    put("a.txt", "old");
    FileSet files;
    files.add(folder_ / "a.txt", "new");
    files.add(folder_ / "b.txt", "second");
    fs::create_directory(folder_ / "b.txt");  // appears between add and publish
    EXPECT_THROW(files.publish(), FileError);
    EXPECT_EQ(read_file(folder_ / "a.txt"), "old");
}

TEST_F(FileSetTest, what_is_taken_from_another_set_appears_with_this_one) {
    FileSet files;
    files.add(folder_ / "a.txt", "first");
    {
        FileSet others;
        others.add(folder_ / "b.txt", "second");
        files.take(others);
    }
    EXPECT_FALSE(fs::exists(folder_ / "b.txt"));
    files.publish();
    EXPECT_EQ(read_file(folder_ / "a.txt"), "first");
    EXPECT_EQ(read_file(folder_ / "b.txt"), "second");
    EXPECT_EQ(entries(), 2u);
}

TEST_F(FileSetTest, full_disk_and_folder_are_errors_with_a_name) {
    EXPECT_THROW(read_file(folder_), FileError);
    EXPECT_THROW(read_file(folder_ / "none"), FileError);
    fs::create_directory(folder_ / "goal");
    FileSet files;
    EXPECT_THROW(files.add(folder_ / "goal", "x"), FileError);
    EXPECT_THROW(files.add("/dev/full/x", "x"), FileError);
}

}  // namespace
}  // namespace fitup
