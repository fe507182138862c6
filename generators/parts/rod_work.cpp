// What is worked out of a link rod, for the report.
#include "base/text.hpp"
#include "parts/threaded_rod.hpp"
#include "plan/rod_strength.hpp"

namespace fitup::parts {

namespace {

using plan::Rod;
using plan::Work;

std::vector<Work> bend_rows(const plan::RodPath& path) {
    std::vector<Work> rows;
    for (const plan::RodBend& bend : path.bends)
        rows.push_back({{"mark_mm", "mark", bend.mark_mm},
                        {"middle_mm", "middle", bend.middle_mm},
                        {"angle_deg", "angle", bend.angle.degrees()},
                        {"turn_deg", "turn", bend.turn.degrees()}});
    return rows;
}

std::vector<double> straights_mm(const plan::RodPath& path) {
    std::vector<double> lengths;
    for (const plan::RodStraight& straight : path.straights) lengths.push_back(straight.length_mm);
    return lengths;
}

std::vector<Work> adjustment_rows(const Rod& rod) {
    std::vector<Work> rows;
    for (const std::size_t end : {std::size_t{0}, std::size_t{1}}) {
        const auto found = plan::adjustment(rod, end);
        if (!found) continue;
        rows.push_back({{"end", "end", end == 0 ? std::string("first") : std::string("last")},
                        {"fitting", "fitting", rod.fittings[end]->name},
                        {"step_mm", "half a turn is", found->step_mm},
                        {"half_turns_in", "half turns in", double(found->half_turns_in)},
                        {"half_turns_out", "half turns out", double(found->half_turns_out)},
                        {"engaged_mm", "engaged", found->engaged_mm},
                        {"least_engaged_mm", "wound out", found->least_engaged_mm},
                        {"most_engaged_mm", "wound in", found->most_engaged_mm}});
    }
    return rows;
}

void add_reach(Work& work, const Rod& rod) {
    const plan::PinToPin reach = plan::pin_to_pin(rod);
    work.push_back({"pin_to_pin_mm", rod.fittings[0] || rod.fittings[1] ? "pin to pin" : "end to end",
                    Work{{"set", "set", reach.set_mm},
                         {"least", "least", reach.least_mm},
                         {"most", "most", reach.most_mm}}});
    if (std::vector<Work> rows = adjustment_rows(rod); !rows.empty())
        work.push_back({"adjustment", "adjustment", std::move(rows)});
}

void add_buckling(Work& work, const plan::Plan& plan) {
    const auto column = plan::buckling(*plan.rod, plan.material);
    if (!column) return;
    std::string by = column->is_euler ? "Euler" : "Johnson";
    by += std::string(", both ends pinned, ") +
          (plan.rod->fittings[0] || plan.rod->fittings[1] ? "pin to pin" : "end to end") + ", slenderness " +
          short_text(column->slenderness, 1);
    if (column->change_over) by += " (Euler from " + short_text(*column->change_over, 1) + ")";
    work.push_back({"buckling_n", "buckles at", column->load_n});
    work.push_back({"buckling_by", "by", by});
}

void add_bends_cost(Work& work, const plan::Plan& plan, const plan::RodPath& path) {
    if (path.bends.empty()) return;
    const plan::BentShare share = plan::bent_share(*plan.rod, path);
    work.push_back({"beside_straight", "beside a straight rod",
                    Work{{"eccentricity_mm", "off the line of the pins", share.eccentricity_mm},
                         {"stress_times", "stress times", share.stress_times},
                         {"give_times", "give times", share.give_times},
                         {"even_moment_times", "give at most times", share.even_moment_times}}});
    if (const auto push_n = plan::yield_push_n(*plan.rod, path, plan.material))
        work.push_back({"yield_push_n", "bends for good at a push of", *push_n});
}

void add_load(Work& work, const plan::Plan& plan, const plan::RodPath& path) {
    const auto load = plan::loaded(*plan.rod, path, plan.material);
    if (!load) return;
    Work stresses{{"direct_mpa", "direct", load->direct_mpa}, {"pull_mpa", "pull", load->pull_mpa}};
    // Over Euler's load there is no stress to tell: it buckles, and JSON has no infinity.
    if (load->push_mpa && *load->push_mpa < 1e300) {
        stresses.push_back({"push_mpa", "push", *load->push_mpa});
        stresses.push_back({"push_deflection_mm", "sideways under push", *load->push_deflection_mm});
    }
    if (load->thread_mpa > 0.0) stresses.push_back({"thread_mpa", "thread", load->thread_mpa});
    work.push_back({"stress", "stress under load", std::move(stresses)});
}

}  // namespace

Work threaded_rod_work(const plan::Plan& plan) {
    const plan::RodPath path = plan::rod_path(*plan.rod);
    Work work{{"cut_length_mm", "cut length", path.length_mm},
              {"straights_mm", "straights", straights_mm(path)},
              {"bends", "bends", bend_rows(path)}};
    add_reach(work, *plan.rod);
    add_buckling(work, plan);
    add_bends_cost(work, plan, path);
    add_load(work, plan, path);
    return work;
}

}  // namespace fitup::parts
