#include <algorithm>
#include <atomic>
#include <map>
#include <mutex>
#include <thread>

#include "base/error.hpp"
#include "base/text.hpp"
#include "base/units.hpp"
#include "calculations/swing.hpp"
#include "cli/commands.hpp"
#include "cli/outputs.hpp"
#include "cli/part_commands.hpp"
#include "cli/trial.hpp"
#include "parameters/replace.hpp"
#include "parts/kinds.hpp"
#include "parts/reading.hpp"
#include "rules/rules.hpp"
#include "sheets/render.hpp"
#include "sheets/trial_chart.hpp"

namespace fitup::cli {

namespace {

/// STEP obstacles are read once a run, whatever is varied.
class Obstacles {
  public:
    std::vector<calculations::ObstacleShape> of(const plan::Swing& swing) {
        std::vector<calculations::ObstacleShape> shapes;
        for (const plan::Obstacle& obstacle : swing.keep_clear) {
            const auto* step = std::get_if<plan::StepBody>(&obstacle.shape);
            if (step == nullptr) {
                shapes.push_back(obstacle_of(obstacle));
                continue;
            }
            const std::lock_guard guard(mutex_);
            const auto [found, is_new] = read_.try_emplace(step->path);
            if (is_new) found->second = obstacle_of(obstacle);
            shapes.push_back(found->second);
        }
        return shapes;
    }

  private:
    std::mutex mutex_;
    std::map<std::string, calculations::ObstacleShape> read_;
};

/// Numbers of a result by their names; a group's by both.
void collect(const plan::Work& work, const std::string& before,
             std::vector<std::pair<std::string, double>>& figures) {
    for (const plan::WorkItem& item : work) {
        const std::string name = before.empty() ? item.key : before + "." + item.key;
        if (const double* value = std::get_if<double>(&item.value)) figures.emplace_back(name, *value);
        if (const plan::Work* group = std::get_if<plan::Work>(&item.value)) collect(*group, name, figures);
    }
}

void conclude(Candidate& candidate) {
    const auto stop =
        std::find_if(candidate.findings.begin(), candidate.findings.end(),
                     [](const auto& finding) { return finding.severity == plan::Severity::stop; });
    candidate.row.passes = stop == candidate.findings.end();
    candidate.row.result =
        candidate.row.passes ? "passes" : stop->rule + (stop->where.empty() ? "" : " " + stop->where);
}

Candidate wrong_file(const parameters::Faults& faults) {
    Candidate candidate;
    candidate.row.result = "wrong file: " + faults.front().message;
    return candidate;
}

Candidate try_part(const std::string& text, const std::string& file, Obstacles& obstacles) {
    const parts::Planned planned = parts::plan_file(text, file);
    if (!planned.plan) return wrong_file(planned.faults);
    const plan::Plan& plan = *planned.plan;
    Candidate candidate;
    candidate.findings = planned.findings;
    plan::append(candidate.findings, rules::judge(plan));
    if (plan.swing) {
        const auto swing = calculations::judge_swing(plan, obstacles.of(*plan.swing));
        collect(swing.figures, "", candidate.row.figures);
        plan::append(candidate.findings, swing.findings);
    }
    if (!plan::has_final_stop(candidate.findings)) {
        const exchange::Glance glance = exchange::glance(plan);
        plan::append(candidate.findings, glance.findings);
        if (glance.volume_mm3) {
            candidate.row.figures.emplace_back("volume_mm3", *glance.volume_mm3);
            candidate.row.figures.emplace_back("mass_kg",
                                               *glance.volume_mm3 * 1e-9 * plan.material.density_kg_m3);
        }
    }
    collect(parts::work_of(plan), "", candidate.row.figures);
    plan::sort_by_severity(candidate.findings);
    conclude(candidate);
    return candidate;
}

Candidate try_calculation(const std::string& text, const std::string& file) {
    const ReadCalculation read = read_calculation(text, file);
    if (!read.work) return wrong_file(read.faults);
    const CalculationResult result = read.work({.pictures = false}, [](std::string_view) {});
    Candidate candidate;
    candidate.findings = result.findings;
    collect(result.figures, "", candidate.row.figures);
    conclude(candidate);
    if (!result.holds && candidate.row.passes) {
        candidate.row.passes = false;
        candidate.row.result = "the answer is no";
    }
    return candidate;
}

/// The file as read, with what the call wants to vary.
class Subject {
  public:
    Subject(std::string file, std::string bytes)
        : file_(std::move(file)), bytes_(std::move(bytes)), document_(parameters::read_json(bytes_, file_)) {
        is_calculation_ = document_.root && document_.root->has("calculation");
    }

    parameters::Faults faults() {
        if (is_calculation_) return read_calculation(bytes_, file_).faults;
        return parts::plan_file(bytes_, file_).faults;
    }

    /// What is wrong with the call's keys; fills the trial's ladders and own values.
    std::vector<std::string> read_keys(const std::vector<std::string>& vary, Trial& trial) {
        std::vector<std::string> complaints;
        const parameters::Units units = parts::units_of(document_);
        for (const std::string& text : vary) {
            auto read = calculations::read_ladder(text, units);
            if (const auto* complaint = std::get_if<std::string>(&read)) {
                complaints.push_back(*complaint);
                continue;
            }
            add_key(std::get<calculations::Ladder>(std::move(read)), units, trial, complaints);
        }
        std::size_t count = 1;
        for (const calculations::Ladder& ladder : trial.ladders)
            count = std::min(count * ladder.values.size(), calculations::most_candidates + 1);
        if (count > calculations::most_candidates)
            complaints.push_back("--vary: the grid has over " +
                                 std::to_string(calculations::most_candidates) +
                                 " candidates; wanted fewer, by larger steps");
        if (const parameters::Node* name = document_.root->find("name")) trial.name = name->text;
        return complaints;
    }

    std::string text_with(const std::vector<double>& values) const {
        std::string text = bytes_;
        // From the last place to the first, so that earlier places stay where they are.
        std::vector<std::size_t> order(values.size());
        for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
        std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            return std::pair(nodes_[a]->line, nodes_[a]->column) >
                   std::pair(nodes_[b]->line, nodes_[b]->column);
        });
        for (const std::size_t i : order)
            text = parameters::replaced(text, *nodes_[i], shortest_text(values[i]));
        return text;
    }

    Candidate try_values(const std::vector<double>& values, Obstacles& obstacles) const {
        Candidate candidate = try_text(text_with(values), obstacles);
        candidate.row.values = values;
        return candidate;
    }

    Candidate try_text(const std::string& text, Obstacles& obstacles) const {
        return is_calculation_ ? try_calculation(text, file_) : try_part(text, file_, obstacles);
    }

  private:
    void add_key(calculations::Ladder ladder, parameters::Units units, Trial& trial,
                 std::vector<std::string>& complaints) {
        const parameters::FoundKey found = parameters::find_key(*document_.root, ladder.key);
        if (found.node == nullptr) {
            complaints.push_back("--vary " + ladder.key + ": " + found.complaint);
            return;
        }
        const auto own_mm = parameters::length_mm(*found.node, parameters::Units::mm);
        if (!own_mm) {
            complaints.push_back("--vary " + ladder.key + ": found " + parameters::shown(*found.node) +
                                 " in the file, wanted a key whose value is a number or a length");
            return;
        }
        if (std::find(nodes_.begin(), nodes_.end(), found.node) != nodes_.end()) {
            complaints.push_back("--vary " + ladder.key + ": the same value is varied twice");
            return;
        }
        // A text has a unit of its own; a number is taken as it stands.
        const bool is_text = found.node->type == parameters::Node::Type::text;
        trial.own.push_back(is_text && units == parameters::Units::in ? *own_mm / mm_per_inch : *own_mm);
        trial.ladders.push_back(std::move(ladder));
        nodes_.push_back(found.node);
    }

    std::string file_;
    std::string bytes_;
    parameters::Document document_;
    std::vector<const parameters::Node*> nodes_;
    bool is_calculation_ = false;
};

/// Every candidate once, on all cores.
void try_all(const Subject& subject, Trial& trial, StageLine& stage) {
    const auto values = calculations::combinations(trial.ladders);
    trial.candidates.resize(values.size());
    Obstacles obstacles;
    trial.as_it_stands = subject.try_values(trial.own, obstacles);
    std::atomic<std::size_t> next{0};
    std::exception_ptr failure;
    std::mutex mutex;
    const auto work = [&](bool tells) {
        try {
            for (std::size_t i = next++; i < values.size(); i = next++) {
                if (tells)
                    stage.enter("trying " + std::to_string(i + 1) + " of " + std::to_string(values.size()));
                trial.candidates[i] = subject.try_values(values[i], obstacles);
            }
        } catch (...) {
            const std::lock_guard guard(mutex);
            if (!failure) failure = std::current_exception();
        }
    };
    {
        std::vector<std::jthread> threads;
        for (unsigned i = 1; i < std::max(1U, std::thread::hardware_concurrency()); ++i)
            threads.emplace_back(work, false);
        work(true);
    }
    if (failure) std::rethrow_exception(failure);
}

void write_files(const Subject& subject, const Call& call, Trial& trial) {
    FileSet files;
    const std::filesystem::path folder(call.folder);
    std::vector<exchange::MadeFile> made;
    for (const Picture& picture : trial.pictures)
        made.push_back(
            add_output("svg", folder / (trial.name + "-try" + picture.suffix + ".svg"), picture.svg, files));
    if (call.keep && trial.best)
        made.push_back(add_output("json", folder / (trial.name + "-kept.json"),
                                  subject.text_with(trial.candidates[*trial.best].row.values), files));
    files.publish();
    trial.files = std::move(made);
}

}  // namespace

int try_command(const Call& call, Console& console) {
    if (call.words.size() != 1) return wrong_call(console, "try takes one file");
    Trial trial;
    trial.file = call.words.front();
    Subject subject(trial.file, read_file(trial.file));
    if (const parameters::Faults faults = subject.faults(); !faults.empty())
        return wrong_files(console, faults);
    const std::vector<std::string> complaints = subject.read_keys(call.vary, trial);
    if (!complaints.empty()) return wrong_call(console, lines_of(complaints));
    {
        StageLine stage(!console.json() && !call.quiet);
        try_all(subject, trial, stage);
    }
    const std::vector<calculations::TrialRow> rows = rows_of(trial);
    trial.best = calculations::least_change(rows, trial.own, trial.ladders);
    const auto chart =
        sheets::trial_chart(trial.name + ": " + std::filesystem::path(trial.file).filename().string(),
                            trial.ladders, rows, trial.own);
    if (chart) trial.pictures.push_back({"", sheets::renderer().svg(*chart), ""});
    write_files(subject, call, trial);
    console.say(trial_text(trial));
    if (console.json()) console.result(trial_json(trial));
    return trial.best ? done : stopped;
}

}  // namespace fitup::cli
