#include "sheets/callout.hpp"

#include "base/text.hpp"
#include "sheets/signs.hpp"

namespace fitup::sheets {

namespace {

class HoleCallout {
  public:
    HoleCallout(const plan::Plan& plan, const plan::Hole& hole, const SheetSizes& sizes)
        : plan_(plan), hole_(hole), sizes_(sizes) {}

    std::vector<std::string> lines() {
        if (hole_.slot_length_mm)
            slot();
        else if (hole_.thread)
            tapped(*hole_.thread);
        else
            round();
        if (hole_.recess)
            lines_.push_back(std::string(sign::counterbore) + sign::diameter +
                             sizes_.text(hole_.recess->diameter_mm) + " " + depth(hole_.recess->depth_mm) +
                             far_side(hole_.recess->side));
        if (hole_.countersink)
            lines_.push_back(std::string(sign::countersink) + sign::diameter +
                             sizes_.text(hole_.countersink->diameter_mm) + " " + sign::times + " " +
                             short_text(hole_.countersink->angle.degrees(), 1) + sign::degree +
                             far_side(hole_.countersink->side));
        return std::move(lines_);
    }

  private:
    std::string depth(double depth_mm) const { return sign::depth + sizes_.text(depth_mm); }
    std::string diameter(double diameter_mm) const { return sign::diameter + sizes_.text(diameter_mm); }

    std::string hole_depth() const {
        if (hole_.through) return " THRU";
        return " " + depth(hole_.depth_mm) + (hole_.point_angle ? "" : " flat bottom");
    }

    std::string far_side(plan::Side side) const {
        return side == hole_.from ? "" : std::string(" on side ") + plan::to_text(side);
    }

    void slot() {
        lines_.push_back(sizes_.text(hole_.diameter_mm) + " " + sign::times + " " +
                         sizes_.text(*hole_.slot_length_mm) + " SLOT" + hole_depth());
        if (hole_.fit)
            lines_.push_back("width " + hole_.fit->tolerance_class + ": " + sizes_.limits(*hole_.fit));
    }

    void tapped(const plan::Thread& thread) {
        const bool is_through = hole_.through && thread.depth_mm >= plan_.body.thickness_mm;
        lines_.push_back(thread_callout(thread) + (is_through ? " THRU" : " " + depth(thread.depth_mm)));
        lines_.push_back(diameter(thread.tap_drill_mm) + hole_depth());
    }

    void round() {
        const std::string fit = hole_.fit ? " " + hole_.fit->tolerance_class : "";
        if (hole_.finish_diameter_mm) {
            lines_.push_back(diameter(hole_.diameter_mm) + hole_depth() + ", pilot");
            lines_.push_back("REAM " + diameter(*hole_.finish_diameter_mm) + fit + " AT ASSEMBLY");
        } else {
            lines_.push_back(diameter(hole_.diameter_mm) + fit + hole_depth());
        }
        if (hole_.fit) lines_.push_back(sizes_.limits(*hole_.fit));
    }

    const plan::Plan& plan_;
    const plan::Hole& hole_;
    const SheetSizes& sizes_;
    std::vector<std::string> lines_;
};

}  // namespace

namespace {

std::string with_class(const plan::Thread& thread, const char* metric, const char* unified) {
    std::string text = thread.designation;
    const bool is_metric = text.starts_with("M");
    if (const std::size_t at = text.find('x'); is_metric && at != std::string::npos)
        text.replace(at, 1, sign::times);
    else if (is_metric)
        text += sign::times + short_text(thread.pitch_mm, 2);
    if (is_metric)
        text += std::string(" - ") + metric;
    else if (text.find("UN") != std::string::npos)
        text += std::string(" - ") + unified;
    return text + (thread.hand == plan::Hand::left ? " LH" : "");
}

}  // namespace

std::string thread_callout(const plan::Thread& thread) { return with_class(thread, "6H", "2B"); }

std::string external_thread_callout(const plan::Thread& thread) { return with_class(thread, "6g", "2A"); }

std::vector<std::string> callout(const plan::Plan& plan, const plan::Hole& hole, const SheetSizes& sizes) {
    return HoleCallout(plan, hole, sizes).lines();
}

}  // namespace fitup::sheets
