// Judges lines of standard input for compare.py: "ours NAME<TAB>JSON" or "plain SCHEMA<TAB>JSON"; prints 1
// (fits) or 0.
#include <iostream>
#include <string>

#include "parameters/schema.hpp"

namespace {

using namespace fitup::parameters;

bool fits(const std::string& head, const std::string& value) {
    const Document document = read_json(value, "value.json");
    if (head.starts_with("ours ")) return check(document, head.substr(5)).empty();
    const Document schema = read_json(head.substr(6), "schema.json");
    return document.root && schema.root && is_valid(*document.root, *schema.root);
}

}  // namespace

int main() {
    for (std::string line; std::getline(std::cin, line);) {
        const std::size_t tab = line.find('\t');
        if (tab == std::string::npos) return 1;
        std::cout << (fits(line.substr(0, tab), line.substr(tab + 1)) ? '1' : '0') << '\n';
    }
}
