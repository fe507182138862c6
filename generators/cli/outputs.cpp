#include "cli/outputs.hpp"

#include <algorithm>

#include "base/error.hpp"
#include "base/text.hpp"

namespace fitup::cli {

std::vector<std::string> split_at_commas(const std::string& text) {
    std::vector<std::string> words;
    std::size_t at = 0;
    while (at <= text.size()) {
        const std::size_t end = std::min(text.find(',', at), text.size());
        words.push_back(text.substr(at, end - at));
        at = end + 1;
    }
    return words;
}

std::optional<std::string> unknown_output(const std::vector<std::string>& words,
                                          const std::vector<std::string>& known) {
    for (const std::string& word : words) {
        if (std::find(known.begin(), known.end(), word) == known.end())
            return "--only: found \"" + word + "\", wanted " + or_list(known) + ", joined by commas";
    }
    return {};
}

std::string lines_of(const std::vector<std::string>& complaints) {
    std::string text;
    for (const std::string& complaint : complaints) text += (text.empty() ? "" : "\n") + complaint;
    return text;
}

parameters::Fault same_outputs(const std::string& first_file, const std::string& second_file,
                               const std::string& stem) {
    return parameters::fault_of({.file = second_file, .key = "name"}, "\"" + stem + "\"",
                                "a name and revision that no other file of the call has",
                                first_file + " has it too");
}

exchange::MadeFile add_output(const std::string& kind, const std::filesystem::path& path,
                              const std::string& bytes, FileSet& files) {
    const bool same = read_file(files.add(path, bytes)) == bytes;
    if (!same) throw FileError(path.string(), "was read back and differs from what was written");
    return {kind, path, bytes.size(), true, ""};
}

}  // namespace fitup::cli
