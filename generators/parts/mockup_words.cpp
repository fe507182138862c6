#include "parts/mockup_words.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <span>

#include "base/comma_list.hpp"
#include "base/text.hpp"
#include "base/units.hpp"
#include "parts/mockup_flat.hpp"
#include "plan/cuts.hpp"
#include "plan/lettering.hpp"
#include "plan/stroke.hpp"
#include "plan/vector.hpp"

namespace fitup::parts {

namespace {

using plan::Contour;
using plan::Point;

/// Letters as high as there is room for; smaller ones can't be read on a print.
constexpr std::array<double, 4> heights_mm{6.0, 5.0, 4.0, 3.0};
/// A name of more than one letter is not made smaller than this where its number alone would do.
constexpr double least_name_mm = 4.0;
/// Between words and edges, and between lines of words.
constexpr double clear_mm = 1.2, line_mm = 2.5;
/// Round words that belong to no hole, if there is as much room, so that they read alone.
constexpr std::array<double, 3> alone_mm{6.0, 3.0, clear_mm};
/// A name lies no farther from its hole than this, and nearer to it than to any other.
constexpr std::array<double, 4> off_mm{1.5, 3.0, 5.0, 8.0};

std::string length_words(double length_mm, plan::Units units) {
    return units == plan::Units::in ? short_text(length_mm / mm_per_inch, 4) + " IN"
                                    : short_text(length_mm, 3) + " MM";
}

/// "3" of "gearbox-3".
std::string number_of(const plan::Hole& hole) { return hole.id.substr(hole.id.find_last_of('-') + 1); }

/// "12 H7" of a dowel; "" of any other hole.
std::string dowel_size(const plan::Hole& hole, plan::Units units) {
    if (hole.kind != plan::HoleKind::dowel) return "";
    const double size_mm = hole.finish_diameter_mm.value_or(hole.diameter_mm);
    const std::string size =
        units == plan::Units::in ? short_text(size_mm / mm_per_inch, 4) : short_text(size_mm, 3);
    return " " + size + (hole.fit ? " " + hole.fit->tolerance_class : "");
}

/// Middles of a box of that size beside a disc: under and over it first, then at its sides and corners.
std::vector<Point> places_round(Point centre, double radius_mm, double width_mm, double height_mm) {
    std::vector<Point> places;
    const double x_mm = radius_mm + width_mm / 2.0, y_mm = radius_mm + height_mm / 2.0;
    for (const double y : {-1.0, 1.0}) places.push_back({0.0, y * y_mm});
    for (const double x : {1.0, -1.0}) places.push_back({x * x_mm, 0.0});
    for (const double share : {0.3, 0.6, 0.9}) {
        for (const double x : {1.0, -1.0}) {
            for (const double y : {-1.0, 1.0}) {
                places.push_back({x * share * x_mm, y * y_mm});
                places.push_back({x * x_mm, y * share * y_mm});
            }
        }
    }
    for (Point& place : places) place = place + centre;
    return places;
}

class Names {
  public:
    Names(const plan::Plan& source, double factor, const Region& region, Room& room, plan::Plan& piece)
        : source_(source), factor_(factor), region_(region), room_(room), piece_(piece) {}

    void add(plan::Findings& findings) {
        for (const plan::Hole& hole : source_.holes) {
            if (const auto printed = find(hole)) add_name(hole, *printed);
        }
        note(findings, number_alone_,
             "bear the last part of their names only, since there is no room for more");
        note(findings, nameless_, "bear no name, since there is no room for one");
    }

  private:
    /// What is printed of a hole on this piece: itself, the one that it shares a place with, or what the
    /// opening that it is joined to others in shows of it.
    std::optional<plan::Hole> find(const plan::Hole& hole) const {
        const Point at = hole.at_mm * factor_;
        for (const plan::Hole& printed : region_.holes) {
            if (printed.id == hole.id) return printed;
        }
        if (hole.kind == plan::HoleKind::bore) return std::nullopt;
        for (const plan::Hole& printed : region_.holes) {
            if (plan::shaft_contour(printed).contains(at)) return printed;
        }
        for (const Opening& opening : region_.openings) {
            if (!opening.curve.contains(at)) continue;
            plan::Hole joined = hole;
            joined.at_mm = at;
            return joined;
        }
        return std::nullopt;
    }

    void add_name(const plan::Hole& hole, const plan::Hole& printed) {
        const std::string size = dowel_size(hole, source_.units);
        const std::string name = in_letters(hole.id + size);
        for (const double height_mm : heights_mm) {
            if (height_mm >= least_name_mm && put(name, height_mm, hole, printed)) return;
        }
        for (const double height_mm : heights_mm) {
            if (!put(in_letters(number_of(hole) + size), height_mm, hole, printed)) continue;
            if (number_of(hole) != hole.id) number_alone_.push_back(hole.id);
            return;
        }
        nameless_.push_back(hole.id);
    }

    bool put(const std::string& text, double height_mm, const plan::Hole& hole, const plan::Hole& printed) {
        Label label{plan::Side::B, text, height_mm, {}};
        const double widened_mm =
            hole.recess ? factor_ * hole.recess->diameter_mm / 2.0 + 0.5 * stroke_mm : 0.0;
        const double radius_mm = std::max(reach_mm(printed), widened_mm);
        const double wide_mm = width_mm(label);
        for (const double off : off_mm) {
            for (const Point& place : places_round(printed.at_mm, radius_mm + off, wide_mm, height_mm)) {
                label.middle = place;
                if (!room_.is_free(box_about(place, wide_mm, height_mm), clear_mm)) continue;
                if (!is_nearest(box_of(label), printed)) continue;
                add_label(label, room_, piece_);
                return true;
            }
        }
        return false;
    }

    /// To its own hole nearer than to any other.
    bool is_nearest(const Contour& box, const plan::Hole& own) const {
        const double own_mm = plan::gap(box, plan::shaft_contour(own)).distance_mm;
        return std::none_of(region_.holes.begin(), region_.holes.end(), [&](const plan::Hole& hole) {
            if (hole.id == own.id) return false;
            const Contour shaft = plan::shaft_contour(hole);
            return plan::distance_mm(box.box(), shaft.box()) < own_mm &&
                   plan::gap(box, shaft).distance_mm < own_mm;
        });
    }

    static void note(plan::Findings& findings, const std::vector<std::string>& ids, const std::string& what) {
        if (ids.empty()) return;
        const std::string all = comma_list(ids);
        findings.push_back(plan::finding_of(mockup_rule, plan::Severity::note, all,
                                            "On the mock-up " + all + " " + what + "."));
    }

    const plan::Plan& source_;
    double factor_;
    const Region& region_;
    Room& room_;
    plan::Plan& piece_;
    std::vector<std::string> number_alone_, nameless_;
};

/// Places on a grid over the piece, nearest to the middle of its box first.
std::vector<Point> grid(const plan::Box2& box) {
    const Point size = box.most - box.least;
    const double step_mm = std::max(2.0, std::max(size.x_mm, size.y_mm) / 60.0);
    std::vector<Point> places;
    for (double x = box.least.x_mm; x <= box.most.x_mm; x += step_mm) {
        for (double y = box.least.y_mm; y <= box.most.y_mm; y += step_mm) places.push_back({x, y});
    }
    const Point middle = (box.least + box.most) * 0.5;
    std::stable_sort(places.begin(), places.end(), [middle](Point a, Point b) {
        return plan::distance_mm(a, middle) < plan::distance_mm(b, middle);
    });
    return places;
}

/// Words and an arrow where there is room for them.
class Blocks {
  public:
    Blocks(Room& room, plan::Plan& piece) : room_(room), piece_(piece), places_(grid(room.box())) {}

    /// @returns false where there is no room in small letters either
    bool add(plan::Side side, const std::vector<std::string>& lines) {
        for (const double height_mm : heights_mm) {
            double wide_mm = 0.0;
            for (const std::string& line : lines)
                wide_mm = std::max(wide_mm, width_mm({side, line, height_mm, {}}));
            const double high_mm = double(lines.size()) * (height_mm + line_mm) - line_mm;
            const auto place = free_place(wide_mm, high_mm);
            if (!place) continue;
            put(side, lines, height_mm, *place);
            room_.take(plan::rectangle(*place, wide_mm, high_mm, 0.0, {}));
            return true;
        }
        return false;
    }

    bool add_arrow() {
        constexpr double wide_mm = 18.0, high_mm = 14.0;
        const auto place = free_place(wide_mm, high_mm);
        if (!place) return false;
        add_label({plan::Side::B, "UP", 6.0, *place + Point{3.0, 0.0}}, room_, piece_);
        sink(plan::Side::B, {{arrow(*place + Point{-6.0, 0.0}), {}}}, piece_);
        room_.take(plan::rectangle(*place, wide_mm, high_mm, 0.0, {}));
        return true;
    }

  private:
    std::optional<Point> free_place(double wide_mm, double high_mm) const {
        for (const double margin_mm : alone_mm) {
            for (const Point& place : places_) {
                if (room_.is_free(box_about(place, wide_mm, high_mm), margin_mm)) return place;
            }
        }
        return std::nullopt;
    }

    void put(plan::Side side, const std::vector<std::string>& lines, double height_mm, Point place) {
        for (std::size_t i = 0; i < lines.size(); ++i) {
            const double up_mm = (double(lines.size() - 1) / 2.0 - double(i)) * (height_mm + line_mm);
            add_label({side, lines[i], height_mm, place + Point{0.0, up_mm}}, room_, piece_);
        }
    }

    /// 14 mm high, pointing to +Y.
    static Contour arrow(Point middle) {
        std::vector<plan::Edge> edges;
        for (const Point& corner : {Point{-0.5, -7}, Point{0.5, -7}, Point{0.5, 1}, Point{3, 1}, Point{0, 7},
                                    Point{-3, 1}, Point{-0.5, 1}})
            edges.push_back({middle + corner, {}});
        return Contour(std::move(edges));
    }

    Room& room_;
    plan::Plan& piece_;
    std::vector<Point> places_;
};

std::string side_words(const plan::Plan& source, plan::Side side) {
    const std::string& name = source.side_names[side == plan::Side::A ? 0 : 1];
    return std::string("SIDE ") + plan::to_text(side) + (name.empty() ? "" : ": " + in_letters(name));
}

/// A line a word.
std::vector<std::string> stacked(const std::string& line) {
    std::vector<std::string> words{""};
    for (const char letter : line) {
        if (letter == ' ')
            words.emplace_back();
        else
            words.back() += letter;
    }
    return words;
}

/// Each line alone where there is no room for all together, and its words one under the other where there is
/// none for a line.
void add_block(Blocks& blocks, plan::Side side, const std::vector<std::string>& lines,
               std::vector<std::string>& homeless) {
    if (blocks.add(side, lines)) return;
    for (const std::string& line : lines) {
        if (!blocks.add(side, {line}) && !blocks.add(side, stacked(line))) homeless.push_back(line);
    }
}

std::vector<std::string> first_words(const PieceNumber& number) {
    if (number.count == 1) return {"FIT CHECK ONLY"};
    return {"FIT CHECK ONLY", std::to_string(number.number) + " OF " + std::to_string(number.count)};
}

std::vector<std::string> name_words(const plan::Plan& source) {
    const std::string name = in_letters(source.name);
    return {source.revision.empty() ? name : name + " REV " + in_letters(source.revision),
            side_words(source, plan::Side::B)};
}

std::vector<std::string> made_words(const plan::Plan& source, const plan::Mockup& settings) {
    std::vector<std::string> lines{"HOLES +" + length_words(settings.hole_allowance_mm, source.units),
                                   "SHRINKAGE " + short_text(100.0 * settings.shrinkage, 3) + " %"};
    if (source.body.joggle) lines.emplace_back("FLAT: JOGGLE LEFT OUT");
    return lines;
}

/// A piece with its holes' names and what it is.
struct Written {
    Room room;
    plan::Plan piece;
    plan::Findings findings;
    std::vector<std::string> homeless;
};

Written written(const plan::Plan& source, double factor, const PieceNumber& number, const Region& region,
                Written blank, bool names_first) {
    Names names(source, factor, region, blank.room, blank.piece);
    if (names_first) names.add(blank.findings);
    Blocks blocks(blank.room, blank.piece);
    add_block(blocks, plan::Side::B, first_words(number), blank.homeless);
    if (!names_first) names.add(blank.findings);
    return blank;
}

}  // namespace

std::string in_letters(const std::string& text) {
    std::string capitals;
    for (const std::string_view letter : plan::split_into_letters(text)) {
        if (letter.front() >= 'a' && letter.front() <= 'z')
            capitals += char(letter.front() - 'a' + 'A');
        else
            capitals += plan::has_letter(letter) ? letter : " ";
    }
    return capitals;
}

std::string no_room_text(const std::vector<std::string>& words) {
    std::string all;
    for (const std::string& one : words) all += (all.empty() ? "\"" : ", \"") + one + "\"";
    return "There is no room for " + all + " on the mock-up: write it on by hand.";
}

std::vector<std::string> add_words(const plan::Plan& source, const plan::Mockup& settings,
                                   const PieceNumber& number, const Region& region, Room& room,
                                   plan::Plan& piece, plan::Findings& findings) {
    const double factor = 1.0 / (1.0 - settings.shrinkage);
    Written best = written(source, factor, number, region, {room, piece, {}, {}}, true);
    // Names, but not at the cost of the words that keep the print from being taken for the part.
    if (!best.homeless.empty()) best = written(source, factor, number, region, {room, piece, {}, {}}, false);
    room = std::move(best.room);
    piece = std::move(best.piece);
    plan::append(findings, std::move(best.findings));
    if (!best.homeless.empty())
        findings.push_back(
            plan::finding_of(mockup_rule, plan::Severity::note, "", no_room_text(best.homeless)));
    Blocks blocks(room, piece);
    std::vector<std::string> alike;
    if (!blocks.add_arrow()) alike.emplace_back("UP");
    add_block(blocks, plan::Side::B, name_words(source), alike);
    add_block(blocks, plan::Side::B, made_words(source, settings), alike);
    add_block(blocks, plan::Side::A, {side_words(source, plan::Side::A)}, alike);
    return alike;
}

}  // namespace fitup::parts
