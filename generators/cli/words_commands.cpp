// start, explain, lookup, completion, manual: texts that the program knows.
#include "base/text.hpp"
#include "calculations/kinds.hpp"
#include "cli/commands.hpp"
#include "cli/part_result.hpp"
#include "parameters/explain.hpp"
#include "parts/kinds.hpp"
#include "rules/rules.hpp"
#include "trade/trade.hpp"

namespace fitup::cli {

namespace {

int unknown(Console& console, const std::string& what, const std::string& word,
            const std::vector<std::string>& known) {
    const auto nearest = nearest_word(word, known);
    return wrong_call(console,
                      "no " + what + " is called \"" + word + "\"; " +
                          (nearest ? "did you mean " + *nearest + "?" : "there are " + or_list(known)));
}

std::string limits_text(const rules::Rule& rule) {
    std::string text;
    if (rule.warn) text += "  warns under or over " + short_text(*rule.warn) + " " + rule.unit;
    if (rule.stop)
        text += (text.empty() ? "  stops at " : ", stops at ") + short_text(*rule.stop) + " " + rule.unit;
    return text.empty() ? text : text + "\n";
}

std::string rule_text(const rules::Rule& rule) {
    return rule.name + "\n  " + rule.meaning + "\n" + limits_text(rule) +
           (rule.can_be_overridden ? "" : "  cannot be lifted by the file's rules or --despite-rules\n") +
           "  source: " + rule.source + "\n";
}

int explain_rules(const Call& call, Console& console) {
    std::string text;
    std::vector<std::string> names;
    for (const rules::Rule& rule : rules::all_rules()) {
        names.push_back(rule.name);
        if (call.words.size() < 2 || call.words[1] == rule.name) text += rule_text(rule);
    }
    if (text.empty()) return unknown(console, "rule", call.words[1], names);
    console.result(console.json() ? text_json("explain", text) : text);
    return done;
}

/// A part's or a calculation's starter; empty for an unknown kind.
std::string_view starter_of(const std::string& name) {
    if (const parts::Kind* kind = parts::find_kind(name)) return kind->starter;
    const calculations::Kind* kind = calculations::find_kind(name);
    return kind != nullptr ? kind->starter : std::string_view();
}

}  // namespace

std::vector<std::string> all_kind_names() {
    std::vector<std::string> names = parts::kind_names();
    const std::vector<std::string> more = calculations::kind_names();
    names.insert(names.end(), more.begin(), more.end());
    return names;
}

int start_command(const Call& call, Console& console) {
    const std::string text(starter_of(call.words.front()));
    if (text.empty())
        return unknown(console, "kind of part or calculation", call.words.front(), all_kind_names());
    console.result(console.json() ? text_json("start", text) : text);
    return done;
}

int explain_command(const Call& call, Console& console) {
    if (call.words.front() == "rules") return explain_rules(call, console);
    if (starter_of(call.words.front()).empty()) {
        std::vector<std::string> known = all_kind_names();
        known.emplace_back("rules");
        return unknown(console, "kind of part or calculation", call.words.front(), known);
    }
    const parameters::Explanation explanation =
        parameters::explain(call.words.front(), call.words.size() > 1 ? call.words[1] : std::string());
    if (!explanation.found) return wrong_call(console, explanation.text);
    console.result(console.json() ? text_json("explain", explanation.text) : explanation.text);
    return done;
}

int lookup_command(const Call& call, Console& console) {
    const std::string& table = call.words.front();
    std::string name;
    for (std::size_t i = 1; i < call.words.size(); ++i) name += (i > 1 ? " " : "") + call.words[i];
    const auto listing = trade::lookup(table, name);
    if (!listing) return unknown(console, "table", table, trade::table_names());
    if (listing->rows.empty()) return unknown(console, table + " entry", name, trade::names_in(table));
    console.result(console.json() ? listing_json(table, *listing) : listing_text(*listing));
    return done;
}

int completion_command(const Call& call, Console& console) {
    const std::string script = completion_script(call.words.front());
    if (script.empty()) return unknown(console, "shell", call.words.front(), {"bash", "zsh", "fish"});
    console.result(script);
    return done;
}

int manual_command(const Call&, Console& console) {
    console.result(manual_page());
    return done;
}

}  // namespace fitup::cli
