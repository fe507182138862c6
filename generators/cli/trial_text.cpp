#include <cmath>

#include "base/text.hpp"
#include "base/text_table.hpp"
#include "cli/part_result.hpp"
#include "cli/trial.hpp"
#include "sheets/trial_chart.hpp"

namespace fitup::cli {

namespace {

using calculations::TrialRow;

constexpr std::size_t most_rows_shown = 200;
constexpr std::size_t most_columns = 6;

std::string value_text(const Trial& trial, const std::vector<double>& values) {
    std::string text;
    for (std::size_t i = 0; i < values.size(); ++i)
        text += (i > 0 ? ", " : "") + trial.ladders[i].key + " " + short_text(values[i], 6);
    return text;
}

TableRow row_text(const TrialRow& row, const std::vector<std::string>& figures) {
    TableRow cells;
    for (const double value : row.values) cells.push_back(short_text(value, 6));
    for (const std::string& name : figures) {
        const auto value = calculations::figure_of(row, name);
        cells.push_back(value && std::isfinite(*value) ? short_text(*value, 4) : "-");
    }
    cells.push_back(row.result);
    return cells;
}

std::string conclusion(const Trial& trial, const std::vector<TrialRow>& rows) {
    std::string text;
    if (trial.ladders.size() == 1) {
        for (const calculations::PassingRun& run : calculations::passing_runs(rows))
            text += "  passes from " + short_text(run.from, 6) + " to " + short_text(run.to, 6) + "\n";
    } else {
        std::size_t count = 0;
        for (const TrialRow& row : rows) count += row.passes ? 1 : 0;
        text += "  " + std::to_string(count) + " of " + std::to_string(rows.size()) + " pass\n";
    }
    text += "  as it stands (" + value_text(trial, trial.own) + "): " + trial.as_it_stands.row.result + "\n";
    if (!trial.best) return text + "  nothing here passes\n";
    if (trial.as_it_stands.row.passes) text += "  no change is needed; of the values tried\n";
    return text + "  least change that passes: " + value_text(trial, rows[*trial.best].values) + "\n";
}

}  // namespace

std::vector<TrialRow> rows_of(const Trial& trial) {
    std::vector<TrialRow> rows;
    for (const Candidate& candidate : trial.candidates) rows.push_back(candidate.row);
    return rows;
}

std::string trial_text(const Trial& trial) {
    const std::vector<TrialRow> rows = rows_of(trial);
    const std::vector<std::string> figures = sheets::figures_to_show(rows, most_columns);
    TableRow header;
    for (const calculations::Ladder& ladder : trial.ladders) header.push_back(ladder.key);
    header.insert(header.end(), figures.begin(), figures.end());
    header.emplace_back("result");
    std::vector<TableRow> table{header};
    for (std::size_t i = 0; i < rows.size() && i < most_rows_shown; ++i)
        table.push_back(row_text(rows[i], figures));
    std::string text = trial.file + ": " + std::to_string(rows.size()) + " tried\n" + aligned(table);
    if (rows.size() > most_rows_shown)
        text += "  and " + std::to_string(rows.size() - most_rows_shown) + " more (--json lists all)\n";
    return text + conclusion(trial, rows) + files_text(trial.files);
}

}  // namespace fitup::cli
