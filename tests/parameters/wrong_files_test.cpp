// Files that no reader may stumble over: the folder wrong/, and a sound file cut off at each of its bytes.
#include <gtest/gtest.h>

#include <filesystem>

#include "base/file.hpp"
#include "parameters/schema.hpp"

namespace fitup::parameters {
namespace {

namespace fs = std::filesystem;

Faults faults_of(std::string_view bytes, const std::string& file) {
    return check(read_json(bytes, file), "adapter_plate");
}

void expect_plain_words(const Faults& faults, const std::string& file) {
    EXPECT_FALSE(faults.empty()) << file;
    for (const Fault& fault : faults) {
        EXPECT_FALSE(fault.message.empty()) << file;
        EXPECT_EQ(fault.file, file);
        EXPECT_EQ(fault.message.find("exception"), std::string::npos) << to_text(fault);
        for (const char c : fault.message) EXPECT_GE(static_cast<unsigned char>(c), 0x20) << file;
    }
}

TEST(WrongFiles, all_end_in_faults) {
    int files = 0;
    for (const auto& entry : fs::directory_iterator(FITUP_SOURCE_FOLDER "/tests/parameters/wrong")) {
        expect_plain_words(faults_of(read_file(entry.path()), entry.path().filename().string()),
                           entry.path().filename().string());
        ++files;
    }
    EXPECT_GE(files, 40);
}

TEST(WrongFiles, a_file_cut_off_at_any_byte_is_wrong) {
    const std::string whole = read_file(FITUP_SOURCE_FOLDER "/tests/parameters/whole.json");
    ASSERT_EQ(faults_of(whole, "whole.json").size(), 0u);
    const std::size_t end = whole.rfind('}');
    for (std::size_t length = 0; length <= end; ++length) {
        expect_plain_words(faults_of(whole.substr(0, length), "cut.json"), "cut.json");
    }
}

TEST(WrongFiles, a_file_that_lacks_any_byte_does_no_harm) {
    const std::string whole = read_file(FITUP_SOURCE_FOLDER "/tests/parameters/whole.json");
    for (std::size_t at = 0; at < whole.size(); ++at) {
        std::string text = whole;
        text.erase(at, 1);
        const Faults faults = faults_of(text, "lacking.json");
        if (!faults.empty()) expect_plain_words(faults, "lacking.json");
    }
}

}  // namespace
}  // namespace fitup::parameters
