#include "calculations/trial.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/text.hpp"
#include "base/units.hpp"

namespace fitup::calculations {

namespace {

/// A number in the file's units, or a length with its own.
std::optional<double> value_of(std::string_view text, parameters::Units units) {
    if (const auto number = parse_number(text)) return number;
    const auto mm = parameters::length_mm(text);
    if (!mm) return {};
    return units == parameters::Units::in ? *mm / mm_per_inch : *mm;
}

/// Without the dust that repeated adding leaves: 0.30000000000000004 is 0.3.
double clean(double value) {
    const auto number = parse_number(short_text(value, 9));
    return number ? *number : value;
}

constexpr const char* form = "wanted KEY=FROM:TO:STEP, such as joggle.rise=4:12:0.5";

}  // namespace

std::variant<Ladder, std::string> read_ladder(std::string_view text, parameters::Units units) {
    const auto wrong = [&](const std::string& why) {
        return "--vary: found \"" + std::string(text) + "\", " + why;
    };
    const std::size_t equals = text.find('=');
    if (equals == std::string_view::npos || equals == 0) return wrong(form);
    std::array<double, 3> numbers{};
    std::size_t at = equals + 1;
    for (std::size_t i = 0; i < 3; ++i) {
        const std::size_t end = i < 2 ? text.find(':', at) : text.size();
        if (end == std::string_view::npos) return wrong(form);
        const auto value = value_of(text.substr(at, end - at), units);
        if (!value)
            return wrong("where \"" + std::string(text.substr(at, end - at)) + "\" is no number; " + form);
        numbers[i] = *value;
        at = end + 1;
    }
    const auto [from, to, step] = numbers;
    if (step <= 0.0) return wrong("wanted a step over 0");
    if (to < from) return wrong("wanted the least value first");
    const double count = std::floor((to - from) / step + 1e-9);
    if (count + 2.0 > double(most_candidates))
        return wrong("which are " + short_text(count + 1.0, 0) + " values; wanted at most " +
                     std::to_string(most_candidates));
    Ladder ladder{std::string(text.substr(0, equals)), {}, step};
    for (int i = 0; i <= int(count); ++i) ladder.values.push_back(clean(from + i * step));
    if (to - ladder.values.back() > 1e-9 * std::max(1.0, std::abs(to))) ladder.values.push_back(to);
    return ladder;
}

std::vector<std::vector<double>> combinations(std::span<const Ladder> ladders) {
    std::vector<std::vector<double>> all{{}};
    for (const Ladder& ladder : ladders) {
        std::vector<std::vector<double>> longer;
        for (const std::vector<double>& values : all) {
            for (const double value : ladder.values) {
                longer.push_back(values);
                longer.back().push_back(value);
            }
        }
        all = std::move(longer);
    }
    return all;
}

std::optional<std::size_t> least_change(std::span<const TrialRow> rows, std::span<const double> own,
                                        std::span<const Ladder> ladders) {
    std::optional<std::size_t> best;
    double least = 0.0;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (!rows[i].passes) continue;
        double change = 0.0;
        for (std::size_t k = 0; k < ladders.size(); ++k)
            change += std::abs(rows[i].values[k] - own[k]) / ladders[k].step;
        if (best && change >= least - 1e-9) continue;
        best = i;
        least = change;
    }
    return best;
}

std::vector<PassingRun> passing_runs(std::span<const TrialRow> rows) {
    std::vector<PassingRun> runs;
    bool before = false;
    for (const TrialRow& row : rows) {
        if (row.passes && !before) runs.push_back({row.values.front(), row.values.front()});
        if (row.passes) runs.back().to = row.values.front();
        before = row.passes;
    }
    return runs;
}

std::vector<std::string> telling_figures(std::span<const TrialRow> rows) {
    std::vector<std::string> names;
    for (const TrialRow& row : rows) {
        for (const auto& [name, value] : row.figures) {
            if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
        }
    }
    std::erase_if(names, [&](const std::string& name) {
        std::optional<double> first;
        for (const TrialRow& row : rows) {
            const auto value = figure_of(row, name);
            if (!value) continue;
            if (first && std::abs(*value - *first) > 1e-9 * std::max(1.0, std::abs(*first))) return false;
            first = value;
        }
        return true;
    });
    return names;
}

std::optional<double> figure_of(const TrialRow& row, std::string_view name) {
    for (const auto& [key, value] : row.figures) {
        if (key == name) return value;
    }
    return {};
}

}  // namespace fitup::calculations
