#include "sheets/report_check.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/error.hpp"
#include "base/text.hpp"
#include "base/units.hpp"
#include "sheets/report_read.hpp"

namespace fitup::sheets {

namespace {

/// Half the last decimal that a row shows, and a rounding.
double within_mm(plan::Units units) {
    return units == plan::Units::in ? 0.5e-4 * mm_per_inch + 1e-9 : 0.5e-2 + 1e-9;
}

std::size_t rows_wanted(const plan::Plan& plan) {
    return plan.rod ? plan.rod->corners.size() : plan.holes.size() + plan.cross_holes.size();
}

class Check {
  public:
    Check(const ReportInput& input, const ReadReport& read) : input_(input), read_(read) {}

    std::string rows() {
        const plan::Plan& plan = input_.plan;
        for (const ReadRow& row : read_.rows) {
            if (!by_id_.insert({row.id, &row}).second) fail(row.id + " stands in it twice");
        }
        if (by_id_.size() != rows_wanted(plan)) fail("it has " + std::to_string(by_id_.size()) + " rows");
        for (const plan::Hole& hole : plan.holes)
            place(hole.id, hole.from == plan::Side::A ? -hole.at_mm.x_mm : hole.at_mm.x_mm, hole.at_mm.y_mm);
        for (const plan::CrossHole& hole : plan.cross_holes) place(hole.id, hole.at_mm[0], hole.at_mm[2]);
        return std::to_string(by_id_.size()) + " rows, worst " + fixed_text(worst_mm_, 4) + " mm";
    }

    std::string view(double area_mm2) const {
        const double volume_mm3 = mesh::volume_mm3(read_.mesh);
        // Corners are moved by half a step of the box at most.
        const plan::Box& box = input_.size.box;
        double step_mm = 0.0;
        for (std::size_t axis = 0; axis < 3; ++axis)
            step_mm = std::max(step_mm, (box.most[axis] - box.least[axis]) / 65535.0);
        const double off = std::abs(volume_mm3 - input_.size.volume_mm3) / input_.size.volume_mm3;
        const double allowed = area_mm2 * (input_.view.fineness.chord_mm + step_mm) / input_.size.volume_mm3;
        if (!(off <= allowed)) fail("its view has " + fixed_text(volume_mm3, 1) + " mm3");
        return "the view's volume within " + fixed_text(100.0 * off, 4) + " %, where its chord allows " +
               fixed_text(100.0 * allowed, 2) + " %";
    }

  private:
    void place(const std::string& id, double x_mm, double y_mm) {
        const auto found = by_id_.find(id);
        if (found == by_id_.end() || found->second->numbers.size() < 2) fail(id + " is missing");
        const double unit_mm = input_.plan.units == plan::Units::in ? mm_per_inch : 1.0;
        const auto& numbers = found->second->numbers;
        const double off_mm =
            std::max(std::abs(numbers[0] * unit_mm - x_mm), std::abs(numbers[1] * unit_mm - y_mm));
        if (!(off_mm <= within_mm(input_.plan.units))) fail(id + " stands at another place");
        worst_mm_ = std::max(worst_mm_, off_mm);
    }

    [[noreturn]] void fail(const std::string& what) const {
        throw KernelError("the report of " + input_.plan.name +
                          " was read back and differs from the plan: " + what);
    }

    const ReportInput& input_;
    const ReadReport& read_;
    std::map<std::string, const ReadRow*> by_id_;
    double worst_mm_ = 0.0;
};

}  // namespace

std::string check_report(std::string_view page, const ReportInput& input, double area_mm2) {
    const ReadReport read = read_report(page);
    Check check(input, read);
    const std::string rows = check.rows();
    return "read back: " + rows + "; " + check.view(area_mm2);
}

}  // namespace fitup::sheets
