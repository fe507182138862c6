#include "calculations/web_field.hpp"

#include <algorithm>
#include <limits>
#include <tuple>

#include "calculations/web_pair.hpp"
#include "rules/wording.hpp"

namespace fitup::calculations {

namespace {

using plan::CutRole;
using rules::Limit;
using rules::Owner;

constexpr double endless = std::numeric_limits<double>::infinity();

double greatest(const Limit& limit) { return std::max(limit.warn.value_or(0.0), limit.stop.value_or(0.0)); }

bool is_blind_end(const plan::Cut& cut) { return cut.role == CutRole::point || cut.role == CutRole::hole; }

/// What the rules ask for between two cuts.
WebPair::Limits limits_of(const rules::Subject& subject, const Owner& first, const Owner& second,
                          const plan::Cut& a, const plan::Cut& b) {
    WebPair::Limits limits;
    limits.wall_mm = greatest(rules::web_limit(subject, first, second));
    limits.floor_mm = is_blind_end(a) || is_blind_end(b)
                          ? greatest(subject.limits().of("hole-floor"))
                          : std::max(greatest(rules::recess_floor_limit(subject, first)),
                                     greatest(rules::recess_floor_limit(subject, second)));
    return limits;
}

/// Marks are too shallow to count, and a hollow keeps its own distance from every hole.
bool is_left_out(const plan::Plan& plan, const Owner& owner) {
    if (!owner.is_pocket) return false;
    const plan::PocketKind kind = plan.pockets[owner.index].kind;
    return kind == plan::PocketKind::mark || kind == plan::PocketKind::hollow;
}

/// A plain hole may be drilled from any pocket's floor; a thread or dowel must not be turned into a relief,
/// which would take its length.
bool may_lie_inside(const plan::Plan& plan, const Owner& hole, const Owner& other) {
    if (!other.is_pocket) return false;
    const plan::HoleKind kind = plan.holes[hole.index].kind;
    const bool needs_length = kind == plan::HoleKind::tapped || kind == plan::HoleKind::dowel;
    return !needs_length || plan.pockets[other.index].kind != plan::PocketKind::relief;
}

}  // namespace

struct WebField::Parts {
    plan::Plan plan;
    rules::Subject subject;
    Axis axis;
    std::vector<WebPair> webs;
    std::vector<RimPair> rims;
    /// The pair that had least the last time is asked first: most others are then quickly left out.
    mutable std::size_t last = 0;

    Parts(plan::Plan made, Axis about) : plan(std::move(made)), subject(plan), axis(about) {}

    void add(const Owner& first, const Owner& second, std::optional<double> wanted_mm) {
        const bool may_lie = may_lie_inside(plan, first, second);
        for (std::size_t i = first.first_cut; i < first.first_cut + first.cut_count; ++i) {
            for (std::size_t j = second.first_cut; j < second.first_cut + second.cut_count; ++j) {
                const plan::Cut &a = subject.cuts()[i], &b = subject.cuts()[j];
                WebPair::Limits limits = limits_of(subject, first, second, a, b);
                if (wanted_mm) limits = {*wanted_mm, *wanted_mm};
                if (limits.most_mm() > 0.0)
                    webs.emplace_back(a, b, axis.centre, WebPair::Options{limits, may_lie});
            }
        }
    }

    void add_outline(const Owner& first, std::optional<double> wanted_mm) {
        const double limit_mm = wanted_mm.value_or(greatest(subject.limits().of("rim")));
        for (std::size_t i = first.first_cut; i < first.first_cut + first.cut_count; ++i)
            rims.emplace_back(subject.cuts()[i], plan.body.outline, subject.outline(), axis.centre, limit_mm);
    }

    WebPair::Value value(std::size_t pair, double turn_rad) const {
        return pair < webs.size() ? webs[pair].at(turn_rad) : rims[pair - webs.size()].at(turn_rad);
    }
};

WebField::WebField(plan::Plan plan, const std::vector<bool>& turning, Axis axis,
                   std::optional<double> wanted_mm)
    : parts_(std::make_unique<Parts>(std::move(plan), axis)) {
    const auto& owners = parts_->subject.owners();
    const auto turns = [&](const Owner& owner) { return !owner.is_pocket && turning[owner.index]; };
    for (const Owner& first : owners) {
        if (!turns(first)) continue;
        for (const Owner& second : owners) {
            if (!turns(second) && !is_left_out(parts_->plan, second)) parts_->add(first, second, wanted_mm);
        }
        parts_->add_outline(first, wanted_mm);
    }
}

WebField::~WebField() = default;
WebField::WebField(WebField&&) noexcept = default;

WebField::Metal WebField::at(double turn_rad) const {
    turn_rad *= parts_->axis.sense;
    const auto& webs = parts_->webs;
    Metal least{endless, 0.0, endless, 0};
    const auto ask = [&](std::size_t i) {
        if (i < webs.size() && webs[i].surely_mm(turn_rad) >= least.spare_mm) return;
        const WebPair::Value here = parts_->value(i, turn_rad);
        if (here.spare_mm() < least.spare_mm) least = {here.web_mm, here.wanted_mm, here.spare_mm(), i};
    };
    ask(parts_->last);
    for (std::size_t i = 0; i < webs.size() + parts_->rims.size(); ++i) ask(i);
    parts_->last = least.pair;
    return least;
}

std::vector<WebField::Metal> WebField::under(double turn_rad, double spare_mm) const {
    turn_rad *= parts_->axis.sense;
    std::vector<Metal> all;
    for (std::size_t i = 0; i < parts_->webs.size() + parts_->rims.size(); ++i) {
        const WebPair::Value here = parts_->value(i, turn_rad);
        if (here.spare_mm() <= spare_mm) all.push_back({here.web_mm, here.wanted_mm, here.spare_mm(), i});
    }
    std::stable_sort(all.begin(), all.end(),
                     [](const Metal& a, const Metal& b) { return a.spare_mm < b.spare_mm; });
    return all;
}

WebField::Bounds WebField::over(double from_rad, double to_rad) const {
    if (parts_->axis.sense < 0.0) std::tie(from_rad, to_rad) = std::pair(-to_rad, -from_rad);
    const auto& webs = parts_->webs;
    Bounds bounds{endless, endless};
    const auto ask = [&](std::size_t i) {
        if (i < webs.size() && webs[i].surely_mm(from_rad, to_rad) >= bounds.most_mm) return;
        const WebPair::Bounds here = i < webs.size() ? webs[i].over(from_rad, to_rad)
                                                     : parts_->rims[i - webs.size()].over(from_rad, to_rad);
        bounds.least_mm = std::min(bounds.least_mm, here.least_mm);
        bounds.most_mm = std::min(bounds.most_mm, here.most_mm);
    };
    ask(parts_->last);
    for (std::size_t i = 0; i < webs.size() + parts_->rims.size(); ++i) ask(i);
    return bounds;
}

std::string WebField::name(std::size_t pair) const {
    const auto& webs = parts_->webs;
    if (pair >= webs.size())
        return rules::name_of(parts_->rims[pair - webs.size()].moving()) + " and the outline";
    return rules::name_of(webs[pair].moving()) + " and " + rules::name_of(webs[pair].still());
}

std::string WebField::where(std::size_t pair) const {
    const auto& webs = parts_->webs;
    if (pair >= webs.size()) return parts_->rims[pair - webs.size()].moving().id + ", outline";
    return webs[pair].moving().id + ", " + webs[pair].still().id;
}

}  // namespace fitup::calculations
