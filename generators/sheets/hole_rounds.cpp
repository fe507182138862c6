#include "sheets/hole_rounds.hpp"

#include <algorithm>

namespace fitup::sheets {

namespace {

bool is_one_round(const HoleLine& a, const HoleLine& b) {
    return a.side == b.side && a.edge == b.edge && a.tool == b.tool;
}

}  // namespace

std::vector<Round> rounds_of(std::span<const HoleLine> lines) {
    std::vector<Round> rounds;
    for (std::size_t first = 0; first < lines.size();) {
        std::size_t end = first;
        while (end < lines.size() && is_one_round(lines[end], lines[first])) ++end;
        rounds.push_back(lines.subspan(first, end - first));
        first = end;
    }
    return rounds;
}

std::string operations_text(Round round) {
    std::vector<std::string> words;
    for (const HoleLine& line : round) {
        if (std::find(words.begin(), words.end(), line.operation) == words.end())
            words.push_back(line.operation);
    }
    std::string text;
    for (const std::string& word : words) text += (text.empty() ? "" : " and ") + word;
    return text;
}

std::string shared_note(Round round) {
    const bool is_shared = std::all_of(round.begin(), round.end(),
                                       [&](const HoleLine& line) { return line.note == round.front().note; });
    return is_shared ? round.front().note : "";
}

}  // namespace fitup::sheets
