// Rules inside-corner and deep-hollow: what cutters leave, and what moves when they have been there.
#include "base/text.hpp"
#include "plan/vector.hpp"
#include "rules/checks.hpp"
#include "rules/wording.hpp"

namespace fitup::rules {

namespace {

using plan::Contour;
using plan::Finding;
using plan::Findings;
using plan::Point3;
using plan::Turn;

/// Edges that meet at less are tangent: over a whole metre it is a thousandth of a millimetre.
constexpr double least_corner_rad = 1e-6;
/// Depth over corner radius that the note's limit of 3 cutter diameters asks for: two radii a diameter.
constexpr double easy_depth_to_radius = 6.0;

/// A place where a cutter's edge must fit in.
struct Corner {
    double radius_mm = 0.0;  ///< 0: sharp
    plan::Point at_mm;
};

void take(std::optional<Corner>& tightest, const Corner& corner) {
    if (!tightest || corner.radius_mm < tightest->radius_mm) tightest = corner;
}

/// Of the corners and arcs that turn this way on the way round: a cutter inside the contour runs into those
/// that turn anticlockwise, one outside it into the others.
std::optional<Corner> tightest_corner(const Contour& contour, Turn way) {
    const double sign = way == Turn::anticlockwise ? 1.0 : -1.0;
    const auto strokes = contour.strokes();
    std::optional<Corner> tightest;
    for (std::size_t i = 0; i < strokes.size(); ++i) {
        const plan::Stroke& here = strokes[i];
        const plan::Stroke& next = strokes[(i + 1) % strokes.size()];
        if (here.sweep_rad * sign > 0.0) take(tightest, {here.radius_mm, point_at(here, 0.5)});
        const double bend_rad =
            plan::angle_between_rad(direction_at(here, 1.0), direction_at(next, 0.0)) * sign;
        if (bend_rad > least_corner_rad) take(tightest, {0.0, here.to});
    }
    return tightest;
}

std::optional<Corner> tightest_corner(const plan::Pocket& pocket) {
    std::optional<Corner> tightest;
    for (const plan::Area& area : pocket.areas) {
        if (const auto corner = tightest_corner(area.outer, Turn::anticlockwise)) take(tightest, *corner);
        for (const Contour& island : area.islands) {
            if (const auto corner = tightest_corner(island, Turn::clockwise)) take(tightest, *corner);
        }
    }
    return tightest;
}

/// What is milled to a depth with a corner in it.
struct Milled {
    std::string name;
    double depth_mm = 0.0;
    double radius_mm = 0.0;
    Point3 at_mm{};
    std::string shallower;  ///< the other way out, in words
};

Finding sharp_corner(const Milled& milled, plan::Severity severity, const std::string& advice) {
    Finding finding = note_of("inside-corner", milled.name,
                              milled.name + " has a sharp inside corner at X " +
                                  short_text(milled.at_mm[0], 2) + ", Y " + short_text(milled.at_mm[1], 2) +
                                  " mm, which no cutter makes: give it a corner_radius of at least " +
                                  length_text(milled.depth_mm / easy_depth_to_radius) + advice + ".");
    finding.severity = severity;
    finding.at_mm = milled.at_mm;
    return finding;
}

std::optional<Finding> judge_depth(const Subject& subject, const Milled& milled) {
    const Limit limit = subject.limits().of("inside-corner");
    const double value = milled.depth_mm / (2.0 * milled.radius_mm);
    const auto verdict = over(limit, value);
    if (!verdict) return std::nullopt;
    Finding finding = finding_of("inside-corner", *verdict, limit, "d", value);
    finding.where = milled.name;
    finding.at_mm = milled.at_mm;
    finding.message = milled.name + " is cut " + length_text(milled.depth_mm) + " deep with a corner of " +
                      length_text(milled.radius_mm) + ", " + short_text(value, 1) +
                      " cutter diameters: make the corner radius " +
                      length_text(milled.depth_mm / (2.0 * verdict->limit)) + " or more" + milled.shallower +
                      ".";
    return finding;
}

std::optional<Finding> judge_pocket(const Subject& subject, const plan::Pocket& pocket) {
    if (!pocket.corner_radius_mm || pocket.kind == plan::PocketKind::mark) return std::nullopt;
    const auto corner = tightest_corner(pocket);
    const plan::Point at = corner ? corner->at_mm : plan::Point{};
    const Milled milled{pocket.id,
                        pocket.depth_mm,
                        *pocket.corner_radius_mm,
                        {at.x_mm, at.y_mm, face_z_mm(subject.plan(), pocket.side)},
                        ", or the pocket shallower"};
    if (milled.radius_mm <= 0.0) return sharp_corner(milled, plan::Severity::stop, "");
    return judge_depth(subject, milled);
}

/// A sharp corner of the outline only warns: it can be sawn or cut by water, a pocket's can't.
std::optional<Finding> judge_outline(const Subject& subject) {
    // An arm's boss and lugs are a piece of their own, welded on or filed to: the corner beside them is
    // theirs.
    if (subject.plan().arm) return std::nullopt;
    const plan::Slab& body = subject.plan().body;
    const auto corner = tightest_corner(body.outline, Turn::clockwise);
    if (!corner) return std::nullopt;
    const Milled milled{"outline",
                        body.thickness_mm,
                        corner->radius_mm,
                        {corner->at_mm.x_mm, corner->at_mm.y_mm, body.thickness_mm},
                        ""};
    if (milled.radius_mm <= 0.0)
        return sharp_corner(milled, plan::Severity::warn, ", or have the outline sawn or cut by water jet");
    return judge_depth(subject, milled);
}

std::optional<Finding> judge_hollow(const Subject& subject, const plan::Pocket& pocket) {
    if (pocket.kind != plan::PocketKind::hollow) return std::nullopt;
    const double value = pocket.depth_mm / subject.plan().body.thickness_mm;
    const Limit limit = subject.limits().of("deep-hollow");
    const auto verdict = over(limit, value);
    if (!verdict) return std::nullopt;
    Finding finding = finding_of("deep-hollow", *verdict, limit, "", value);
    finding.where = pocket.id;
    finding.at_mm = {{0.0, 0.0, face_z_mm(subject.plan(), pocket.side)}};
    finding.message = "the hollow takes " + short_text(100.0 * value, 0) +
                      " % of the thickness from one side: rolled plate moves. Rough both sides, let it rest "
                      "unclamped, then finish; or use cast tooling plate.";
    return finding;
}

}  // namespace

Findings check_milling(const Subject& subject) {
    Findings findings;
    const auto keep = [&findings](std::optional<Finding> finding) {
        if (finding) findings.push_back(std::move(*finding));
    };
    for (const plan::Pocket& pocket : subject.plan().pockets) {
        keep(judge_pocket(subject, pocket));
        keep(judge_hollow(subject, pocket));
    }
    keep(judge_outline(subject));
    return findings;
}

}  // namespace fitup::rules
