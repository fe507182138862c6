#include "sheets/hole_operations.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "base/units.hpp"
#include "plan/drill_point.hpp"
#include "plan/seen_from.hpp"
#include "sheets/size_text.hpp"
#include "trade/trade.hpp"

namespace fitup::sheets {

namespace {

/// Point of a common twist drill (common practice, no source).
constexpr Angle drill_point = Angle::from_degrees(118.0);
/// Least metal that a reamer is left, on the diameter (settled in the file format for pilots).
constexpr double reaming_allowance_mm = 0.3;

class HoleWork {
  public:
    HoleWork(const plan::Plan& plan, const plan::Hole& hole) : plan_(plan), hole_(hole) {}

    std::vector<Operation> all() {
        if (hole_.slot_length_mm) {
            slot();
        } else if (hole_.thread) {
            make_round("tap drill", hole_.thread->tap_drill_mm, "");
            tap();
        } else if (hole_.finish_diameter_mm) {
            const std::string goal = size_text(*hole_.finish_diameter_mm) + fit_class();
            make_round("drill", hole_.diameter_mm, "pilot, reamed to " + goal + " at assembly");
            ream(Stage::at_assembly, "ream at assembly", *hole_.finish_diameter_mm);
        } else if (hole_.kind == plan::HoleKind::dowel && !is_bored(hole_.diameter_mm)) {
            pilot_and_ream();
        } else {
            make_round("drill", hole_.diameter_mm, fit_note());
        }
        if (hole_.recess) counterbore(*hole_.recess);
        if (hole_.countersink) countersink(*hole_.countersink);
        return std::move(operations_);
    }

  private:
    /// Larger than any drill of the tables, or the bore itself.
    bool is_bored(double diameter_mm) const {
        return hole_.kind == plan::HoleKind::bore || diameter_mm > largest_drill_mm();
    }

    static double largest_drill_mm() {
        double largest = 0.0;
        for (const trade::Drill& drill : trade::drills()) largest = std::max(largest, drill.diameter_mm);
        return largest;
    }

    std::string size_text(double length_mm) const {
        if (plan_.units == plan::Units::in) return short_text(length_mm / mm_per_inch, 4) + " in";
        return short_text(length_mm, 3) + " mm";
    }

    std::string drill_name(double diameter_mm) const {
        const trade::Drill* drill = trade::drill_of(diameter_mm);
        return drill ? drill->name : size_text(diameter_mm);
    }

    std::string fit_class() const { return hole_.fit ? " " + hole_.fit->tolerance_class : ""; }

    std::string fit_note() const { return hole_.fit ? limits_text(*hole_.fit) : ""; }

    /// Height of the metal that stands on the far face where the hole comes out.
    double far_metal_mm() const {
        double height_mm = 0.0;
        for (const plan::Raised& ring : plan_.raised) {
            if (ring.side != hole_.from && meets(ring)) height_mm = std::max(height_mm, ring.height_mm);
        }
        return height_mm;
    }

    bool meets(const plan::Raised& ring) const {
        const double radius_mm = hole_.diameter_mm / 2.0;
        const auto reaches = [&](const plan::Contour& contour) {
            return contour.distance_to_mm(hole_.at_mm) < radius_mm;
        };
        if (!ring.outer.contains(hole_.at_mm) && !reaches(ring.outer)) return false;
        return std::none_of(ring.inner.begin(), ring.inner.end(), [&](const plan::Contour& inner) {
            return inner.contains(hole_.at_mm) && !reaches(inner);
        });
    }

    HoleLine& add(Stage stage, plan::Side side, std::string operation, std::string tool, double diameter_mm) {
        HoleLine line;
        line.side = side;
        line.id = hole_.id;
        line.kind = plan::to_text(hole_.kind);
        line.operation = std::move(operation);
        line.tool = std::move(tool);
        line.x_mm = plan::seen_from(side, hole_.at_mm).x_mm;
        line.y_mm = hole_.at_mm.y_mm;
        line.diameter_mm = diameter_mm;
        operations_.push_back({stage, std::move(line)});
        return operations_.back().line;
    }

    /// Depth of the hole itself; through a part to the far side of what stands there.
    void set_depth(HoleLine& line) const {
        line.through = hole_.through;
        line.depth_mm = hole_.through ? plan_.body.thickness_mm + far_metal_mm() : hole_.depth_mm;
        line.depth_with_point_mm = line.depth_mm;
    }

    /// The hole at this diameter: drilled, or bored where no drill is that large.
    void make_round(const std::string& operation, double diameter_mm, std::string note) {
        if (is_bored(diameter_mm)) {
            HoleLine& line =
                add(Stage::bore, hole_.from, "bore", "bore " + size_text(diameter_mm), diameter_mm);
            set_depth(line);
            line.note = std::move(note);
            return;
        }
        const bool is_flat = !hole_.through && !hole_.point_angle;
        const std::string tool = (is_flat ? "flat-bottom drill " : "drill ") + drill_name(diameter_mm);
        HoleLine& line = add(Stage::drill, hole_.from, operation, tool, diameter_mm);
        set_depth(line);
        if (!is_flat)
            line.depth_with_point_mm +=
                plan::point_height_mm(diameter_mm, hole_.point_angle.value_or(drill_point));
        line.note = std::move(note);
    }

    void tap() {
        const plan::Thread& thread = *hole_.thread;
        const std::string hand = thread.hand == plan::Hand::left ? " left-hand" : "";
        HoleLine& line =
            add(Stage::tap, hole_.from, "tap", thread.designation + hand + " tap", thread.major_mm);
        set_depth(line);
        line.through = hole_.through && thread.depth_mm >= plan_.body.thickness_mm;
        if (!line.through) line.depth_mm = line.depth_with_point_mm = thread.depth_mm;
    }

    void ream(Stage stage, const std::string& operation, double diameter_mm) {
        const std::string tool = "reamer " + size_text(diameter_mm) + fit_class();
        HoleLine& line = add(stage, hole_.from, operation, tool, diameter_mm);
        set_depth(line);
        line.note = fit_note();
    }

    void pilot_and_ream() {
        const bool is_inch = plan_.units == plan::Units::in;
        const trade::Drill* pilot =
            trade::largest_drill_up_to(hole_.diameter_mm - reaming_allowance_mm, is_inch);
        if (pilot) make_round("drill", pilot->diameter_mm, "for the reamer");
        ream(Stage::ream, "ream", hole_.diameter_mm);
    }

    /// The slot's middle, and its direction as its side lies.
    void slot() {
        const double seen_deg = hole_.slot_direction.degrees() * (hole_.from == plan::Side::A ? -1.0 : 1.0);
        const double turn_deg = seen_deg - 180.0 * std::floor(seen_deg / 180.0);
        HoleLine& line = add(Stage::slot, hole_.from, "mill slot",
                             "end mill for slot " + size_text(hole_.diameter_mm), hole_.diameter_mm);
        set_depth(line);
        line.note = "slot " + size_text(*hole_.slot_length_mm) + " long over all, at " +
                    short_text(turn_deg, 2) + " deg from X" + (hole_.fit ? "; width " + fit_note() : "");
    }

    void counterbore(const plan::Recess& recess) {
        HoleLine& line = add(Stage::counterbore, recess.side, "counterbore",
                             "counterbore " + size_text(recess.diameter_mm), recess.diameter_mm);
        line.depth_mm = line.depth_with_point_mm = recess.depth_mm;
        if (recess.holds) line.note = "for " + recess.holds->what + " " + recess.holds->designation;
    }

    void countersink(const plan::Countersink& countersink) {
        HoleLine& line = add(Stage::countersink, countersink.side, "countersink",
                             "countersink " + short_text(countersink.angle.degrees(), 1) + " deg",
                             countersink.diameter_mm);
        const double wider_mm = countersink.diameter_mm - hole_.diameter_mm;
        line.depth_mm = line.depth_with_point_mm = wider_mm / 2.0 / (countersink.angle * 0.5).tan();
    }

    const plan::Plan& plan_;
    const plan::Hole& hole_;
    std::vector<Operation> operations_;
};

}  // namespace

std::vector<Operation> operations(const plan::Plan& plan, const plan::Hole& hole) {
    return HoleWork(plan, hole).all();
}

}  // namespace fitup::sheets
