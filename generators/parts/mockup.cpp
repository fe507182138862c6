#include "parts/mockup.hpp"

#include <algorithm>
#include <array>

#include "base/comma_list.hpp"
#include "base/text.hpp"
#include "parts/mockup_bar.hpp"
#include "parts/mockup_joints.hpp"
#include "parts/mockup_words.hpp"
#include "plan/stroke.hpp"
#include "plan/vector.hpp"

namespace fitup::parts {

namespace {

using plan::Severity;

/// A piece on its way.
struct Draft {
    std::size_t cell = 0;
    Region region;
    Room room;
    plan::Plan plan;
};

std::string size_text(const std::array<double, 2>& size_mm) {
    return short_text(size_mm[0], 1) + " x " + short_text(size_mm[1], 1) + " mm";
}

/// The whole plan turned about Z.
void turn(plan::Plan& plan, double turn_rad) {
    const Angle angle = Angle::from_radians(turn_rad);
    const auto moved = [angle](plan::Contour& contour) { contour = plan::moved(contour, angle, {}); };
    moved(plan.body.outline);
    for (plan::Hole& hole : plan.holes) {
        hole.at_mm = plan::turned(hole.at_mm, turn_rad);
        hole.slot_direction = Angle::from_radians(hole.slot_direction.radians() + turn_rad);
    }
    for (plan::Raised& ring : plan.raised) {
        moved(ring.outer);
        for (plan::Contour& inner : ring.inner) moved(inner);
    }
    for (plan::Pocket& pocket : plan.pockets) {
        for (plan::Area& area : pocket.areas) {
            moved(area.outer);
            for (plan::Contour& island : area.islands) moved(island);
        }
    }
}

/// Too small to bear a word, or thin all over, with nothing in it to try.
bool is_scrap(const Region& region) {
    constexpr double least_mm2 = 50.0, least_wide_mm = 2.0;
    const double area_mm2 = region.outline.area_mm2();
    const bool is_thin = 2.0 * area_mm2 / region.outline.perimeter_mm() < least_wide_mm;
    return region.holes.empty() && region.openings.empty() && (area_mm2 < least_mm2 || is_thin);
}

class MakingMockup {
  public:
    MakingMockup(const plan::Plan& source, const plan::Mockup& settings)
        : source_(source), settings_(settings), flat_(flat_of(source, settings)) {}

    MadeMockup all() {
        plan::append(made_.findings, flat_.findings);
        choose_division();
        make_drafts();
        for (const Joint& joint : joints_) mark_joint(joint);
        write();
        for (std::size_t i = 0; i < drafts_.size(); ++i) {
            const bool is_one = drafts_.size() == 1;
            turn(drafts_[i].plan, division_.turn_rad);
            add("-mockup" + (is_one ? "" : "-" + std::to_string(i + 1)), std::move(drafts_[i].plan));
        }
        add("-mockup-bar", test_bar(source_, settings_));
        return std::move(made_);
    }

  private:
    void note(Severity severity, const std::string& where, const std::string& message) {
        made_.findings.push_back(plan::finding_of(mockup_rule, severity, where, message));
    }

    void add(const std::string& suffix, plan::Plan plan) {
        plan.part = "mockup";
        plan.name = plan::file_stem(source_) + suffix;
        plan.units = source_.units;
        plan.material = {};
        plan.material.name = "plastic";
        plan.material.family = "plastic";
        made_.pieces.push_back({suffix, std::move(plan)});
    }

    void choose_division() {
        division_ = {0.0, {flat_.outline.box()}};
        if (!settings_.bed_mm) return;
        const Divided divided = divide(flat_, *settings_.bed_mm, key_reach_mm);
        if (divided.division) {
            division_ = *divided.division;
            if (division_.turn_rad != 0.0)
                note(Severity::note, "",
                     "The mock-up lies turned by " +
                         short_text(Angle::from_radians(division_.turn_rad).degrees(), 1) +
                         " degrees in its files, so as to fit the bed of " + size_text(*settings_.bed_mm) +
                         ".");
            return;
        }
        const std::string holes = comma_list(divided.in_the_way);
        note(Severity::warn, holes,
             "The mock-up does not fit the bed of " + size_text(*settings_.bed_mm) +
                 ", and no straight cut leaves pieces that do" +
                 (holes.empty() ? "" : ": " + holes + " would be cut through") +
                 ". It is made in one piece; a larger bed would help.");
    }

    void make_drafts() {
        if (division_.cells.size() == 1) {
            for (Region& region : regions(flat_, nullptr)) take(0, std::move(region));
            return;
        }
        const Flat lying = turned(flat_, division_.turn_rad);
        joints_ = joints_of(lying, division_.cells);
        for (std::size_t cell = 0; cell < division_.cells.size(); ++cell) {
            const plan::Contour lying_outline =
                keyed_outline(division_.cells, cell, joints_, settings_.joint_gap_mm, lying.outline.box());
            const plan::Contour outline =
                plan::moved(lying_outline, Angle::from_radians(-division_.turn_rad), {});
            for (Region& region : regions(flat_, &outline)) take(cell, std::move(region));
        }
    }

    void take(std::size_t cell, Region region) {
        if (!is_scrap(region)) return add_draft(cell, std::move(region));
        const plan::Box2 box = region.outline.box();
        note(Severity::note, "",
             "A bit of " + size_text({box.most.x_mm - box.least.x_mm, box.most.y_mm - box.least.y_mm}) +
                 " that comes loose between cuts is left out of the mock-up.");
    }

    void add_draft(std::size_t cell, Region region) {
        Room room(region);
        plan::Plan plan;
        plan.body.outline = region.outline;
        plan.body.thickness_mm = settings_.thickness_mm;
        plan.holes = region.holes;
        for (const Opening& opening : region.openings) plan.pockets.push_back(cut_through(opening));
        add_ledges(flat_, room, plan);
        drafts_.push_back({cell, std::move(region), std::move(room), std::move(plan)});
    }

    plan::Pocket cut_through(const Opening& opening) const {
        plan::Pocket pocket;
        pocket.id = opening.id;
        pocket.kind = plan::PocketKind::relief;
        pocket.areas.push_back({opening.curve, {}});
        pocket.depth_mm = settings_.thickness_mm;
        pocket.through = true;
        return pocket;
    }

    /// The same letter on both sides, beside the joint.
    void mark_joint(const Joint& joint) {
        const std::string pieces = "pieces " + numbers_of(joint.low) + " and " + numbers_of(joint.high);
        if (joint.keys.empty())
            note(Severity::note, "",
                 "Joint " + joint.letter + " of the mock-up, between " + pieces +
                     ", has no room for a key: glue it on a flat table with both castings' pins in.");
        if (!put_letters(joint))
            note(Severity::note, "",
                 "There is no room for the letter " + joint.letter + " beside the joint between " + pieces +
                     " of the mock-up: write it on by hand.");
    }

    std::string numbers_of(std::size_t cell) const {
        std::vector<std::string> numbers;
        for (std::size_t i = 0; i < drafts_.size(); ++i) {
            if (drafts_[i].cell == cell) numbers.push_back(std::to_string(i + 1));
        }
        return comma_list(numbers);
    }

    bool put_letters(const Joint& joint) {
        std::vector<double> places = joint.metal_mm;
        const double middle_mm = joint.keys.empty() ? places[places.size() / 2] : joint.keys.front().at_mm;
        std::stable_sort(places.begin(), places.end(), [middle_mm](double a, double b) {
            return std::abs(a - middle_mm) < std::abs(b - middle_mm);
        });
        for (const double off_mm : {5.5, 7.0, 9.0, 12.0}) {
            for (const double at : places) {
                const auto low = letter_at(joint.low, joint, at, -off_mm);
                const auto high = letter_at(joint.high, joint, at, off_mm);
                if (low == drafts_.size() || high == drafts_.size()) continue;
                add_label(label_at(joint, at, -off_mm), drafts_[low].room, drafts_[low].plan);
                add_label(label_at(joint, at, off_mm), drafts_[high].room, drafts_[high].plan);
                return true;
            }
        }
        return false;
    }

    Label label_at(const Joint& joint, double along_mm, double off_mm) const {
        return {plan::Side::B, joint.letter, 6.0,
                plan::turned(place_at(joint, along_mm, off_mm), -division_.turn_rad)};
    }

    /// The draft of that cell that has room for the letter there; past the last where none has.
    std::size_t letter_at(std::size_t cell, const Joint& joint, double along_mm, double off_mm) const {
        const plan::Contour box = box_of(label_at(joint, along_mm, off_mm));
        std::size_t i = 0;
        while (i < drafts_.size() && !(drafts_[i].cell == cell && drafts_[i].room.is_free(box, 1.0))) ++i;
        return i;
    }

    void write() {
        std::vector<std::string> homeless;
        for (std::size_t i = 0; i < drafts_.size(); ++i) {
            Draft& draft = drafts_[i];
            add_dashes(flat_, draft.room, draft.plan);
            const PieceNumber number{int(i) + 1, int(drafts_.size())};
            const auto left =
                add_words(source_, settings_, number, draft.region, draft.room, draft.plan, made_.findings);
            if (i == 0) homeless = left;
            // What is alike on all pieces need stand on one of them only.
            std::erase_if(homeless, [&left](const std::string& words) {
                return std::find(left.begin(), left.end(), words) == left.end();
            });
        }
        if (!homeless.empty()) note(Severity::note, "", no_room_text(homeless));
    }

    const plan::Plan& source_;
    const plan::Mockup& settings_;
    Flat flat_;
    Division division_;
    std::vector<Joint> joints_;
    std::vector<Draft> drafts_;
    MadeMockup made_;
};

}  // namespace

MadeMockup mockup(const plan::Plan& plan, const plan::Mockup& settings) {
    if (plan.rod) return {};
    return MakingMockup(plan, settings).all();
}

}  // namespace fitup::parts
