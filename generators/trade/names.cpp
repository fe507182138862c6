#include "trade/names.hpp"

#include <algorithm>

#include "base/text.hpp"

namespace fitup::trade {

namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

void replace_all(std::string& text, std::string_view from, std::string_view to) {
    for (auto at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) {
        text.replace(at, from.size(), to);
    }
}

/// A full stop counts only before a digit and not after a letter: "M3.5" keeps it, "No.10" and "B.S.W." lose
/// theirs.
bool is_decimal_point(std::string_view text, std::size_t at) {
    const bool digit_after = at + 1 < text.size() && is_digit(text[at + 1]);
    const char before = at > 0 ? text[at - 1] : ' ';
    const bool letter_before = before >= 'a' && before <= 'z' && before != 'x';
    return digit_after && !letter_before;
}

}  // namespace

std::string name_key(std::string_view name) {
    std::string lower = lower_case(name);
    replace_all(lower, "\xC3\x97", "x");
    std::string key;
    for (std::size_t i = 0; i < lower.size(); ++i) {
        const char c = lower[i];
        const bool dropped = c == ' ' || c == '\t' || c == '"' || (c == '.' && !is_decimal_point(lower, i));
        if (!dropped) key += c;
    }
    for (const std::string_view inch : {"inch", "in"}) {
        const std::size_t rest = key.size() - std::min(key.size(), inch.size());
        if (rest > 0 && key.ends_with(inch) && is_digit(key[rest - 1])) key.resize(rest);
    }
    if (key.size() > 2 && key.starts_with("no") && is_digit(key[2])) key.replace(0, 2, "#");
    return key;
}

std::string fastener_size(const Thread& thread) {
    const std::string& name = thread.designation;
    if (thread.series == "BA") return name;
    return name.substr(0, name.find_first_of(name.front() == 'M' ? "x" : "- "));
}

std::string fastener_key(std::string_view name) {
    const Thread* thread = find_thread(name);
    return name_key(thread ? fastener_size(*thread) : name);
}

}  // namespace fitup::trade
