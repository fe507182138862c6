#include "sheets/fastener_list.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "base/units.hpp"
#include "trade/trade.hpp"

namespace fitup::sheets {

namespace {

using plan::Hole;
using plan::HoleKind;

constexpr double threads_proud = 2.0;

/// A length as the sum of its parts.
class Sum {
  public:
    explicit Sum(plan::Units units) : is_inch_(units == plan::Units::in) {}

    void add(double length_mm, const std::string& what) {
        total_mm_ += length_mm;
        text_ += (text_.empty() ? "" : " + ") + text(length_mm) + " " + what;
    }
    void add_unknown(const std::string& what) { text_ += (text_.empty() ? "" : " + ") + what; }
    double total_mm() const { return total_mm_; }
    const std::string& words() const { return text_; }
    std::string text(double length_mm) const {
        return is_inch_ ? short_text(length_mm / mm_per_inch, 4) + " in" : short_text(length_mm, 2) + " mm";
    }

  private:
    bool is_inch_;
    double total_mm_ = 0.0;
    std::string text_;
};

/// Of a size without its thread ("3/8") the coarse one.
const trade::Thread* thread_of(const std::string& designation, double diameter_mm) {
    if (const trade::Thread* thread = trade::find_thread(designation)) return thread;
    for (const trade::Thread& thread : trade::threads()) {
        const bool is_coarse = thread.series == "UNC" || thread.series == "ISO coarse";
        if (is_coarse && std::abs(thread.major_mm - diameter_mm) < 1e-6) return &thread;
    }
    return nullptr;
}

/// What one pattern takes.
class PatternRows {
  public:
    PatternRows(const plan::Plan& plan, const plan::Pattern& pattern, const plan::PatternFastener& told)
        : plan_(plan), hole_(plan.holes[pattern.holes.front()]), told_(told), sum_(plan.units) {
        base_.where = pattern.name;
        base_.count = pattern.holes.size();
    }

    std::vector<FastenerRow> rows() {
        if (hole_.kind == HoleKind::dowel) add_dowel();
        if (hole_.kind == HoleKind::tapped) add_into_thread();
        if (hole_.kind == HoleKind::clearance && hole_.through && hole_.fastener) add_through();
        return std::move(rows_);
    }

  private:
    std::string kind() const {
        if (!told_.kind.empty()) return told_.kind;
        if (hole_.kind == HoleKind::tapped) return "stud";
        if (hole_.countersink) return "countersunk screw";
        if (!sunk()) return "hex bolt";
        return sunk()->what == "nut" ? "stud" : sunk()->what;
    }

    const plan::SunkFastener* sunk() const {
        return hole_.recess && hole_.recess->holds ? &*hole_.recess->holds : nullptr;
    }

    void add(const std::string& what, const std::string& size, const std::string& remark = "",
             const std::string& source = "") {
        FastenerRow row = base_;
        row.what = what;
        row.size = size;
        row.made_up_of = remark;
        row.source = source;
        rows_.push_back(std::move(row));
    }

    void add_long(const std::string& what, const std::string& size) {
        add(what, size, sum_.words());
        rows_.back().length_mm = sum_.total_mm();
        rows_.back().plus_reach = !told_.reach_mm;
    }

    void add_reach(const std::string& what) {
        if (told_.reach_mm)
            sum_.add(*told_.reach_mm, what);
        else
            sum_.add_unknown("reach (" + what + ")");
    }

    void add_dowel() {
        sum_.add(hole_.depth_mm, "in the plate");
        add_reach("in the casting");
        add_long(hole_.slot_length_mm ? "dowel pin, in a slot" : "dowel pin",
                 sum_.text(hole_.finish_diameter_mm.value_or(hole_.diameter_mm)));
    }

    void add_into_thread() {
        const plan::Thread& thread = *hole_.thread;
        const std::string what = kind();
        const std::string hand = thread.hand == plan::Hand::left ? " LH" : "";
        if (what == "none") return;
        if (what == "jack screw") {
            sum_.add(plan_.body.thickness_mm, "plate");
            add_reach("as far as it pushes");
            return add_long(what, thread.designation + hand);
        }
        sum_.add(thread.depth_mm, what == "stud" ? "thread in the plate" : "thread in the plate at most");
        add_reach("through the casting");
        if (what == "stud")
            add_stud(thread.designation, hand, thread.pitch_mm);
        else
            add_headed(what, thread.designation, hand);
    }

    /// The length's part in the plate.
    void add_grip() {
        const double sunk_mm = sunk() ? hole_.recess->depth_mm : 0.0;
        sum_.add(hole_.depth_mm - sunk_mm, sunk() ? "plate under the recess" : "plate");
    }

    void add_through() {
        const std::string& size = hole_.fastener->designation;
        const std::string what = kind();
        if (what == "none") return;
        add_grip();
        const trade::Thread* thread = thread_of(size, hole_.fastener->diameter_mm);
        const double pitch_mm = thread != nullptr ? thread->pitch_mm : 0.0;
        if (what == "stud") {
            add_reach("thread in the casting");
            return add_stud(size, "", pitch_mm);
        }
        if (what == "bolt and nut") {
            add_reach("through the casting");
            if (has_washer()) add_washer(size);
            return add_stud(size, "", pitch_mm, "hex bolt");
        }
        add_reach("in the casting");
        add_headed(what, size, "");
    }

    bool has_washer() const { return !sunk() || sunk()->washer_thickness_mm > 0.0; }

    /// Into the sum and the list; each place has its own row of it.
    void add_washer(const std::string& size) {
        const trade::Washer* washer = trade::find_washer(size);
        if (washer == nullptr) return sum_.add_unknown("washer, not in the tables");
        sum_.add(washer->thickness_mm, "washer");
        washers_.push_back(washer);
    }

    void add_stud(const std::string& size, const std::string& hand, double pitch_mm,
                  const std::string& what = "stud") {
        if (has_washer()) add_washer(size);
        const trade::Nut* nut = trade::find_nut(size);
        if (nut != nullptr)
            sum_.add(nut->height_mm, "nut");
        else
            sum_.add_unknown("nut, not in the tables");
        if (pitch_mm > 0.0)
            sum_.add(threads_proud * pitch_mm, "two threads proud");
        else
            sum_.add_unknown("two threads proud");
        add_long(what, size + hand);
        add("nut", size + hand, nut != nullptr ? height_words(*nut) : "",
            nut != nullptr ? nut->source.text : "");
        list_washers(size);
    }

    std::string height_words(const trade::Nut& nut) const {
        return sum_.text(nut.across_flats_mm) + " across flats, " + sum_.text(nut.height_mm) +
               " high at most";
    }

    void add_headed(const std::string& what, const std::string& size, const std::string& hand) {
        const bool takes_washer = sunk() ? has_washer() : what == "hex bolt";
        if (takes_washer) add_washer(size);
        add_long(what, size + hand);
        list_washers(size);
    }

    void list_washers(const std::string& size) {
        if (washers_.empty()) return;
        const trade::Washer& washer = *washers_.front();
        add("washer", size,
            sum_.text(washer.outside_mm) + " outside, " + sum_.text(washer.thickness_mm) + " thick",
            washer.source.text);
        rows_.back().count *= washers_.size();
    }

    const plan::Plan& plan_;
    const Hole& hole_;
    const plan::PatternFastener& told_;
    Sum sum_;
    FastenerRow base_;
    std::vector<const trade::Washer*> washers_;
    std::vector<FastenerRow> rows_;
};

void add_pinch_bolt(const plan::Plan& plan, std::vector<FastenerRow>& rows) {
    if (!plan.arm || !plan.arm->clamp) return;
    Sum sum(plan.units);
    sum.add(plan.arm->clamp->lug_width_mm, "both lugs and the slit");
    FastenerRow row{.where = "pinch", .what = "pinch bolt", .size = plan.arm->clamp->bolt};
    const trade::Washer* washer = trade::find_washer(row.size);
    if (washer != nullptr) sum.add(washer->thickness_mm, "washer");
    row.length_mm = sum.total_mm();
    row.made_up_of = sum.words() + "; flush with the far lug";
    rows.push_back(row);
    if (washer == nullptr) return;
    rows.push_back({.where = "pinch",
                    .what = "washer",
                    .size = row.size,
                    .made_up_of = sum.text(washer->outside_mm) + " outside, " +
                                  sum.text(washer->thickness_mm) + " thick",
                    .source = washer->source.text});
}

/// The fitting and the jam nut that holds it.
void add_rod_end(const plan::Rod& rod, std::size_t end, std::vector<FastenerRow>& rows, const Sum& sum) {
    const auto& thread = rod.ends[end].thread;
    if (!thread) return;
    const std::string where = end == 0 ? "first end" : "last end";
    const std::string size = thread->designation + (thread->hand == plan::Hand::left ? " LH" : "");
    if (const auto& fitting = rod.fittings[end]) {
        FastenerRow row{.where = where, .what = fitting->name, .size = size};
        row.made_up_of = "takes " + sum.text(fitting->thread_depth_mm) + " of thread, " +
                         sum.text(fitting->engaged_mm) + " as set";
        rows.push_back(std::move(row));
    }
    rows.push_back({.where = where, .what = "jam nut", .size = size});
}

/// What is screwed into a lever's eye brings its own thread.
void add_tapped_eyes(const plan::Plan& plan, std::vector<FastenerRow>& rows, const Sum& sum) {
    if (!plan.crank && !plan.arm) return;
    for (const Hole& hole : plan.holes) {
        if (!hole.thread) continue;
        FastenerRow row{.where = hole.id, .what = "threaded joint"};
        row.size = hole.thread->designation + (hole.thread->hand == plan::Hand::left ? " LH" : "");
        row.made_up_of = sum.text(hole.thread->depth_mm) + " of thread in the part";
        rows.push_back(std::move(row));
    }
}

plan::PatternFastener told_of(const std::string& pattern, std::span<const plan::PatternFastener> told) {
    for (const plan::PatternFastener& one : told) {
        if (one.pattern == pattern) return one;
    }
    return {};
}

}  // namespace

std::vector<FastenerRow> fastener_rows(const plan::Plan& plan, std::span<const plan::PatternFastener> told) {
    std::vector<FastenerRow> rows;
    for (const plan::Pattern& pattern : plan.patterns) {
        if (pattern.holes.empty()) continue;
        const plan::PatternFastener own = told_of(pattern.name, told);
        const std::vector<FastenerRow> of_pattern = PatternRows(plan, pattern, own).rows();
        rows.insert(rows.end(), of_pattern.begin(), of_pattern.end());
    }
    const Sum sum(plan.units);
    add_pinch_bolt(plan, rows);
    for (std::size_t end = 0; plan.rod && end < 2; ++end) add_rod_end(*plan.rod, end, rows, sum);
    add_tapped_eyes(plan, rows, sum);
    return rows;
}

}  // namespace fitup::sheets
