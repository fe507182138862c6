#include "rules/limits.hpp"

#include "rules/rules.hpp"

namespace fitup::rules {

namespace {

template <typename IsBeyond>
std::optional<Verdict> verdict(const Limit& limit, IsBeyond is_beyond) {
    if (limit.stop && is_beyond(*limit.stop)) return Verdict{plan::Severity::stop, *limit.stop};
    if (limit.warn && is_beyond(*limit.warn)) return Verdict{plan::Severity::warn, *limit.warn};
    if (limit.note && is_beyond(*limit.note)) return Verdict{plan::Severity::note, *limit.note};
    return std::nullopt;
}

}  // namespace

std::optional<Verdict> under(const Limit& limit, double value) {
    return verdict(limit, [value](double step) { return value < step - equal_values; });
}

std::optional<Verdict> over(const Limit& limit, double value) {
    return verdict(limit, [value](double step) { return value > step + equal_values; });
}

Limits::Limits(const std::vector<plan::RuleOverride>& overrides) {
    for (const plan::RuleOverride& override_ : overrides) {
        const Rule* rule = find_rule(override_.rule);
        if (rule == nullptr || !rule->can_be_overridden) continue;
        Own& own = own_[override_.rule];
        if (override_.warn) own.warn = override_.warn;
        if (override_.stop) own.stop = override_.stop;
    }
}

Limit Limits::of(std::string_view rule) const {
    const Rule* found = find_rule(rule);
    return found == nullptr ? Limit{} : of(rule, {found->note, found->warn, found->stop, found->source});
}

Limit Limits::of(std::string_view rule, Limit usual) const {
    const auto own = own_.find(rule);
    if (own == own_.end()) return usual;
    if (own->second.warn) usual.warn = own->second.warn;
    if (own->second.stop) usual.stop = own->second.stop;
    usual.source = "the file's own limit, in place of: " + usual.source;
    return usual;
}

}  // namespace fitup::rules
