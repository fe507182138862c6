#pragma once

#include <gtest/gtest.h>
#include <sys/wait.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

/// The built program as a user runs it, in a folder of its own.
namespace fitup::cli::testing {

namespace fs = std::filesystem;

struct Outcome {
    int status = -1;
    std::string out;
    std::string err;
};

inline std::string content(const fs::path& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

class Program : public ::testing::Test {
  protected:
    void SetUp() override {
        std::string pattern = (fs::temp_directory_path() / "fitup-cli-XXXXXX").string();
        folder_ = ::mkdtemp(pattern.data());
    }
    void TearDown() override {
        fs::permissions(folder_, fs::perms::owner_all, fs::perm_options::add);
        fs::remove_all(folder_);
    }

    fs::path put(const std::string& name, const std::string& text) {
        std::ofstream(folder_ / name, std::ios::binary) << text;
        return folder_ / name;
    }

    /// Runs `fitup WORDS` in the test's folder through the shell; `before` may set variables or limits.
    Outcome run(const std::string& words, const std::string& before = "") {
        return shell(before + " '" FITUP_PROGRAM "' " + words + " >'" + (folder_ / ".out").string() + "'");
    }

    Outcome shell(const std::string& command) {
        const std::string err = (folder_ / ".err").string();
        const int code =
            std::system(("cd '" + folder_.string() + "' && { " + command + " ; } 2>'" + err + "'").c_str());
        Outcome outcome{WIFEXITED(code) ? WEXITSTATUS(code) : 128 + WTERMSIG(code), content(folder_ / ".out"),
                        content(err)};
        fs::remove(folder_ / ".out");
        fs::remove(folder_ / ".err");
        return outcome;
    }

    /// Everything in the test's folder but the parameter files.
    std::vector<std::string> made() const {
        std::vector<std::string> names;
        for (const auto& entry : fs::recursive_directory_iterator(folder_)) {
            if (entry.is_regular_file() && entry.path().extension() != ".json")
                names.push_back(fs::relative(entry.path(), folder_).string());
        }
        std::sort(names.begin(), names.end());
        return names;
    }

    fs::path folder_;
};

/// A small sound plate; keys may be replaced in tests.
inline std::string plate(const std::string& more = "", const std::string& name = "small-plate") {
    return R"({"format": 1, "part": "adapter_plate", "name": ")" + name +
           R"(", "units": "mm", "material": "aluminium 6061-T6",
  "thickness": 20, "outline": {"round": {"diameter": 200}}, "bore": {"diameter": 60})" +
           (more.empty() ? "" : ",\n  " + more) + "}\n";
}

inline std::string six_holes() {
    return R"("patterns": [{"name": "studs", "seen_from": "B", "circle": {"diameter": 150, "count": 6, "start_angle": 10, "skip": [4]},
    "hole": {"kind": "clearance", "for": "M10", "fit": "normal"}}])";
}

}  // namespace fitup::cli::testing
