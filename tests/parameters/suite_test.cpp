// The standard's own test suite for draft-07 (package json-schema-test-suite), every case that needs no other
// document.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <map>

#include "base/file.hpp"
#include "parameters/schema.hpp"

namespace fitup::parameters {
namespace {

namespace fs = std::filesystem;

const fs::path suite = "/usr/share/json-schema-test-suite/tests/draft7";

const std::map<std::string, std::string> skipped_files{
    {"definitions.json", "asks for the standard's own schema over the net"},
    {"refRemote.json", "asks for documents over the net"},
};
const std::map<std::string, std::string> skipped_groups{
    {"remote ref, containing refs itself", "asks for the standard's own schema over the net"},
};

struct Count {
    int run = 0;
    int skipped = 0;
    int files = 0;
};

void run_group(const Node& group, const std::string& file, Count& count) {
    const std::string& name = group.find("description")->text;
    const auto& cases = group.find("tests")->items;
    if (skipped_groups.count(name) > 0) {
        count.skipped += static_cast<int>(cases.size());
        return;
    }
    for (const Node& one : cases) {
        ++count.run;
        EXPECT_EQ(is_valid(*one.find("data"), *group.find("schema")), one.find("valid")->truth)
            << file << ": " << name << ": " << one.find("description")->text;
    }
}

void run_file(const fs::path& path, Count& count) {
    const std::string name = path.filename().string();
    if (skipped_files.count(name) > 0) return;
    ++count.files;
    const Document document = read_json(read_file(path), name);
    ASSERT_TRUE(document.root) << (document.faults.empty() ? name : to_text(document.faults.front()));
    for (const Node& group : document.root->items) run_group(group, name, count);
}

TEST(StandardSuite, every_local_case_of_draft_07) {
    ASSERT_TRUE(fs::is_directory(suite)) << "install json-schema-test-suite";
    Count count;
    for (const fs::directory_entry& entry : fs::directory_iterator(suite)) {
        if (entry.path().extension() == ".json") run_file(entry.path(), count);
    }
    EXPECT_EQ(count.files, 33);
    EXPECT_EQ(count.skipped, 2);
    EXPECT_GE(count.run, 400);
    RecordProperty("cases", count.run);
}

/// Of the optional part what concerns us: 1.0 is a whole number, and patterns are ECMAScript's.
TEST(StandardSuite, whole_numbers_with_a_fraction_of_zero) {
    Count count;
    run_file(suite / "optional" / "zeroTerminatedFloats.json", count);
    EXPECT_GE(count.run, 1);
}

}  // namespace
}  // namespace fitup::parameters
