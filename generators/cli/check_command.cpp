#include <algorithm>

#include "base/error.hpp"
#include "base/text.hpp"
#include "calculations/swing.hpp"
#include "cli/commands.hpp"
#include "cli/outputs.hpp"
#include "cli/part_commands.hpp"
#include "parts/kinds.hpp"
#include "parts/pattern_fasteners.hpp"
#include "parts/printed.hpp"
#include "plan/wall_left.hpp"
#include "rules/rules.hpp"

namespace fitup::cli {

namespace {

/// A rule that the file overrides and that does not exist: only the rules know their names.
void check_rule_names(const PartResult& result, parameters::Faults& faults) {
    std::vector<std::string> names;
    for (const rules::Rule& rule : rules::all_rules()) names.push_back(rule.name);
    for (const plan::RuleOverride& entry : result.plan.rule_overrides) {
        if (rules::find_rule(entry.rule) != nullptr) continue;
        const auto nearest = nearest_word(entry.rule, names);
        faults.push_back(parameters::fault_of(
            {.file = result.file, .line = entry.line, .column = 1, .key = "rules." + entry.rule},
            "\"" + entry.rule + "\"", "the name of a rule (`fitup explain rules`)",
            nearest ? "the nearest is " + *nearest : ""));
    }
}

}  // namespace

Read read_parts(const std::vector<std::string>& files) {
    Read read;
    for (const std::string& file : files) {
        std::string bytes = read_file(file);
        parts::Planned planned = parts::plan_file(bytes, file);
        read.faults.insert(read.faults.end(), planned.faults.begin(), planned.faults.end());
        if (!planned.plan) continue;
        PartResult result;
        result.file = file;
        result.parameters = std::move(bytes);
        result.plan = std::move(*planned.plan);
        result.findings = std::move(planned.findings);
        result.papers = planned.papers;
        if (auto printed = parts::printed_plan(result.plan, result.papers.print))
            result.printed = Printed{std::move(*printed), {}};
        result.fasteners = parts::pattern_fasteners(result.parameters, file);
        result.work = parts::work_of(result.plan);
        check_rule_names(result, read.faults);
        for (const PartResult& earlier : read.parts) {
            if (plan::file_stem(earlier.plan) == plan::file_stem(result.plan))
                read.faults.push_back(same_outputs(earlier.file, result.file, plan::file_stem(result.plan)));
        }
        read.parts.push_back(std::move(result));
    }
    return read;
}

namespace {

/// What is printed must be one sound body as the part is.
void judge_printed(PartResult& result, StageLine& stage) {
    if (!result.printed) return;
    Printed& printed = *result.printed;
    printed.body = exchange::examine(printed.plan, [&](std::string_view what) {
        stage.enter(result.plan.name + ", for printing: " + std::string(what));
    });
    for (const plan::Finding& finding : printed.body.findings)
        result.findings.push_back(plan::final_stop(
            "print-threads", finding.where,
            "with its threads cut away the part can't be printed; leave `print` out, or mend this: " +
                finding.message));
}

}  // namespace

exchange::Body judge(PartResult& result, StageLine& stage) {
    stage.enter(result.plan.name + ": judging");
    plan::append(result.findings, rules::judge(result.plan));
    plan::sort_by_severity(result.findings);
    if (result.plan.swing) {
        stage.enter(result.plan.name + ": swinging it past what it must clear");
        const auto swing = calculations::judge_swing(result.plan, obstacles_of(*result.plan.swing));
        result.work.insert(result.work.end(), swing.figures.begin(), swing.figures.end());
        plan::append(result.findings, swing.findings);
        plan::sort_by_severity(result.findings);
    }
    exchange::Body body;
    if (plan::has_final_stop(result.findings)) return body;
    body = exchange::examine(result.plan, [&](std::string_view what) {
        stage.enter(result.plan.name + ": " + std::string(what));
    });
    plan::append(result.findings, body.findings);
    plan::sort_by_severity(result.findings);
    if (body.findings.empty()) {
        result.figures = body.figures;
        result.walls_left_mm = plan::walls_left_mm(result.plan, body.skin);
        judge_printed(result, stage);
        plan::sort_by_severity(result.findings);
    }
    return body;
}

bool is_stopped(const PartResult& result, bool despite_rules) {
    return std::any_of(
        result.findings.begin(), result.findings.end(), [despite_rules](const plan::Finding& finding) {
            return finding.severity == plan::Severity::stop && (finding.final || !despite_rules);
        });
}

int check_command(const Call& call, Console& console) {
    Read read = read_parts(call.words);
    if (!read.faults.empty()) return wrong_files(console, read.faults);
    StageLine stage(!console.json() && !call.quiet);
    int status = done;
    for (PartResult& result : read.parts) {
        try {
            judge(result, stage);
            if (is_stopped(result, false)) status = std::max<int>(status, stopped);
        } catch (const FileError& error) {
            result.failure = error.what();
            console.complain("fitup: " + result.file + ": " + error.what() + "\n");
            status = std::max<int>(status, file_failed);
        } catch (const KernelError& error) {
            result.failure = error.what();
            console.complain("fitup: " + result.file + ": " + error.what() + "\n");
            status = kernel_failed;
        }
        console.say(part_text(result, console));
    }
    if (console.json()) console.result(parts_json(read.parts));
    return status;
}

}  // namespace fitup::cli
