#include "parts/plate_results.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "parts/result_file.hpp"

namespace fitup::parts {

namespace {

using parameters::Node;
using plan::Side;

constexpr double most_thickness_mm = 2000.0;  ///< as the schema has it
constexpr double most_coordinate_mm = 20000.0;
constexpr std::size_t most_points = 2000;

/// "0.5 mm by which end gap and spline engagement exclude each other", as the stack's result tells it.
std::string exclusion_text(const Node& stack) {
    const Node* exclusion = stack.find("exclusion");
    if (exclusion == nullptr) return "it solved no link";
    return "no size serves it: " + text_in(*exclusion, "at_least_for") + " and " +
           text_in(*exclusion, "at_most_for") + " exclude each other by " +
           short_text(number_in(*exclusion, "by_mm").value_or(0.0), 3) + " mm";
}

std::vector<std::string> keys_of(const Node& object) {
    std::vector<std::string> keys;
    for (const Node::Member& member : object.members) keys.push_back(member.key);
    return keys;
}

std::optional<double> solved_size_mm(Reader& reader, const Field& field, const Node& stack) {
    const Node* solved = stack.find("solved");
    if (solved == nullptr || solved->members.empty()) {
        reader.wrong(field["stack"], "the result of a stack that solved a link", exclusion_text(stack));
        return {};
    }
    if (const auto link = reader.text(field["link"])) {
        if (const auto size_mm = number_in(*solved, *link)) return size_mm;
        reader.unknown_name(field["link"], "the name of the link that the stack solved", keys_of(*solved));
        return {};
    }
    return number_in(*solved, solved->members.front().key);
}

double stack_thickness_mm(Reader& reader, const Field& field) {
    const auto stack = read_result(reader, field["stack"], "stack");
    if (!stack) return 0.0;
    const auto size_mm = solved_size_mm(reader, field, *stack);
    if (!size_mm) return 0.0;
    if (*size_mm > 0.0 && *size_mm <= most_thickness_mm) return *size_mm;
    reader.wrong(field["stack"], "a thickness over 0 mm and at most 2000 mm",
                 "the stack solved " + short_text(*size_mm, 3) + " mm");
    return 0.0;
}

/// The numbers of a matrix, written in one list or row by row; empty where it is none.
std::vector<double> numbers_in(const Node* node) {
    std::vector<double> numbers;
    if (node == nullptr) return numbers;
    for (const Node& item : node->items) {
        if (item.type == Node::Type::number) numbers.push_back(item.number);
        for (const Node& inner : item.items) numbers.push_back(inner.number);
    }
    return numbers;
}

/// Standard deviation along the longer axis of a point's error ellipse.
double worst_sigma_mm(double xx_mm2, double xy_mm2, double yy_mm2) {
    const double middle = (xx_mm2 + yy_mm2) / 2.0, half = (xx_mm2 - yy_mm2) / 2.0;
    return std::sqrt(std::max(0.0, middle + std::hypot(half, xy_mm2)));
}

class SurveyResult {
  public:
    explicit SurveyResult(const Node& result)
        : result_(result), covariance_mm2_(numbers_in(result.find("covariance_mm2"))) {}

    /// What keeps its places from being used; "" where nothing does.
    std::string trouble() const {
        const Node* points = result_.find("points");
        if (points == nullptr || points->items.empty()) return "it has no points";
        if (points->items.size() > most_points)
            return "it has " + std::to_string(points->items.size()) + " points, more than 2000";
        for (std::size_t i = 0; i < points->items.size(); ++i) {
            if (!place(i)) return "its point " + name(i) + " has no place [x, y] within 20 m";
            if (!sigma_mm(i)) return "its point " + name(i) + " has no uncertainty";
        }
        const std::string side = text_in(result_, "measured_on");
        return side == "A" || side == "B" ? "" : "it does not say on which side it was measured";
    }

    std::size_t size() const { return result_.find("points")->items.size(); }
    Side measured_on() const { return text_in(result_, "measured_on") == "A" ? Side::A : Side::B; }

    std::optional<plan::Point> place(std::size_t i) const {
        const Node* at = point(i).find("at_mm");
        if (at == nullptr || at->items.size() != 2) return {};
        for (const Node& coordinate : at->items) {
            if (coordinate.type != Node::Type::number || std::abs(coordinate.number) > most_coordinate_mm)
                return {};
        }
        return plan::Point{at->items[0].number, at->items[1].number};
    }

    /// From the covariance, else the point's own figure: the greatest where there are several.
    std::optional<double> sigma_mm(std::size_t i) const {
        const std::size_t n = 2 * size(), at = 2 * i;
        if (covariance_mm2_.size() == n * n)
            return worst_sigma_mm(covariance_mm2_[at * n + at], covariance_mm2_[at * n + at + 1],
                                  covariance_mm2_[(at + 1) * n + at + 1]);
        if (const auto one = number_in(point(i), "sigma_mm")) return std::abs(*one);
        const std::vector<double> several = numbers_in(point(i).find("sigma_mm"));
        if (several.empty()) return {};
        return *std::max_element(several.begin(), several.end());
    }

    /// Why its pattern can't bolt up; "" where it can, or where that was not asked.
    std::string does_not_bolt_up() const {
        const Node* bolts_up = result_.find("bolts_up");
        const Node* possible = bolts_up != nullptr ? bolts_up->find("possible") : nullptr;
        if (possible == nullptr || possible->type != Node::Type::boolean || possible->truth) return "";
        const auto clearance_mm = number_in(*bolts_up, "least_clearance_mm");
        return clearance_mm ? "least clearance " + short_text(*clearance_mm, 3) + " mm" : "no clearance left";
    }

    /// Readings that the survey found to disagree and kept, by name; or that nothing fits them.
    std::string suspects() const {
        const Node* fits = result_.find("fits");
        if (fits != nullptr && fits->type == Node::Type::boolean && !fits->truth) return "no places fit them";
        const Node* suspects = result_.find("suspects");
        std::string names;
        for (const Node& one : suspects != nullptr ? suspects->items : std::vector<Node>())
            names += (names.empty() ? "" : ", ") + text_in(one, "reading");
        return names;
    }

    std::string datum() const {
        const Node* datum = result_.find("datum");
        if (datum == nullptr) return "";
        return datum->type == Node::Type::object ? text_in(*datum, "words") : datum->text;
    }

  private:
    const Node& point(std::size_t i) const { return result_.find("points")->items[i]; }
    std::string name(std::size_t i) const {
        const std::string id = text_in(point(i), "id");
        return id.empty() ? std::to_string(i + 1) : id;
    }

    const Node& result_;
    std::vector<double> covariance_mm2_;
};

/// The survey says on which side it was measured; the pattern may say it too, but not otherwise.
void settle_side(Reader& reader, const Field& field, Side measured_on, PatternParameters& pattern) {
    const bool says_casting = bool(field["measured_on"]), says_plate = bool(field["seen_from"]);
    const Side seen_from = plan::other(measured_on);
    if ((says_casting || says_plate) && pattern.seen_from != seen_from) {
        const std::string casting = plan::to_text(measured_on), plate = plan::to_text(seen_from);
        reader.wrong(says_casting ? field["measured_on"] : field["seen_from"],
                     "\"" + (says_casting ? casting : plate) + "\"",
                     "its survey was measured on the casting at " + casting +
                         (says_casting ? "" : ", which is seen from " + plate));
    }
    pattern.measured_on = true;
    pattern.seen_from = seen_from;
}

std::vector<int> read_skip(Reader& reader, const Field& field, std::size_t count) {
    std::vector<int> skip;
    for (std::size_t i = 0; i < field.size(); ++i) {
        const double ordinal = reader.number(field.item(i)).value_or(1.0);
        if (ordinal > double(count))
            reader.wrong(field.item(i),
                         "an ordinal from 1 to the survey's " + std::to_string(count) + " points");
        else
            skip.push_back(static_cast<int>(std::max(ordinal, 1.0)));
    }
    if (!skip.empty() && skip.size() >= count) reader.wrong(field, "at least one hole left");
    return skip;
}

void add_survey(const std::string& pattern, const SurveyParameters& survey, plan::Findings& findings) {
    const std::string source = pattern + ": its survey " + survey.file;
    if (!survey.does_not_bolt_up.empty())
        findings.push_back(plan::finding_of("survey-bolts-up", plan::Severity::warn, pattern,
                                            source + " says that the pattern can't bolt up (" +
                                                survey.does_not_bolt_up +
                                                "): see its result before metal is cut."));
    if (!survey.suspects.empty())
        findings.push_back(
            plan::finding_of("survey-suspects", plan::Severity::stop, pattern,
                             source + " found readings that disagree with the rest (" + survey.suspects +
                                 ") and kept them: its places may be off by far more than it states. Measure "
                                 "them again, or name them in its leave_out."));
}

}  // namespace

double read_thickness(Reader& reader, const Field& field, std::string& from) {
    if (!field["stack"]) return reader.length_mm_or(field, 0.0);
    from = reader.text_or(field["stack"], "");
    return stack_thickness_mm(reader, field);
}

void read_survey(Reader& reader, const Field& field, PatternParameters& pattern) {
    const auto node = read_result(reader, field["survey"], "survey");
    if (!node) return;
    const SurveyResult survey(*node);
    if (const std::string trouble = survey.trouble(); !trouble.empty()) {
        reader.wrong(field["survey"], "the result file of a survey with its points", trouble);
        return;
    }
    settle_side(reader, field, survey.measured_on(), pattern);
    PointsLayout layout;
    SurveyParameters parameters{reader.text_or(field["survey"], ""),
                                survey.datum(),
                                {},
                                survey.does_not_bolt_up(),
                                survey.suspects()};
    for (std::size_t i = 0; i < survey.size(); ++i) {
        layout.points.push_back(*survey.place(i));
        parameters.position_sigma_mm.push_back(*survey.sigma_mm(i));
    }
    layout.skip = read_skip(reader, field["skip"], survey.size());
    pattern.layout.places = std::move(layout);
    pattern.survey = std::move(parameters);
}

plan::Findings result_findings(const AdapterPlate& plate) {
    plan::Findings findings;
    if (!plate.thickness_from.empty())
        findings.push_back(plan::finding_of("thickness-stack", plan::Severity::note, "",
                                            "the thickness, " + short_text(plate.thickness_mm, 4) +
                                                " mm, is what the stack " + plate.thickness_from +
                                                " solved; calculate it again when a size of it changes."));
    for (const PatternParameters& pattern : plate.patterns) {
        if (pattern.survey) add_survey(pattern.name, *pattern.survey, findings);
    }
    return findings;
}

}  // namespace fitup::parts
